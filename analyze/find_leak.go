package analyze

import "math"

// underOneDrive is the form of a shift that comes with one polarity of the drive,
// or turns over with it: the wiper's wire touches a motor lead, or leaks to it.
const underOneDrive = "from a motor lead"

// mostLeak is the largest step, as a share of the reference, that is taken for a
// leak's: what pulls a wiper of some kilohms further than that is a short, which
// leaves no position to read.
const mostLeak = 0.35

// lastingDrive is how long a drive lasts, in s, that is no turn of a hunting
// control: those hunt at half a cycle a second and faster (common practice, no
// source).
const lastingDrive = 1.0

// An edge is a switching of the drive from one state to another: driven down,
// undriven, driven up.
type edge struct {
	driveStep
	from, to Direction
}

// edges lists the switchings to and from rest, and the reversals in which the
// reading has nothing to rest in. A control that hunts turns its drive over because
// the reading leaps: only drives that last are asked.
func (w *work) edges(steps []driveStep) []edge {
	var out []edge
	for _, s := range steps {
		if w.moves[s.move].Duration() < lastingDrive {
			continue
		}
		e := edge{driveStep: s, from: s.dir, to: None}
		if s.on {
			e.from, e.to = None, s.dir
		}
		out = append(out, e)
	}
	few, late := w.nextToEdge(0.02)
	least := math.Max(w.tol*math.Sqrt(1/float64(few))*math.Max(1, w.moving()/math.Max(w.noise, 1e-12)), leastShift*w.ref)
	for k := 1; k < len(w.moves); k++ {
		m, n := &w.moves[k-1], &w.moves[k]
		if m.Direction == None || n.Direction != -m.Direction || lapse(w.t[n.first], w.t[m.last-1]) > restBetween || m.Stalled < restBetween ||
			math.Min(m.Duration(), n.Duration()) < lastingDrive {
			continue // a shaft on its way goes on a little
		}
		a, b, c, d := m.last-late-few, m.last-late, n.first+late, n.first+late+few
		if a < m.first || d > n.last {
			continue
		}
		before, after := medianOf(w.v[a:b]), medianOf(w.v[c:d])
		s := driveStep{at: w.t[n.first], bin: n.first, move: k, on: true, dir: n.Direction, level: before, size: after - before}
		ahead := w.lim.Fast*w.rate[side(n.Direction)]*(w.t[d-1]-w.t[n.first]) + springBack*w.span.Width()
		forth := s.size * float64(n.Direction)
		s.need = ahead + least
		s.clear = forth > ahead+least || forth < -least
		out = append(out, edge{s, m.Direction, n.Direction})
	}
	return out
}

// A leak is a pull on the reading by the drive: where driven down and where driven
// up, in signs.
type leak struct {
	pull    [2]float64
	fits    []edge // clear edges of its sign
	like    []edge // all of its sign
	against int    // clear edges of another
}

// leaks are the pulls that are tried: by one lead, by both in opposite ways, and by
// what both share.
func leaks() []leak {
	var out []leak
	for _, p := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, -1}, {-1, 1}, {1, 1}, {-1, -1}} {
		out = append(out, leak{pull: p})
	}
	return out
}

// at is the pull where driven so.
func (l *leak) at(d Direction) float64 {
	if d == None {
		return 0
	}
	return l.pull[side(d)]
}

// compare sorts the edges by whether the pull makes them.
func (l *leak) compare(all []edge) {
	for _, e := range all {
		same := (l.at(e.to)-l.at(e.from))*e.size > 0
		if same {
			l.like = append(l.like, e)
		}
		switch {
		case e.clear && same:
			l.fits = append(l.fits, e)
		case e.clear:
			l.against++
		}
	}
}

// better tells whether a pull explains more than another: an edge against it takes
// four for it, and edges that the motion hides decide between equals.
func (l *leak) better(o *leak) bool {
	x, y := len(l.fits)-4*l.against, len(o.fits)-4*o.against
	return x > y || x == y && len(l.like) > len(o.like)
}

