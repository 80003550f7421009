package analyze

import (
	"math"
	"testing"
)

// Friction lets a shaft go again and again; a worn place holds the reading once.
func TestStairsDrawn(t *testing.T) {
	t.Parallel()
	steps := func(s uint64) *draft {
		d := newDraft(s)
		// In a band it stands for 0.3 s, and in 0.1 s makes up for it.
		sticks := func(d *draft) bool { return d.x > 1.5 && d.x < 2.6 && math.Mod(d.t, 0.4) < 0.3 }
		d.block = func(d *draft, dir float64) bool { return sticks(d) }
		d.speed = func(d *draft, dir float64) float64 {
			if d.x > 1.5 && d.x < 2.6 {
				return 4
			}
			return 1
		}
		return d.sweeps(3)
	}
	checkDrawn(t, []drawnCase{
		{"in steps over a quarter of the way", steps, DoorMechanism, StickSlip},
		{"held once in each pass", func(s uint64) *draft { return hold(newDraft(s), 1.5, 2.1).sweeps(3) }, FeedbackSensor, DeadSpot},
	}, "")
}

// hold makes the reading keep its last value over a stretch of the track.
func hold(d *draft, from, to float64) *draft {
	last := d.x
	d.read = func(d *draft) float64 {
		if d.x < from || d.x > to {
			last = d.x
		}
		return last
	}
	return d
}

// Hum that folds down to a slow wave makes the reading stand here and there; a
// motor that fails to turn for a moment runs evenly between.
func TestWaveDrawn(t *testing.T) {
	t.Parallel()
	slow := func(s uint64) *draft {
		d := newDraft(s)
		d.dt, d.rate = 0.02, 0.5
		return d
	}
	checkDrawn(t, []drawnCase{
		{"hum folded to 0.7 Hz", func(s uint64) *draft {
			d := slow(s)
			d.read = func(d *draft) float64 {
				return d.x + 0.07*math.Sin(2*math.Pi*0.7*d.t) + 0.04*math.Sin(2*math.Pi*0.43*d.t)
			}
			return d.sweeps(3)
		}, NoFault, ""},
		{"a motor that stands now and then", func(s uint64) *draft {
			d := slow(s)
			d.block = func(d *draft, dir float64) bool { return math.Mod(d.t+1, 7.3) < 0.8 }
			return d.sweeps(4)
		}, Motor, Pauses},
	}, "")
}

// Two strokes of one duration over different readings are a scale's; the same
// readings in less time are a travel's that ended early.
func TestScaleOfTwoStrokes(t *testing.T) {
	t.Parallel()
	checkDrawn(t, []drawnCase{
		{"reads less the second time", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 { return 0.5 + (d.x-0.5)*(1-0.14*math.Max(0, math.Min(1, (d.t-8)/4))) }
			return d.sweeps(2)
		}, FeedbackSensor, SpanDrift},
		{"stopped early the second time", func(s uint64) *draft {
			d := newDraft(s)
			d.block = func(d *draft, dir float64) bool { return d.t > 12 && dir > 0 && d.x > 3.9 }
			return d.sweeps(2)
		}, DoorMechanism, Jam},
	}, "")
}
