package analyze

import (
	"math"
	"testing"

	"threewire/signal"
)

// No wiper gives more than its supply: a reading of the battery's volts is a wire
// that touches one of them. A sensor on a higher supply passes through all levels.
func TestAboveTheSupplyDrawn(t *testing.T) {
	t.Parallel()
	checkDrawn(t, []drawnCase{
		{"the wiper's wire touches the battery's", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if d.t > 12 && d.t < 21 {
					return 12.1
				}
				return d.x
			}
			return d.run(0, 1).sweeps(3)
		}, WiringControl, AtRail},
		{"a sensor on 10 V", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 { return 2 * d.x }
			return d.run(0, 1).sweeps(3)
		}, NoFault, ""},
		{"a spike of the instrument", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if d.t > 12 && d.t < 12.004 {
					return 6.3
				}
				return d.x
			}
			return d.run(0, 1).sweeps(3)
		}, NoFault, ""},
	}, "")
}

// A sensor that lost its reference still follows a little, through the inputs of
// the control, next to the ground; whether it lost it in itself or on the way,
// the reference has to tell.
func TestCrushedDrawn(t *testing.T) {
	t.Parallel()
	scaled := func(zero, share float64) func(s uint64) *draft {
		return func(s uint64) *draft {
			d := newDraft(s)
			d.noise = 0.002
			d.read = func(d *draft) float64 { return zero + share*d.x }
			return d.run(0, 1).sweeps(3)
		}
	}
	checkDrawn(t, []drawnCase{
		{"no reference", scaled(0.02, 0.04), CannotTell, AtRail},
		{"no ground", scaled(4.78, 0.04), CannotTell, AtRail},
		{"a third of the supply, as some doors need", scaled(1.5, 0.35), NoFault, ""},
	}, "")
}

// Rows that a logger wrote and left empty are missing rows, not a signal that
// went away.
func TestEmptyRowsAreMissingRows(t *testing.T) {
	t.Parallel()
	tr := newDraft(1).sweeps(3).trace()
	nan := float32(math.NaN())
	for _, at := range []int{700, 1900, 3100} {
		for i := at; i < at+25; i++ {
			tr.Drive.Mean[i], tr.Feedback.Mean[i] = nan, nan
		}
	}
	c, err := Examine(tr, Defaults())
	if err != nil {
		t.Fatal(err)
	}
	if v := Judge(c).Verdict; v.Conclusion != NoFault || len(c.Findings) > 0 {
		t.Error(say(c, v))
	}
}

// A reading that travels above the supply logged beside it comes from elsewhere;
// two channels that differ by a few percent do not say so.
func TestTravelsAboveItsSupply(t *testing.T) {
	t.Parallel()
	for factor, want := range map[float64]Fault{1.2: WiringControl, 1.04: NoFault} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.hi = 3.3 * factor
			tr := d.sweeps(3).trace()
			ref := make([]float32, len(d.time))
			for i := range ref {
				ref[i] = 3.3
			}
			tr.Reference = &signal.Series{Name: "reference", Unit: "V", Mean: ref, Min: ref, Max: ref}
			c, err := Examine(tr, Defaults())
			if err != nil {
				t.Fatal(err)
			}
			if v := Judge(c).Verdict; v.Conclusion != want {
				t.Errorf("seed %d, up to %.2f of its supply: %s", seed, factor, say(c, v))
			}
		}
	}
}
