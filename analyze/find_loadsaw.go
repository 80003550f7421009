package analyze

import (
	"math"
	"slices"
)

// A door that sticks loads the motor more and more, as what lies between the two winds up,
// until it lets go: the current climbs for most of the time from one slip to the next and
// falls at once. The shaft slows as it climbs, by n = n0 (1 - I/Is), so the current shows
// sticking that rows of the reading are too noisy, or passes too few, to show.

// inSawTeeth is the form of sticking that the motor's current tells.
const inSawTeeth = "load in saw-teeth"

// loadTooth is one climb of the current and its fall: bins where it began, ended, and was
// down again.
type loadTooth struct{ from, top, to int }

// findLoadSaw looks for that. It is told from a gear that is off, whose load swings to and
// fro alike, by the shape; from other loads on the same channel by the rests and stands, in
// which there is none, and by the shaft, which slows as the motor's own equation says.
func (w *work) findLoadSaw() {
	const (
		fewest   = 2 * surgeTurns // teeth in all
		climbs   = 3.0            // times as long as it falls; a wave to and fro has 1
		mostTurn = 0.5            // of the travel has to show it
	)
	run, held := w.runningCurrent(), w.blockedCurrent(nil)
	if w.oneLead || w.d.pulsed || !(run < letsGoBelow*held) || w.sense == 0 || w.looseAtRest() ||
		w.covered(StickSlip, None) || w.covered(GearTurn, None) || w.covered(GearSlip, None) {
		return
	}
	// The speed of a sound gear goes down to soundSwing of the usual, and up as far.
	swing := 2 * (1 - soundSwing) * (held - run)
	var runs []stretch
	var passes int
	for _, dir := range []Direction{Down, Up} {
		s, n := w.travels(dir)
		runs, passes = append(runs, s...), passes+n
	}
	amps := w.evenAmps(runs, swing)
	if amps == nil {
		return
	}
	teeth := w.loadTeeth(runs, amps, swing)
	sawn, where, took, way := 0, noInterval(), 0.0, 0.0
	for _, x := range teeth {
		rise, fall := w.flanks(amps, x)
		if rise >= climbs*fall {
			sawn++
		}
		where = where.widen(w.smooth[x.top])
		took += w.t[x.to] - w.t[x.from]
		way += math.Abs(w.smooth[x.to] - w.smooth[x.from])
	}
	if sawn < fewest || 4*sawn < 3*len(teeth) || where.Width() < mostTurn*w.span.Width() {
		return
	}
	slows, due := w.slowsOnLoad(teeth, amps, held)
	if slows < due/2 || w.sawsUndriven(amps, swing, took/float64(len(teeth))) {
		return
	}
	period := way / float64(len(teeth))
	f := Finding{Kind: StickSlip, Form: inSawTeeth, Volts: w.span, Time: w.drivenTime(), Tie: TieUnknown, TieP: 1, Event: "stick",
		Seen: len(teeth), Passes: passes, Strength: 1}
	f.Measures = []Measure{{MeasureSpacing, period, w.unit()}, {MeasureSpacingOfSpan, 100 * period / w.span.Width(), "%"}, {swingOfSpeed, 50 * slows, "%"}}
	w.found = append(w.found, f)
}

// evenAmps is the unsigned current, averaged over as few rows as keep its noise far below a
// swing; nil where that takes all that there is.
func (w *work) evenAmps(runs []stretch, swing float64) []float64 {
	const clear = 10 // standard deviations in a swing, so that half of it is no chance of many rows
	amps := w.unsignedAmps()
	var steps []float64
	for _, g := range runs {
		for i := g.first + 1; i < g.last; i++ {
			if d := math.Abs(amps[i] - amps[i-1]); !math.IsNaN(d) {
				steps = append(steps, d)
			}
		}
	}
	if len(steps) < 10 {
		return nil
	}
	// The median size of Gaussian steps is 0.6745 times root two of what scatters.
	sd := medianIn(steps) / (0.6745 * math.Sqrt2)
	rows := math.Ceil(math.Pow(clear*sd/swing, 2))
	if rows*w.tr.Step > 0.1 { // s, in which a motor gets up to speed; what lets go is no quicker
		return nil
	}
	return movingMean(amps, int(rows)|1)
}

