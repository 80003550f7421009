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
	span := w.span.Width()
	for _, p := range w.prof {
		if p == nil || len(p.Points) < 5 {
			continue
		}
		width := math.Inf(1) // cells without a pass are missing: the least gap is one cell
		for i := 1; i < len(p.Points); i++ {
			width = math.Min(width, p.Points[i].Position-p.Points[i-1].Position)
		}
		nominal := w.typicalRate(p)
		// The usual unevenness of this actuator, from one cell to the next: a
		// wide slow band must not count as unevenness.
		var dev []float64
		for i := 1; i < len(p.Points); i++ {
			dev = append(dev, math.Abs(p.Points[i].Rate-p.Points[i-1].Rate))
		}
		scatter := stats.MADScale / math.Sqrt2 * medianOf(dev)
		// The speed that a load costs grows as the drive's volts fall.
		most := w.lim.Slow
		if !w.tr.DriveIsPolarity && w.d.amp < 12 && w.d.amp > 5 {
			most = 1 - (1-most)*12/w.d.amp
		}
		slow := func(q ProfilePoint) bool {
			if q.Position < w.span.From+w.lim.EndZone*span || q.Position > w.span.To-w.lim.EndZone*span {
				return false
			}
			for _, f := range w.found {
				if f.Kind == DeadSpot && q.Position > f.Volts.From-width && q.Position < f.Volts.To+width {
					return false
				}
			}
			return q.Rate < most*nominal && q.Rate < nominal-4*scatter && 10*slowPasses(q, most*nominal) >= 7*q.Passes
		}
		for i := 0; i < len(p.Points); i++ {
			if !slow(p.Points[i]) {
				continue
			}
			j, sum, passes, made := i, 0.0, 0, 0
			for j < len(p.Points) && slow(p.Points[j]) && (j == i || p.Points[j].Position-p.Points[j-1].Position < 1.5*width) {
				sum += nominal / p.Points[j].Rate
				passes = max(passes, slowPasses(p.Points[j], most*nominal))
				made = max(made, p.Points[j].Passes)
				j++
			}
			n := j - i
			f := Finding{
				Kind: SlowZone, Direction: p.Direction, Tie: TiedToPosition,
				Volts: Interval{p.Points[i].Position - width/2, p.Points[j-1].Position + width/2},
				Seen:  passes, Passes: made,
			}
			i = j
			factor := float64(n) / sum
			// What hardly moves at all is a stand or a loss, not a slow place.
			if factor < 0.08 {
				continue
			}
			// Two rows tell a speed, and the two beside them that it was another: a band
			// that is left sooner is a row that came late.
			if f.Volts.Width() < 4*nominal*factor*w.tr.Step {
				continue
			}
			// One narrow cell of one pass is a hitch, not a zone; nor is one that is
			// a little slow, unless it is so in each pass of both ways.
			if n*passes < 2 || n == 1 && factor > 0.45 && !w.catchesBothWays(f.Volts.Mid(), most) {
				continue
			}
			f.TieP = math.Pow(math.Min(0.5, math.Max(f.Volts.Width()/span, 0.02)), float64(max(0, passes-1)))
			f.Strength = 1 - math.Exp(-float64(n*passes)*(1-factor))
			// Where other passes are as slow here and there, the control turns
			// its speed down: chance puts a few of them in one place, but seldom
			// both ways. A band that chance makes in one capture of twenty tells
			// less than the table credits it with.
			share := w.slowShare(f.Volts, most)
			chance := float64(len(p.Points)/n) * stats.BinomialTail(passes, made, share)
			if back := w.prof[1-side(p.Direction)]; back != nil {
				seen, of := 0, 0
				for _, q := range back.Points {
					if k := slowPasses(q, most*w.typicalRate(back)); f.Volts.Has(q.Position) && k*of >= seen*q.Passes {
						seen, of = k, q.Passes
					}
				}
				chance *= stats.BinomialTail(seen, of, share)
			}
			if chance > 0.05 {
				continue
			}
			if passes < 2 {
				f.Strength *= 0.7
				// A place is left again. What lasts to where the only pass ends may hang on
				// the place, on the time or on a control that slows down (half as much is
				// chosen, not derived).
				if !speedsUpBeyond(p, j-n, j, width, most*nominal) {
					f.Strength *= 0.5
				}
			}
			// Seals and padded stops slow a healthy door over the last of its way:
			// some millimetres of foam on a flap of a hand's width that turns by a
			// right angle or less are a twelfth of the travel at most, and a motor
			// that is to press them home has half of its torque left (common
			// practice, no source).
			into := f.Volts.To > w.span.To-2*w.lim.EndZone*span && f.Volts.From > w.span.To-0.2*span
			if p.Direction == Down {
				into = f.Volts.From < w.span.From+2*w.lim.EndZone*span && f.Volts.To < w.span.From+0.2*span
			}
			// Leaving the stop the seals still drag, and the motor gets up to speed.
			from := f.Volts.From < w.span.From+2*w.lim.EndZone*span && f.Volts.To < w.span.From+0.15*span
			if p.Direction == Down {
				from = f.Volts.To > w.span.To-2*w.lim.EndZone*span && f.Volts.From > w.span.To-0.15*span
			}
			depth := w.span.To - f.Volts.From
			if p.Direction == Down {
				depth = f.Volts.To - w.span.From
			}
			// A line through the last rows before the stop mixes the stand there in, as far
			// as the shaft goes in half of them, and the stand itself scatters.
			if into && depth < w.visible()+0.5*float64(w.window)*w.tr.Step*nominal {
				continue
			}
			if into && factor > 0.15 && !(factor < 0.55 || depth > sealDepth*math.Max(span, w.usualTravel()) && factor < 0.6) || from && factor > 0.4 {
				continue
			}
			// A spring, a weight or the air that slows one direction pushes the
			// other: only friction takes from both, or from one and gives nothing.
			switch back := w.relativeRate(w.prof[1-side(p.Direction)], f.Volts); {
			case math.IsNaN(back):
				f.Strength *= 0.7
			case into: // a seal pushes back as well
			case back > 1+pushedBack(factor)*(1-factor), w.overCentre(p, f.Volts, factor):
				continue
			}
			f.Event = w.eventAt("slow", f.Volts, coarsePlace)
			f.Time, f.Places = w.visitsDirection(f.Volts, p.Direction)
			f.Measures = []Measure{{MeasureSpeedThere, factor, ""}, {"width", f.Volts.Width(), w.unit()}}
			w.found = append(w.found, f)
		}
	}
	w.mergeSlowZones()
	w.findBentLine()
	w.findTwoSlopes()
	w.findBentPlaces()
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

