package analyze

import (
	"math"
	"sort"

	"threewire/analyze/stats"
)

// findSlowZones reports bands in which the feedback moves slower than
// elsewhere, by direction: binding. Bands next to the stops, where compliance
// and coasting bend the rate, are left out, and so are dead spots, where the
// reading says nothing about the speed.
func (w *work) findSlowZones() {
	for _, p := range w.prof {
		if p == nil || len(p.Points) < 5 {
			continue
		}
		s := w.searchSlow(p)
		for i := 0; i < len(p.Points); i++ {
			if !s.slow(p.Points[i]) {
				continue
			}
			b := s.bandFrom(i)
			i = b.to
			if f, ok := s.zone(b); ok {
				w.found = append(w.found, f)
			}
		}
	}
	w.mergeSlowZones()
	w.findBentLine()
	w.findTwoSlopes()
	w.findBentPlaces()
}

// slowSearch looks for slow bands in one direction.
type slowSearch struct {
	*work
	p       *Profile
	width   float64 // of a cell
	nominal float64 // usual rate
	scatter float64 // of the rate from one cell to the next
	most    float64 // share of the usual rate below which a cell is slow
}

func (w *work) searchSlow(p *Profile) *slowSearch {
	s := &slowSearch{work: w, p: p, width: math.Inf(1), nominal: w.typicalRate(p), most: w.lim.Slow}
	for i := 1; i < len(p.Points); i++ { // cells without a pass are missing: the least gap is one cell
		s.width = math.Min(s.width, p.Points[i].Position-p.Points[i-1].Position)
	}
	// The usual unevenness of this actuator, from one cell to the next: a
	// wide slow band must not count as unevenness.
	var dev []float64
	for i := 1; i < len(p.Points); i++ {
		dev = append(dev, math.Abs(p.Points[i].Rate-p.Points[i-1].Rate))
	}
	s.scatter = stats.MADScale / math.Sqrt2 * medianOf(dev)
	// The speed that a load costs grows as the drive's volts fall.
	if !w.tr.DriveIsPolarity && w.d.amp < 12 && w.d.amp > 5 {
		s.most = 1 - (1-s.most)*12/w.d.amp
	}
	return s
}

// slow tells whether most passes of a cell are slow, away from the stops and
// from dead spots.
func (s *slowSearch) slow(q ProfilePoint) bool {
	end := s.lim.EndZone * s.likelyTravel().Width()
	if q.Position < s.span.From+end || q.Position > s.span.To-end {
		return false
	}
	for _, f := range s.found {
		if f.Kind == DeadSpot && q.Position > f.Volts.From-s.width && q.Position < f.Volts.To+s.width {
			return false
		}
	}
	return q.Rate < s.most*s.nominal && q.Rate < s.nominal-4*s.scatter && 10*slowPasses(q, s.most*s.nominal) >= 7*q.Passes
}

// slowBand is the slow cells [from, to) of a profile, one after the other.
type slowBand struct {
	volts        Interval
	from, to     int
	passes, made int     // slow ones, and all, of the cell that has most of them
	factor       float64 // speed over the usual one
}

func (b *slowBand) cells() int { return b.to - b.from }

func (s *slowSearch) bandFrom(first int) slowBand {
	at := s.p.Points
	b := slowBand{from: first, to: first}
	sum := 0.0
	for b.to < len(at) && s.slow(at[b.to]) && (b.to == first || at[b.to].Position-at[b.to-1].Position < 1.5*s.width) {
		sum += s.nominal / at[b.to].Rate
		b.passes = max(b.passes, slowPasses(at[b.to], s.most*s.nominal))
		b.made = max(b.made, at[b.to].Passes)
		b.to++
	}
	b.volts = Interval{at[first].Position - s.width/2, at[b.to-1].Position + s.width/2}
	b.factor = float64(b.cells()) / sum
	return b
}

// zone is the finding that a band makes, if it makes one.
func (s *slowSearch) zone(b slowBand) (f Finding, ok bool) {
	if !s.isPlace(b) || s.chance(b) > 0.05 || s.sealed(b) {
		return f, false
	}
	f = Finding{
		Kind: SlowZone, Direction: s.p.Direction, Tie: TiedToPosition,
		Volts: b.volts, Seen: b.passes, Passes: b.made,
	}
	f.TieP = math.Pow(math.Min(0.5, math.Max(b.volts.Width()/s.span.Width(), 0.02)), float64(max(0, b.passes-1)))
	f.Strength = 1 - math.Exp(-float64(b.cells()*b.passes)*(1-b.factor))
	if b.passes < 2 {
		f.Strength *= 0.7
		// A place is left again. What lasts to where the only pass ends may hang on
		// the place, on the time or on a control that slows down (half as much is
		// chosen, not derived).
		if !speedsUpBeyond(s.p, b.from, b.to, s.width, s.most*s.nominal) {
			f.Strength *= 0.5
		}
	}
	// A spring, a weight or the air that slows one direction pushes the
	// other: only friction takes from both, or from one and gives nothing.
	switch back := s.relativeRate(s.prof[1-side(s.p.Direction)], b.volts); {
	case math.IsNaN(back):
		f.Strength *= 0.7
	case s.intoStop(b): // a seal pushes back as well
	case back > 1+pushedBack(b.factor)*(1-b.factor), s.overCentre(s.p, b.volts, b.factor):
		return f, false
	}
	f.Event = s.eventAt("slow", b.volts, coarsePlace)
	f.Time, f.Places = s.visitsDirection(b.volts, s.p.Direction)
	f.Measures = []Measure{{MeasureSpeedThere, b.factor, ""}, {"width", b.volts.Width(), s.unit()}}
	return f, true
}

