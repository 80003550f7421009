package analyze

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"threewire/analyze/stats"
)

// lost reports whether the event is a stretch in which the reading did not
// tell a shaft that moved, or left the track; stood is its opposite.
func (w *work) lost(e *event) bool {
	if e.place != middle {
		return false
	}
	if e.out() > w.tol && e.seconds > 0 && e.moved > -e.spread*3-0.3*e.expected {
		return true
	}
	return e.shift > 2 && e.moved > w.tol
}

// stood reports whether the shaft stood still under drive and then went on
// from where it was.
func (w *work) stood(e *event) bool {
	return e.place == middle && e.shift < -2 && e.out() <= w.tol && e.expected > 2*w.tol
}

// cluster is a set of events at one place of the track.
type cluster struct {
	volts  Interval
	events []*event
}

// brief tells whether a hold is so short that play and wound-up links may have
// let go: two mechanical time constants.
func (w *work) brief(e *event) bool { return e.out() <= w.tol && e.seconds <= w.lim.Bridge }

// clusters groups events whose stretches of track overlap, or lie within the
// resolution of the capture.
func (w *work) clusters(ev []*event) []cluster {
	sort.SliceStable(ev, func(i, j int) bool { return ev[i].volts().From < ev[j].volts().From })
	margin := w.resolution()
	var out []cluster
	for _, e := range ev {
		v := e.volts()
		if n := len(out); n > 0 && v.From <= out[n-1].volts.To+margin {
			c := &out[n-1]
			c.events = append(c.events, e)
			c.volts = c.volts.widen(v.From).widen(v.To)
			continue
		}
		out = append(out, cluster{volts: v, events: []*event{e}})
	}
	for i := range out {
		// The edges are the medians of the single edges: one ragged pass must
		// not stretch the spot.
		var lo, hi []float64
		for _, e := range out[i].events {
			lo = append(lo, e.volts().From)
			hi = append(hi, e.volts().To)
		}
		out[i].volts = Interval{medianOf(lo), medianOf(hi)}
	}
	return out
}

// resolution is the distance in V below which two places are one: noise, the
// travel between two bins, and one percent of the span.
func (w *work) resolution() float64 {
	r := math.Max(w.rate[0], w.rate[1])
	return math.Max(0.01*w.span.Width(), w.tol/2+r*w.tr.Step)
}

// passes counts, by direction, the moves that tracked across the stretch, and
// those of them in which one of the events lies.
func (w *work) passes(c cluster) (seen, made [2]int) {
	hit := map[int]bool{}
	for _, e := range c.events {
		hit[e.move] = true
	}
	margin := w.resolution()
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction == None {
			continue
		}
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, s := range m.segs {
			if s.state == track && s.last-s.first >= min(3, w.window) {
				lo = math.Min(lo, math.Min(w.v[s.first], w.v[s.last-1]))
				hi = math.Max(hi, math.Max(w.v[s.first], w.v[s.last-1]))
			}
		}
		across := lo < c.volts.From-margin/2 && hi > c.volts.To+margin/2
		if hit[k] || across {
			made[side(m.Direction)]++
		}
		if hit[k] {
			seen[side(m.Direction)]++
		}
	}
	return seen, made
}

