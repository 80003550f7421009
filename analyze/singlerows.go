package analyze

import "math"

// singleRows is the measure of losses, each of one row alone, that go to no level: so many.
const singleRows = "of one row each, to no level"

// rowsLooked is after how many rows oneRowEach has seen enough: it compares each with each.
const rowsLooked = 500

// oneRowEach tells whether losses are of single rows, each alone, that go to no level. An
// open wire has one, a rail or its input's own, wherever the shaft is, and stays away as
// long as it is open; a spark of the brushes that the wires pick up is over within a row,
// and as high as it happens to be. Short openings that an input's filter rounds off look
// the same.
func (w *work) oneRowEach(lost []*event) bool {
	near := math.Max(3*w.noise+w.quantum/2, 0.01*w.ref)
	rail := math.Max(near, 0.015*w.ref)
	var base, value []float64
	for _, e := range lost {
		if len(value) >= rowsLooked {
			break
		}
		on := e.volts()
		far := math.Max(leastLoss*w.ref, w.tol)
		beside := false
		for _, v := range w.v[e.first:e.last] {
			if v >= on.From-far && v <= on.To+far {
				beside = false
				continue
			}
			if beside {
				return false
			}
			beside = true
			base, value = append(base, on.Mid()), append(value, v)
		}
	}
	level := 0
	for i, v := range value {
		same := math.Abs(v) < rail || math.Abs(v-w.ref) < rail
		for j, o := range value {
			same = same || i != j && math.Abs(o-v) < near && math.Abs(base[j]-base[i]) > 2*near
		}
		if same {
			level++
		}
	}
	return len(value) >= 3 && 2*level <= len(value)
}