// isPlace leaves out bands that are a stand, a late row or a hitch.
func (s *slowSearch) isPlace(b slowBand) bool {
	switch n := b.cells(); {
	case b.factor < 0.08:
		// What hardly moves at all is a stand or a loss, not a slow place.
		return false
	case b.volts.Width() < 4*s.nominal*b.factor*s.tr.Step:
		// Two rows tell a speed, and the two beside them that it was another: a band
		// that is left sooner is a row that came late.
		return false
	case n*b.passes < 2:
		// One narrow cell of one pass is a hitch, not a zone,
		return false
	case n == 1 && b.factor > 0.45:
		// and so is one that is a little slow, unless it is so in each pass of
		// both ways.
		return s.catchesBothWays(b.volts.Mid(), s.most)
	}
	return true
}

// chance is how probably a band comes about where the control turns its speed
// down here and there, other passes being as slow as often: that puts a few of
// them in one place, but seldom both ways. A band that chance makes in one
// capture of twenty tells less than the table credits it with.
func (s *slowSearch) chance(b slowBand) float64 {
	share := s.slowShare(b.volts, s.most)
	chance := float64(len(s.p.Points)/b.cells()) * stats.BinomialTail(b.passes, b.made, share)
	if back := s.prof[1-side(s.p.Direction)]; back != nil {
		seen, of := 0, 0
		for _, q := range back.Points {
			if k := slowPasses(q, s.most*s.typicalRate(back)); b.volts.Has(q.Position) && k*of >= seen*q.Passes {
				seen, of = k, q.Passes
			}
		}
		chance *= stats.BinomialTail(seen, of, share)
	}
	return chance
}

// speedsUpBeyond tells whether the shaft, past the cells [from, to) of a profile, was seen
// at its usual speed again, in the next cell or in the one after.
func speedsUpBeyond(p *Profile, from, to int, width, usual float64) bool {
	for k := range 2 {
		i, last := to+k, to-1
		if p.Direction == Down {
			i, last = from-1-k, from
		}
		if i < 0 || i >= len(p.Points) || math.Abs(p.Points[i].Position-p.Points[last].Position) > 2.5*width {
			break
		}
		if p.Points[i].Rate >= usual {
			return true
		}
	}
	return false
}

// pushedBack is the least share of what a spring or a weight takes from one direction
// that it gives the other. A gear that hardly turns when it is pushed lets little of a
// push through, so it is well below one; a band that costs more than half of the speed is
// more than a healthy door's spring takes, and has to show the push the plainer (both
// shares are chosen, not derived).
func pushedBack(factor float64) float64 {
	if factor > 0.5 {
		return 0.3
	}
	return 0.4
}

// overCentre tells whether a band slow in one direction is one side of a spring's or a
// cam's dead point: beyond it, on its other side, the other direction is slow as well, and
// on either side the direction that runs away from the dead point is pushed. How much
// faster it gets is little where the motor runs near its no-load speed already.
//
// A spring that draws the door to a middle place does the same the other way round: either
// direction is slow past that place. What it takes it gives back, so that it takes as much
// on either side; a gear that hardly turns when it is pushed shows no more of what it gives
// than that nothing is taken there.
func (w *work) overCentre(p *Profile, band Interval, factor float64) bool {
	const (
		pushed = 0.15 // of what the other direction loses
		apart  = 0.1  // of the span: play between shaft and door sets one friction as far apart as it is wide (chosen)
		free   = 0.75 // least share of the loss that the direction that is let through does not have (chosen)
	)
	back := w.prof[1-side(p.Direction)]
	if back == nil {
		return false
	}
	here, wide, most := w.relativeRate(back, band), band.Width(), 0.33*w.span.Width()
	end := 2 * w.lim.EndZone * w.span.Width() // seals and stops take on their own
	// As wide as the band, up to a third of the travel further on, or before.
	for by := wide; by < wide+most; by += 0.25 * wide {
		on := by * float64(p.Direction)
		there := Interval{band.From + on, band.To + on}
		own, other := w.relativeRate(p, there), w.relativeRate(back, there)
		if here > 1+pushed*(1-factor) && other < 1-0.5*(1-factor) && own > 1+pushed*(1-other) {
			return true
		}
		there = Interval{band.From - on, band.To - on}
		own, other = w.relativeRate(p, there), w.relativeRate(back, there)
		if by < apart*w.span.Width() || there.From < w.span.From+end || there.To > w.span.To-end {
			continue
		}
		if here > 1-(1-free)*(1-factor) && other < 1-0.5*(1-factor) && own > 1-(1-free)*(1-other) {
			return true
		}
	}
	return false
}

