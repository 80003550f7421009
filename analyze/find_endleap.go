package analyze

import "math"

// findLeapsOff looks for an end of the travel that the shaft leaves by a leap of the
// reading: at rest there it told of a place that the shaft cannot have come from in
// that time. Beyond the level it leaps to the track is open and an input capacitor,
// or a resistor in the control, had drawn the reading away; however slowly, which
// hides the leap of the way there (see [work.findEdges]). Seals and springs push a
// shaft off a stop, but not further than [springBack]; a motor's current in the
// sensor's ground steps wherever the drive is switched on.
func (w *work) findLeapsOff() {
	if w.covered(DriveShift, None) {
		return
	}
	type off struct {
		k        int
		at, edge float64
		leapt    bool // as it left, or as it arrived
		came     bool // only as it arrived
		start    float64
	}
	var from [2][]off // by the end left
	control, steps := 0, 0
	near := math.Max(w.lim.EndZone*w.span.Width(), 2*w.resolution())
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction == None || m.Moving == 0 {
			continue
		}
		o := off{k: k, start: m.Start}
		var ok bool
		if o.at, o.edge, o.leapt, ok = w.leapOff(m); !ok || o.leapt && w.rowsMissing(m.Time.From-2*w.tr.Step, o.at+w.tr.Step) {
			continue // what happens where rows are missing is no leap
		}
		came := k > 0 && w.moves[k-1].Direction == -m.Direction && w.moves[k-1].Stalled > 0
		if came && !o.leapt {
			o.at, o.edge, o.leapt = w.leapOn(&w.moves[k-1])
			o.came = o.leapt
		}
		if came || m.Direction == Up && m.Start < w.span.From+near || m.Direction == Down && m.Start > w.span.To-near {
			from[side(m.Direction)] = append(from[side(m.Direction)], o)
			continue
		}
		control++
		if o.leapt {
			steps++
		}
	}
	for sd, all := range from {
		hits := 0
		for _, o := range from[1-sd] {
			if o.leapt {
				hits++
			}
		}
		if n := control + len(from[1-sd]); n == 0 || 3*(hits+steps) > n {
			continue
		}
		dir := Direction(1 - 2*sd) // the way beyond the edge: down at the end left going up
		f := Finding{Kind: DeadSpot, Form: openBeyond, Direction: dir, Tie: TiedToPosition, Event: "open end",
			Time: noInterval(), Passes: len(all)}
		// A wiper that found contact at the stop reads right and leaves without a leap:
		// those that leapt all read further out than any of these.
		var edges []float64
		odd, left := true, false
		for _, o := range all {
			left = left || o.leapt && !o.came
			if !o.leapt {
				for _, p := range all {
					odd = odd && (!p.leapt || float64(dir)*(p.start-o.start) > w.tol)
				}
				continue
			}
			edges = append(edges, o.edge)
			f.Time = f.Time.widen(o.at)
			v := w.moves[o.k].Start
			f.Places = append(f.Places, Occurrence{Interval{o.at, o.at}, Interval{math.Min(v, o.edge), math.Max(v, o.edge)}, -dir})
		}
		if f.Seen = len(edges); f.Seen < 2 || !left || 3*f.Seen < 2*len(all) && !odd || spreadOf(edges) > math.Max(0.15*w.span.Width(), 3*w.resolution()) {
			continue
		}
		// Where it is left without a leap as often, the track is whole.
		edge := medianOf(edges)
		if w.leftOver(-dir, edge, math.Max(3*w.tol, mostPlay*w.span.Width())) >= 2 {
			continue
		}
		f.Volts = Interval{quantileOf(edges, 0.1), quantileOf(edges, 0.9)}
		f.Strength = 1 - math.Exp(-0.7*float64(f.Seen))
		f.Measures = []Measure{{MeasureEdge, edge, w.unit()}, {MeasureLeaps, float64(f.Seen), ""}, {MeasureLeapsAtRest, 0, ""}}
		w.found = append(w.found, f)
		return
	}
}

