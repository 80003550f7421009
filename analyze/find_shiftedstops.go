package analyze

import "math"

// findShiftedStops tells a wiper that slipped on its shaft by the stops alone, where the
// step fell into a stand, between two rows or into noise: both stops, visited before some moment and after it,
// differ by the same, and repeat otherwise. A scale moves the stop with the higher
// reading by more, a travel that changes moves the stops apart or together.
func (w *work) findShiftedStops(stops [2][]pressing) bool {
	if len(stops[0])+len(stops[1]) < 5 {
		return false // nothing repeats
	}
	var cut [2]int // the first visit after it
	var shift [2]float64
	for d, v := range stops {
		for i := 1; i < len(v); i++ {
			if x := v[i].level - v[i-1].level; math.Abs(x) > math.Abs(shift[d]) {
				shift[d], cut[d] = x, i
			}
		}
	}
	alike := func(x, y float64) bool {
		const equal = 0.1 // of the shift
		return math.Abs(x-y) <= equal*math.Abs(x+y)/2
	}
	for d := range stops {
		// Not visited on one side of it, a stop cannot lie before where the shaft was.
		o := 1 - d
		if cut[d] == 0 || !w.steadyBut(stops[d], cut[d], shift[d]) || !w.steadyBut(stops[o], 0, shift[d]) || len(stops[o]) < 2 {
			continue
		}
		if beyond, ok := w.beyondUnvisited(stops[d], cut[d], stops[o]); ok && alike(beyond, shift[d]) {
			return w.addShiftedStops(stops[d][cut[d]-1].at, stops[d][cut[d]].at, shift[d])
		}
	}
	if cut[0] == 0 || cut[1] == 0 {
		return false
	}
	from := math.Max(stops[0][cut[0]-1].at, stops[1][cut[1]-1].at)
	to := math.Min(stops[0][cut[0]].at, stops[1][cut[1]].at)
	mean := (shift[0] + shift[1]) / 2
	if from >= to || !alike(shift[0], shift[1]) || !w.steadyBut(stops[0], cut[0], mean) || !w.steadyBut(stops[1], cut[1], mean) {
		return false
	}
	return w.addShiftedStops(from, to, mean)
}

// steadyBut tells whether the visits of a stop repeat but for a shift at one of them, 0
// for none, that is clear of what they repeat by and of what healthy stops give.
func (w *work) steadyBut(v []pressing, cut int, shift float64) bool {
	const clear = 8 // times what a stop repeats by
	for i := range v {
		if i > 0 && i != cut && math.Abs(v[i].level-v[i-1].level) > math.Abs(shift)/clear || i > 0 && 3*v[i].err > math.Abs(shift)/clear {
			return false
		}
	}
	return math.Abs(shift) >= stopGives*w.span.Width()
}

// beyondUnvisited is by how much the shaft lay beyond a stop before its first visit, or
// after its last, where the other stop shifted once and this one has no visit on that
// side of it: as a shift that would make it so, in V.
// An obstacle may fall in at one end as another one goes from the other, but not as deep.
// Where it lay short of the stop it may have lain anywhere.
func (w *work) beyondUnvisited(v []pressing, cut int, other []pressing) (shift float64, ok bool) {
	before := other[0].at > v[cut-1].at
	if after := other[len(other)-1].at < v[cut].at; before == after {
		return 0, false
	}
	var level []float64
	for _, p := range other {
		level = append(level, p.level)
	}
	dir := w.moves[other[0].move].Direction
	far := math.Inf(-1)
	for k := range w.moves {
		if before && k >= other[0].move || !before && k <= other[len(other)-1].move {
			continue
		}
		if lo, hi := w.tracked(&w.moves[k]); dir == Up {
			far = math.Max(far, hi)
		} else {
			far = math.Max(far, -lo)
		}
	}
	beyond := far - float64(dir)*medianOf(level)
	shift = float64(dir) * beyond
	if before {
		shift = -shift
	}
	return shift, beyond > 0 && !math.IsInf(far, 0)
}

// addShiftedStops adds the finding of a shift of both stops, in V, between two times.
func (w *work) addShiftedStops(from, to, shift float64) bool {
	f := Finding{Kind: LastingLeap, Form: leapUnseen, Tie: TiedToTime, TieP: 1, Seen: 1, Passes: 1, Event: "leap", Strength: 0.9,
		Time: Interval{from, to}, Volts: w.span, Measures: []Measure{{MeasureStep, shift, w.unit()}}}
	w.found = append(w.found, f)
	w.joinLeap(f)
	return true
}
