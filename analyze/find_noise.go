package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/analyze/stats"
)

// findNoisyTrack reports bands of the track whose readings scatter more than
// the rest while the shaft passes, pass after pass. The measure is the second
// difference of the readings, which a steady motion does not touch: from row to
// row, and of means over as many rows as the shaft takes for a small share of
// the travel, where an instrument's own noise is averaged out and the grain of
// the track, which belongs to places, is left.
func (w *work) findNoisyTrack() {
	// A worn end may lie beyond what was tracked: go as far as moves ended.
	reach := w.span
	for k := range w.moves {
		m := &w.moves[k]
		for _, v := range []float64{m.Start, m.End} {
			if rail := w.opt.RailBand * w.ref; v > rail && v < w.ref-rail && v > w.span.From-0.5*w.span.Width() && v < w.span.To+0.5*w.span.Width() {
				reach = reach.widen(v)
			}
		}
	}
	r := math.Max(w.rate[0], w.rate[1])
	if !(reach.Width() > 0) || r == 0 {
		return
	}
	rows := w.rows()
	w.noisyBands(rows, reach)
	// The smoothness of a potentiometer is told for pieces of one percent of
	// the travel (VRCI-P-100A, from memory): three blocks make one.
	last := 1
	for _, share := range []float64{1. / 1600, 1. / 800, 1. / 400, 1. / 200} {
		if n := int(share * w.span.Width() / (r * w.tr.Step)); n >= 2 && n > last {
			w.noisyBands(w.blocks(rows, n), reach)
			last = n
		}
	}
}

