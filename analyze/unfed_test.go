package analyze

import (
	"math"
	"slices"
	"strings"
	"testing"

	"threewire/signal"
)

// unfedDraft sweeps with a sensor that has its supply from 2 s on; zero is what
// the instrument shows before.
func unfedDraft(seed uint64, zero float64) *draft {
	d := newDraft(seed)
	d.x = 2
	d.read = func(d *draft) float64 {
		if d.t < 2 {
			return zero
		}
		return d.x
	}
	return d.run(0, 3).sweeps(2)
}

// A recording may begin before the ignition is switched on: that is no fault of
// the sensor, and no other either.
func TestBeginsBeforeTheSensorIsFed(t *testing.T) {
	t.Parallel()
	for _, zero := range []float64{0, -0.12, 0.05} {
		got, v := look(t, unfedDraft(1, zero))
		if v.Conclusion != NoFault {
			t.Errorf("zero at %g V: %s", zero, say(got, v))
		}
		if !slices.ContainsFunc(got.Notes, func(s string) bool { return strings.Contains(s, "had no supply yet") }) {
			t.Errorf("zero at %g V: nothing is said of what was left out: %q", zero, got.Notes)
		}
		if got.Moves[0].Time.From < 3 {
			t.Errorf("zero at %g V: times have moved: the first drive is at %g s, not at 4", zero, got.Moves[0].Time.From)
		}
	}
}

// A plug that is pushed home, or a clip that is set, after the recorder was started
// comes from either rail, with the reference there all the while, and chatters. It
// is left out and told; nothing else may be, and a loss after the first drive is one.
func TestPluggedInLate(t *testing.T) {
	t.Parallel()
	make := func(seed uint64, rail, until float64) *draft {
		d := newDraft(seed)
		d.x = 2
		d.read = func(d *draft) float64 {
			if d.t < until || d.t > until+0.1 && d.t < until+0.2 {
				return rail
			}
			return d.x
		}
		return d.run(0, 3).sweeps(2)
	}
	for _, c := range []struct {
		name        string
		rail, until float64
		sound       bool
	}{
		{"from the low rail", 0, 2, true},
		{"from the high rail", 5, 2, true},
		{"lost in the midst of the first stroke", 0, 5.2, false},
	} {
		tr := make(1, c.rail, c.until).trace()
		if !c.sound {
			tr = make(1, 0, 0).trace()
			for i, x := range tr.Time {
				if x > 5.2 && x < 6 {
					tr.Feedback.Mean[i] = 0
				}
			}
		}
		ref := signal.Series{Name: "reference", Unit: "V", Mean: slices.Repeat([]float32{5}, tr.Len())}
		ref.Min, ref.Max = ref.Mean, ref.Mean
		tr.Reference = &ref
		got, err := Examine(tr, Defaults())
		if err != nil {
			t.Fatal(err)
		}
		v := Judge(got).Verdict
		told := slices.ContainsFunc(got.Notes, func(s string) bool { return strings.Contains(s, "look for a loose contact") })
		if c.sound && (v.Conclusion != NoFault || !told) || !c.sound && v.Conclusion == NoFault {
			t.Errorf("%s: told %v, %s", c.name, told, say(got, v))
		}
	}
}

// A spring over the dead point opposes either direction up to there and pushes
// it beyond: sound doors have one. Friction at a place only takes.
func TestOverCentreDrawn(t *testing.T) {
	t.Parallel()
	at := func(x, place float64) float64 { return math.Exp(-math.Pow((x-place)/0.25, 2)) }
	checkDrawn(t, []drawnCase{
		{"a spring over its dead point", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 {
				against, with := at(d.x, 2.1), at(d.x, 2.9)
				if dir < 0 {
					against, with = with, against
				}
				return 1 - 0.4*against + 0.1*with
			}
			return d.sweeps(3)
		}, NoFault, ""},
		{"a spring that draws to a middle, through a gear that gives little back", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 {
				if dir < 0 {
					return 1 - 0.4*at(d.x, 2.1)
				}
				return 1 - 0.4*at(d.x, 2.9)
			}
			return d.sweeps(3)
		}, NoFault, ""},
		{"friction at a place, through a linkage with play", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 { return 1 - 0.55*at(d.x, 2.5+0.1*dir) }
			return d.sweeps(3)
		}, DoorMechanism, SlowZone},
		{"friction at a place, going up only", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 {
				if dir < 0 {
					return 1
				}
				return 1 - 0.55*at(d.x, 2.1)
			}
			return d.sweeps(3)
		}, DoorMechanism, SlowZone},
	}, "")
}
