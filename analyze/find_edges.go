package analyze

import (
	"cmp"
	"math"
	"slices"

	"threewire/analyze/stats"
)

// openBeyond is the form of a track that is open from a place to the end of the travel.
const openBeyond = "open beyond"

// leap is a change of the reading faster than any actuator moves, from one
// level that lasts to another.
type leap struct {
	at            float64 // s
	before, after float64 // V
	moving        bool    // under drive or coasting
	coasting      bool    // the drive has gone
	direction     Direction
	move          int
}

// allLeaps are those of listLeaps, once the sense of the drive is known.
func (w *work) allLeaps() []leap { return w.leapt.of(w.listLeaps) }

// listLeaps lists the leaps of the capture. Within the leap's own time the whole
// range of the sensor would be crossed in two thirds of [fastestTransit] or
// less; it must also stand clear of the noise and be a twentieth of the range.
func (w *work) listLeaps() []leap {
	const (
		window  = 0.03 // s: an input capacitor stretches a leap to about that
		longest = 0.3  // s, of a leap in several steps (chosen, not derived)
	)
	var out []leap
	k, last, dir := 0, math.Inf(-1), None
	move := -1
	for i := 1; i < len(w.v); i++ {
		for move+1 < len(w.moves) && w.moves[move+1].first <= i {
			move++
		}
		if move >= 0 && i < w.moves[move].last {
			// Leaps alone tell no sense: then the polarity stands for it.
			last, dir = w.t[i], w.moves[move].Direction
			if w.sense == 0 {
				dir = Direction(w.moves[move].Polarity)
			}
		}
		for k < i-1 && lapse(w.t[i], w.t[k]) > window {
			k++
		}
		least := math.Max(2*w.tol, math.Max(0.05*w.ref, 1.5*w.ref/fastestTransit*(w.t[i]-w.t[k])))
		if math.Abs(w.v[i]-w.v[k]) < least {
			continue
		}
		// At the begin of a record an input filter has yet to settle, and no
		// level has lasted.
		if lapse(w.t[k], w.t[0]) < window {
			continue
		}
		l := leap{at: w.t[i], before: medianSmall(w.v[max(0, k-4) : k+1]), direction: dir, move: move, moving: lapse(w.t[k], last) < restAfter, coasting: w.t[k] > last}
		// It ends where the reading holds still again.
		j := i
		for j+1 < len(w.v) && lapse(w.t[j], w.t[i]) < longest {
			n := j + 1
			for n+1 < len(w.v) && lapse(w.t[n+1], w.t[j]) <= window {
				n++
			}
			if math.Abs(w.v[n]-w.v[j]) < math.Max(w.tol, 0.01*w.ref) {
				break
			}
			j = n
		}
		l.after = medianSmall(w.v[j:min(len(w.v), j+5)])
		if math.Abs(l.after-l.before) >= 0.05*w.ref && math.Abs(l.after-l.before) > 2*w.tol {
			out = append(out, l)
		}
		i, k = j, j
	}
	return out
}

// withLeaps adds to the losses at rest the leaps that began while nothing
// drove: an input capacitor can stretch them so that no single step stands out,
// and a control that answers them drives soon after.
func (w *work) withLeaps(rest []Occurrence) []Occurrence {
	all := w.allLeaps()
	for k, l := range all {
		if l.moving {
			continue
		}
		// A contact that opened closes again; a reading that changed for good
		// is a shaft that was moved.
		back := false
		for _, n := range all[k+1:] {
			back = back || math.Abs(n.after-l.before) < math.Max(2*w.tol, 0.03*w.ref)
		}
		if !back {
			continue
		}
		known := false
		for _, o := range rest {
			known = known || l.at > o.Time.From-lossesApart && l.at < o.Time.To+lossesApart
		}
		if !known {
			rest = append(rest, Occurrence{Interval{l.at, l.at}, Interval{math.Min(l.before, l.after), math.Max(l.before, l.after)}, None})
		}
	}
	slices.SortStableFunc(rest, func(a, b Occurrence) int { return cmp.Compare(a.Time.From, b.Time.From) })
	return rest
}

