package analyze

import (
	"fmt"
	"math"

	"threewire/analyze/stats"
)

// sameShareUncoupled looks for a slow place, both ways, that has the same share of the
// usual speed with the door and without, while the door's load (or fewer volts) takes a part
// of the usual speed. A load in the gears takes the same from it wherever it adds to (n = n0
// - M R/k^2 for any brushed motor), so that little would be left there under the door's as
// well; a track that tells less of the way there shows a share, whatever the speed is.
func sameShareUncoupled(captures []*Capture) *aside {
	// Tracks and gears make a speed swing by a tenth: the two must differ by as much.
	const apart = 0.1
	for _, c := range captures {
		if c.Free {
			continue
		}
		for i := range c.Findings {
			f := &c.Findings[i]
			if f.Kind != SlowZone || f.Form != "" || f.Direction != None || f.Seen < 3 || !(f.force() > 0) {
				continue
			}
			with, ok := speedsAt(c, c, f)
			if !ok {
				continue
			}
			for _, x := range captures {
				without, ok := speedsAt(x, c, f)
				if !x.Free || !ok {
					continue
				}
				coupled, free, load := 0.0, 0.0, 0.0 // shares, and that which a load would leave
				slower := true
				for d := range with {
					lost := without[d].usual - with[d].usual
					slower = slower && lost > 0
					coupled += with[d].there / with[d].usual / 2
					free += without[d].there / without[d].usual / 2
					load += math.Max(0, without[d].there-lost) / with[d].usual / 2
				}
				if !slower || free > freedPlace || free-load < apart || math.Abs(coupled-free) > (free-load)/3 {
					continue
				}
				a := newAside(FreeRun, shown{.02, .6, .03, .03, .02}, f.Strength,
					fmt.Sprintf("From %.2f to %.2f %s it runs at %.0f %% of its usual speed with the door and at %.0f %% without; the door slows it elsewhere, and a load there would leave %.0f %% with it.", f.Volts.From, f.Volts.To, c.Unit, 100*coupled, 100*free, 100*load),
					"a load in the gears takes as much from a low speed as from a high one, a track that tells less of the way takes a share")
				return &a
			}
		}
	}
	return nil
}

// speedAt is a shaft's speed in a place and its usual one, one way.
type speedAt struct{ there, usual float64 }

// speedsAt are the speeds of a capture x in a slow place of c, by direction; not ok where
// most of it was not passed both ways.
func speedsAt(x, c *Capture, f *Finding) (by [2]speedAt, ok bool) {
	k, known := levelScale(x, c)
	if !known {
		return by, false
	}
	for i := range x.Profiles {
		p := &x.Profiles[i]
		if p.Direction == None || len(p.Points) < 5 {
			continue
		}
		cell := math.Inf(1)
		var all, in []float64
		for j, q := range p.Points {
			all = append(all, k*q.Rate)
			if j > 0 {
				cell = math.Min(cell, k*(q.Position-p.Points[j-1].Position))
			}
			if f.Volts.Has(k * q.Position) {
				in = append(in, k*q.Rate)
			}
		}
		if float64(len(in))*cell > 0.7*f.Volts.Width() {
			by[side(p.Direction)] = speedAt{stats.Median(in), stats.Median(all)}
		}
	}
	return by, by[0].usual > 0 && by[1].usual > 0
}
