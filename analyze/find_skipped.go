package analyze

import (
	"cmp"
	"math"
	"slices"
)

// A dead spot may be passed in less time than a rate is measured in: the reading holds at
// one edge for a few rows and is beyond the other in the next. One such hold is soon made
// by noise, or by a shaft that catches. But a spot of the track is the same going up as
// going down: each way the reading holds at the edge it comes to first, and nothing between
// the edges is ever read, while the shaft loses no time over it.

// skipped is a hold of the reading under way that one leap makes up for.
type skipped struct {
	first, leap int     // bins: the hold is [first, leap)
	from, to    float64 // V, before and after
	pace        float64 // V/s, of the line before and after
	lift        float64 // log likelihood, against a shaft that changes its speed smoothly
}

const (
	// leastHeldRows are the rows that a hold must last: over two the line between is as good.
	leastHeldRows = 3
	// skippedLift is what each hold must be worth: one in a thousand of the rows at which
	// the reading steps on by noise, of which a pass has some tens.
	skippedLift = 7
)

// skippedPlaces lists the places over which the reading holds and leaps both ways, in two of
// three passes, too shortly for its rate to tell.
func (w *work) skippedPlaces() (out []cluster) {
	if w.heldByClock() || !(w.span.Width() > 0) {
		return nil
	}
	var all []*event
	search := w.newSkipSearch()
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction == None {
			continue
		}
		for _, s := range search.holdsIn(m) {
			all = append(all, w.skipEvent(k, s))
		}
	}
	for _, c := range w.clusters(all) {
		seen, made := w.passes(c)
		n, passes := seen[0]+seen[1], made[0]+made[1]
		if min(seen[0], seen[1]) == 0 || 3*n < 2*passes || len(c.events) > n {
			continue
		}
		if tied, _ := w.tie(c, len(all)); tied == TiedToPosition && w.sameBothWays(c) {
			out = append(out, c)
		}
	}
	if len(out) > 0 && 4*w.leapsThenHolds() > len(all) {
		return nil
	}
	return out
}

// leapsThenHolds counts the leaps that a hold follows, of the size of those that follow a
// hold. A wiper that skips a place makes none; a track of coarse grain, steep here and flat
// there, makes as many of one as of the other.
func (w *work) leapsThenHolds() (count int) {
	n := len(w.v)
	tr := *w.tr
	tr.Drive.Mean = slices.Clone(tr.Drive.Mean)
	slices.Reverse(tr.Drive.Mean)
	back := &work{tr: &tr, lim: w.lim, d: w.d, rate: w.rate, window: w.window, quantum: w.quantum, noise: w.noise, tol: w.tol, span: w.span}
	back.v, back.t = make([]float64, n), make([]float64, n)
	for i := range n {
		back.v[i], back.t[i] = -w.v[n-1-i], w.t[n-1]-w.t[n-1-i]
	}
	search := skipSearch{work: back, sigma: w.newSkipSearch().sigma}
	for k := range w.moves {
		m := w.moves[k]
		m.first, m.last = n-m.last, n-m.first
		if m.Direction != None {
			count += len(search.holdsIn(&m))
		}
	}
	return count
}

// skippedOver tells whether an event is one more sight of a place that the reading skips.
func skippedOver(places []cluster, e *event) bool {
	return slices.ContainsFunc(places, func(c cluster) bool {
		return slices.ContainsFunc(c.events, func(o *event) bool { return o.move == e.move && o.volts().Overlaps(e.volts()) })
	})
}

// addSkipped reports the places that the reading skips, but for those where a dead spot
// was found that shows in as many passes.
func (w *work) addSkipped(places []cluster) {
	for _, c := range places {
		seen, made := w.passes(c)
		tied, p := w.tie(c, len(c.events))
		if slices.ContainsFunc(w.found, func(f Finding) bool {
			return f.Kind == DeadSpot && f.Volts.Overlaps(c.volts) && f.Seen >= seen[0]+seen[1]
		}) {
			continue
		}
		// An end that is open tells more than its edge.
		w.found = slices.DeleteFunc(w.found, func(f Finding) bool {
			return f.Kind == DeadSpot && f.Form != openBeyond && f.Form != railToRail && f.Form != openBetween && f.Volts.Overlaps(c.volts)
		})
		w.found = append(w.found, w.deadSpot(c, seen, made, tied, p))
	}
}

