package analyze

import (
	"math"
	"slices"

	"threewire/analyze/stats"
)

// leastLoss is the least departure, as a share of the reference, of a signal
// that is lost: a wire or a wiper that opens lets the reading go to a rail or
// to the input's own level, and what stays near the line is noise unless it
// belongs to a place.
const leastLoss = 0.05

// heldAndJumped is the form of a place that keeps the reading and then lets it leap.
const heldAndJumped = "held and jumped"

// findDeadSpots reports places where the track does not tell the position,
// and drop-outs that belong to no place.
func (w *work) findDeadSpots() {
	skipped := w.skippedPlaces()
	var lost []*event
	for i := range w.events {
		if e := &w.events[i]; w.lost(e) && !w.inNoise(e) && !skippedOver(skipped, e) {
			lost = append(lost, e)
		}
	}
	lost = w.findStairs(lost)
	var strewn []*event
	rest := append(w.withLeaps(w.restJumps()), w.standLosses()...)
	all := w.clusters(lost)
	firm := w.firmLosses(all, len(lost))
	for _, c := range all {
		// What a place beyond doubt loses says nothing against another place.
		losses := lost
		if len(firm) > 0 {
			losses = slices.DeleteFunc(slices.Clone(lost), func(e *event) bool { return firm[e] && !slices.Contains(c.events, e) })
		}
		seen, made := w.passes(c)
		switch tied, p, what := w.weighLosses(c, seen, made, len(losses), len(rest)); what {
		case lossOfPlace:
			w.found = append(w.found, w.deadSpot(c, seen, made, tied, p))
		case lossAnywhere:
			strewn = append(strewn, c.events...)
		}
	}
	w.addSkipped(skipped)
	left := w.strewnLosses(strewn)
	// A loss while the shaft is driven against a stop is one at rest, but for
	// the place: the end of the track itself may be at fault. Once or twice,
	// or beside losses elsewhere, it is a loss like the others.
	if at := w.lossesAtStops(); len(at) <= 2 || len(left)+len(rest) > 0 {
		left = append(left, at...)
	}
	w.findDropouts(left, rest)
}

// lossKind is what a cluster of losses is taken for.
type lossKind int

const (
	lossOfNothing lossKind = iota // a start, an arrival or a gear's
	lossAnywhere                  // bound to no place
	lossOfPlace
)

// weighLosses tells what a cluster is, among so many losses under way and at rest, and
// how its losses are tied to the place.
func (w *work) weighLosses(c cluster, seen, made [2]int, lost, atRest int) (Tie, float64, lossKind) {
	n, passes := seen[0]+seen[1], made[0]+made[1]
	tied, p := w.tie(c, lost)
	// A place that fails only now and then, among losses elsewhere, is no
	// place: chance puts two of many anywhere.
	most := 2*len(c.events) >= lost
	if tied == TiedToPosition && p >= w.lim.Significance && !most {
		tied = TieUnknown
	}
	// Where as many losses come elsewhere or at rest, one loose contact
	// explains them all; two or three in one place are then chance.
	// A track cannot fail while the shaft rests: with losses at rest, those
	// elsewhere need not even be as many.
	if other := lost - len(c.events) + atRest; n <= 3 && other >= n || atRest > 0 && 2*other >= n {
		return tied, p, lossAnywhere
	}
	// Seen once it belongs to no place: then what stays near the line is noise.
	e := c.events[0]
	if n < 2 && e.out() > w.tol && math.Max(e.out(), e.expected) <= leastLoss*w.ref {
		return tied, p, lossAnywhere
	}
	// Single rows that stay near the line may be interference. Others elsewhere say that
	// there is some, and then a few fall together now and then.
	if p >= w.lim.Significance && lost > len(c.events) && w.oneRowNear(c.events) {
		return tied, p, lossAnywhere
	}
	// Among falling gear teeth a hold and a jump is one more tooth.
	if n < 2 && w.fallsIn(e.move) >= 5 {
		return tied, p, lossOfNothing
	}
	if n < 3 && !slices.ContainsFunc(c.events, func(e *event) bool { return !w.brief(e) }) {
		return tied, p, lossAnywhere
	}
	// One sighting next to a stop is the start or the arrival.
	if edge := w.lim.EndZone * w.span.Width(); n < 2 && e.out() < math.Max(2*w.tol, 0.1*w.ref) && (c.volts.From < w.span.From+edge || c.volts.To > w.span.To-edge) {
		return tied, p, lossOfNothing
	}
	if tied != TiedToPosition && (lost > 2 && (2*n < passes || !most) || n < 2 && passes > 2) {
		return tied, p, lossAnywhere
	}
	return tied, p, lossOfPlace
}

