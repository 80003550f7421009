package analyze

import (
	"math"
	"testing"
)

// bentAt lets the track tell less than the shaft turns from at V on for width V,
// a share slope of it, and make up for it over the next catch V.
func bentAt(d *draft, at, width, slope, catch float64) *draft {
	d.read = func(d *draft) float64 {
		switch x := d.x - at; {
		case x <= 0 || x >= width+catch:
			return d.x
		case x <= width:
			return at + slope*x
		default:
			return at + slope*width + (x-width)*(width+catch-slope*width)/catch
		}
	}
	return d
}

func bentCases() []drawnCase {
	return []drawnCase{
		{"bent over a tenth of the travel", func(s uint64) *draft { return bentAt(newDraft(s), 2, 0.3, 0.35, 0.1).sweeps(3) }, FeedbackSensor, BentTrack},
		{"bent the other way round", func(s uint64) *draft { return bentAt(newDraft(s), 2, 0.1, 2.6, 0.3).sweeps(3) }, FeedbackSensor, BentTrack},
		{"bent, one sweep of a slow logger", func(s uint64) *draft {
			d := newDraft(s)
			d.dt, d.rate, d.noise = 0.04, 0.4, 0.008
			return bentAt(d, 3, 0.3, 0.3, 0.12).sweeps(2)
		}, FeedbackSensor, BentTrack},
		{"bent by a third only, and as much made up for", func(s uint64) *draft { return bentAt(newDraft(s), 2, 0.4, 0.62, 0.4).sweeps(3) }, FeedbackSensor, BentTrack},
		{"a door that drags, and is easy beside that", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, _ float64) float64 {
				switch {
				case d.x > 2.1 && d.x < 2.5:
					return 0.6
				case d.x > 2.5 && d.x < 2.9:
					return 1.2
				}
				return 1
			}
			return d.sweeps(3)
		}, DoorMechanism, SlowZone},
		{"bent at the high end, its slow part beyond the stop", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 { return d.x + 1.15*math.Max(0, d.x-3.9) }
			d.hi = 4.15
			return d.sweeps(3)
		}, FeedbackSensor, EndLoss},
		{"healthy, thrown off its stops by its seals", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 {
				return 1 - dir*0.8*(math.Max(0, 1-(d.hi-d.x)/0.4)-math.Max(0, 1-(d.x-d.lo)/0.4))
			}
			return unhurried(d, 3)
		}, NoFault, ""},
		{"healthy, over a centre", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 {
				return 1 + dir*0.6*(d.x-2.5)/0.2*math.Exp(-(d.x-2.5)*(d.x-2.5)/0.08)
			}
			return d.sweeps(3)
		}, NoFault, ""},
		{"healthy, a crooked track", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 { return d.x + 0.03*math.Sin(2*math.Pi*d.x/1.5) }
			return d.sweeps(3)
		}, NoFault, ""},
		{"healthy, free of load over a stretch", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 {
				if d.x > 2 && d.x < 2.4 {
					return 1.3
				}
				return 1
			}
			return d.sweeps(3)
		}, NoFault, ""},
		{"a door that binds", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 {
				if d.x > 2 && d.x < 2.4 {
					return 0.4
				}
				return 1
			}
			return d.sweeps(3)
		}, DoorMechanism, SlowZone},
	}
}

func TestBentTrack(t *testing.T) {
	t.Parallel()
	checkDrawn(t, bentCases(), BentTrack)
}
