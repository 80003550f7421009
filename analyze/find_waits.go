package analyze

import (
	"math"
	"slices"
	"sort"

	"threewire/analyze/stats"
)

// waitsAlike is the form of a gear slip in which the shaft falls behind at one place by
// the same travel in each pass, and goes on from there at its own pace.
const waitsAlike = "falls behind by as much each time"

// A tooth that is gone lets the motor turn on while the shaft waits: the reading loses
// the travel of that tooth, always the same, at one place, and nothing is made up for
// before or after. A catch of the door holds until it gives, now longer and now shorter;
// a track that is bent here is as steep beside it; a reading that is held leaps on.
const (
	// waitSigmas is by how much of the scatter of a pass it must fall behind: of two
	// hundred places in a dozen passes chance puts one beyond four.
	waitSigmas = 5.0

	// waitWidth is how much of the time lost at a place may be lost just beside it, on
	// either side over its own width: a door that binds does so over a band. waitWithin
	// is how much may be lost or won back there over as much as was lost: a bent track
	// wins back half of it or more. Chosen, not derived.
	waitWidth, waitWithin = 0.1, 0.3
)

// lags is how far a pass falls behind around each cell, in cells of its usual pace, and
// how much that scatters.
type lags struct {
	move    int
	dir     Direction
	y       []float64 // dwell over that about the place, less 1; see lag
	behind  []float64 // NaN where what lies about a cell was not crossed
	base    []float64
	scatter float64
}

// lagsOf measures a pass. What lies about a place, clear of it on both sides, gives the
// pace there: springs and weights change it along the way.
func (q *dwellPass) lagsOf(half int, dir Direction) lags {
	l := lags{move: q.move, dir: dir, y: q.y, behind: make([]float64, len(q.y)), base: make([]float64, len(q.y))}
	far := 3*half + 1
	about := max(4*half, 8)
	var all []float64
	for c := range q.y {
		l.behind[c] = math.NaN()
		var pace []float64
		for i := max(0, c-far-about); i < min(len(q.y), c+far+about+1); i++ {
			if (i < c-far || i > c+far) && !math.IsNaN(q.y[i]) {
				pace = append(pace, q.y[i])
			}
		}
		if len(pace) < about || c < far || c+far >= len(q.y) {
			continue
		}
		if l.base[c] = mean(pace); l.base[c] > 0 {
			l.behind[c] = l.over(c, c-half, c+half)
		}
		if !math.IsNaN(l.behind[c]) {
			all = append(all, math.Abs(l.behind[c]))
		}
	}
	l.scatter = stats.MADScale * medianOf(all)
	return l
}

// over is how far the pass falls behind in the cells [a, b], by the pace about cell c; NaN
// where it did not cross them all.
func (l *lags) over(c, a, b int) float64 {
	if a < 0 || b >= len(l.y) {
		return math.NaN()
	}
	sum := 0.0
	for _, y := range l.y[a : b+1] {
		sum += y/l.base[c] - 1
	}
	return sum
}

// most is the cell from a to b in which the pass is furthest behind, -1 where it crossed none.
func (l *lags) most(a, b int) int {
	best := -1
	for c := max(0, a); c <= min(b, len(l.behind)-1); c++ {
		if !math.IsNaN(l.behind[c]) && (best < 0 || l.behind[c] > l.behind[best]) {
			best = c
		}
	}
	return best
}

// waits tells whether the pass waits at a cell: far more than it scatters, half of the
// time that the place itself takes or more, and all of it there.
func (l *lags) waits(c, half int) bool {
	x := l.behind[c]
	if !(x > waitSigmas*l.scatter) || x < 0.5*float64(2*half+1) {
		return false
	}
	reach := int(math.Ceil(x))
	before := [2]float64{l.over(c, c-3*half-1, c-half-1), l.over(c, c-half-1-reach, c-half-2)}
	after := [2]float64{l.over(c, c+half+1, c+3*half+1), l.over(c, c+half+2, c+half+1+reach)}
	if l.dir == Down {
		before, after = after, before
	}
	for i, slack := range [2]float64{waitWidth*x + 2*l.scatter, waitWithin*x + 2*l.scatter} {
		// It must be seen to go on: a stop is none. It may have set out near by.
		if !(math.Abs(after[i]) <= slack) || math.Abs(before[i]) > slack {
			return false
		}
	}
	return true
}

