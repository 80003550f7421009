package analyze

import (
	"math"
)

// pace is how fast one move crossed the travel, compared place by place.
type pace struct {
	move  int
	at    float64 // s
	speed float64 // 1/(s V): crossings of the span per second and volt of drive
}

// paceCells is the number of stretches of the span in which a move's speed is
// compared with that of the others.
const paceCells = 12

// paces measures every move that crosses at least two stretches of the travel
// without standing there. Load differs from place to place, and moves from
// target to target: so the logarithm of the speed is taken apart into one part
// of the place and direction and one of the move, by median polish (Tukey,
// Exploratory Data Analysis, 1977; from memory). The outermost stretches, where
// starts, coasting and stops bend the speed, are left out.
func (w *work) paces() []pace {
	span := w.span.Width()
	if !(span > 0) {
		return nil
	}
	width := span / paceCells
	table := map[int][]cellSpeed{}
	var order []int
	for k := range w.moves {
		if c := w.crossings(&w.moves[k], width); len(c) >= 2 {
			table[k] = c
			order = append(order, k)
		}
	}
	var place [2][paceCells]float64
	move := map[int]float64{}
	for range 8 {
		for d := range place {
			for c := range place[d] {
				var x []float64
				for _, k := range order {
					if side(w.moves[k].Direction) != d {
						continue
					}
					for _, q := range table[k] {
						if q.cell == c {
							x = append(x, q.speed-move[k])
						}
					}
				}
				if len(x) > 0 {
					place[d][c] = medianOf(x)
				}
			}
		}
		for _, k := range order {
			var x []float64
			for _, q := range table[k] {
				x = append(x, q.speed-place[side(w.moves[k].Direction)][q.cell])
			}
			move[k] = medianOf(x)
		}
	}
	var typical [2]float64
	for d := range place {
		var x []float64
		for _, p := range place[d] {
			if p != 0 {
				x = append(x, p)
			}
		}
		if len(x) > 0 {
			typical[d] = medianOf(x)
		}
	}
	var out []pace
	for _, k := range order {
		m := &w.moves[k]
		out = append(out, pace{k, (m.Time.From + m.Time.To) / 2, math.Exp(move[k]+typical[side(m.Direction)]) / span})
	}
	return out
}

// cellSpeed is the logarithm of the speed, in V/s per volt of drive, at which
// a move crossed one stretch, in the rows [first, last).
type cellSpeed struct {
	cell        int
	speed       float64
	first, last int
}

// crossings lists the stretches that a move crossed from edge to edge while it
// tracked, long enough to be timed to a few percent.
func (w *work) crossings(m *Move, width float64) []cellSpeed {
	if m.Direction == None {
		return nil
	}
	d := float64(m.Direction)
	var out []cellSpeed
	for _, g := range m.segs {
		if g.state != track || g.last-g.first < 4 {
			continue
		}
		i := g.first
		// The start of a move is the motor's, not the load's.
		for i < g.last && lapse(w.t[i], m.Time.From) < w.lim.StallSeconds {
			i++
		}
		for c := 1; c+1 < paceCells; c++ {
			cell := c
			if m.Direction == Down {
				cell = paceCells - 1 - c
			}
			from := w.span.From + float64(cell)*width
			to := from + width
			if m.Direction == Down {
				from, to = to, from
			}
			if d*(w.smooth[min(i, g.last-1)]-from) > 0 {
				continue // it set out from beyond
			}
			if d*(m.End-to) < w.slows && (w.d.pulsed || !w.driveKnown()) {
				break // the control turned it down from here on, nobody knows by how much
			}
			a := i
			for a < g.last && d*(w.smooth[a]-from) < 0 {
				a++
			}
			b, drive := a, 0.0
			for b < g.last && d*(w.smooth[b]-to) < 0 {
				drive += math.Abs(w.d.mean[b])
				b++
			}
			if a == i || b >= g.last || b-a < 3 {
				i = min(a, g.last-1)
				continue
			}
			// The edges fall between two rows.
			edge := func(k int, level float64) float64 {
				r := (level - w.smooth[k-1]) / (w.smooth[k] - w.smooth[k-1])
				return w.t[k-1] + math.Max(0, math.Min(1, r))*(w.t[k]-w.t[k-1])
			}
			took := edge(b, to) - edge(a, from)
			if took > 0 && drive > 0 {
				out = append(out, cellSpeed{cell, math.Log(width / took / (drive / float64(b-a))), a, b})
			}
			i = b - 1
		}
	}
	return out
}