// sameBothWays tells whether the holds of the two directions leave out the same stretch:
// what they have in common is half at least of what either leaves out.
func (w *work) sameBothWays(c cluster) bool {
	var from, to [2][]float64
	for _, e := range c.events {
		d := side(w.moves[e.move].Direction)
		from[d], to[d] = append(from[d], e.volts().From), append(to[d], e.volts().To)
	}
	up, down := Interval{medianOf(from[1]), medianOf(to[1])}, Interval{medianOf(from[0]), medianOf(to[0])}
	common := math.Min(up.To, down.To) - math.Max(up.From, down.From)
	return common > 0.5*math.Max(up.Width(), down.Width())
}

// skipEvent is a hold as an event.
func (w *work) skipEvent(move int, s skipped) *event {
	e := &event{move: move, first: s.first, last: s.leap, place: middle, from: s.from, to: s.to}
	e.seconds = lapse(w.t[s.leap], w.t[s.first])
	e.moved = float64(w.moves[move].Direction) * (s.to - s.from)
	e.expected = s.pace * e.seconds
	e.spread = w.moving()
	e.low, e.high = e.volts().From, e.volts().To
	e.inside, e.jump, e.shift = s.from, e.moved, s.lift
	return e
}

// skipSearch looks through moves for holds that a leap makes up for.
type skipSearch struct {
	*work
	sigma       float64   // noise of a row, V rms
	x, y, times []float64 // of the hold that is weighed: room for each of very many is work of its own
}

func (w *work) newSkipSearch() *skipSearch {
	return &skipSearch{work: w, sigma: math.Hypot(w.moving(), w.quantum/math.Sqrt(12))}
}

// holdsIn lists the holds of a move that hold clear of each other, the surest first.
func (w *skipSearch) holdsIn(m *Move) (out []skipped) {
	sign := float64(m.Direction)
	var all []skipped
	for i := m.first + 2*leastHeldRows; i+leastHeldRows+1 < m.last; i++ {
		// The leap may take a row of its own.
		step := math.Max(sign*(w.v[i]-w.v[i-1]), sign*(w.v[min(i+1, m.last-1)]-w.v[i-1]))
		if step < 2.5*math.Sqrt2*w.sigma || step < w.lim.Fast*w.rate[side(m.Direction)]*w.tr.Step {
			continue
		}
		// One row that is off is soon made by noise: the rows beside it must tell the same.
		const beside = 3
		if sign*(mean(w.v[i+1:i+1+beside])-mean(w.v[i-beside:i])) < 3*w.sigma {
			continue
		}
		if s, ok := w.skipAt(m, i); ok {
			all = append(all, s)
		}
	}
	slices.SortStableFunc(all, func(a, b skipped) int { return cmp.Compare(b.lift, a.lift) })
	for _, s := range all {
		if !slices.ContainsFunc(out, func(o skipped) bool { return s.first < o.leap+leastHeldRows && o.first < s.leap+leastHeldRows }) {
			out = append(out, s)
		}
	}
	return out
}

// skipAt is the surest hold that ends with a leap to the given bin.
func (w *skipSearch) skipAt(m *Move, leap int) (best skipped, ok bool) {
	try := func(held int) {
		if s, ok := w.skipOf(m, leap, held); ok && s.lift > best.lift {
			best = s
		}
	}
	// Long holds are looked for in steps of a twelfth, and then row by row.
	const part = 12
	for held := leastHeldRows; held <= 2*w.window; held += 1 + held/part {
		try(held)
	}
	if held := leap - best.first; best.lift > 0 && held >= part {
		for n := held - held/part; n <= held+held/part; n++ {
			try(n)
		}
	}
	return best, best.lift > skippedLift
}