// sealDepth is the share of a usual travel over which the seals of a healthy
// door give at most.
const sealDepth = 1.0 / 12

// usualTravel is the travel, in V, of an actuator that uses most of its sensor's
// supply: a door of short travel has seals as thick.
func (w *work) usualTravel() float64 { return usualShare * w.ref }

// usualShare is the share of its supply that such a sensor uses.
const usualShare = 0.8

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

// overCentre tells whether a band slow in one direction is the way up to the dead
// point of a spring: beyond it, on its other side, the other direction is slow as
// well, and on either side the direction that runs away from the dead point is
// pushed. How much faster it gets is little where the motor runs near its no-load
// speed already.
func (w *work) overCentre(p *Profile, band Interval, factor float64) bool {
	const pushed = 0.15 // of what the other direction loses
	back := w.prof[1-side(p.Direction)]
	if back == nil || !(w.relativeRate(back, band) > 1+pushed*(1-factor)) {
		return false
	}
	// As wide as the band, up to a third of the travel further on.
	for k := 1.0; k < 1+0.33*w.span.Width()/band.Width(); k += 0.25 {
		by := k * float64(p.Direction) * band.Width()
		there := Interval{band.From + by, band.To + by}
		if own, other := w.relativeRate(p, there), w.relativeRate(back, there); other < 1-0.5*(1-factor) && own > 1+pushed*(1-other) {
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
					g.Direction = None
					g.Seen += f.Seen
					g.Passes += f.Passes
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