// came tells whether the pass was seen to come to a cell at a pace, and did not set out
// close by: a shaft that gets under way, or leaves a soft stop, falls behind too, and by
// as much each time.
func (l *lags) came(c, half int) bool {
	before := l.over(c, c-3*half-1, c-half-1)
	if l.dir == Down {
		before = l.over(c, c+half+1, c+3*half+1)
	}
	return !math.IsNaN(before)
}

// endsIn tells whether the pass is behind at a cell but was not seen to go on, or not: it
// ends there, and tells neither way.
func (l *lags) endsIn(c, half int) bool {
	on := l.over(c, c+half+1, c+3*half+1)
	if l.dir == Down {
		on = l.over(c, c-3*half-1, c-half-1)
	}
	return math.IsNaN(on) && l.behind[c] > waitSigmas*l.scatter
}

// waitPlace is a place at which passes wait, and those that do, of all since the first.
type waitPlace struct {
	at    []int // cell of each
	pass  []*lags
	came  int // of these, how many did not set out close by
	since int
}

// behind is by how many cells the passes fall behind: usually, and at least.
func (p *waitPlace) behind() (usual, least float64) {
	var all []float64
	for i, l := range p.pass {
		all = append(all, l.behind[p.at[i]])
	}
	least, _ = extremes(all)
	return medianOf(all), least
}

// shown tells whether enough passes show the place, and alike. Half of them must have come
// to it at a pace.
func (p *waitPlace) shown() bool {
	n := len(p.pass)
	return n >= 2 && 2*p.came >= n && 5*n >= 4*p.since && p.even()
}

// even tells whether the passes fall behind alike, as far as they can be measured: a
// third more or less is what a change of load makes of the time.
func (p *waitPlace) even() bool {
	usual, least := p.behind()
	scatter := 0.0
	for _, l := range p.pass {
		scatter = math.Max(scatter, l.scatter)
	}
	return least > usual/1.33-2*scatter
}

// findWaits reports a place at which, in each pass since the first that shows it, the
// shaft falls behind alike, where nothing else that was found lies there.
func (w *work) findWaits() {
	p := w.dwells()
	if p == nil || w.d.pulsed {
		return
	}
	// A reading scatters over, and stands for, so many cells to either side.
	half := max(1, int(math.Ceil((math.Max(w.quantum, math.Max(w.rate[0], w.rate[1])*w.tr.Step)/2+1.5*w.moving())/p.cell)))
	// The gears between have play, so the two directions meet the tooth apart.
	apart := max(1, int(math.Ceil(usualPlay/2*w.span.Width()/p.cell)))
	var all []lags
	for d := range p.pass {
		for i := range p.pass[d] {
			all = append(all, p.pass[d][i].lagsOf(half, w.moves[p.pass[d][i].move].Direction))
		}
	}
	sort.Slice(all, func(a, b int) bool { return all[a].move < all[b].move })
	var best waitPlace
	for c := range p.cells {
		q := waitsAt(all, c, half, apart)
		if u, _ := q.behind(); q.shown() {
			if b, _ := best.behind(); len(best.pass) == 0 || float64(len(q.pass))*u > float64(len(best.pass))*b {
				best = q
			}
		}
	}
	if k := len(best.pass); k >= 2 && !runsAhead(all, &best) {
		// Halts that come by time lie in one place by chance now and then.
		n := max(k, countWaits(all, half))
		share := math.Min(1, float64(2*(apart+half)+1)/float64(p.cells))
		if chance := float64(n) / float64(k) * stats.BinomialTail(k-1, n-1, share); chance < 0.1 {
			w.addWaits(p, best, half, chance)
		}
	}
}

// waitsAt gathers the passes that wait at a cell or near by.
func waitsAt(all []lags, c, half, apart int) waitPlace {
	var p waitPlace
	for i := range all {
		l := &all[i]
		at := l.most(c-apart, c+apart)
		if at < 0 {
			continue
		}
		if l.waits(at, half) {
			p.at, p.pass = append(p.at, at), append(p.pass, l)
			if l.came(at, half) {
				p.came++
			}
		} else if len(p.pass) == 0 || l.endsIn(at, half) {
			continue
		}
		p.since++
	}
	return p
}