// tie decides whether the events belong to a place: the chance that, of all
// events strewn evenly over the travel, so many would fall into one stretch
// this narrow.
func (w *work) tie(c cluster, all int) (Tie, float64) {
	seen, made := w.passes(c)
	n, passes := seen[0]+seen[1], made[0]+made[1]
	k := len(c.events)
	if k < 2 {
		return TieUnknown, 1
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, e := range c.events {
		lo, hi = math.Min(lo, e.volts().Mid()), math.Max(hi, e.volts().Mid())
	}
	share := math.Min(1, (hi-lo+w.resolution())/math.Max(w.span.Width(), 1e-9))
	p := math.Min(1, float64(all)*stats.BinomialTail(k-1, max(k, all)-1, share))
	if p < w.lim.Significance || (p < 0.1 && n*2 >= passes) {
		return TiedToPosition, p
	}
	return TieUnknown, p
}

// findDeadSpots reports places where the track does not tell the position,
// and drop-outs that belong to no place.
func (w *work) findDeadSpots() {
	var lost []*event
	for i := range w.events {
		if e := &w.events[i]; w.lost(e) {
			lost = append(lost, e)
		}
	}
	var strewn []*event
	rest := w.restJumps()
	for _, c := range w.clusters(lost) {
		seen, made := w.passes(c)
		n, passes := seen[0]+seen[1], made[0]+made[1]
		tied, p := w.tie(c, len(lost))
		// A place that fails only now and then, among losses elsewhere, is no
		// place: chance puts two of many anywhere.
		most := 2*len(c.events) >= len(lost)
		if tied == TiedToPosition && p >= w.lim.Significance && !most {
			tied = TieUnknown
		}
		// Where as many losses come elsewhere or at rest, one loose contact
		// explains them all; two or three in one place are then chance.
		if other := len(lost) - len(c.events) + len(rest); n <= 3 && other >= n {
			strewn = append(strewn, c.events...)
			continue
		}
		// Among falling gear teeth a hold and a jump is one more tooth.
		if n < 2 && w.fallsIn(c.events[0].move) >= 5 {
			continue
		}
		if n < 3 && !slices.ContainsFunc(c.events, func(e *event) bool { return !w.brief(e) }) {
			strewn = append(strewn, c.events...)
			continue
		}
		// One sighting next to a stop is the start or the arrival.
		if edge := w.lim.EndZone * w.span.Width(); n < 2 && (c.volts.From < w.span.From+edge || c.volts.To > w.span.To-edge) {
			continue
		}
		if tied != TiedToPosition && (len(lost) > 2 && (2*n < passes || !most) || n < 2 && passes > 2) {
			strewn = append(strewn, c.events...)
			continue
		}
		w.found = append(w.found, w.deadSpot(c, seen, made, tied, p))
	}
	// A reading that only held and then caught up never left the track. Many
	// of those at places that do not repeat are the shaft itself, sticking and
	// springing on.
	var held, left []*event
	for _, e := range strewn {
		if e.out() > w.tol {
			left = append(left, e)
		} else {
			held = append(held, e)
		}
	}
	// Every start of a pulse may hold once while play is taken up; friction
	// holds several times in one move.
	moves := map[int]int{}
	for _, e := range held {
		moves[e.move]++
	}
	switch {
	case len(held) >= 4 && len(held) < 2*len(moves):
		left = nil
		for _, e := range strewn {
			if e.out() > w.tol || e.seconds >= w.lim.StallSeconds {
				left = append(left, e)
			}
		}
	case len(held) >= 4:
		f := w.standFinding(StickSlip, held)
		f.Form = "holds and springs on"
		f.Strength = 1 - math.Exp(-float64(len(held))/4)
		w.found = append(w.found, f)
	default:
		left = nil
		for _, e := range strewn {
			if !w.brief(e) {
				left = append(left, e)
			}
		}
	}
	w.findDropouts(left, rest)
}

// deadSpot describes one cluster of lost readings.
func (w *work) deadSpot(c cluster, seen, made [2]int, tied Tie, p float64) Finding {
	f := Finding{Kind: DeadSpot, Volts: c.volts, Tie: tied, TieP: p, Event: fmt.Sprintf("track %.2f", c.volts.Mid())}
	f.Seen, f.Passes = seen[0]+seen[1], made[0]+made[1]
	f.Direction = oneDirection(seen)
	f.Time = Interval{math.Inf(1), math.Inf(-1)}
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
	f.Form = "held and jumped"
	if 2*open >= len(c.events) {
		f.Form = "open"
	}
	f.Measures = []Measure{
		{"width", c.volts.Width(), w.unit()},
		{"longest", seconds, "s"},
		{"departure", depart, w.unit()},
		{"output smoothness", 100 * math.Max(depart, c.volts.Width()) / w.ref, "% of reference"},
		{"log likelihood ratio, moved on against stood still", shift, ""},
		{"seen going up", float64(seen[1]), ""}, {"passes going up", float64(made[1]), ""},
		{"seen going down", float64(seen[0]), ""}, {"passes going down", float64(made[0]), ""},
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

// findDropouts reports signal losses that come at times and not at places:
// those strewn over the travel, and those at rest, where no track moves.
func (w *work) findDropouts(strewn []*event, rest []Occurrence) {
	if len(rest) == 0 && len(strewn) == 0 {
		return
	}
	f := Finding{Kind: Dropouts, Tie: TieUnknown, TieP: 1, Event: "drop-outs", Strength: 1}
	f.Time = Interval{math.Inf(1), math.Inf(-1)}
	f.Volts = Interval{math.Inf(1), math.Inf(-1)}
	add := func(o Occurrence) {
		f.Places = append(f.Places, o)
		f.Time = f.Time.widen(o.Time.From).widen(o.Time.To)
		f.Volts = f.Volts.widen(o.Volts.From).widen(o.Volts.To)
	}
	for _, o := range rest {
		add(o)
	}
	miss := 1.0
	var mids []float64
	for _, e := range strewn {
		add(Occurrence{e.time(w.t), Interval{e.low, e.high}, w.moves[e.move].Direction})
		mids = append(mids, e.volts().Mid())
		pe := 1 / (1 + math.Exp(-e.shift))
		if e.out() > w.tol {
			pe = math.Max(pe, 1-math.Exp(-2*e.out()/w.tol))
		}
		miss *= 1 - 0.9*pe
	}
	for range rest {
		miss *= 0.1
	}
	f.Strength = 1 - miss
	f.Seen = len(f.Places)
	f.Measures = []Measure{{"at rest", float64(len(rest)), ""}, {"while moving", float64(len(strewn)), ""}}
	if len(rest) > 0 {
		f.Form = "at rest too"
		f.Tie = TiedToTime
		// Under the story of a worn place the signal cannot change while the
		// shaft rests on it undisturbed; allow one in twenty for a shaken wiper.
		f.TieP = math.Pow(0.05, float64(min(len(rest), 6)))
	} else if len(mids) >= 3 {
		lo, hi := extremes(mids)
		share := math.Min(1, (hi-lo)/math.Max(w.span.Width(), 1e-9))
		// Chance that one place of the tie's width would show such a spread.
		f.Tie = TiedToTime
		f.TieP = 1 - stats.RangePValue(share, len(mids))
		if share > 0.3 {
			f.TieP = math.Min(f.TieP, 0.05)
		}
		f.Form = "at no fixed place"
	} else {
		f.Form = "few"
		if lo, hi := extremes(mids); len(mids) == 2 && hi-lo > 0.1*w.span.Width() {
			f.Form = "few, apart"
		}
		f.Strength *= 0.6
	}
	w.found = append(w.found, f)
}

// restJumps lists steps and departures of the feedback while the drive is off
// and the shaft has come to rest.
func (w *work) restJumps() []Occurrence {
	var out []Occurrence
	settle := 0.35 // s: coasting and the release of wound-up links
	last := math.Inf(-1)
	step := w.lim.NoiseSigmas*math.Sqrt2*w.noise + 1.5*w.quantum
	for i := 1; i < len(w.v); i++ {
		if w.d.pol[i] != 0 || w.d.pol[i-1] != 0 {
			last = w.t[i]
			continue
		}
		if w.t[i]-last < settle || w.t[i]-w.t[i-1] > 10*w.tr.Step {
			continue
		}
		// The next drive must not be at hand either: edges of two columns may
		// be a bin apart.
		if i+2 < len(w.v) && (w.d.pol[i+1] != 0 || w.d.pol[i+2] != 0) {
			continue
		}
		jump := math.Abs(w.v[i] - w.v[i-1])
		peak := 0.0
		if w.tr.RowsPerBin > 1 {
			peak = math.Max(w.v[i]-float64(w.tr.Feedback.Min[i]), float64(w.tr.Feedback.Max[i])-w.v[i])
			peak -= w.rawPeak()
		}
		if jump > math.Max(2*step, 0.02*w.ref) || peak > 0.04*w.ref {
			o := Occurrence{Interval{w.t[i-1], w.t[i]}, Interval{math.Min(w.v[i-1], w.v[i]), math.Max(w.v[i-1], w.v[i])}, None}
			if n := len(out); n > 0 && o.Time.From-out[n-1].Time.To < 0.3 {
				out[n-1].Time.To = o.Time.To
				out[n-1].Volts = out[n-1].Volts.widen(o.Volts.From).widen(o.Volts.To)
			} else {
				out = append(out, o)
			}
		}
	}
	return out
}

// rawPeak is the usual excursion of single rows from their bin's mean.
func (w *work) rawPeak() float64 {
	if w.peak == 0 {
		var x []float64
		for i := 0; i < len(w.v); i += max(1, len(w.v)/5000) {
			x = append(x, math.Max(float64(w.tr.Feedback.Max[i])-w.v[i], w.v[i]-float64(w.tr.Feedback.Min[i])))
		}
		w.peak = math.Max(1.5*quantileOf(x, 0.9), 1e-9)
	}
	return w.peak
}

// findNoisyTrack reports bands of the track whose readings scatter more than
// the rest while the shaft passes, pass after pass. The measure is the second
// difference of the readings, which a steady motion does not touch.
func (w *work) findNoisyTrack() {
	// A worn end may lie beyond what was tracked: go as far as moves ended.
	reach := w.span
	for k := range w.moves {
		m := &w.moves[k]
		for _, v := range []float64{m.Start, m.End} {
			if rail := w.opt.RailBand * w.ref; v > rail && v < w.ref-rail && v > w.span.From-0.2*w.span.Width() && v < w.span.To+0.2*w.span.Width() {
				reach = reach.widen(v)
			}
		}
	}
	span := reach.Width()
	r := math.Max(w.rate[0], w.rate[1])
	if !(span > 0) || r == 0 {
		return
	}
	width := math.Max(span/50, 6*r*w.tr.Step)
	cells := int(span / width)
	if cells < 5 {
		return
	}
	width = span / float64(cells)
	type acc struct {
		sum, peak float64
		n         int
	}
	// Losses that belong to no place say nothing about the track.
	skip := make([]bool, len(w.v))
	for _, f := range w.found {
		if f.Kind == Dropouts {
			for _, o := range f.Places {
				for i := max(0, indexAt(w.t, o.Time.From)-2); i < len(skip) && w.t[i] <= o.Time.To+2*w.tr.Step; i++ {
					skip[i] = true
				}
			}
		}
	}
	// Where motion begins or ends the line has a corner, which is no noise; its
	// place is known to half a rate window.
	for k := range w.moves {
		segs := w.moves[k].segs
		for i := 1; i < len(segs); i++ {
			if pair := segs[i-1].state + segs[i].state; pair == track+still && segs[i].state != segs[i-1].state {
				for b := max(0, segs[i].first-w.window/2-1); b < min(len(skip), segs[i].first+w.window/2+2); b++ {
					skip[b] = true
				}
			}
		}
	}
	pass := make([][]acc, len(w.moves))
	var all []float64
	for k := range w.moves {
		m := &w.moves[k]
		if m.Moving == 0 || m.last-m.first < 5 {
			continue
		}
		pass[k] = make([]acc, cells)
		h := max(1, w.window/2)
		for i := m.first + 1; i+1 < m.last; i++ {
			if skip[i] {
				continue
			}
			a, b := max(m.first, i-h), min(m.last, i+h+1)
			mid := medianSmall(w.v[a:b])
			c := int(math.Floor((mid - reach.From) / width))
			if c < 0 || c >= cells {
				continue
			}
			d2 := w.v[i+1] - 2*w.v[i] + w.v[i-1]
			pass[k][c].sum += d2 * d2
			pass[k][c].n++
			pass[k][c].peak = math.Max(pass[k][c].peak, math.Abs(w.v[i]-mid))
		}
		for _, c := range pass[k] {
			if c.n >= 3 {
				all = append(all, math.Sqrt(c.sum/float64(c.n)))
			}
		}
	}
	if len(all) < 8 {
		return
	}
	base := math.Max(medianOf(all), math.Sqrt(6)*w.noise*0.7)
	base = math.Max(base, w.quantum)
	type cell struct {
		seen, made [2]int
		rough      float64
		peak       float64
	}
	grid := make([]cell, cells)
	for k, p := range pass {
		for c, a := range p {
			if a.n < 3 {
				continue
			}
			d := side(w.moves[k].Direction)
			grid[c].made[d]++
			rms := math.Sqrt(a.sum / float64(a.n))
			// n second differences of clean noise exceed three times the base
			// with a chance far below 1e-6 for n >= 3; short cells need more.
			if rms > base*(2.5+6/math.Sqrt(float64(a.n))) {
				grid[c].seen[d]++
				grid[c].rough = math.Max(grid[c].rough, rms)
				grid[c].peak = math.Max(grid[c].peak, a.peak)
			}
		}
	}
	for c := 0; c < cells; c++ {
		g := grid[c]
		if n, m := g.seen[0]+g.seen[1], g.made[0]+g.made[1]; n == 0 || 3*n < 2*m {
			continue
		}
		last := c
		for last+1 < cells {
			g2 := grid[last+1]
			if n, m := g2.seen[0]+g2.seen[1], g2.made[0]+g2.made[1]; n == 0 || 2*n < m {
				break
			}
			last++
			g.rough = math.Max(g.rough, g2.rough)
			g.peak = math.Max(g.peak, g2.peak)
			for d := range g.seen {
				g.seen[d] = max(g.seen[d], g2.seen[d])
				g.made[d] = max(g.made[d], g2.made[d])
			}
		}
		f := Finding{
			Kind: NoisyTrack, Tie: TiedToPosition,
			Volts: Interval{reach.From + float64(c)*width, reach.From + float64(last+1)*width},
			Seen:  g.seen[0] + g.seen[1], Passes: g.made[0] + g.made[1], Direction: oneDirection(g.seen),
		}
		c = last
		// A loose contact scratches here and there: twice in one place is chance.
		if f.Seen <= 2 && w.loose() {
			continue
		}
		f.Event = fmt.Sprintf("track %.2f", f.Volts.Mid())
		f.TieP = math.Pow(math.Max(0.02, f.Volts.Width()/span), float64(max(0, f.Seen-1)))
		f.Strength = 1 - math.Exp(-float64(f.Seen)*math.Log(g.rough/base))
		if f.Seen < 2 {
			f.Strength *= 0.6
		}
		f.Time, f.Places = w.visits(f.Volts)
		f.Measures = []Measure{
			{"roughness over the rest of the track", g.rough / base, "times"},
			{"largest departure", g.peak, w.unit()},
			{"output smoothness", 100 * g.peak / w.ref, "% of reference"},
		}
		w.found = append(w.found, f)
	}
}

// loose tells whether losses of signal were found that belong to no place.
func (w *work) loose() bool {
	for _, f := range w.found {
		if f.Kind == Dropouts && f.Seen >= 3 {
			return true
		}
	}
	return false
}

// looseAtRest tells whether the signal was lost while the shaft rested: such a
// contact also chatters while it moves.
func (w *work) looseAtRest() bool {
	for _, f := range w.found {
		if n, _ := f.Measure("at rest"); f.Kind == Dropouts && n > 0 {
			return true
		}
	}
	return false
}

// visits lists when the feedback passed through a band under drive.
func (w *work) visits(band Interval) (Interval, []Occurrence) {
	all := Interval{math.Inf(1), math.Inf(-1)}
	var out []Occurrence
	for k := range w.moves {
		m := &w.moves[k]
		a := -1
		b := -1
		for i := m.first; i < m.last; i++ {
			if band.Has(w.v[i]) {
				if a < 0 {
					a = i
				}
				b = i
			}
		}
		if a >= 0 && b > a {
			o := Occurrence{Interval{w.t[a], w.t[b]}, band, m.Direction}
			out = append(out, o)
			all = all.widen(o.Time.From).widen(o.Time.To)
		}
	}
	if len(out) == 0 {
		return Interval{}, nil
	}
	return all, out
}

// medianSmall is the median of a short window; the input is not changed.
func medianSmall(x []float64) float64 {
	var buf [64]float64
	if len(x) > len(buf) {
		x = x[(len(x)-len(buf))/2:][:len(buf)]
	}
	b := buf[:copy(buf[:], x)]
	for i := 1; i < len(b); i++ {
		for j := i; j > 0 && b[j] < b[j-1]; j-- {
			b[j], b[j-1] = b[j-1], b[j]
		}
	}
	return b[len(b)/2]
}

// unit is the unit of feedback values in text.
func (w *work) unit() string {
	if u := w.tr.Feedback.Unit; u != "" {
		return u
	}
	return "units"
}