// oneRowNear tells whether each loss is of a single row, and none of them as far from the
// line as a signal that is lost goes.
func (w *work) oneRowNear(lost []*event) bool {
	return !slices.ContainsFunc(lost, func(e *event) bool {
		on, off := e.volts(), 0
		for _, v := range w.v[e.first:e.last] {
			if v < on.From-w.tol || v > on.To+w.tol {
				off++
			}
		}
		return off != 1 || e.out() > leastLoss*w.ref
	})
}

// strewnLosses gives the losses bound to no place that a contact made. Those that a
// shaft made which sticks and springs on become a finding of their own.
func (w *work) strewnLosses(strewn []*event) (left []*event) {
	stir := math.Max(w.tol, 4*w.moving()) // what a driven reading strays by
	strewn = slices.DeleteFunc(strewn, func(e *event) bool {
		return e.out() <= w.tol && w.onLine(e) || e.out() <= stir && e.expected <= stir
	})
	// A reading that only held and then caught up never left the track. Many
	// of those at places that do not repeat are the shaft itself, sticking and
	// springing on.
	var held []*event
	moves := map[int]bool{} // in which it held
	for _, e := range strewn {
		if e.out() <= w.tol {
			held = append(held, e)
			moves[e.move] = true
		}
	}
	const many = 4
	far := func(e *event) bool { return e.out() > math.Max(w.tol, leastLoss*w.ref) }
	counts := far
	switch {
	case len(held) < many:
		counts = func(e *event) bool { return !w.brief(e) && (e.out() <= w.tol || e.out() > leastLoss*w.ref) }
	case len(held) < 2*len(moves):
		// Every start of a pulse may hold once while play is taken up; friction
		// holds several times in one move.
		counts = func(e *event) bool { return far(e) || e.out() <= w.tol && e.seconds >= w.lim.StallSeconds }
	case !w.grainOnly(held) && !w.textured():
		f := w.standFinding(StickSlip, held)
		f.Form = springsOn
		f.Strength = 1 - math.Exp(-float64(len(held))/4)
		w.found = append(w.found, f)
	}
	for _, e := range strewn {
		if counts(e) {
			left = append(left, e)
		}
	}
	return left
}

// inNoise tells whether an event leaves the track by no more than the noise about it
// does: noise that comes for a while scatters the readings before or after the event,
// also those at rest, as much as those in it.
func (w *work) inNoise(e *event) bool {
	const aside = 0.5 // s beside the event
	if e.out() <= w.tol || e.shift > 1 {
		return false // what it held and missed is no noise
	}
	inside := w.scatterIn(e.first, e.last)
	before := w.scatterIn(indexAt(w.t, w.t[e.first]-aside), e.first)
	after := w.scatterIn(e.last, min(len(w.t), indexAt(w.t, w.t[e.last-1]+aside)+1))
	about := math.Max(before, after)
	return about > 1.5*w.noise && inside < 1.5*about && e.out() < w.lim.NoiseSigmas*about+w.quantum
}

// scatterIn is the standard deviation of the noise of the bins [a, b), of the medians of
// their second differences; 0 for too few.
func (w *work) scatterIn(a, b int) float64 {
	return secondScatter(w.v[a:max(a, b)])
}

// secondScatter is scatterIn of the given readings.
func secondScatter(v []float64) float64 {
	if len(v) < 8+2 {
		return 0
	}
	d := make([]float64, len(v)-2)
	for i := range d {
		d[i] = math.Abs(v[i+2] - 2*v[i+1] + v[i])
	}
	return stats.MADScale * medianIn(d) / math.Sqrt(6)
}

// firmLosses are the events of the clusters that are places beyond doubt: bound to
// them against all losses, in two of three passes and four at least.
func (w *work) firmLosses(all []cluster, lost int) map[*event]bool {
	firm := map[*event]bool{}
	for _, c := range all {
		seen, made := w.passes(c)
		n, passes := seen[0]+seen[1], made[0]+made[1]
		if tied, p := w.tie(c, lost); tied == TiedToPosition && p < w.lim.Significance && n >= 4 && 3*n >= 2*passes {
			for _, e := range c.events {
				firm[e] = true
			}
		}
	}
	w.firmTogether(all, lost, firm)
	return firm
}

