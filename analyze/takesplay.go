package analyze

import (
	"math"
	"slices"
)

// reversal is what it took, in the reading's unit at the usual speed, until the shaft
// followed the drive after this had turned round.
type reversal struct {
	first, last int // moves [first, last): those in vain, and the one that it followed in
	lost        float64
}

// reversals lists them. Drives in vain are of the reversal that they come after.
func (w *work) reversals() []reversal {
	var out []reversal
	for k := 1; k < len(w.moves); k++ {
		dir := w.moves[k].Direction
		if dir == None || w.moves[k-1].Direction != -dir {
			continue
		}
		r := reversal{first: k, last: k}
		for r.last < len(w.moves) && w.moves[r.last].Direction == dir {
			m := &w.moves[r.last]
			driven := m.Delay
			if m.Moving == 0 {
				driven = m.Duration()
			}
			r.lost += w.rate[side(dir)] * math.Abs(m.DriveMean) / w.d.amp * driven
			r.last++
			if m.Moving > 0 {
				break
			}
		}
		out = append(out, r)
	}
	return out
}

// takesUpPlay tells whether a drive in vain, the first or one of the first after the drive
// has turned round, is no longer than the gears take to come to bear on their other side:
// than sound play is, and than it takes at the other reversals, of which three at least must
// have been seen. A row more or less on either side tells nothing.
func (w *work) takesUpPlay(k int) bool {
	all := w.reversals()
	var lost []float64
	here := math.NaN()
	for _, r := range all {
		if k >= r.first && k < r.last {
			here = r.lost
		} else {
			lost = append(lost, r.lost)
		}
	}
	if math.IsNaN(here) || len(lost) < 3 {
		return false
	}
	slices.Sort(lost)
	return here <= math.Min(mostPlay*math.Max(w.span.Width(), w.leastTravel()), 2*medianOf(lost)+w.visible())
}