// noisyBands looks for the bands at one grain.
func (w *work) noisyBands(g grain, reach Interval) {
	span := reach.Width()
	r := math.Max(w.rate[0], w.rate[1])
	width := roughWidth(span, r*g.step)
	cells := int(span / width)
	if cells < 5 {
		return
	}
	width = span / float64(cells)
	type acc struct {
		sum, peak float64
		n         int
		worst     int     // bin of the largest second difference
		most      float64 // and its size
	}
	pass := make([][]acc, len(w.moves))
	var all []float64
	byPlace := make([][]float64, cells)
	for k := range w.moves {
		m := &w.moves[k]
		from, to := g.bins(m)
		if m.Moving == 0 || to-from < 5 {
			continue
		}
		pass[k] = make([]acc, cells)
		h := max(1, w.window/2/g.block)
		var win sortedWindow
		for i := from + 1; i+1 < to; i++ {
			// A start is a corner too.
			if g.skip[i] || g.t[i]-m.Time.From < w.lim.StallSeconds {
				continue
			}
			a, b := max(from, i-h), min(to, i+h+1)
			mid := win.median(g.v, a, b)
			// Where a drive begins or ends on the way the reading has a corner;
			// at a stop it is the end of the track that is looked at.
			if m.Stalled == 0 && math.Abs(mid-m.End) < width || math.Abs(mid-m.Start) < width && m.Start > reach.From+0.06*span && m.Start < reach.To-0.06*span {
				continue
			}
			c := int(math.Floor((mid - reach.From) / width))
			if c < 0 || c >= cells {
				continue
			}
			d2 := g.v[i+1] - 2*g.v[i] + g.v[i-1]
			pass[k][c].sum += d2 * d2
			pass[k][c].n++
			if a := math.Abs(d2); a > pass[k][c].most {
				pass[k][c].most, pass[k][c].worst = a, i
			}
			pass[k][c].peak = math.Max(pass[k][c].peak, math.Abs(g.v[i]-mid))
		}
		for c, a := range pass[k] {
			if a.n >= 3 {
				rough := math.Sqrt(a.sum / float64(a.n))
				all, byPlace[c] = append(all, rough), append(byPlace[c], rough)
			}
		}
	}
	if len(all) < 8 {
		return
	}
	// Each place counts once, however often it was passed: requests may go to and
	// fro over a rough stretch and leave the rest of the track once.
	var places []float64
	for _, x := range byPlace {
		if len(x) > 0 {
			places = append(places, medianOf(x))
		}
	}
	base := math.Max(math.Min(medianOf(all), medianOf(places)), math.Sqrt(6/float64(g.block))*w.noise*0.7)
	base = math.Max(base, w.quantum/math.Sqrt(float64(g.block)))
	if g.block > 1 {
		// A converter's steps come back with every pass, and the smoothness of a
		// sound track is 0.1 % of the supply (Bourns, "Output Smoothness"): half
		// of that to either side, against a limit of at least 2.5 times the base.
		base = math.Max(base, math.Max(w.quantum/4, math.Sqrt(6)/2.5*0.0005*w.ref))
		// Without noise to spread it over the codes a mean is off by up to half
		// a step, evenly: 0.29 steps rms, 0.7 for a second difference.
		if w.noise < 0.5*w.quantum {
			base = math.Max(base, 0.7*w.quantum)
		}
	}
	type cell struct {
		seen, made [2]int
		rough      float64
		peak       float64

		lone  int     // passes rough by one reading alone
		faint [2]int  // passes somewhat rougher than the base
		sum   float64 // of squares, all passes
		n     int
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
			grid[c].sum += a.sum
			grid[c].n += a.n
			if rms > 1.6*base {
				grid[c].faint[d]++
			}
			// n second differences of clean noise exceed three times the base
			// with a chance far below 1e-6 for n >= 3; short cells need more.
			if limit := roughLimit(base, float64(a.n)); rms > limit {
				grid[c].seen[d]++
				// One reading that is off shows in three second differences.
				rest := a.sum
				for i := a.worst - 1; i <= a.worst+1; i++ {
					if i > 0 && i+1 < len(g.v) {
						d2 := g.v[i+1] - 2*g.v[i] + g.v[i-1]
						rest -= d2 * d2
					}
				}
				// Where a track ends the reading leaps and stays: that is no stray.
				before, stray, after := g.v[a.worst-1], g.v[a.worst], g.v[a.worst+1]
				way := 3 * r * g.step // the shaft's own in two rows, and half as much
				returns := 2*(math.Abs(after-before)-way) < math.Abs(stray-(before+after)/2)
				if returns && rest <= limit*limit*float64(max(1, a.n-3)) {
					grid[c].lone++
				}
				grid[c].rough = math.Max(grid[c].rough, rms)
				grid[c].peak = math.Max(grid[c].peak, a.peak)
			}
		}
	}
	// Where few readings fall into one pass, passes count together: all of
	// them faintly rough, and their pooled roughness beyond chance (of n second
	// differences two fifths are independent, so six deviations are 6/sqrt(n)).
	// Where the tails of the noise are heavy, many places look faintly rough.
	var rough []float64
	for c := range grid {
		if grid[c].n > 0 {
			rough = append(rough, math.Sqrt(grid[c].sum/float64(grid[c].n)))
		}
	}
	heavy := 2 * quantileOf(rough, 0.65)
	for c := range grid {
		q := &grid[c]
		faint, made := q.faint[0]+q.faint[1], q.made[0]+q.made[1]
		rms := math.Sqrt(q.sum / math.Max(1, float64(q.n)))
		if seen := q.seen[0] + q.seen[1]; seen < faint && faint >= 3 && 4*faint >= 3*made && rms > base*math.Max(2.2, 1.3+6/math.Sqrt(float64(q.n))) && rms > heavy &&
			// At a stop the arrival is a corner between two rows.
			float64(c)*width > 0.06*span && float64(c+1)*width < 0.94*span {
			q.seen = q.faint
			q.rough = math.Max(q.rough, rms)
		}
	}
	lone, made := 0, 0
	for c := range grid {
		// Where most passes have one it is a place.
		if m := grid[c].made[0] + grid[c].made[1]; m >= 3 && 3*grid[c].lone >= 2*m {
			continue
		}
		lone += grid[c].lone
		made += grid[c].made[0] + grid[c].made[1]
	}
	for c := 0; c < cells; c++ {
		q := grid[c]
		if n, m := q.seen[0]+q.seen[1], q.made[0]+q.made[1]; n == 0 || 3*n < 2*m {
			continue
		}
		last := c
		clear := q.seen[0] + q.seen[1] - q.lone // passes rough by more than one reading
		wide := 1
		for last+1 < cells {
			q2 := grid[last+1]
			if n, m := q2.seen[0]+q2.seen[1], q2.made[0]+q2.made[1]; n == 0 || 2*n < m {
				break
			}
			last++
			clear = max(clear, q2.seen[0]+q2.seen[1]-q2.lone)
			wide++
			q.rough = math.Max(q.rough, q2.rough)
			q.peak = math.Max(q.peak, q2.peak)
			for d := range q.seen {
				q.seen[d] = max(q.seen[d], q2.seen[d])
				q.made[d] = max(q.made[d], q2.made[d])
			}
		}
		f := Finding{
			Kind: NoisyTrack, Tie: TiedToPosition,
			Volts: Interval{reach.From + float64(c)*width, reach.From + float64(last+1)*width},
			Seen:  q.seen[0] + q.seen[1], Passes: q.made[0] + q.made[1], Direction: oneDirection(q.seen),
		}
		c = last
		// Where a shaft springs over a centre it does so one way, or elsewhere.
		if g.block > 1 && (w.told(f.Volts) || f.Direction != None) {
			continue
		}
		// Single readings that are off come anywhere; how often they do outside
		// tells the chance that so many passes have one in some band as wide.
		if clear <= 0 {
			each := 1 - math.Pow(1-float64(lone+1)/float64(made+2), float64(wide))
			if float64(cells)*stats.BinomialTail(f.Seen, f.Passes, each) > w.lim.Significance {
				continue
			}
		}
		if w.bridgedAlike(f.Volts) {
			continue
		}
		// A loose contact scratches here and there: twice in one place is chance.
		if f.Seen <= 2 && w.loose() || w.looseAtRest() && 5*f.Seen < 4*f.Passes {
			continue
		}
		f.Event = fmt.Sprintf("track %.2f", f.Volts.Mid())
		// A dead spot there is the same place.
		around := Interval{f.Volts.From - width, f.Volts.To + width}
		if k := slices.IndexFunc(w.found, func(d Finding) bool { return d.Kind == DeadSpot && d.Volts.Overlaps(around) }); k >= 0 {
			f.Event = w.found[k].Event
		}
		f.TieP = math.Pow(math.Max(0.02, f.Volts.Width()/span), float64(max(0, f.Seen-1)))
		f.Strength = 1 - math.Exp(-float64(f.Seen)*math.Log(q.rough/base))
		if f.Seen < 2 {
			f.Strength *= 0.6
		}
		f.Time, f.Places = w.visits(f.Volts)
		// Where the contact opens the reading slides, and no row tells the edge.
		if q.peak < 0.1*w.ref {
			f.Volts = w.noiseEdges(f.Volts, width, base)
		}
		f.Measures = []Measure{
			{"roughness over the rest of the track", q.rough / base, "times"},
			{"largest departure", q.peak, w.unit()},
			{"output smoothness", 100 * q.peak / w.ref, "% of reference"},
		}
		f.Measures = append(f.Measures, waysOf(q.seen, q.made)...)
		if g.block > 1 {
			// Means over as many rows that differ by less than the shaft goes meanwhile.
			f.Measures = append(f.Measures, Measure{scatterAsSpeed, q.rough / (g.step * r), "of the usual speed"})
		}
		w.found = append(w.found, f)
	}
}