// firmTogether marks the events of places of which each fails in every pass over it, three
// and both ways at least, where together they make all the losses, or all but one in ten:
// taken one by one, two such places speak against each other. Of so many losses strewn over
// the travel, that all the others fall where the first of each place fell is what is weighed.
func (w *work) firmTogether(all []cluster, lost int, firm map[*event]bool) {
	var places []cluster
	events, share := 0, 0.0
	for _, c := range all {
		seen, made := w.passes(c)
		n, passes := seen[0]+seen[1], made[0]+made[1]
		if n < 3 || n < passes || min(seen[0], seen[1]) == 0 {
			continue
		}
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, e := range c.events {
			lo, hi = math.Min(lo, e.volts().Mid()), math.Max(hi, e.volts().Mid())
		}
		places = append(places, c)
		events += len(c.events)
		share += (hi - lo + w.resolution()) / math.Max(w.span.Width(), 1e-9)
	}
	k := len(places)
	if k < 2 || 10*events < 9*lost || share > 0.2 {
		return
	}
	p := stats.BinomialTail(events-k, lost-k, share)
	for i := range k { // whichever of the losses came first at each place
		p *= float64(lost-i) / float64(i+1)
	}
	if p < w.lim.Significance {
		for _, c := range places {
			for _, e := range c.events {
				firm[e] = true
			}
		}
	}
}

// grainOnly tells whether the shaft would have got no further during the stands
// than a sound track is off its straight line by from place to place, 1.5 % of
// the travel (linearity of a cheap potentiometer: common practice, no source):
// then a grain of the track looks the same.
func (w *work) grainOnly(held []*event) bool {
	var missed []float64
	for _, e := range held {
		missed = append(missed, e.expected)
	}
	return medianOf(missed) < 0.015*w.span.Width()
}

// lossesAtStops lists the stands at the end of a move in which the reading
// left its level far and came back to it.
func (w *work) lossesAtStops() []*event {
	far := math.Max(2*w.tol, 0.1*w.ref)
	var out []*event
	for i := range w.events {
		e := &w.events[i]
		// The shaft may have arrived meanwhile, but no faster than it goes.
		if e.place != atEnd && e.place != whole || math.Abs(e.to-e.from) > w.tol+1.5*e.expected {
			continue
		}
		level := e.volts()
		away, back := 0, 0
		for _, v := range w.v[e.first:e.last] {
			switch {
			case v < level.From-far || v > level.To+far:
				away++
				back = 0
			case math.Abs(v-e.to) < w.tol:
				back++
			}
		}
		if away > 0 && back > 2 {
			out = append(out, e)
		}
	}
	return out
}

// deadSpot describes one cluster of lost readings.
func (w *work) deadSpot(c cluster, seen, made [2]int, tied Tie, p float64) Finding {
	f := Finding{Kind: DeadSpot, Volts: c.volts, Tie: tied, TieP: p, Event: w.eventAt("track", c.volts, finePlace)}
	f.Seen, f.Passes = seen[0]+seen[1], made[0]+made[1]
	f.Direction = oneDirection(seen)
	f.Time = noInterval()
	open, miss, seconds, depart, shift := 0, 1.0, 0.0, 0.0, 0.0
	for _, e := range c.events {
		f.Time = f.Time.widen(e.time(w.t).From).widen(e.time(w.t).To)
		f.Places = append(f.Places, Occurrence{e.time(w.t), e.volts(), w.moves[e.move].Direction})
		if e.out() > w.tol {
			open++
		}
		depart = math.Max(depart, e.out())
		seconds = math.Max(seconds, e.seconds)
		shift = math.Max(shift, e.shift)
		// A departure of d noise sigmas is real beyond doubt at 6; a held
		// reading is as sure as its likelihood ratio.
		pe := 1 / (1 + math.Exp(-e.shift))
		if e.out() > w.tol {
			pe = math.Max(pe, 1-math.Exp(-e.out()/w.tol*2))
		}
		miss *= 1 - 0.95*pe
	}
	f.Strength = 1 - miss
	// One departure of a single row may be interference: from the row before it
	// to the one that is back on the track for good are three steps.
	if f.Seen == 1 && open > 0 && seconds <= math.Max(3.5*w.tr.Step, longestSpike) {
		f.Strength *= 0.3
	}
	f.Form = heldAndJumped
	if 2*open >= len(c.events) {
		f.Form = openTrack
	}
	f.Measures = []Measure{
		{"width", c.volts.Width(), w.unit()},
		{MeasureLongest, seconds, "s"},
		{MeasureDeparture, depart, w.unit()},
		{MeasureOutputSmoothness, 100 * math.Max(depart, c.volts.Width()) / w.ref, "% of reference"},
		{"log likelihood ratio, moved on against stood still", shift, ""},
		{MeasureSeenUp, float64(seen[1]), ""}, {MeasurePassesUp, float64(made[1]), ""},
		{MeasureSeenDown, float64(seen[0]), ""}, {MeasurePassesDown, float64(made[0]), ""},
	}
	return f
}

// oneDirection is the direction in which all sightings were made, None when
// both.
func oneDirection(seen [2]int) Direction {
	switch {
	case seen[0] == 0 && seen[1] > 0:
		return Up
	case seen[1] == 0 && seen[0] > 0:
		return Down
	}
	return None
}