// findEdges looks for a place beyond which the track is open: driven past it
// one way the reading leaps away, driven back it returns, and at rest it does
// neither. A contact that opens by itself knows nothing of the drive: that all
// n leaps fall into the share s of the capture that moves has the chance s^n,
// that each goes with its own direction of drive 2^-(n-1) more.
func (w *work) findEdges() {
	if !w.leapEdges() {
		w.findLeapsOff()
	}
}

// leapEdges is findEdges by the leaps of the reading, one by one or, where the edge
// chatters, by what comes of them; it tells whether they are that.
func (w *work) leapEdges() bool {
	all := w.allLeaps()
	if w.edgeOf(all) {
		return true
	}
	crossed := w.overEdge(all)
	return len(crossed) < len(all) && w.edgeOf(crossed)
}

// edgeOf looks for an edge among leaps.
func (w *work) edgeOf(all []leap) bool {
	if len(all) < 2 {
		return false
	}
	moving := 0.0
	for k := range w.moves {
		moving += w.moves[k].Duration() + restAfter
	}
	share := math.Min(1, moving/math.Max(w.tr.Duration(), 1e-9))
	if w.crack(all, share) || w.gap(all) {
		return true
	}
	// Off the track the reading is pulled toward a rail: the level nearer to
	// one is the outside. Or it is pulled to the middle: then the shaft is seen
	// to pass what looks like the inside, or never comes near it.
	rail := func(v float64) float64 { return math.Min(math.Abs(v), math.Abs(w.ref-v)) }
	level, found := w.edgeAt(all, share, func(a, b float64) bool { return rail(a) < rail(b) })
	if !found && (w.passedOver(level, 0.1*w.span.Width()) >= 2 || !w.tracksNear(level)) && w.floats(all, level) {
		_, found = w.edgeAt(all, share, func(a, b float64) bool { return rail(a) > rail(b) })
	}
	return found
}

// floats tells whether the leaps go between a level that can be that of an open
// wire, about the same each time, and the end of what the shaft was followed to.
func (w *work) floats(all []leap, level float64) bool {
	var wire, end []float64
	for _, l := range all {
		near, far := l.before, l.after
		if math.Abs(near-level) > math.Abs(far-level) {
			near, far = far, near
		}
		wire, end = append(wire, near), append(end, far)
	}
	at, rail := medianOf(end), w.wideRail()
	return at > rail && at < w.ref-rail && w.tracksTo(at) &&
		quantileOf(wire, 0.9)-quantileOf(wire, 0.1) < 0.1*w.ref
}

// edgeLeaps are the leaps about an edge of the track, sorted: those of the moving
// shaft, by outward or back and by direction of drive, and those at rest.
type edgeLeaps struct {
	inside  []float64 // V, level on the track, moving
	outward []float64 // V, of those the ones that went off the track
	rests   []float64 // V, level on the track, at rest
	in      [2][2]int // moving: back or outward, and side of the drive
	again   int       // leaps like the one before under one drive
	moves   map[int]bool
	when    Interval
	places  []Occurrence
}