// scatterAsSpeed is the measure of a noisy track by how much the shaft's speed would
// have to change to make it.
const scatterAsSpeed = "scatter as a change of speed"

// bridgedAlike tells whether the readings as logged scatter outside the band much
// as within: where interference was bridged all along the way, the places where
// that did not succeed are no places of the track.
func (w *work) bridgedAlike(band Interval) bool {
	var sum, n [2]float64 // outside and within
	bridged := 0.0
	for i, tracks := range w.tracks() {
		if !tracks {
			continue
		}
		in := 0
		if band.Has(w.smooth[i]) {
			in = 1
		} else if w.raw[i] != w.v[i] {
			bridged++
		}
		off := w.raw[i] - w.smooth[i]
		sum[in] += off * off
		n[in]++
	}
	// One reading in ten is far more than spikes are.
	return bridged > 0.1*n[0] && n[1] > 0 && sum[1]/n[1] < 2*sum[0]/n[0]
}

// departs is how far the reading left the track, in V.
func (f *Finding) departs() float64 {
	v, _ := f.Measure("departure")
	return v
}

// amountOf is a measure with its unit, in words.
func (f *Finding) amountOf(measure string) string {
	for _, m := range f.Measures {
		if m.Name == measure {
			return amount(m.Value, m.Unit)
		}
	}
	return ""
}

// visits lists when the feedback passed through a band under drive.
func (w *work) visits(band Interval) (Interval, []Occurrence) {
	all := Interval{math.Inf(1), math.Inf(-1)}
	var out []Occurrence
	for k := range w.moves {
		if o, ok := w.visitIn(&w.moves[k], band); ok {
			out = append(out, o)
			all = all.widen(o.Time.From).widen(o.Time.To)
		}
	}
	if len(out) == 0 {
		return Interval{}, nil
	}
	return all, out
}

// visitIn tells when the feedback passed through a band in one move.
func (w *work) visitIn(m *Move, band Interval) (Occurrence, bool) {
	a, b := -1, -1
	for i := m.first; i < m.last; i++ {
		if band.Has(w.v[i]) {
			if a < 0 {
				a = i
			}
			b = i
		}
	}
	if a < 0 || b <= a {
		return Occurrence{}, false
	}
	return Occurrence{Interval{w.t[a], w.t[b]}, band, m.Direction}, true
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

// sortedWindow is a short window that moves forward along a series, so that
// the median at the next place costs a step and not a sort. The zero value is
// empty.
type sortedWindow struct {
	a, b int // of the series
	n    int
	x    [64]float64
}

// median is that of v[a:b], or of its middle where that is too long.
func (s *sortedWindow) median(v []float64, a, b int) float64 {
	if over := b - a - len(s.x); over > 0 {
		a += over / 2
		b = a + len(s.x)
	}
	if a < s.a || b < s.b || a >= s.b {
		s.a, s.b, s.n = a, a, 0
	}
	for ; s.a < a; s.a++ {
		i := s.at(v[s.a])
		copy(s.x[i:], s.x[i+1:s.n])
		s.n--
	}
	for ; s.b < b; s.b++ {
		i := s.at(v[s.b])
		copy(s.x[i+1:s.n+1], s.x[i:s.n])
		s.x[i] = v[s.b]
		s.n++
	}
	return s.x[s.n/2]
}

// at is where v stands in the window, or would.
func (s *sortedWindow) at(v float64) int {
	lo, hi := 0, s.n
	for lo < hi {
		if m := (lo + hi) / 2; s.x[m] < v {
			lo = m + 1
		} else {
			hi = m
		}
	}
	return lo
}
