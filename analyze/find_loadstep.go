package analyze

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"threewire/analyze/stats"
)

// relSpeed is how fast one stretch of the travel was crossed, over what later
// passes in the same direction need for it.
type relSpeed struct {
	at    float64 // s
	speed float64
}

// relSpeeds lists the crossings of the capture in order of time, those of which
// no later crossing tells what is usual left out.
func (w *work) relSpeeds() []relSpeed {
	width := w.span.Width() / paceCells
	if !(width > 0) {
		return nil
	}
	type crossing struct {
		at, speed float64
		cell      int
	}
	var by [2][]crossing
	for k := range w.moves {
		m := &w.moves[k]
		cells := w.crossings(m, width)
		for i, c := range cells {
			// Cells come in order; their moments are spread over the move.
			at := m.Time.From + (float64(i)+0.5)/float64(len(cells))*m.Duration()
			d := side(m.Direction)
			by[d] = append(by[d], crossing{at, math.Exp(c.speed), c.cell})
		}
	}
	var out []relSpeed
	for d := range by {
		for i, c := range by[d] {
			var later []float64
			for _, o := range by[d][i+1:] {
				if o.cell == c.cell && o.at > c.at {
					later = append(later, o.speed)
				}
			}
			if len(later) == 0 {
				// The last of its place: the earlier ones but the first.
				for _, o := range by[d][:i] {
					if o.cell == c.cell {
						later = append(later, o.speed)
					}
				}
				if len(later) < 2 {
					continue
				}
				later = later[1:]
			}
			out = append(out, relSpeed{c.at, c.speed / medianOf(later)})
		}
	}
	slices.SortStableFunc(out, func(a, b relSpeed) int { return cmp.Compare(a.at, b.at) })
	return out
}

// findLoadStep looks for one moment, also in the midst of the first pass, from
// which every place is crossed faster than before: a step from one level to
// another. Grease that warms speeds up bit by bit: it would leave a trend before
// the moment or after it.
func (w *work) findLoadStep() {
	const few = 5
	s := w.relSpeeds()
	best, at := 0.0, 0
	var gain, scatter float64
	var level [2]float64
	stride := 1 + len(s)/150 // candidates enough to come near the moment
	for k := few; k+2*few <= len(s); k += stride {
		var a, b []float64
		for i, x := range s {
			// The stretch in which it happens counts with neither.
			switch {
			case i < k:
				a = append(a, x.speed)
			case i > k:
				b = append(b, x.speed)
			}
		}
		ma, mb := medianOf(a), medianOf(b)
		g := mb/ma - 1
		spread := math.Max(stats.MAD(a)/ma, stats.MAD(b)/mb)
		if g < 0.1 || g > 1 || g < 5*spread || !settled(a, g*ma) || !settled(b, g*ma) {
			continue
		}
		if q := g - 3*spread; q > best {
			best, at, gain, scatter, level = q, k, g, spread, [2]float64{ma, mb}
		}
	}
	if at == 0 || !breaks(s, at, level[0], level[1]) {
		return
	}
	out := false
	for k := range w.moves {
		if m := &w.moves[k]; k > 0 && m.Time.To > s[at].at {
			out = w.endsStep(k)
			break
		}
	}
	f := Finding{Kind: LoadLost, Tie: TiedToTime, TieP: math.Exp(-logChoose(len(s), at)), Time: Interval{s[at-1].at, s[min(at+1, len(s)-1)].at}, Volts: w.span,
		Seen: 1, Passes: len(w.moves), Event: "load lost", Strength: math.Min(1, gain/0.15) * math.Min(1, gain/(8*scatter+1e-9)),
		Measures: []Measure{{"gain of speed", 100 * gain, "%"}}}
	if !w.driveKnown() {
		f.Measures = append(f.Measures, Measure{"the drive's volts are not known", 1, ""})
	}
	if out {
		f.Form = "and runs further"
	} else {
		f.Strength *= 0.8 // cold grease that lets go at once does so, too
	}
	w.found = append(w.found, f)
}

// settled tells whether values do not rise on their own: their last third lies
// above their first by less than a quarter of the given step.
func settled(x []float64, step float64) bool {
	n := max(2, len(x)/3)
	return len(x) >= 4 && medianOf(x[len(x)-n:])-medianOf(x[:n]) < step/4
}

// breaks tells whether the speeds rise in one step at the k-th, from one level to
// the other, better than those of grease that warms, a + b exp(-t/T) with any T:
// both have two levels and one time. Residuals count up to half the step, so that
// a stray passage weighs no more than a wrong level.
func breaks(s []relSpeed, k int, from, to float64) bool {
	most := (to - from) / 2
	sum := func(of func(i int) float64) float64 {
		total := 0.0
		for i, v := range s {
			if i != k {
				total += math.Min(most, math.Abs(v.speed-of(i)))
			}
		}
		return total
	}
	step := sum(func(i int) float64 {
		if i < k {
			return from
		}
		return to
	})
	long := s[len(s)-1].at - s[0].at
	for T := long / 64; T <= 2*long; T *= math.Sqrt2 {
		var x, y []float64
		for i, v := range s {
			if i != k {
				x = append(x, math.Exp(-(v.at-s[0].at)/T))
				y = append(y, math.Min(math.Max(v.speed, from-most), to+most))
			}
		}
		a, b := stat.LinearRegression(x, y, nil, false)
		if warming := sum(func(i int) float64 { return a + b*math.Exp(-(s[i].at-s[0].at)/T) }); warming < math.Sqrt2*step {
			return false
		}
	}
	return true
}
