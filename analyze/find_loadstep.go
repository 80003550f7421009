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
	at      float64 // s
	speed   float64
	dir     int     // side of the direction
	cell    int     // which stretch
	current float64 // A, mean while crossing; NaN: not logged
	volts   float64 // mean drive while crossing; its size alone
}

// relSpeeds lists the crossings of the capture in order of time, those of which
// no later crossing tells what is usual left out.
func (w *work) relSpeeds() []relSpeed {
	width := w.span.Width() / paceCells
	if !(width > 0) {
		return nil
	}
	var by [2][]relSpeed
	for k := range w.moves {
		m := &w.moves[k]
		for _, c := range w.crossings(m, width) {
			d := side(m.Direction)
			volts, _ := w.meanVolts(c.first, c.last)
			by[d] = append(by[d], relSpeed{(w.t[c.first] + w.t[c.last-1]) / 2, math.Exp(c.speed), d, c.cell, w.meanCurrent(c.first, c.last), volts})
		}
	}
	const enough = 64 // crossings tell what is usual
	var out []relSpeed
	for d := range by {
		var at [paceCells][]relSpeed // in order of time
		for _, c := range by[d] {
			at[c.cell] = append(at[c.cell], c)
		}
		for _, same := range at {
			for i, c := range same {
				// The last of its place is held against those just before it.
				others := same[i+1:]
				if len(others) == 0 {
					if i < 2 {
						continue
					}
					others = same[max(1, i-3):i]
				}
				var usual []float64
				for k := 0; k < len(others); k += 1 + len(others)/enough {
					usual = append(usual, others[k].speed)
				}
				c.speed /= medianOf(usual)
				out = append(out, c)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b relSpeed) int { return cmp.Compare(a.at, b.at) })
	return out
}

// meanCurrent is the mean motor current of the rows [first, last), A; NaN where it
// was not logged.
func (w *work) meanCurrent(first, last int) float64 {
	c := w.tr.Current
	if c == nil {
		return math.NaN()
	}
	sum := 0.0
	for _, x := range c.Mean[first:last] {
		sum += math.Abs(float64(x))
	}
	return sum / float64(last-first)
}

// loadStep is a moment at which the speed steps from one level to another. A door
// may load the two directions differently, and place by place: each has its own
// level before.
type loadStep struct {
	at      int // the crossing during which it happens: it counts on neither side
	speeds  []relSpeed
	share   []float64  // way of each crossing's speed from its level before (0) to that after (1); NaN: no step there
	rise    [2]float64 // ln of the speed after over that before, by side; NaN: not known
	mean    float64    // of these that rise
	scatter float64    // about the levels, relative
	misfit  float64    // sum of the distances from the levels, ln

	residual []float64 // ln of the speeds over their levels, where the step is known
}

// stepAt takes the speeds apart at the k-th; ok is false where a side is too short
// or the speed does not rise.
func stepAt(s []relSpeed, k int) (q loadStep, ok bool) {
	const few = 3
	q = loadStep{at: k, speeds: s, share: make([]float64, len(s))}
	var dirs [2][2][]float64
	var cells [2][paceCells][]float64 // before
	for i, x := range s {
		switch {
		case i < k:
			dirs[x.dir][0] = append(dirs[x.dir][0], x.speed)
			cells[x.dir][x.cell] = append(cells[x.dir][x.cell], x.speed)
		case i > k:
			dirs[x.dir][1] = append(dirs[x.dir][1], x.speed)
		}
	}
	var from [2][paceCells]float64
	var all, after [2]float64
	for d := range dirs {
		q.rise[d] = math.NaN()
		if a, b := dirs[d][0], dirs[d][1]; len(a) >= few && len(b) >= few {
			before := medianOf(a)
			after[d] = medianOf(b)
			q.rise[d] = math.Log(after[d] / before)
			for c, x := range cells[d] {
				if from[d][c] = before; len(x) >= 2 {
					from[d][c] = medianOf(x)
				}
			}
		} else if len(a)+len(b) > 0 {
			all[d] = medianOf(slices.Concat(a, b))
		}
	}
	if q.mean, ok = q.gain(); !ok {
		return q, false
	}
	var residual [2][]float64
	for i, x := range s {
		q.share[i] = math.NaN()
		if i == k {
			continue
		}
		if math.IsNaN(q.rise[x.dir]) {
			q.misfit += math.Abs(math.Log(x.speed / all[x.dir]))
			continue
		}
		a, b := from[x.dir][x.cell], after[x.dir]
		late, level := 0, a
		if i > k {
			late, level = 1, b
		}
		residual[late] = append(residual[late], math.Log(x.speed/level))
		q.residual = append(q.residual, math.Log(x.speed/level))
		q.misfit += math.Abs(math.Log(x.speed / level))
		if math.Log(b/a) > q.mean/3 {
			q.share[i] = (x.speed - a) / (b - a)
		}
	}
	for _, r := range residual {
		if len(r) < few {
			return q, false
		}
		q.scatter = math.Max(q.scatter, stats.MAD(r))
	}
	return q, true
}

// gain is the mean rise; of the one direction alone where the other stays as it was: a
// weight loads one of them only. ok is false where no rise is known.
func (q *loadStep) gain() (mean float64, ok bool) {
	a, b := q.rise[0], q.rise[1]
	switch {
	case math.IsNaN(a):
		return b, !math.IsNaN(b)
	case math.IsNaN(b):
		return a, true
	}
	if less, more := math.Min(a, b), math.Max(a, b); math.Abs(less) < more/stays {
		return more, true
	}
	return (a + b) / 2, true
}

// stays is the part of the greater rise below which the other direction counts as
// one that keeps its speed.
const stays = 5

// settled tells whether neither side of the step rises on its own: the last third
// of each lies above its first by less than a quarter of the step.
func (q *loadStep) settled() bool {
	for _, part := range [][]float64{q.share[:q.at], q.share[q.at+1:]} {
		var x []float64
		for _, v := range part {
			if !math.IsNaN(v) {
				x = append(x, v)
			}
		}
		n := max(2, len(x)/3)
		if len(x) < 4 || medianOf(x[len(x)-n:])-medianOf(x[:n]) >= 0.25 {
			return false
		}
	}
	return true
}

// breaks tells whether the speeds rise in one step better than those of grease that
// warms, a + b exp(-t/T) with one T and levels of their own each way. Residuals
// count up to half the step, so that a stray passage weighs no more than a wrong
// level; and few passages are nearer to the wrong one.
func (q *loadStep) breaks() bool {
	wrong, all := 0, 0
	for i, v := range q.share {
		if !math.IsNaN(v) {
			all++
			if v > 0.5 == (i < q.at) {
				wrong++
			}
		}
	}
	if 10*wrong > all {
		return false
	}
	capped := func(r float64) float64 { return math.Min(q.mean/2, math.Abs(r)) }
	step := 0.0
	for _, r := range q.residual {
		step += capped(r)
	}
	from := q.speeds[0].at
	long := q.speeds[len(q.speeds)-1].at - from
	for T := long / 64; T <= 2*long; T *= math.Sqrt2 {
		warming := 0.0
		for d, rise := range q.rise {
			var x, y []float64
			for i, v := range q.speeds {
				if v.dir == d && i != q.at && !math.IsNaN(rise) {
					x = append(x, math.Exp(-(v.at-from)/T))
					y = append(y, math.Log(v.speed))
				}
			}
			if len(x) == 0 {
				continue
			}
			a, b := stat.LinearRegression(x, y, nil, false)
			for i := range x {
				warming += capped(y[i] - a - b*x[i])
			}
		}
		if warming < math.Sqrt2*step {
			return false
		}
	}
	return true
}

// currentAsBefore is the name of a measure: a load that left would have taken some of
// the current with it.
const currentAsBefore = "current as before"

// currentFell tells by what factor the current changed with the step where the speed
// rose, and whether it fell clear of its scatter: the median of the places crossed
// on both sides of it. A supply that rises raises the current. NaN: not known.
func (q *loadStep) currentFell() (factor float64, fell bool) {
	type place struct{ dir, cell int }
	by := map[place][2][]float64{}
	for i, x := range q.speeds {
		if i == q.at || !(x.current > 0) || math.IsNaN(q.share[i]) {
			continue
		}
		late := 0
		if i > q.at {
			late = 1
		}
		p := place{x.dir, x.cell}
		v := by[p]
		v[late] = append(v[late], x.current)
		by[p] = v
	}
	var change []float64
	for _, v := range by {
		if len(v[0]) > 0 && len(v[1]) > 0 {
			change = append(change, math.Log(medianOf(v[1])/medianOf(v[0])))
		}
	}
	if len(change) < 4 {
		return math.NaN(), false
	}
	m := medianOf(change)
	return math.Exp(m), m < -0.1 && m < -3*stats.MAD(change)/math.Sqrt(float64(len(change)))
}

// atOtherVolts tells whether the motor was fed otherwise where it runs faster. Speeds are held
// against each other per volt, as if none of them went into friction; a motor that needs a third
// of its volts to turn at all gains 1.5 times what they gain, and pulses with the leads let go
// more still. A tenth of the volts is what a battery on its charger differs by.
func (q *loadStep) atOtherVolts() bool {
	for d, r := range q.rise {
		if r < q.mean/stays {
			continue
		}
		var v [2][]float64
		for i, x := range q.speeds {
			if x.dir == d && i != q.at {
				late := 0
				if i > q.at {
					late = 1
				}
				v[late] = append(v[late], x.volts)
			}
		}
		if len(v[0]) > 0 && len(v[1]) > 0 && medianOf(v[1]) > 1.1*medianOf(v[0]) {
			return true
		}
	}
	return false
}

// findLoadStep looks for one moment, also in the midst of the first pass, from
// which every place is crossed faster than before: a step from one level to
// another. Grease that warms speeds up bit by bit: it would leave a trend before
// the moment or after it.
func (w *work) findLoadStep() {
	const few = 5
	s := w.relSpeeds()
	var best loadStep
	stride := 1 + len(s)/150 // candidates enough to come near the moment
	for k := few; k+2*few <= len(s); k += stride {
		q, ok := stepAt(s, k)
		if !ok || q.mean < math.Log(1.1) || q.mean > math.Ln2 || q.mean < 5*q.scatter || !q.settled() {
			continue
		}
		if best.speeds == nil || q.misfit < best.misfit {
			best = q
		}
	}
	if best.speeds == nil || !best.breaks() || w.driveKnown() && best.atOtherVolts() {
		return
	}
	at, gain := best.at, math.Exp(best.mean)-1
	out := false
	for k := range w.moves {
		if m := &w.moves[k]; k > 0 && m.Time.To > s[at].at {
			out = w.endsStep(k)
			break
		}
	}
	f := Finding{Kind: LoadLost, Tie: TiedToTime, TieP: math.Exp(-logChoose(len(s), at)), Time: Interval{s[at-1].at, s[min(at+1, len(s)-1)].at}, Volts: w.span,
		Seen: 1, Passes: len(w.moves), Event: "load lost", Strength: math.Min(1, gain/0.15) * math.Min(1, gain/(8*best.scatter+1e-9)),
		Measures: []Measure{{MeasureGainOfSpeed, 100 * gain, "%"}}}
	// Faster one way and no faster the other: then it is the one that is told.
	for d, r := range best.rise {
		if r < best.mean/stays {
			f.Direction = Direction(2*d-1) * -1
			f.Measures[0].Value = 100 * math.Expm1(best.rise[1-d])
		}
	}
	if f.Direction == None {
		f.Measures = append(f.Measures, gainsOf([2]float64{math.Expm1(best.rise[0]), math.Expm1(best.rise[1])})...)
	}
	w.noteVolts(&f, gain)
	factor, fell := best.currentFell()
	switch {
	case fell:
		f.Measures = append(f.Measures, Measure{MeasureCurrentFell, 100 * (1 - factor), "%"})
	case factor > 1-gain/4:
		f.Measures = append(f.Measures, Measure{currentAsBefore, 1, ""})
	}
	if out {
		f.Form = "and runs further"
	} else if !fell {
		f.Strength *= 0.8 // cold grease that lets go at once does so, too
	}
	w.found = append(w.found, f)
}