// loadTeeth are the climbs and falls of a current by a swing or more within stretches.
func (w *work) loadTeeth(in []stretch, amps []float64, swing float64) (out []loadTooth) {
	for _, g := range in {
		lo, hi, falling := g.first, -1, false
		var x loadTooth
		for i := g.first; i < g.last; i++ {
			switch {
			case math.IsNaN(amps[i]):
				lo, hi, falling = i+1, -1, false
			case hi < 0 && !falling: // at the bottom
				if amps[i] < amps[lo] || math.IsNaN(amps[lo]) {
					lo = i
				} else if amps[i] >= amps[lo]+swing {
					hi = i
				}
			case !falling:
				if amps[i] > amps[hi] {
					hi = i
				} else if amps[i] <= amps[hi]-swing {
					x, falling, lo = loadTooth{from: lo, top: hi}, true, i
				}
			default:
				if amps[i] < amps[lo] {
					lo = i
				} else if amps[i] >= amps[lo]+swing {
					x.to = lo
					out = append(out, x)
					hi, falling = i, false
				}
			}
		}
	}
	return out
}

// flanks are how long, in s, the middle half of a tooth's climb and of its fall take, a row
// at least.
func (w *work) flanks(amps []float64, x loadTooth) (rise, fall float64) {
	between := func(from, to int, a, b float64) float64 {
		first, last := from, to
		for i := from; i <= to; i++ {
			if (amps[i]-a)*(b-a) <= (b-a)*(b-a)/4 {
				first = i
			}
		}
		for i := to; i >= first; i-- {
			if (amps[i]-a)*(b-a) >= 3*(b-a)*(b-a)/4 {
				last = i
			}
		}
		return math.Max(w.tr.Step, w.t[last]-w.t[first])
	}
	return between(x.from, x.top, amps[x.from], amps[x.top]), between(x.top, x.to, amps[x.top], amps[x.to])
}

// slowsOnLoad is by how much of its speed the shaft runs slower in the upper half of the
// climbs than in the lower, and by how much it has to by the motor's equation.
func (w *work) slowsOnLoad(teeth []loadTooth, amps []float64, held float64) (slows, due float64) {
	var way, time, load [2]float64
	for _, x := range teeth {
		mid := (amps[x.from] + amps[x.top]) / 2
		at := x.from + 1
		for at < x.top && amps[at] < mid {
			at++
		}
		sign := math.Copysign(1, w.smooth[x.to]-w.smooth[x.from])
		for k, part := range [2]stretch{{x.from, at}, {at, x.top}} {
			if part.last-part.first < 2 {
				continue
			}
			took := w.t[part.last] - w.t[part.first]
			// The smoothed reading knows nothing of what goes to and fro so soon.
			slope, _ := straightLine(w.t[part.first:part.last+1], w.v[part.first:part.last+1])
			way[k] += sign * took * slope
			time[k] += took
			load[k] += took * mean(amps[part.first:part.last+1])
		}
	}
	if time[0] <= 0 || time[1] <= 0 || way[0] <= 0 {
		return 0, 1
	}
	due = 1 - (held-load[1]/time[1])/(held-load[0]/time[0])
	return 1 - way[1]/time[1]*time[0]/way[0], due
}

// sawsUndriven tells whether teeth of half a period or more, which noise does not make, come
// while nothing turns, for a third of the time, or whether too little of that was logged to
// tell: three periods that could show one each.
func (w *work) sawsUndriven(amps []float64, swing, period float64) bool {
	rests := slices.Concat(w.resting(), w.pressed(Down), w.pressed(Up))
	seconds, sawn := 0.0, 0.0
	for _, g := range rests {
		seconds += lapse(w.t[g.last-1], w.t[g.first])
	}
	for _, x := range w.loadTeeth(rests, amps, swing) {
		if took := w.t[x.to] - w.t[x.from]; took >= period/2 {
			sawn += took
		}
	}
	return seconds < 3*period || 3*sawn > seconds
}