// leapOn tells whether the reading, as a move ran into its stop, leapt back against the
// drive and stayed there: when, and to where. Nothing pushes a driven shaft back, and
// what bounces off a stop comes on again; but the sparks of a motor that runs lift a
// reading by as much, so this alone is no sign.
func (w *work) leapOn(m *Move) (at, edge float64, leapt bool) {
	const (
		within = 0.03 // s, as in listLeaps
		stays  = 0.2  // s
	)
	n := len(m.segs)
	if n < 2 || m.segs[n-1].state != still || w.pulsedIn(m.first, m.last) {
		return 0, 0, false
	}
	dir := float64(m.Direction)
	least := springBack/2*w.span.Width() + w.tol
	b := m.segs[n-1].last
	for i := m.segs[n-1].first; i < b; i++ {
		j := max(m.first, min(indexAt(w.t, w.t[i]-within), i-1))
		if dir*(w.v[j]-w.v[i]) < least {
			continue
		}
		e := indexAt(w.t, w.t[i]+stays)
		if e > b || e-i < 3 {
			return 0, 0, false
		}
		before, after := medianOf(w.v[max(m.first, j-4):j+1]), medianOf(w.v[i:e])
		if dir*(before-after) > least {
			return w.t[i], after, true
		}
	}
	return 0, 0, false
}

// leapOff tells whether the reading, as a move set out from rest, went further than
// the shaft can have: when, and where to. ok is false where the move began without a
// rest or ended at once.
func (w *work) leapOff(m *Move) (at, edge float64, leapt, ok bool) {
	const (
		soon   = 1.0 // s: it leaps when the wiper is back on the track
		helped = 1.5 // times its usual speed, of a motor that a door's weight or a seal helps off a stop
	)
	few, late := w.nextToEdge(0.05)
	n := max(3, few)
	if m.first < n+late || m.last-m.first < 3*n || w.pulsedIn(m.first, min(m.last, indexAt(w.t, w.t[m.first]+soon))) {
		return 0, 0, false, false
	}
	v0 := medianOf(w.v[m.first-late-n : m.first-late])
	// What it wanders by at rest (hum, whole or folded by the sampling) is no leap.
	// The half of a short rest that is nearer: coasting, and an input that fills, are over.
	since := w.t[m.first] - soon/2
	for i := m.first - 1; i >= 0 && w.t[i] > since; i-- {
		if w.d.pol[i] != 0 {
			since = (w.t[i] + w.t[m.first]) / 2
		}
	}
	rest := noInterval()
	for i := m.first - late - n; i > 0 && w.t[i] > since; i -= n {
		rest = rest.widen(medianOf(w.v[i : i+n]))
	}
	wander := math.Max(0, rest.Width()-w.visible())
	r := w.rate[side(m.Direction)]
	window := make([]float64, n)
	far := func(i int) float64 {
		return float64(m.Direction) * (medianIn(window[:copy(window, w.v[i:])]) - v0)
	}
	// A fast instrument's levels change little from row to row. The median of some rows tells
	// of the one in their middle.
	for i := m.first; i < m.last-n && lapse(w.t[i], w.t[m.first]) < soon; i += max(1, n/20) {
		due := helped*r*(w.t[i+n/2]-w.t[m.first]+w.tr.Step) + springBack*w.span.Width() + w.visible() + wander
		if far(i) < due {
			continue
		}
		// A wiper on the edge may chatter, but it gets on from there as driven.
		j := min(indexAt(w.t, w.t[i]+soon/2), m.last-n)
		if lapse(w.t[j], w.t[i]) < soon/10 {
			return 0, 0, false, false
		}
		return w.t[i], v0 + float64(m.Direction)*far(i), far(j) > far(i), true
	}
	return 0, 0, false, true
}

// leftOver counts the moves of a direction that track across a level without a break,
// from near on one side to near on the other.
func (w *work) leftOver(dir Direction, level, near float64) (n int) {
	for k, r := range w.ways() {
		if w.moves[k].Direction == dir && r.From < level-near && r.To > level+near {
			n++
		}
	}
	return n
}
