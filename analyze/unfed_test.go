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

// With the reference there all the while, a wiper that reads nothing is open or
// shorted, whatever is driven.
func TestReadsNothingOnALiveTrack(t *testing.T) {
	tr := unfedDraft(1, 0).trace()
	ref := signal.Series{Name: "reference", Unit: "V", Mean: make([]float32, tr.Len())}
	for i := range ref.Mean {
		ref.Mean[i] = 5
	}
	ref.Min, ref.Max = ref.Mean, ref.Mean
	tr.Reference = &ref
	c, err := Examine(tr, Defaults())
	if err != nil {
		t.Fatal(err)
	}
	if v := Judge(c).Verdict; v.Conclusion == NoFault {
		t.Errorf("the wiper reads nothing for 2 s with its reference on: %s", say(c, v))
	}
}

// A spring over the dead point opposes either direction up to there and pushes
// it beyond: sound doors have one. Friction at a place only takes.
func TestOverCentreDrawn(t *testing.T) {
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
