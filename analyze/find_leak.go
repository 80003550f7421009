package analyze

import (
	"math"
	"slices"
)

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
// reading has nothing to rest in.
func (w *work) edges(steps []driveStep) []edge {
	var out []edge
	// A control that hunts turns its drive over because the reading leaps: only
	// drives that last are asked.
	lasts := func(bin int) bool {
		for k := range w.moves {
			if m := &w.moves[k]; m.first == bin || m.last == bin {
				return m.Duration() >= lastingDrive
			}
		}
		return false
	}
	for _, s := range steps {
		if !lasts(s.bin) {
			continue
		}
		e := edge{driveStep: s, from: s.dir, to: None}
		if s.on {
			e.from, e.to = None, s.dir
		}
		out = append(out, e)
	}
	dt := math.Max(w.tr.Step, 1e-9)
	few, late := max(1, int(math.Round(0.02/dt))), 1+int(0.005/dt)
	least := math.Max(w.tol*math.Sqrt(1/float64(few))*math.Max(1, w.moving()/math.Max(w.noise, 1e-12)), leastShift*w.ref)
	for k := 1; k < len(w.moves); k++ {
		m, n := &w.moves[k-1], &w.moves[k]
		if m.Direction == None || n.Direction != -m.Direction || w.t[n.first]-w.t[m.last-1] > restBetween || m.Stalled < restBetween ||
			math.Min(m.Duration(), n.Duration()) < lastingDrive {
			continue // a shaft on its way goes on a little
		}
		a, b, c, d := m.last-late-few, m.last-late, n.first+late, n.first+late+few
		if a < m.first || d > n.last {
			continue
		}
		before, after := medianOf(w.v[a:b]), medianOf(w.v[c:d])
		s := driveStep{at: w.t[n.first], bin: n.first, on: true, dir: n.Direction, level: before, size: after - before}
		ahead := w.lim.Fast*w.rate[side(n.Direction)]*(w.t[d-1]-w.t[n.first]) + springBack*w.span.Width()
		forth := s.size * float64(n.Direction)
		s.need = ahead + least
		s.clear = forth > ahead+least || forth < -least
		out = append(out, edge{s, m.Direction, n.Direction})
	}
	return out
}

// findLeak reports a reading that a motor lead pulls on: it steps with one
// polarity of the drive and not with the other, or one way with the one and the
// other way with the other, also where the drive is turned over at once and a
// shaft could only go the way it is driven.
func (w *work) findLeak(steps []driveStep) {
	if slices.ContainsFunc(w.found, func(f Finding) bool { return f.Kind == DriveShift }) {
		return
	}
	all := w.edges(steps)
	var best, like []edge // clear ones, and all of the sign
	against, form := 0, ""
	for _, p := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, -1}, {-1, 1}, {1, 1}, {-1, -1}} { // pull when driven down, up
		pull := func(d Direction) float64 {
			if d == None {
				return 0
			}
			return p[side(d)]
		}
		var fit, same []edge
		off := 0
		for _, e := range all {
			want := pull(e.to) - pull(e.from)
			if want*e.size > 0 {
				same = append(same, e)
			}
			switch {
			case !e.clear:
			case want*e.size > 0:
				fit = append(fit, e)
			default:
				off++
			}
		}
		if x, y := len(fit)-4*off, len(best)-4*against; x > y || x == y && len(same) > len(like) {
			best, like, against, form = fit, same, off, underOneDrive
			if p[0] == p[1] {
				form = alikeBothWays
			}
		}
	}
	if len(best) < 4 || 7*against > len(best) {
		return
	}
	// Both ways of an edge, or a turn against the new drive: what comes with the
	// motion only may be slack that is taken up.
	on, off, contrary := 0, 0, 0
	var leaps [2]int
	var size []float64
	for _, e := range best {
		switch {
		case e.to == None:
			off++
		default:
			on++
		}
		if e.to != None && e.size*float64(e.to) < 0 {
			contrary++
		}
		// Nor is slack taken up at once, as far as this, at either end.
		if near := (e.level - w.span.From) / w.span.Width(); math.Abs(e.size) > 2*e.need && math.Abs(e.size) > 2*springBack*w.span.Width() && math.Abs(near-0.5) > 0.3 {
			leaps[side(e.dir)]++
		}
		size = append(size, math.Abs(e.size))
	}
	usual := quantileOf(size, 0.25)
	silent := 0
	begin, end := extremesOf(best)
	for _, e := range all {
		if e.at < begin || e.at > end {
			continue // before the wire began to touch
		}
		same := slices.ContainsFunc(best, func(b edge) bool { return b.from == e.from && b.to == e.to })
		if same && !e.clear && usual > e.need {
			silent++
		}
	}
	if contrary < 2 && min(on, off) < 2 && min(leaps[0], leaps[1]) < 2 || 2*silent > len(best) || usual < leastShift*w.ref || contrary < 4 && usual < 2*leastShift*w.ref {
		return
	}
	// A control turns its drive over where a track that is open throws the reading
	// far away: then it is the leap that switches the drive.
	if medianOf(size) > mostLeak*w.ref {
		return
	}
	var places, everywhere []driveStep
	for _, e := range best {
		places = append(places, e.driveStep)
	}
	for _, e := range all {
		everywhere = append(everywhere, e.driveStep)
	}
	// One that the motion hides elsewhere, as large, shows that it is not the place.
	spread := slices.Clone(places)
	for _, e := range like {
		if math.Abs(e.size) > 0.5*usual {
			spread = append(spread, e.driveStep)
		}
	}
	if w.inOnePlace(spread, everywhere) {
		return
	}
	f := Finding{Kind: DriveShift, Form: form, Seen: len(best), Passes: len(all), Tie: TieUnknown, TieP: 1, Event: "shift",
		Time: Interval{math.Inf(1), math.Inf(-1)}, Volts: Interval{math.Inf(1), math.Inf(-1)}}
	for _, s := range places {
		v := Interval{math.Min(s.level, s.level+s.size), math.Max(s.level, s.level+s.size)}
		f.Time, f.Volts = f.Time.widen(s.at), f.Volts.widen(v.From).widen(v.To)
		if len(f.Places) < 200 {
			f.Places = append(f.Places, Occurrence{Interval{s.at, w.t[min(len(w.t)-1, s.bin+2)]}, v, s.dir})
		}
	}
	f.Strength = 1 - math.Exp(-float64(len(best)-2)/2)
	f.Measures = []Measure{{"step", medianOf(size), w.unit()}}
	w.found = append(w.found, f)
}

// extremesOf are the times of the first and the last of the edges.
func extremesOf(edges []edge) (first, last float64) {
	first, last = math.Inf(1), math.Inf(-1)
	for _, e := range edges {
		first, last = math.Min(first, e.at), math.Max(last, e.at)
	}
	return first, last
}
