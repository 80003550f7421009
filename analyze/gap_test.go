package analyze

import (
	"math"
	"testing"
)

// goTo drives to a place and rests there.
func (d *draft) goTo(at float64) *draft {
	return d.run(math.Copysign(12, at-d.x), math.Abs(at-d.x)/d.rate).run(0, 0.8)
}

func TestGapDrawn(t *testing.T) {
	t.Parallel()
	visits := func(d *draft) *draft {
		d.run(0, 1)
		for range 4 {
			d.goTo(2.3).goTo(1.2).goTo(2.4).goTo(3.6).goTo(2.2).goTo(3.1)
		}
		return d
	}
	checkDrawn(t, []drawnCase{
		{"the control rests in it", func(s uint64) *draft { return visits(newDraft(s).wiped(2, 2.6)) }, FeedbackSensor, DeadSpot},
		{"it goes to the same places on a sound track", func(s uint64) *draft { return visits(newDraft(s)) }, NoFault, ""},
		{"a connector that lets go near them", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if math.Mod(d.t, 3.7) < 0.9 {
					return 0
				}
				return d.x
			}
			return visits(d)
		}, WiringControl, Dropouts},
	}, "")
}

// A reading that leaps the wrong way must not turn the sense of the drive over.
func TestSenseBetweenLeaps(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed).wiped(2, 2.6)
		d.run(0, 1)
		for range 6 {
			d.goTo(1.7).goTo(2.3) // it leaps down by more than it rises
		}
		if w := workOf(t, d.trace()); w.sense != 1 {
			t.Errorf("seed %d: sense %d", seed, w.sense)
		}
	}
}

// A wiper that loses contact as it moves does not while it rests; a connector does.
func TestLossesWhileItMoves(t *testing.T) {
	t.Parallel()
	lossy := func(always bool) func(uint64) *draft {
		return func(s uint64) *draft {
			d := newDraft(s)
			next, until := 0.0, -1.0
			before := d.x
			d.read = func(d *draft) float64 {
				moves := d.x != before
				before = d.x
				if d.t > next {
					next = d.t + 0.5 + d.rng.Float64()
					if moves || always {
						until = d.t + 0.06
					}
				}
				if d.t < until {
					return 0
				}
				return d.x
			}
			d.run(0, 3)
			for range 4 {
				d.run(12, 5.5).run(0, 3).run(-12, 5.5).run(0, 3)
			}
			return d
		}
	}
	checkDrawn(t, []drawnCase{
		{"while it moves", lossy(false), FeedbackSensor, Dropouts},
		{"at any time", lossy(true), WiringControl, Dropouts},
	}, "")
}

// Requests that go to and fro over a rough stretch leave the rest of the track
// passed once; the rough stretch is still the place.
func TestRoughWherePassedMost(t *testing.T) {
	t.Parallel()
	checkDrawn(t, []drawnCase{{"rough over half of what was passed", func(s uint64) *draft {
		d := newDraft(s)
		d.read = func(d *draft) float64 {
			if d.x > 0.9 && d.x < 2.2 {
				return d.x + 0.1*d.rng.NormFloat64()
			}
			return d.x
		}
		d.run(0, 0.5).goTo(4.4).goTo(0.8)
		for range 5 {
			d.goTo(2.3).goTo(1.1)
		}
		return d
	}, FeedbackSensor, NoisyTrack}}, "")
}

// A control answers a reading that leaps ten times a second; no shaft goes so far.
func TestHuntingOnLeaps(t *testing.T) {
	t.Parallel()
	checkDrawn(t, []drawnCase{{"six turns a second", func(s uint64) *draft {
		d := newDraft(s).wiped(2.4, 5)
		d.dt = 0.01
		d.run(0, 1).run(12, 2.4)
		for range 60 {
			d.run(-12, 0.08).run(12, 0.08)
		}
		return d
	}, FeedbackSensor, Hunting}}, "")
}
