package analyze

import (
	"math"
	"testing"

	"threewire/signal"
)

// Where the reference goes the reading goes: one event. Where only the reading goes, the
// reference's own faults elsewhere explain nothing.
func TestReadingGoneWithItsReference(t *testing.T) {
	t.Parallel()
	gone := func(s float64) bool { return s > 1 && s < 13 && math.Mod(s, 0.83) < 0.2 }
	later := func(s float64) bool { return s > 24 && s < 36 && math.Mod(s, 0.83) < 0.2 }
	for _, c := range []struct {
		name     string
		ref      func(s float64) bool
		wiper    func(s float64) bool
		together bool
	}{
		{"together", gone, func(float64) bool { return false }, true},
		{"apart", later, gone, false},
	} {
		d := newDraft(4)
		d.read = func(d *draft) float64 {
			if c.wiper(d.t) {
				return 0
			}
			return d.x
		}
		got := fed(t, d.sweeps(3), func(s float64) float64 {
			if c.ref(s) {
				return 0
			}
			return 5
		})
		var losses, own float64
		for i := range got.Findings {
			if f := &got.Findings[i]; f.Kind == Dropouts || f.Kind == DeadSpot || f.Kind == AtRail {
				losses = math.Max(losses, f.Strength)
				if f.Event != "reference" {
					own = math.Max(own, f.Strength)
				}
			}
		}
		if c.together && (own > 0.3 || !got.shows(RefLoss)) || !c.together && own < 0.5 {
			t.Errorf("%s: losses %.2f, of their own %.2f, reference %v", c.name, losses, own, got.shows(RefLoss))
		}
	}
}

// A reference that comes and goes takes the reading below the stop: the stall there is no
// stall short of it. Where the reading was beyond the place with its reference, it is.
func TestStopBesideALostReference(t *testing.T) {
	t.Parallel()
	for _, sound := range []bool{false, true} {
		const n = 2000
		w := &work{tol: 0.05, t: make([]float64, n), v: make([]float64, n)}
		ref := make([]float32, n)
		for i := range n {
			w.t[i], w.v[i], ref[i] = 0.01*float64(i), 1.2, 5
			if i >= 500 && i < 600 || sound && i >= 900 && i < 1000 {
				w.v[i] = 0.4
			}
			if i >= 500 && i < 600 {
				ref[i] = 1.6
			}
		}
		w.tr = &signal.Trace{Time: w.t, Step: 0.01, Reference: &signal.Series{Mean: ref}}
		w.found = []Finding{
			{Kind: Jam, Strength: 0.9, Event: "stall", Volts: Interval{1.19, 1.21}, Places: []Occurrence{{Time: Interval{8, 9}, Volts: Interval{1.19, 1.21}, Direction: Down}}},
			{Kind: SlowZone, Strength: 0.8, Event: "slow", Volts: Interval{1.15, 1.3}},
			{Kind: SlowZone, Strength: 0.8, Event: "elsewhere", Volts: Interval{3, 3.3}},
		}
		w.joinFalseSpan(&Finding{Kind: RefLoss, Event: "reference"}, 5)
		if joined := w.found[0].Event == "reference"; joined == sound {
			t.Errorf("seen beyond with its reference %v: stall joined %v", sound, joined)
		}
		if joined := w.found[1].Event == "reference"; joined == sound {
			t.Errorf("seen beyond with its reference %v: slow way in joined %v", sound, joined)
		}
		if w.found[2].Event != "elsewhere" {
			t.Error("what is slow elsewhere is not the reference's")
		}
	}
}
