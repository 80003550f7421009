package analyze

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestLengthsByChance(t *testing.T) {
	t.Parallel()
	// Of lengths under the law, so many fall below a chance as it says.
	rng := rand.New(rand.NewPCG(1, 2))
	below := 0
	for range 4000 {
		var s []float64
		for range 8 {
			s = append(s, 0.1+rng.ExpFloat64())
		}
		if byChance(s, 0.1) < 0.1 {
			below++
		}
	}
	if below < 320 || below > 480 {
		t.Errorf("%d of 4000 below one in ten", below)
	}
	if p := byChance([]float64{0.5, 0.6, 0.7, 0.8, 0.5, 0.6}, 0); p > 0.01 {
		t.Errorf("none short, yet by chance at %.2g", p)
	}
	// As even as can be up to a limit: they may be what is left of far longer ones.
	if p := byChanceUpTo([]float64{0.3, 0.6, 0.9, 1.2, 1.4}, 0.05, 1.5); p < 0.1 {
		t.Errorf("spread over all there is, yet not by chance: %.2g", p)
	}
	if p := byChance(nil, 0); p != 1 || math.IsNaN(byChance([]float64{1, 1}, 1)) {
		t.Error("nothing tells nothing")
	}
}

// A hand that goes by pulses leaves no short break among them; a contact does. (Drawn.)
func TestPulsesOfAHandAreNoContact(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		hand bool
	}{{"a hand", true}, {"a contact", false}} {
		d := newDraft(21)
		d.dt = 0.01
		d.run(0, 1)
		rng := rand.New(rand.NewPCG(3, 4))
		for range 3 {
			for _, volts := range []float64{12, -12} {
				for left := 10.0; left > 0; {
					on, off := 0.7+1.5*rng.Float64(), 0.3+0.5*rng.Float64()
					if !c.hand {
						on, off = 1.2*rng.ExpFloat64(), 0.35*rng.ExpFloat64()
					}
					d.run(volts, on).run(0, off)
					left -= on + off
				}
				d.run(0, 2)
			}
		}
		got := examined(t, d, false)
		n := 0
		for _, f := range got.Findings {
			if f.Kind == Broken {
				n++
			}
		}
		if c.hand && n > 0 || !c.hand && n == 0 {
			t.Errorf("%s: %d findings of an open circuit: %s", c.name, n, say(got, Judge(got).Verdict))
		}
	}
}

// Who rests for moments of any length where the drive turns over does so on the way as well;
// where a control turns it over by its clock, such breaks are a contact's. (Drawn.)
func TestRestsAtTurnsAreNoContact(t *testing.T) {
	t.Parallel()
	for _, hand := range []bool{true, false} {
		d := newDraft(22)
		d.dt = 0.02
		d.run(0, 1)
		rng := rand.New(rand.NewPCG(5, 6))
		for range 5 {
			for _, volts := range []float64{12, -12} {
				for left := 8.0; left > 0; {
					on, off := 1.5*rng.ExpFloat64(), 0.35*rng.ExpFloat64()
					d.run(volts, on).run(0, off)
					left -= on + off
				}
				rest := 0.6
				if hand {
					rest = 0.15 + rng.Float64()
				}
				d.run(volts, 0.5).run(0, rest)
			}
		}
		if got := examined(t, d, false); showsKind(got, Broken) == hand {
			t.Errorf("by hand %v: %s", hand, say(got, Judge(got).Verdict))
		}
	}
}

// Of few rests a clock would keep nearly all alike: not two of five at half of the others.
func TestFewRestsAtTurns(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		rests []float64 // s
		hand  bool
	}{
		{"a hand's", []float64{0.4, 0.8, 0.75, 0.7, 0.4}, true},
		{"a clock's", []float64{0.6, 0.6, 0.65, 0.6, 0.6}, false},
		{"a clock's, and one target that changed", []float64{0.6, 0.6, 1.3, 0.6, 0.6}, false},
		{"too few", []float64{0.4, 0.9, 0.75, 1.2}, false},
	} {
		d := newDraft(1)
		d.dt, d.x = 0.05, 2
		d.run(0, 1).run(-12, 0.5)
		for k, rest := range c.rests {
			d.run(0, rest).run([]float64{12, -12}[k%2], 0.5)
		}
		w := workOf(t, d.trace())
		if w.restsLikeBreaks() != c.hand {
			t.Errorf("%s: by hand %v", c.name, !c.hand)
		}
	}
}