// sortEdgeLeaps sorts the leaps; outer tells whether the first of two levels is
// the one off the track.
func sortEdgeLeaps(all []leap, outer func(a, b float64) bool) *edgeLeaps {
	e := &edgeLeaps{moves: map[int]bool{}, when: noInterval()}
	// turned is the direction of drive that l would have had, had it gone back.
	turned := func(l *leap) int {
		if outer(l.before, l.after) {
			return -int(l.direction)
		}
		return int(l.direction)
	}
	fit := 0
	for k := range all {
		if l := &all[k]; l.moving && !l.coasting {
			fit += turned(l)
		}
	}
	last := [2]int{-1, -1} // move and kind of the leap before
	for k := range all {
		l := &all[k]
		out, v := 0, l.before
		if outer(l.before, l.after) {
			out, v = 1, l.after
		}
		// What goes the other way once the drive has gone comes from resting.
		moving := l.moving && !(l.coasting && turned(l)*fit < 0)
		if !moving || l.direction == None {
			e.rests = append(e.rests, v)
			continue
		}
		e.in[out][side(l.direction)]++
		if last == [2]int{l.move, out} {
			e.again++
		}
		last = [2]int{l.move, out}
		e.inside = append(e.inside, v)
		if out == 0 {
			e.outward = append(e.outward, v)
		}
		e.moves[l.move] = true
		e.when = e.when.widen(l.at)
		e.places = append(e.places, Occurrence{Interval{l.at, l.at}, Interval{math.Min(l.before, l.after), math.Max(l.before, l.after)}, l.direction})
	}
	return e
}

// edgeAt looks for the edge among the leaps; outer tells whether the first of
// two levels is the one off the track. It returns the level inside.
func (w *work) edgeAt(all []leap, share float64, outer func(a, b float64) bool) (level float64, found bool) {
	e := sortEdgeLeaps(all, outer)
	n, edge := len(e.inside), medianOf(e.inside)
	// Who is beyond the edge must be driven back over it before he can go out anew.
	if 3*e.again > n {
		return edge, false
	}
	// A wiper that comes to rest on the edge may open and close there by itself,
	// as metal creeps and the air blows: that is the edge again, and no sign of a
	// contact elsewhere.
	atRest := 0
	for _, v := range e.rests {
		if math.Abs(v-edge) > w.resolution() {
			atRest++
		}
	}
	if n < 2 || len(e.moves) < 2 || 8*atRest > n {
		return edge, false
	}
	// Beyond the place lies the end of the travel: out one way, back the other.
	// Where the wiper chatters on the edge it goes out and back at once: then
	// one narrow place, on a travel many times wider, must do.
	in := e.in
	low, high := quantileOf(e.inside, 0.1), quantileOf(e.inside, 0.9)
	spread := high - low
	fits := max(in[0][1]+in[1][0], in[0][0]+in[1][1])
	directed := 10*fits >= 9*n
	if !directed && (n < 4 || atRest > 0 || spread > 0.04*w.ref || 5*spread > w.span.Width()) {
		return edge, false
	}
	p := math.Pow(share, float64(n))
	if directed {
		p *= math.Pow(0.5, float64(n-1))
	}
	// Nor does it know of places: it would open anywhere on the way.
	if lo, hi := extremes(e.outward); directed && len(e.outward) >= 2 {
		p *= stats.RangePValue(w.drivenShare(lo, hi), len(e.outward))
	}
	if p > w.lim.Significance || spread > edgeSpread*w.ref {
		return edge, false
	}
	dir := Up
	if in[0][0]+in[1][1] > in[0][1]+in[1][0] {
		dir = Down
	}
	if w.sense == 0 {
		dir = None
	}
	if w.followedBeyond(edge, dir) >= 2 {
		return edge, false // a piece that is bad, with good track on either side
	}
	f := Finding{Kind: DeadSpot, Form: openBeyond, Direction: dir, Tie: TiedToPosition, TieP: p, Time: e.when, Places: e.places,
		Volts: Interval{low, high}, Seen: len(e.moves), Passes: len(e.moves), Strength: 1 - math.Max(p, 1e-6),
		Event: "open end", Measures: []Measure{{MeasureEdge, edge, w.unit()}, {MeasureLeaps, float64(n), ""}, {MeasureLeapsAtRest, float64(atRest), ""}}}
	w.found = append(w.found, f)
	return edge, true
}