// level is the relative pace of both directions together: each direction
// over its own median, since door weight makes one of them slower.
func (w *work) level(p []pace) (rel []float64) {
	var by [2][]float64
	for _, x := range p {
		d := side(w.moves[x.move].Direction)
		by[d] = append(by[d], x.speed)
	}
	m := [2]float64{medianOf(by[0]), medianOf(by[1])}
	for _, x := range p {
		rel = append(rel, x.speed/m[side(w.moves[x.move].Direction)])
	}
	return rel
}

// findLoadLost looks for one moment from which the shaft runs faster both
// ways: the motor has lost its load. Motors do not get faster by themselves
// in one step, and the supply is taken out by dividing by the drive.
func (w *work) findLoadLost() {
	p := w.paces()
	best, at, gain, further := 0.0, 0, 0.0, false
	var ways [2]float64      // gain of either direction; NaN where it was not compared
	stride := 1 + len(p)/300 // of thousands of moves, candidates enough
	for k := 2; k < len(p); k += stride {
		// Each direction is compared with itself.
		var by [2][2][]float64
		for i, x := range p {
			late := 0
			if i >= k {
				late = 1
			}
			d := side(w.moves[x.move].Direction)
			by[d][late] = append(by[d][late], x.speed)
		}
		var g []float64
		each := [2]float64{math.NaN(), math.NaN()}
		apart, scatter, n := true, 0.0, 0
		for d := range by {
			a, b := by[d][0], by[d][1]
			if len(a) == 0 || len(b) == 0 {
				continue
			}
			la, ha := extremes(a)
			lb, hb := extremes(b)
			apart = apart && lb > ha
			scatter = math.Max(scatter, math.Max((ha-la)/la, (hb-lb)/lb))
			each[d] = medianOf(b)/medianOf(a) - 1
			g = append(g, each[d])
			n += len(a) + len(b)
		}
		// It broke in this pass, or at the end of the one before.
		out := w.endsStep(p[k].move) || w.endsStep(p[k-1].move)
		// One pass alone may have had another reason; a travel that reaches
		// further since then settles it.
		if !apart || n < 4 || k+2 > len(p) && !out || len(g) < 2 && !out || len(g) < 1 {
			continue
		}
		least, most := extremes(g)
		// Load differences of good doors and warming come to a few percent and
		// come slowly; the step must stand clear of them, and of what sweeps do besides.
		// Warming grease speeds up pass by pass: a step must fit far better
		// than a ramp, and most of it come between two neighbours.
		if !stepNotRamp(w.passings(p, -1), k) && !(out && k+3 <= len(p) && stepNotRamp(w.passings(p, k), k)) {
			continue
		}
		if out {
			scatter /= 4 // the pass in which it broke counts with neither
		} else if !w.steadyBefore(p[:k]) || least < 4*scatter {
			continue
		}
		if s := least - 2*scatter; least > 0.05 && (least+most)/2 > 0.08 && s > best && most < 1 {
			best, at, gain, further, ways = s, k, (least+most)/2, out, each
		}
	}
	if at == 0 {
		w.findLoadStep()
		return
	}
	when := Interval{p[at-1].at, p[at].at}
	f := Finding{Kind: LoadLost, Tie: TiedToTime, TieP: math.Exp(-logChoose(len(p), at)), Time: when, Volts: w.span,
		Seen: len(p) - at, Passes: len(p), Event: "load lost", Strength: math.Min(1, gain/0.1),
		Measures: append([]Measure{{MeasureGainOfSpeed, 100 * gain, "%"}}, gainsOf(ways)...)}
	if f.TieP > 0.2 {
		f.Strength *= 0.7
	}
	w.noteVolts(&f, gain)
	if further {
		f.Form = "and runs further"
	}
	w.found = append(w.found, f)
}

