package analyze

import (
	"math"
	"testing"
)

// sealed drafts a door whose seals cost so much of the speed at the very end of
// the way to either stop, rising over the last twelfth of the travel, and push it
// off as much.
func sealed(low, high float64) func(uint64) *draft {
	return func(s uint64) *draft {
		d := newDraft(s)
		d.speed = func(d *draft, dir float64) float64 {
			reach := (d.hi - d.lo) / 12
			return 1 + dir*(low*math.Max(0, 1-(d.x-d.lo)/reach)-high*math.Max(0, 1-(d.hi-d.x)/reach))
		}
		return unhurried(d, 3)
	}
}

// A seal that swelled is known by the one at the other end; a line that bends
// from stop to stop, and a track that reads slowly both ways, are no seal.
func TestTightStopDrawn(t *testing.T) {
	t.Parallel()
	checkDrawn(t, []drawnCase{
		{"swollen at the high end", sealed(0.05, 0.9), DoorMechanism, SlowZone},
		{"stiff at both ends alike", sealed(0.7, 0.7), NoFault, ""},
		{"soft at both ends alike, until nothing is left", sealed(0.95, 0.93), NoFault, ""},
		{"a little stiffer at one end", sealed(0.2, 0.4), NoFault, ""},
		{"slower all along the way to one end", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 { return 1 - dir*0.4*(d.x-d.lo)/(d.hi-d.lo) }
			return unhurried(d, 3)
		}, NoFault, ""},
		{"rows missing before the stop", func(s uint64) *draft {
			d := sealed(0, 0)(s)
			n := 0
			for i, v := range d.feed {
				if up := math.Mod(d.time[i], 21); v > 3.7 && v < 4 && up < 10 && d.time[i] < 42 {
					continue
				}
				d.time[n], d.drive[n], d.feed[n] = d.time[i], d.drive[i], v
				n++
			}
			d.time, d.drive, d.feed = d.time[:n], d.drive[:n], d.feed[:n]
			return d
		}, NoFault, ""},
	}, "")
}