// drivenShare is the share of the readings under drive, those at the rails left
// out, that lie within the resolution of a stretch: it needs no motion to have
// been told.
func (w *work) drivenShare(lo, hi float64) float64 {
	band, near := w.opt.RailBand*w.ref, w.resolution()/2
	in, all := 0, 0
	for k := range w.moves {
		for _, v := range w.v[w.moves[k].first:w.moves[k].last] {
			if v > band && v < w.ref-band {
				all++
				if v > lo-near && v < hi+near {
					in++
				}
			}
		}
	}
	return float64(in+1) / float64(all+1)
}

// crack reports a track that is broken through: driven past one place the
// reading goes from one rail to the other, and back when driven back. No
// contact outside the sensor can do that.
func (w *work) crack(all []leap, share float64) bool {
	band, top := w.wideRail(), w.upperRail()
	var way [2][2]int // to the low or the high rail, by direction of drive
	moves := map[int]bool{}
	when := noInterval()
	var places []Occurrence
	for _, l := range all {
		lo, hi := math.Min(l.before, l.after), math.Max(l.before, l.after)
		if lo > band || hi < top-band || !l.moving || l.direction == None {
			return false
		}
		to := 0
		if l.after > l.before {
			to = 1
		}
		way[to][side(l.direction)]++
		moves[l.move] = true
		when = when.widen(l.at)
		places = append(places, Occurrence{Interval{l.at, l.at}, Interval{lo, hi}, l.direction})
	}
	n := len(all)
	p := math.Pow(share, float64(n)) * math.Pow(0.5, float64(n-1))
	// An open wire has one level. Where the reading never lies between the
	// rails it would take two shorts that take turns: at most one in twenty of
	// such wires.
	between := 0
	for _, v := range w.v {
		if v > band && v < w.ref-band {
			between++
		}
	}
	if 50*between < len(w.v) && top == w.ref {
		p *= 0.05
	}
	if len(moves) < 2 || 10*max(way[0][0]+way[1][1], way[0][1]+way[1][0]) < 9*n || p > 0.05 {
		return false
	}
	w.found = append(w.found, Finding{Kind: DeadSpot, Form: railToRail, Tie: TiedToPosition, TieP: p, Time: when, Places: places,
		Volts: Interval{0, top}, Seen: len(moves), Passes: len(moves), Strength: 1 - p, Event: "open end",
		Measures: []Measure{{MeasureLeaps, float64(n), ""}}})
	return true
}

// joinOpenEnd makes one event of a track that is open beyond a place and of
// what follows from it: a reading at the rail, a control that hunts, a shaft
// that seems to slip, to stand or to go one way only.
func (w *work) joinOpenEnd() {
	if !w.openEnded() {
		return
	}
	for i := range w.found {
		switch f := &w.found[i]; f.Kind {
		case AtRail, Hunting, GearSlip, OneWay, NoMotion, Pauses, Jam, EndLoss, Dropouts, SlowZone, StickSlip, WeakDrive, DeadSpot, NoisyTrack:
			f.Event = "open end"
		}
		// What a reading does that is off the track tells nothing of gears and friction.
		if f := &w.found[i]; (f.Kind == GearSlip || f.Kind == StickSlip) && w.beyondOpenEnd(f.Volts) {
			f.Strength *= 0.2
		}
	}
}

// openEnded tells whether a track was found that is open beyond a place.
func (w *work) openEnded() bool {
	return slices.ContainsFunc(w.found, func(f Finding) bool {
		return f.Kind == DeadSpot && (f.Form == openBeyond || f.Form == railToRail || f.Form == openBetween)
	})
}

// beyondOpenEnd tells whether readings lie beyond the edge of a track that is open there.
func (w *work) beyondOpenEnd(v Interval) bool {
	return slices.ContainsFunc(w.found, func(f Finding) bool {
		edge, ok := f.Measure(MeasureEdge)
		return ok && f.Kind == DeadSpot && f.Form == openBeyond && (f.Direction == Down && v.To < edge || f.Direction == Up && v.From > edge)
	})
}
