package analyze

import (
	"math"

	"threewire/analyze/stats"
)

// Teeth that let go on the way set the shaft back, and the motor then climbs over
// the same stretch again at its own pace. Where one is smaller than the scatter of
// single rows, means of several rows before and after it still tell.
const (
	// setbackSigmas is by how many standard deviations of such means one counts:
	// a hundred thousand places and lengths are tried in a long capture.
	setbackSigmas = 6

	// setbackRows is the fewest rows of a mean: their own scatter is told by no fewer.
	setbackRows = 3
)

// setbackSeconds are the lengths over which means are taken.
func setbackSeconds() []float64 { return []float64{0.02, 0.04, 0.08, 0.16, 0.32} }

// setbackGaps are how long, in s, a shaft may take to spring back by a tooth (chosen: a
// mechanical time constant of the door and its arm, and of a light one). A fast shaft
// climbs most of a tooth in the longer, and hardly seems set back.
func setbackGaps() []float64 { return []float64{0.01, 0.03} }

// stepper compares means of n rows before and after a gap.
type stepper struct {
	sum    []float64 // of the readings before each bin
	n, gap int
	usual  [2]float64 // change while the shaft runs, by direction, V
	spread float64    // standard deviation of it, V
}

// change is the mean of the rows after the gap less that before bin i.
func (s *stepper) change(i int) float64 {
	j, n := i+s.gap, s.n
	return ((s.sum[j+n] - s.sum[j]) - (s.sum[i] - s.sum[i-n])) / float64(n)
}

// newStepper is one for means over some seconds with a gap of others between, by the sums
// of the readings before each bin; nil where rows are too few or the shaft ran too little
// to know what is usual.
func (w *work) newStepper(sum []float64, seconds, gap float64) *stepper {
	const known = 20 // changes from which a spread is known to a quarter or so
	s := &stepper{sum: sum, n: w.rowsNear(seconds), gap: max(1, w.rowsOver(gap))}
	if s.n < setbackRows {
		return nil
	}
	var by [2][]float64
	for k := range w.moves {
		m := &w.moves[k]
		for _, g := range m.segs {
			for i := g.first + s.n; g.state == track && i+s.gap+s.n <= min(g.last, len(w.v)); i += s.n {
				by[side(m.Direction)] = append(by[side(m.Direction)], float64(m.Direction)*s.change(i))
			}
		}
	}
	var off []float64
	for d := range by {
		if len(by[d]) == 0 {
			continue
		}
		s.usual[d] = medianIn(by[d])
		for _, x := range by[d] {
			off = append(off, math.Abs(x-s.usual[d]))
		}
	}
	if len(off) < known {
		return nil
	}
	// Some of them may be pressed against something, where a motor is louder.
	s.spread = math.Max(stats.MADScale*medianIn(off), math.Max(w.moving(), w.pressedNoise())*math.Sqrt(2/float64(s.n)))
	return s
}

// setbacks lists them for the means of a stepper, in order.
func (w *work) setbacks(s *stepper) []fall {
	var out []fall
	for k := range w.moves {
		m := &w.moves[k]
		d, r := side(m.Direction), w.rate[side(m.Direction)]
		if m.Direction == None || r <= 0 || m.Duration() < 4*w.lim.StallSeconds || w.pulsedIn(m.first, m.last) {
			continue
		}
		sign := float64(m.Direction)
		from, to := m.first+s.n+w.rows(w.lim.StallSeconds), m.last-s.n-s.gap
		// Where it stands at the end of a drive the spectrum tells more (see saw).
		to = min(to, indexAt(w.t, m.Time.To-m.Stalled))
		for i := from; i < to; i++ {
			x := sign * s.change(i)
			if x > -setbackSigmas*s.spread-w.quantum/2 {
				continue
			}
			// The deepest of those about it.
			for j := i + 1; j < min(to, i+s.n+s.gap); j++ {
				if y := sign * s.change(j); y < x {
					i, x = j, y
				}
			}
			if size := s.usual[d] - x; w.setBack(m, i, s.gap, size) {
				out = append(out, fall{k, i, size})
			}
			i += s.n + s.gap
		}
	}
	return out
}

