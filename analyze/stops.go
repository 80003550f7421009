package analyze

import (
	"math"
	"slices"
	"sort"
)

// stall is a stand under drive at the end of a move.
type stall struct {
	move    int
	level   float64 // V
	at      float64 // s, when it began
	seconds float64
	arrived bool // the move tracked up to it; false: it did not even start
	pushes  int  // short drives that make it up, 0 for one drive
	current bool // the current shows a motor that is held
}

// stallsOf lists the stalls: moves that end (or wholly consist) of a stand
// long enough to be one, at the level where tracking stopped.
func (w *work) stallsOf() []stall {
	return w.stalls.of(w.measureStalls)
}

// measureStalls is stallsOf, once.
func (w *work) measureStalls() []stall {
	out, brief := []stall{}, []stall{}
	for k := range w.moves {
		m := &w.moves[k]
		n := len(m.segs)
		if n == 0 || m.Direction == None || w.madeUp(m) {
			continue
		}
		s := m.segs[n-1]
		sec := lapse(endOf(w.t, s.last, w.tr.Step), w.t[s.first])
		// The stand must be longer than a row or two of skew between the
		// columns, and long enough to have missed a visible travel.
		r := w.rate[side(m.Direction)] * math.Max(math.Abs(m.DriveMean)/w.d.amp, 0.1)
		if s.state != still || sec < math.Max(w.lim.StallSeconds, 3*w.tr.Step) {
			continue
		}
		// So few rows make no rate; but who stands gets nowhere.
		if n == 1 && m.last-m.first < 3*w.window && float64(m.Direction)*(w.v[min(m.last, len(w.v)-1)]-w.v[m.first]) > w.tol {
			continue
		}
		level := w.plateau(s.first, s.last)
		if w.atClip(level) {
			continue
		}
		to := &out
		if r*sec < 2*w.visible() {
			to = &brief
		}
		*to = append(*to, stall{move: k, level: level, at: w.t[s.first], seconds: sec, arrived: m.Moving > 0})
	}
	out = w.addHeld(out, brief)
	out = append(out, w.heldEnds(out)...)
	slices.SortFunc(out, func(a, b stall) int { return a.move - b.move })
	return out
}

// plateau is the level of a stand: the mean of the readings next to the
// median, which is finer than a converter step when noise spreads the readings
// over several.
func (w *work) plateau(first, last int) float64 {
	m := medianOf(w.v[first:last])
	near := 2.5*w.noise + w.quantum
	sum, n := 0.0, 0
	for _, v := range w.v[first:last] {
		if math.Abs(v-m) <= near {
			sum += v
			n++
		}
	}
	if n == 0 {
		return m
	}
	return sum / float64(n)
}

// plateauError is the standard error of [work.plateau] over so many seconds,
// a converter step without dither included.
func (w *work) plateauError(seconds float64) float64 {
	return plateauErrorOf(w.noise, w.quantum, w.tr.Step, seconds)
}

// plateauErrorOf is that of a channel with the given noise and steps.
func plateauErrorOf(noise, quantum, step, seconds float64) float64 {
	e := noise / math.Sqrt(math.Max(1, seconds/math.Max(step, 1e-9)))
	if noise < 0.4*quantum {
		return e + quantum/2
	}
	return e + quantum/20
}

// findSpan is the range of credible readings: those that were tracked to, and
// the stalls next to them.
func (w *work) findSpan() {
	lo, hi := math.Inf(1), math.Inf(-1)
	for k := range w.moves {
		m := &w.moves[k]
		for i, s := range m.segs {
			if s.state != track || s.last-s.first < max(3, w.window) {
				continue
			}
			// What was reached by a leap may be an open wiper's level running
			// down; half a second of motion shows a track.
			if i > 0 && (m.segs[i-1].state == fast || m.segs[i-1].state == back) && lapse(w.t[s.last-1], w.t[s.first]) < 0.5 {
				continue
			}
			a := medianOf(w.v[s.first:min(s.last, s.first+max(1, w.window/3))])
			b := medianOf(w.v[max(s.first, s.last-max(1, w.window/3)):s.last])
			if rail := w.opt.RailBand * w.ref; (b < rail || b > w.ref-rail) && w.sankToRail(m, i) {
				continue
			}
			lo, hi = math.Min(lo, math.Min(a, b)), math.Max(hi, math.Max(a, b))
			if i+1 == len(m.segs)-1 && m.segs[i+1].state == still {
				// The stand right after tracking belongs to the travel.
				e := medianOf(w.v[m.segs[i+1].first:m.segs[i+1].last])
				if math.Abs(e-b) < 2*w.tol+0.1*math.Abs(hi-lo) {
					lo, hi = math.Min(lo, e), math.Max(hi, e)
				}
			}
		}
	}
	if !(hi > lo) && w.sense != 0 {
		// Only short hunting strokes: take what the strokes cover, less the
		// rare readings at the rims, which a bad contact throws about.
		var v []float64
		for k := range w.moves {
			for _, x := range w.v[w.moves[k].first:w.moves[k].last] {
				// At a rail no position lies.
				if rail := w.opt.RailBand * w.ref; x > rail && x < w.ref-rail {
					v = append(v, x)
				}
			}
		}
		if len(v) < 20 {
			return
		}
		lo, hi = quantileOf(v, 0.02), quantileOf(v, 0.98)
	}
	if hi > lo {
		w.span = Interval{lo, hi}
	}
}

