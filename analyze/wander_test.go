package analyze

import (
	"testing"

	"threewire/signal"
)

// A reference that sinks slowly takes the reading with it and hurts nobody who
// compares the two; one that leaves for moments is a contact.
func TestReferenceWanders(t *testing.T) {
	for _, c := range []struct {
		name  string
		level func(t float64) float64
		want  string // form of the finding
	}{
		{"sinks by a tenth", func(t float64) float64 { return 5 - 0.012*t }, wanders},
		{"holds still", func(float64) float64 { return 5 }, "none"},
		{"leaves for half a second", func(t float64) float64 {
			if t > 20 && t < 20.5 {
				return 3.5
			}
			return 5
		}, ""},
	} {
		tr := newDraft(1).sweeps(3).trace()
		ref := make([]float32, tr.Len())
		for i, x := range tr.Time {
			ref[i] = float32(c.level(x))
			tr.Feedback.Mean[i] *= ref[i] / 5
		}
		tr.Reference = &signal.Series{Name: "reference", Unit: "V", Mean: ref, Min: ref, Max: ref}
		got, err := Examine(tr, Defaults())
		if err != nil {
			t.Fatal(err)
		}
		v, form := Judge(got).Verdict, "none"
		if f := finding(got, RefLoss); f != nil {
			form = f.Form
		}
		if form != c.want || c.want == wanders && v.Conclusion == WiringControl || c.want == "" && v.Conclusion != WiringControl {
			t.Errorf("%s: %q, %s", c.name, form, say(got, v))
		}
	}
}

// What gets on all the while is under way, however often the drive turns over.
func TestUnderWayIsNoHunting(t *testing.T) {
	d := newDraft(1)
	d.run(0, 0.5).run(12, 5.5).run(0, 1).run(-12, 5.5).run(0, 1)
	for range 30 {
		d.run(12, 0.25).run(-12, 0.12)
	}
	d.run(0, 1)
	got, v := look(t, d)
	if showsKind(got, Hunting) || v.Conclusion != NoFault {
		t.Error(say(got, v))
	}
}
