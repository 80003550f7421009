package analyze

import (
	"fmt"
	"math"
	"slices"
)

// dropEnds takes out single rows that read the one and the other end of the instrument's
// channel, far off all other readings. A wire that opens goes to one level, whatever pulls at
// its input, a wiper not above its reference, and either is met for several rows now and
// then; a row that went wrong in the converter or on its way into the file reads all noughts
// or all ones.
func (w *work) dropEnds() {
	if w.tr.RowsPerBin > 1 || !(w.ref > 0) {
		return
	}
	lo, hi := extremes(w.v)
	same := math.Max(w.quantum/2, 1e-6*w.ref)
	low, lowAlone := w.loneRows(lo, same)
	high, highAlone := w.loneRows(hi, same)
	if !lowAlone || !highAlone || len(low)+len(high) > mostStrays {
		return
	}
	// An end is a level where it is read twice. Read once it is one only at nought, and beside
	// it at what no wiper gives.
	if len(low) < 2 && len(high) < 2 && !(math.Abs(lo) <= same && hi > 1.05*w.ref) {
		return
	}
	w.v = slices.Clone(w.v)
	stray := slices.Concat(low, high)
	slices.Sort(stray)
	for n, i := range stray {
		// Beside one that is mended already, up to the next that is none.
		last := i + 1
		for _, j := range stray[n+1:] {
			if j == last && last+1 < len(w.v) {
				last++
			}
		}
		w.v[i] = w.v[i-1] + (w.v[last]-w.v[i-1])/float64(last-i+1)
	}
	w.notes = append(w.notes, fmt.Sprintf("%d single rows that read the lowest or the highest value of the channel (%s, %s), between ordinary readings, were taken for errors of the recording and left out",
		len(low)+len(high), amount(lo, w.unit()), amount(hi, w.unit())))
}

// loneRows lists the rows that read a level, and tells whether each of them stands alone
// between two that lie far off on the same side, and nothing else comes near the level.
func (w *work) loneRows(level, same float64) (at []int, alone bool) {
	far := math.Max(leastLoss*w.ref, w.tol)
	for i, v := range w.v {
		if math.Abs(v-level) > far {
			continue
		}
		if math.Abs(v-level) > same || i == 0 || i == len(w.v)-1 {
			return nil, false
		}
		before, after := w.v[i-1]-v, w.v[i+1]-v
		if math.Min(math.Abs(before), math.Abs(after)) <= far || before*after < 0 {
			return nil, false
		}
		at = append(at, i)
	}
	return at, len(at) > 0
}
