package analyze

import (
	"math"
	"testing"
)

// The high end stays and the low end rises by 4 V x 0.2 % a second: 8 mV/s.
func TestDriftPerSecond(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		sweeps int
		ranged bool
	}{{8, true}, {4, false}} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.read = func(d *draft) float64 { return 4.5 - (4.5-d.x)*(1-0.002*d.t) }
			got, v := look(t, d.sweeps(c.sweeps))
			var f *Finding
			for i := range got.Findings {
				if got.Findings[i].Kind == SpanDrift {
					f = &got.Findings[i]
				}
			}
			if f == nil {
				t.Fatalf("%d sweeps, seed %d: no drift in %s", c.sweeps, seed, say(got, v))
			}
			per, _ := f.Measure("low end drift per second")
			if math.Abs(per-0.008) > 0.0002 {
				t.Errorf("%d sweeps, seed %d: %v V/s, want 0.008", c.sweeps, seed, per)
			}
			lo, ok := f.Measure("low end drift per second, lower 95 %")
			hi, _ := f.Measure("low end drift per second, upper 95 %")
			if ok != c.ranged || ok && (lo > 0.0081 || hi < 0.0079 || hi < lo) {
				t.Errorf("%d sweeps, seed %d: %v to %v V/s, %v", c.sweeps, seed, lo, hi, ok)
			}
			said := false
			for _, b := range got.Blind {
				said = said || contains(b.Text, "low end's drift per second")
			}
			if said == c.ranged {
				t.Errorf("%d sweeps, seed %d: said that limits are missing: %v", c.sweeps, seed, said)
			}
		}
	}
}
