package analyze

import (
	"testing"

	"threewire/signal"
)

// A reference as high as the battery, and a reading that goes with it, is the battery's;
// one of 8 V is a regulator's, and one that the user says is so high is meant to be.
func TestBatteryFed(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		level float64
		told  bool
		want  bool
	}{{"the battery's", 13.6, false, true}, {"a regulator's", 8, false, false}, {"told", 13.6, true, false}} {
		d := newDraft(1).sweeps(3)
		tr := d.trace()
		flat := func(name string, v float64) *signal.Series {
			x := make([]float32, tr.Len())
			for i := range x {
				x[i] = float32(v + 0.01*d.rng.NormFloat64())
			}
			return &signal.Series{Name: name, Unit: "V", Mean: x, Min: x, Max: x}
		}
		tr.Reference, tr.Supply = flat("reference", c.level), flat("supply", 13.7)
		for i := range tr.Feedback.Mean {
			tr.Feedback.Mean[i] *= float32(c.level / 5)
		}
		o := Defaults()
		if c.told {
			o.ReferenceVolts, o.ReferenceTold = c.level, true
		}
		got, err := Examine(tr, o)
		if err != nil {
			t.Fatal(err)
		}
		f, v := finding(got, RefLoss), Judge(got).Verdict
		if is := f != nil && f.Form == batteryFed; is != c.want || is != (v.Conclusion == WiringControl) {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