// setBack tells whether the motor climbed to a fall at bin i and from it at its own
// pace, and whether what was lost stays lost: after a spike, or a bend of the track,
// the reading is back on its line.
func (w *work) setBack(m *Move, i, gap int, size float64) bool {
	r, sign := w.rate[side(m.Direction)], float64(m.Direction)
	near := max(setbackRows, w.rows(0.6*size/r))
	a, b := i-near, i+gap+near
	if a < m.first || b > m.last || lapse(w.t[b-1], w.t[a]) > 1.05*float64(b-a)*w.tr.Step {
		return false
	}
	// What a slope over so few rows is off by.
	off := 3 * slopeNoise(w.moving(), near, w.tr.Step)
	for _, x := range [2][2]int{{a, i}, {i + gap, b}} {
		slope, _ := straightLine(w.t[x[0]:x[1]], w.v[x[0]:x[1]])
		if slope *= sign; slope < 0.4*r-off || slope > w.lim.Fast*r+off {
			return false
		}
	}
	// Three times as far away it lags by most of the tooth, or of several.
	far, few := 3*near, max(setbackRows, near/2)
	a, b = max(m.first, i-far), min(m.last, i+gap+far)
	went := sign * (mean(w.v[b-few:b]) - mean(w.v[a:a+few]))
	return went < r*(w.t[b-few]-w.t[a])-0.6*size
}

// findSetbacks adds the stretches of a drive in which the shaft was set back more than
// once over the same readings, which no track can feign: a reading is passed again only
// where the shaft is. So does one by one way only, again and again (see fallOneWay).
func (w *work) findSetbacks() {
	if w.sense == 0 || len(w.rockings) > 0 {
		return
	}
	sum := make([]float64, len(w.v)+1)
	for i, v := range w.v {
		sum[i+1] = sum[i] + v
	}
	var best []fall
	var by *stepper
	for _, gap := range setbackGaps() {
		for _, seconds := range setbackSeconds() {
			s := w.newStepper(sum, seconds, gap)
			if s == nil {
				continue
			}
			if got := w.setbacks(s); len(got) > len(best) {
				best, by = got, s
			}
		}
	}
	if len(best) < fewestFrom {
		return
	}
	var size []float64
	for _, f := range best {
		size = append(size, f.size)
	}
	// Teeth are of one size, and what comes as often the other way is no tooth.
	tooth := medianOf(size)
	if quantileOf(size, 0.75) > 1.6*quantileOf(size, 0.25) || 4*w.stepsOtherwise(by, tooth) > len(best) {
		return
	}
	found, again := w.runsOf(best, by, tooth)
	if again && len(best) >= leastFalls || w.fallOneWay(best, tooth) {
		w.rockings = append(w.rockings, found...)
	}
}

// runsOf joins the falls of one move into rockings, and tells whether any of them goes
// over the readings of another.
func (w *work) runsOf(falls []fall, s *stepper, tooth float64) (out []rocking, again bool) {
	for i, f := range falls {
		r := w.rate[side(w.moves[f.move].Direction)]
		if n := len(out); i > 0 && falls[i-1].move == f.move && lapse(w.t[f.bin], w.t[falls[i-1].bin]) < 3*tooth/r {
			out[n-1].falls, out[n-1].last = append(out[n-1].falls, f), min(f.bin+s.gap+s.n, w.moves[f.move].last)
			again = again || math.Abs(w.v[f.bin-1]-w.v[falls[i-1].bin-1]) < tooth
			continue
		}
		out = append(out, rocking{first: f.bin - s.n, last: min(f.bin+s.gap+s.n, w.moves[f.move].last), falls: []fall{f}})
	}
	return out, again
}

// stepsOtherwise counts steps of most of a tooth's size forward while the drive is on,
// and either way while it is not.
func (w *work) stepsOtherwise(s *stepper, tooth float64) int {
	n := 0
	count := func(in []stretch, is func(i int) bool) {
		for _, g := range in {
			for i := g.first + s.n; i+s.gap+s.n < g.last; i++ {
				if is(i) {
					n++
					i += s.n + s.gap
				}
			}
		}
	}
	least := math.Max(0.6*tooth, setbackSigmas*s.spread)
	count(w.resting(), func(i int) bool { return math.Abs(s.change(i)) > least })
	for k := range w.moves {
		m := &w.moves[k]
		d, sign := side(m.Direction), float64(m.Direction)
		count([]stretch{{m.first, m.last}}, func(i int) bool { return sign*s.change(i) > s.usual[d]+least })
	}
	return n
}