// skipOf weighs a hold of so many rows that ends with a leap to the given bin; ok is false
// where it can be none. What is cheap to ask comes first: nearly all fail there.
func (w *skipSearch) skipOf(m *Move, leap, held int) (s skipped, ok bool) {
	sign, nominal, sigma := float64(m.Direction), w.rate[side(m.Direction)], w.sigma
	// As much line before and after as is held, to tell its pace.
	flank := max(2*leastHeldRows, held)
	a, b, h := leap-held-flank, leap+1+flank, leap-held
	const fastest = 1.6 // of the nominal rate
	least := math.Max(4*sigma, 3*w.quantum)
	if a < m.first || b > m.last || fastest*nominal*(w.t[leap]-w.t[h]) < least {
		return s, false
	}
	free := float64(b - a - 3)
	most := 2.5 * free * sigma * sigma
	// What the rows of the hold scatter about their own mean no line takes away; the
	// billionth is for the rounding.
	if squares(w.v[h:leap]) > most*(1+1e-9) {
		return s, false
	}
	w.x, w.y, w.times = w.x[:0], w.y[:0], w.times[:0]
	for i := a; i < b; i++ {
		if i == leap {
			continue // the row of the leap may lie anywhere between
		}
		at := w.t[i] - w.t[h]
		w.times = append(w.times, at)
		if i > h && i < leap {
			at = 0
		}
		w.x, w.y = append(w.x, at), append(w.y, sign*w.v[i])
	}
	level, pace, left := lineLeft(w.x, w.y)
	missed := pace * (w.t[leap] - w.t[h])
	if pace < 0.4*nominal || pace > fastest*nominal || missed < least || left > most {
		return s, false
	}
	if w.rowsMissing(w.t[a], w.t[b-1]) || w.chopped(a, b) {
		return s, false
	}
	lift := (curveLeft(w.times, w.y) - left) / (2 * math.Max(left/free, sigma*sigma))
	return skipped{first: h, leap: leap, from: sign * level, to: sign * (level + missed), pace: pace, lift: lift}, true
}

// lineLeft fits y = level + slope x and gives what is left, a sum of squares.
func lineLeft(x, y []float64) (level, slope, left float64) {
	mx, my := mean(x), mean(y)
	sxx, sxy := 0.0, 0.0
	for i := range x {
		sxx += (x[i] - mx) * (x[i] - mx)
		sxy += (x[i] - mx) * (y[i] - my)
	}
	slope = sxy / math.Max(sxx, 1e-300)
	level = my - slope*mx
	for i := range x {
		d := y[i] - level - slope*x[i]
		left += d * d
	}
	return level, slope, left
}

// curveLeft is what the cubic that fits best leaves, a sum of squares: a shaft changes its
// speed smoothly.
func curveLeft(t, y []float64) float64 {
	n := len(t)
	room := make([]float64, 6*n)
	left, u := room[:n], room[n:2*n]
	copy(left, y)
	scale := math.Max(math.Abs(t[0]), math.Abs(t[n-1]))
	for i := range u {
		u[i] = t[i] / scale
	}
	var base [4][]float64
	var sizes [4]float64
	for p := range base {
		b := room[(2+p)*n:][:n]
		for i := range b {
			b[i] = 1
			for range p {
				b[i] *= u[i]
			}
		}
		for q, o := range base[:p] {
			project(b, o, sizes[q])
		}
		base[p], sizes[p] = b, sumOfSquares(b)
		project(left, b, sizes[p])
	}
	return sumOfSquares(left)
}

func sumOfSquares(x []float64) (sum float64) {
	for _, v := range x {
		sum += v * v
	}
	return sum
}

// project takes from y what of it goes with b, whose squares add up to bb.
func project(y, b []float64, bb float64) {
	yb := 0.0
	for i := range y {
		yb += y[i] * b[i]
	}
	k := yb / math.Max(bb, 1e-300)
	for i := range y {
		y[i] -= k * b[i]
	}
}

// shortestSkip is the least length, in V, of a place that skippedPlaces sees for certain,
// infinite for none: the hold in it is worth twice skippedLift on a line without noise.
func shortestSkip(noise, quantum, perRow float64, window int) float64 {
	sigma := math.Max(noise, quantum/math.Sqrt(12))
	for held := leastHeldRows; held <= 2*window; held++ {
		missed := float64(held) * perRow
		if missed < math.Max(4*sigma, 3*quantum) {
			continue
		}
		flank := max(2*leastHeldRows, held)
		var t, y []float64
		for i := -flank; i <= held+flank; i++ {
			switch {
			case i == held:
				continue // the row of the leap
			case i > 0 && i < held:
				t, y = append(t, float64(i)), append(y, 0)
			default:
				t, y = append(t, float64(i)), append(y, float64(i)*perRow)
			}
		}
		if curveLeft(t, y)/(2*sigma*sigma) > 2*skippedLift {
			return missed + perRow // where the rows fall in it is chance
		}
	}
	return math.Inf(1)
}