// gainsOf are the measures of the gain of speed of either direction, by side, where the two
// are not the same as rounded: their mean is the gain of neither.
func gainsOf(ways [2]float64) []Measure {
	down, up := 100*ways[side(Down)], 100*ways[side(Up)]
	if math.IsNaN(down) || math.IsNaN(up) || math.Round(down) == math.Round(up) {
		return nil
	}
	return []Measure{{MeasureGainDown, down, "%"}, {MeasureGainUp, up, "%"}}
}

// steadyBefore tells whether passes of both directions came before the shaft
// got faster, two of one with the other's between them at the least: grease
// that warms also comes to rest, but not in one direction before the other.
func (w *work) steadyBefore(p []pace) bool {
	var n [2]int
	var first, last [2]int
	for i, q := range p {
		d := side(w.moves[q.move].Direction)
		if n[d] == 0 {
			first[d] = i
		}
		n[d], last[d] = n[d]+1, i
	}
	for d := range n {
		if o := 1 - d; n[d] >= 2 && (n[o] >= 2 || n[o] == 1 && first[d] < first[o] && last[o] < last[d]) {
			return true
		}
	}
	return false
}

// stepNotRamp tells whether a step of each direction before the k-th pass
// explains the paces with less than a third of the squares that a straight
// line through each direction leaves. Both have two numbers a direction to
// fit; half a percent is what a crossing is known to.
func stepNotRamp(p []passing, k int) bool {
	const floor = 0.005
	step, line := 0.0, 0.0
	for d := range 2 {
		var x, y []float64
		late := 0
		for i, q := range p {
			if q.side != d {
				continue
			}
			if i < k {
				late++
			}
			x, y = append(x, float64(i)), append(y, q.speed)
		}
		if len(y) == 0 {
			continue
		}
		m := medianOf(y)
		for i := range y {
			y[i] /= m
		}
		step += squares(y[:late]) + squares(y[late:])
		_, _, rss := newFitter(x, y).line(0, len(y))
		line += rss
	}
	return 3*step+float64(len(p))*floor*floor < line
}

// passing is the pace of one pass and the side of its direction.
type passing struct {
	side  int
	speed float64
}

// passings are the paces without the one numbered skip (none for -1).
func (w *work) passings(p []pace, skip int) []passing {
	var out []passing
	for i, q := range p {
		if i != skip {
			out = append(out, passing{side(w.moves[q.move].Direction), q.speed})
		}
	}
	return out
}

// squares is the sum of squared deviations from the mean.
func squares(z []float64) (s float64) {
	m := 0.0
	for _, v := range z {
		m += v / float64(len(z))
	}
	for _, v := range z {
		s += (v - m) * (v - m)
	}
	return s
}

// endsStep tells whether the shaft runs further from the move numbered first
// on than before: beyond the door's stops, into which it was driven, to its
// own. Where it stood against a stop the level is an average and known better
// than one reading.
func (w *work) endsStep(first int) bool {
	stood := math.Max(6*w.plateauError(2*w.lim.StallSeconds), 0.01*w.span.Width())
	passed := math.Max(2*w.tol, 0.01*w.span.Width())
	for d, e := range w.endVisits() {
		out := float64(2*d - 1)
		// Before, only a stall shows that it could go no further.
		reach, n := math.Inf(-1), 0
		var since []float64
		for i, x := range e.x {
			if int(x) < first {
				reach = math.Max(reach, out*e.level[i])
				n++
			} else {
				since = append(since, out*e.level[i])
			}
		}
		if n == 0 {
			continue
		}
		if len(since) > 0 && medianOf(since) > reach+stood {
			return true
		}
		// Where it ended, not what it read on the way: that may be a glitch.
		for k := first; k < len(w.moves); k++ {
			if side(w.moves[k].Direction) == d && out*w.moves[k].End > reach+passed {
				return true
			}
		}
	}
	return false
}
