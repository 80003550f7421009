package analyze

import (
	"math"

	"threewire/signal"
)

// supplyUnderLoad is what a logged supply does while the motor is driven.
type supplyUnderLoad struct {
	level  float64 // V
	rest   float64 // V, with the motor off
	drop   float64 // share of its volts at rest
	lowest float64 // V, of any reading
	seen   int     // drives in which it falls by [contactDrop], at least 1
	giving int     // drives in which it lies lower at all
	drives int
}

// loggedSupply measures the logged supply under load; not ok where its readings at rest
// or under load are too few.
func (w *work) loggedSupply(s *signal.Series) (x supplyUnderLoad, ok bool) {
	const given = 0.02 // of the supply, what a meter and a generator waver by
	var off []float64
	x.lowest = math.Inf(1)
	for i, p := range w.d.pol {
		v := float64(s.Mean[i])
		if p == 0 && !math.IsNaN(v) {
			off = append(off, v)
		} else if p != 0 && v < x.lowest {
			x.lowest = v
		}
	}
	if len(off) < 3 {
		return x, false
	}
	rest := medianIn(off)
	if !(rest > 0) { // nothing falls from nothing
		return x, false
	}
	var on []float64
	drives := w.loaded(s, rest)
	for _, v := range drives {
		on = append(on, v...)
		if len(v) > 0 && medianOf(v) < (1-given)*rest {
			x.giving++
		}
		if len(v) > 0 && quantileOf(v, 0.02) < (1-contactDrop)*rest {
			x.seen++
		}
	}
	if len(on) < 3 {
		return x, false
	}
	x.seen, x.drives = max(1, x.seen), max(1, len(drives))
	x.level = quantileOf(on, 0.02)
	// A contact that gives way now and then does so for part of the time.
	var gave []float64
	for _, v := range on {
		if v < 0.85*rest {
			gave = append(gave, v)
		}
	}
	if float64(len(gave)) >= math.Max(3, w.inRows(0.05)-sameRow) && medianOf(gave) < x.level {
		x.level = medianOf(gave)
	}
	x.drop, x.rest = 1-x.level/rest, rest
	return x, true
}