// countWaits counts the places in all passes at which they are as far behind, whatever
// lies beside them.
func countWaits(all []lags, half int) int {
	n := 0
	for i := range all {
		l := &all[i]
		for c := 0; c < len(l.behind); c++ {
			if l.behind[c] > waitSigmas*l.scatter && l.behind[c] > 0.5*float64(2*half+1) && l.most(c-half, c+half) == c {
				n++
				c += half
			}
		}
	}
	return n
}

// addWaits adds the finding, with the current at the place where that is known.
func (w *work) addWaits(p *dwellProfile, q waitPlace, half int, chance float64) {
	usual, _ := q.behind()
	f := Finding{Kind: GearSlip, Form: waitsAlike, Tie: TiedToPosition, TieP: chance, Event: "waits", Seen: len(q.pass), Passes: q.since, Volts: noInterval(), Time: noInterval()}
	var dirs [2]int
	for i, l := range q.pass {
		v := p.from + (float64(q.at[i])+0.5)*p.cell
		wide := (float64(half) + 0.5) * p.cell
		if o, ok := w.visitIn(&w.moves[l.move], Interval{v - wide, v + wide}); ok {
			f.Places = append(f.Places, o)
			f.Time = f.Time.widen(o.Time.From).widen(o.Time.To)
			dirs[side(o.Direction)]++
		}
		f.Volts = f.Volts.widen(v - wide).widen(v + wide)
	}
	f.Measures = []Measure{{MeasureTravelLost, usual * p.cell, w.unit()}, {MeasureOfSpan, 100 * usual / float64(p.cells), "%"}}
	near := Interval{f.Volts.From - usual*p.cell, f.Volts.To + usual*p.cell} // what begins there is seen there
	if len(f.Places) < 2 || slices.ContainsFunc(w.found, func(g Finding) bool {
		return (g.Volts.Overlaps(near) || g.Kind == Dropouts) && !w.isWait(&g, &f)
	}) {
		return
	}
	f.Direction = oneDirection(dirs)
	f.Strength = 1 - chance
	if f.Direction != None && w.takesPlayThere(q, p) {
		return
	}
	if w.tr.Current != nil && w.driveKnown() {
		there, beside := w.currentOfPlaces(&f)
		switch ratio := there / beside; {
		case ratio < noneOfRunning, ratio > 1.3: // no motor turns on so little; a load
			return
		case !math.IsNaN(ratio):
			f.Measures = append(f.Measures, Measure{currentBeside, ratio, ""})
		}
	}
	for i := range w.found {
		if g := &w.found[i]; w.isWait(g, &f) {
			g.Event = f.Event
			g.Strength *= 0.2 // the tooth says where it comes from
		}
	}
	w.found = append(w.found, f)
}

// takesPlayThere tells whether all of the passes came to the place soon after they were
// turned round: a door that pulls leads the gears on until their play is taken up, and by as
// much each time. A tooth that is gone would be met the other way round too.
func (w *work) takesPlayThere(q waitPlace, p *dwellProfile) bool {
	for i, l := range q.pass {
		at := p.from + (float64(q.at[i])+0.5)*p.cell
		if math.Abs(at-w.moves[l.move].Start) > 1.5*mostPlay*w.span.Width() { // worn gears have more
			return false
		}
	}
	return true
}

// isWait tells whether a slow place that was found is no more than where passes wait: it
// is measured in wide cells, and the time is lost in a part of one.
func (w *work) isWait(g, f *Finding) bool {
	if _, known := g.Measure(currentBeside); known || g.Kind != SlowZone || g.Form != "" && g.Form != standsAndGoes {
		return false
	}
	lost, _ := f.Measure(MeasureTravelLost)
	return g.Volts.Overlaps(f.Volts) && lost > f.Volts.Width()/2 && g.Volts.Width() < f.Volts.Width()+2*w.profileCell()
}

// profileCell is the width of a cell of the profiles of speed, V; 0 for none.
func (w *work) profileCell() float64 {
	least := 0.0
	for _, p := range w.prof {
		for i := 1; p != nil && i < len(p.Points); i++ {
			if d := p.Points[i].Position - p.Points[i-1].Position; least == 0 || d < least {
				least = d
			}
		}
	}
	return least
}