// silent counts the edges of the sorts that fit, between the first of them (before,
// the wire did not touch yet) and the last, in which a step of the size would have
// shown and did not.
func (l *leak) silent(all []edge, size float64) (n int) {
	sorts := map[[2]Direction]bool{}
	when := noInterval()
	for _, e := range l.fits {
		sorts[[2]Direction{e.from, e.to}] = true
		when = when.widen(e.at)
	}
	for _, e := range all {
		if when.Has(e.at) && sorts[[2]Direction{e.from, e.to}] && !e.clear && size > e.need {
			n++
		}
	}
	return n
}

// mayBeSlack tells whether slack and play could be all of it: they come with the motion
// only, at one end or the other, and never against the drive. Edges against a new
// drive are counted.
func (w *work) mayBeSlack(l *leak) (slack bool, contrary int) {
	on, off := 0, 0
	var leaps [2]int
	for _, e := range l.fits {
		if e.to == None {
			off++
		} else {
			on++
		}
		if e.to != None && e.size*float64(e.to) < 0 {
			contrary++
		}
		// Slack is not taken up at once, as far as this, at either end.
		at := (e.level - w.span.From) / w.span.Width()
		if far := math.Max(2*e.need, 2*springBack*w.span.Width()); math.Abs(e.size) > far && math.Abs(at-0.5) > 0.3 {
			leaps[side(e.dir)]++
		}
	}
	return contrary < 2 && min(on, off) < 2 && min(leaps[0], leaps[1]) < 2, contrary
}

// findLeak reports a reading that a motor lead pulls on: it steps with one
// polarity of the drive and not with the other, or one way with the one and the
// other way with the other, also where the drive is turned over at once and a
// shaft could only go the way it is driven.
func (w *work) findLeak(steps []driveStep) {
	if w.covered(DriveShift, None) {
		return
	}
	all := w.edges(steps)
	var best leak
	for _, l := range leaks() {
		if l.compare(all); l.better(&best) {
			best = l
		}
	}
	if len(best.fits) < 4 || 7*best.against > len(best.fits) {
		return
	}
	var size []float64
	for _, e := range best.fits {
		size = append(size, math.Abs(e.size))
	}
	usual := quantileOf(size, 0.25)
	slack, contrary := w.mayBeSlack(&best)
	least := 2 * leastShift * w.ref
	if contrary >= 4 { // no shaft does that even once
		least /= 2
	}
	if slack || usual < least || 2*best.silent(all, usual) > len(best.fits) {
		return
	}
	// A control turns its drive over where a track that is open throws the reading
	// far away: then it is the leap that switches the drive.
	if medianOf(size) > mostLeak*w.ref {
		return
	}
	var places, everywhere []driveStep
	for _, e := range best.fits {
		places = append(places, e.driveStep)
	}
	// One that the motion hides elsewhere, as large, shows that it is not the place.
	for _, e := range best.like {
		if !e.clear && math.Abs(e.size) > 0.5*usual {
			places = append(places, e.driveStep)
		}
	}
	for _, e := range all {
		everywhere = append(everywhere, e.driveStep)
	}
	if w.inOnePlace(places, everywhere) {
		return
	}
	f := Finding{Kind: DriveShift, Form: underOneDrive, Seen: len(best.fits), Passes: len(all), Tie: TieUnknown, TieP: 1, Event: "shift",
		Time: noInterval(), Volts: noInterval()}
	if best.pull[0] == best.pull[1] {
		f.Form = alikeBothWays
	}
	for _, e := range best.fits {
		v := Interval{math.Min(e.level, e.level+e.size), math.Max(e.level, e.level+e.size)}
		f.Time, f.Volts = f.Time.widen(e.at), f.Volts.widen(v.From).widen(v.To)
		if len(f.Places) < 200 {
			f.Places = append(f.Places, Occurrence{Interval{e.at, w.t[min(len(w.t)-1, e.bin+2)]}, v, e.dir})
		}
	}
	f.Strength = 1 - math.Exp(-float64(len(best.fits)-2)/2)
	f.Measures = []Measure{{MeasureStep, medianOf(size), w.unit()}}
	w.found = append(w.found, f)
}