// relativeRate is the median rate of a profile over a band, over its typical
// rate; NaN where nothing passed.
func (w *work) relativeRate(p *Profile, band Interval) float64 {
	if p == nil || len(p.Points) < 5 {
		return math.NaN()
	}
	var r []float64
	for _, q := range p.Points {
		if band.Has(q.Position) {
			r = append(r, q.Rate)
		}
	}
	return medianOf(r) / w.typicalRate(p) // NaN for none
}

// slowPasses counts the passes of a cell slower than the limit.
func slowPasses(q ProfilePoint, limit float64) int {
	n := 0
	for _, r := range q.rates {
		if r < limit {
			n++
		}
	}
	return n
}

// slowShare is the share of passes, both ways, outside a band and its
// neighbour cells that are slower than a share of the usual rate. Cells that
// every pass crosses slowly are places of their own and do not count.
func (w *work) slowShare(band Interval, most float64) float64 {
	edge := 0.5 * band.Width()
	slow, made := 0, 0
	for _, p := range w.prof {
		if p == nil {
			continue
		}
		limit := most * w.typicalRate(p)
		for _, q := range p.Points {
			if q.Position > band.From-edge && q.Position < band.To+edge {
				continue
			}
			if n := slowPasses(q, limit); n < q.Passes || n == 0 {
				slow += n
				made += q.Passes
			}
		}
	}
	return float64(slow) / math.Max(1, float64(made))
}

// typicalRate is the usual rate of a profile's cells, end zones left out: the
// median, or that of the faster part where the cells fall into two groups.
func (w *work) typicalRate(p *Profile) float64 {
	var r []float64
	for _, q := range p.Points {
		if q.Position > w.span.From+w.lim.EndZone*w.span.Width() && q.Position < w.span.To-w.lim.EndZone*w.span.Width() {
			r = append(r, q.Rate)
		}
	}
	if len(r) == 0 {
		return 0
	}
	m, fast := medianOf(r), quantileOf(r, 0.85)
	if m > 0.7*fast {
		return m
	}
	// Half of the way is slow: the motor's own pace is that of the rest.
	var rest []float64
	for _, x := range r {
		if x > (m+fast)/2 {
			rest = append(rest, x)
		}
	}
	return medianOf(rest)
}

// mergeSlowZones makes one finding of the same band slow in both directions.
func (w *work) mergeSlowZones() {
	out := w.found[:0]
	for _, f := range w.found {
		merged := false
		if f.Kind == SlowZone {
			for i := range out {
				g := &out[i]
				if g.Kind == SlowZone && g.Direction != f.Direction && g.Volts.Overlaps(f.Volts) {
					g.countBothWays(&f)
					g.Volts = Interval{(g.Volts.From + f.Volts.From) / 2, (g.Volts.To + f.Volts.To) / 2}
					g.Places = append(g.Places, f.Places...)
					sort.SliceStable(g.Places, func(a, b int) bool { return g.Places[a].Time.From < g.Places[b].Time.From })
					g.Strength = 1 - (1-g.Strength)*(1-f.Strength)
					g.Time = g.Time.widen(f.Time.From).widen(f.Time.To)
					merged = true
					break
				}
			}
		}
		if !merged {
			out = append(out, f)
		}
	}
	w.found = out
}

func (w *work) visitsDirection(band Interval, d Direction) (Interval, []Occurrence) {
	_, all := w.visits(band)
	r := noInterval()
	var out []Occurrence
	for _, o := range all {
		if o.Direction == d {
			out = append(out, o)
			r = r.widen(o.Time.From).widen(o.Time.To)
		}
	}
	if len(out) == 0 {
		return Interval{}, nil
	}
	return r, out
}

// catchesBothWays tells whether the cell of a place is slow in each pass of either way,
// and in four or more: what catches the shaft there for a moment is less than a cell
// wide, and whatever else makes one cell slow (a late row, a knock) comes where it likes.
func (w *work) catchesBothWays(place, most float64) bool {
	total := 0
	for _, q := range w.prof {
		if q == nil {
			return false
		}
		best := math.Inf(1)
		var cell ProfilePoint
		for _, c := range q.Points {
			if far := math.Abs(c.Position - place); far < best {
				best, cell = far, c
			}
		}
		limit := most * w.typicalRate(q)
		if cell.Passes < 2 || slowPasses(cell, limit) < cell.Passes || cell.Rate > limit {
			return false
		}
		total += cell.Passes
	}
	return total >= 4
}