// sankToRail tells whether a segment of a move that ends at a rail is a contact
// that opened and not a way: it begins after a stand and is over in a second, or
// the reading leaps back from it.
func (w *work) sankToRail(m *Move, i int) bool {
	s := m.segs[i]
	if i+1 < len(m.segs) && m.segs[i+1].state == back {
		return true
	}
	return i > 0 && m.segs[i-1].state == still && lapse(w.t[s.first], w.t[m.segs[i-1].first]) > 0.5 && lapse(w.t[s.last-1], w.t[s.first]) < 1
}

// stallsApart is the distance in V below which two stalls stand at one place: noise
// makes them differ, and stops and wound-up gears give a little. How much is nowhere
// told: both factors are chosen, not derived.
func (w *work) stallsApart() float64 { return math.Max(1.5*w.tol, 0.025*w.span.Width()) }

// findStops clusters the stalls of each direction by level.
func (w *work) findStops(stalls []stall) {
	apart := w.stallsApart()
	for _, dir := range []Direction{Down, Up} {
		var s []stall
		for _, x := range stalls {
			if w.moves[x.move].Direction == dir && x.level > w.span.From-apart && x.level < w.span.To+apart {
				s = append(s, x)
			}
		}
		sort.Slice(s, func(i, j int) bool { return s[i].level < s[j].level })
		first := len(w.stops)
		for i := 0; i < len(s); {
			j := i + 1
			for j < len(s) && s[j].level-s[j-1].level < apart {
				j++
			}
			st := Stop{Direction: dir, Stalls: j - i, Level: s[(i+j-1)/2].level, Spread: s[j-1].level - s[i].level}
			for _, x := range s[i:j] {
				st.Seconds += x.seconds
				st.Times = append(st.Times, x.at)
			}
			sort.Float64s(st.Times)
			w.stops = append(w.stops, st)
			i = j
		}
		if n := len(w.stops); n > first {
			// Where the shaft went on further at other times no stop is.
			past := math.Max(2*apart, mostPlay*w.span.Width())
			if dir == Up {
				w.stops[n-1].Extreme = w.span.To-w.stops[n-1].Level < past
			} else {
				w.stops[first].Extreme = w.stops[first].Level-w.span.From < past
			}
		}
	}
}

// findSweeps joins moves of one direction into strokes and keeps those over
// most of the span.
func (w *work) findSweeps() {
	const most = 0.6
	for i := 0; i < len(w.moves); {
		j := i
		dir := w.moves[i].Direction
		for j < len(w.moves) && w.moves[j].Direction == dir &&
			(j == i || w.moves[j].Time.From-w.moves[j-1].Time.To < 2) {
			j++
		}
		if dir != None {
			if s, ok := w.sweepOf(w.moves[i:j], dir); ok && s.High-s.Low >= most*w.span.Width() {
				w.sweeps = append(w.sweeps, s)
			}
		}
		i = max(j, i+1)
	}
}

// sweepOf measures a run of moves in one direction.
func (w *work) sweepOf(moves []Move, dir Direction) (Sweep, bool) {
	s := Sweep{Direction: dir, Low: math.Inf(1), High: math.Inf(-1)}
	s.Time = noInterval()
	var drive float64
	for k := range moves {
		m := &moves[k]
		a, b := -1, -1
		for _, g := range m.segs {
			if g.state == track {
				if a < 0 {
					a = g.first
				}
				b = g.last
			}
		}
		if a < 0 {
			continue
		}
		s.Time.From = math.Min(s.Time.From, w.t[a])
		s.Time.To = math.Max(s.Time.To, w.t[min(b, len(w.t)-1)])
		s.Transit += w.t[min(b, len(w.t)-1)] - w.t[a]
		drive += math.Abs(m.DriveMean) * (w.t[b-1] - w.t[a])
		for _, g := range m.segs {
			if g.first >= a && (g.state == track || g.state == still) && g.last-g.first >= min(3, w.window) {
				x, y := medianOf(w.v[g.first:min(g.last, g.first+3)]), medianOf(w.v[max(g.first, g.last-3):g.last])
				s.Low = math.Min(s.Low, math.Min(x, y))
				s.High = math.Max(s.High, math.Max(x, y))
			}
		}
	}
	if !(s.High > s.Low) || s.Transit <= 0 {
		return s, false
	}
	last := &moves[len(moves)-1]
	s.Stalled = last.Stalled >= math.Max(w.lim.StallSeconds, 2*w.tr.Step)
	first := &moves[0]
	edge := math.Max(2*w.tol, 0.04*w.span.Width())
	if dir == Up {
		s.FromStall = first.Start < w.span.From+edge
	} else {
		s.FromStall = first.Start > w.span.To-edge
	}
	s.Rate = (s.High - s.Low) / s.Transit
	if drive > 0 {
		s.DriveMean = drive / s.Transit
	}
	return s, true
}
