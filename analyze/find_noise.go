package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/analyze/stats"
)

// findNoisyTrack reports bands of the track whose readings scatter more than
// the rest while the shaft passes, pass after pass. The measure is the second
// difference of the readings, which a steady motion does not touch.
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
		worst     int     // bin of the largest second difference
		most      float64 // and its size
	}
	// Losses that belong to no place say nothing about the track, and openings
	// at a place have been told.
	skip := make([]bool, len(w.v))
	for _, f := range w.found {
		if f.Kind == Dropouts || f.Kind == DeadSpot && f.departs() > 0.1*w.ref {
			for _, o := range f.Places {
				for i := max(0, indexAt(w.t, o.Time.From)-2); i < len(skip) && w.t[i] <= o.Time.To+2*w.tr.Step; i++ {
					skip[i] = true
				}
			}
		}
	}
	// Where rows are missing the next reading lies far on, which is no noise.
	for i := 1; i < len(w.t); i++ {
		if w.t[i]-w.t[i-1] > 2*w.tr.Step {
			for b := max(0, i-2); b < min(len(skip), i+2); b++ {
				skip[b] = true
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
		var win sortedWindow
		for i := m.first + 1; i+1 < m.last; i++ {
			// A start is a corner too.
			if skip[i] || w.t[i]-m.Time.From < w.lim.StallSeconds {
				continue
			}
			a, b := max(m.first, i-h), min(m.last, i+h+1)
			mid := win.median(w.v, a, b)
			// Where a drive begins or ends on the way the reading has a corner;
			// at a stop it is the end of the track that is looked at.
			if m.Stalled == 0 && math.Abs(mid-m.End) < width || math.Abs(mid-m.Start) < width && m.Start > reach.From+0.06*span && m.Start < reach.To-0.06*span {
				continue
			}
			c := int(math.Floor((mid - reach.From) / width))
			if c < 0 || c >= cells {
				continue
			}
			d2 := w.v[i+1] - 2*w.v[i] + w.v[i-1]
			pass[k][c].sum += d2 * d2
			pass[k][c].n++
			if a := math.Abs(d2); a > pass[k][c].most {
				pass[k][c].most, pass[k][c].worst = a, i
			}
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
			if limit := base * (2.5 + 6/math.Sqrt(float64(a.n))); rms > limit {
				grid[c].seen[d]++
				// One reading that is off shows in three second differences.
				rest := a.sum
				for i := a.worst - 1; i <= a.worst+1; i++ {
					if i > 0 && i+1 < len(w.v) {
						d2 := w.v[i+1] - 2*w.v[i] + w.v[i-1]
						rest -= d2 * d2
					}
				}
				// Where a track ends the reading leaps and stays: that is no stray.
				before, stray, after := w.v[a.worst-1], w.v[a.worst], w.v[a.worst+1]
				way := 3 * r * w.tr.Step // the shaft's own in two rows, and half as much
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
		g := &grid[c]
		faint, made := g.faint[0]+g.faint[1], g.made[0]+g.made[1]
		rms := math.Sqrt(g.sum / math.Max(1, float64(g.n)))
		if seen := g.seen[0] + g.seen[1]; seen < faint && faint >= 3 && 4*faint >= 3*made && rms > base*math.Max(2.2, 1.3+6/math.Sqrt(float64(g.n))) && rms > heavy &&
			// At a stop the arrival is a corner between two rows.
			float64(c)*width > 0.06*span && float64(c+1)*width < 0.94*span {
			g.seen = g.faint
			g.rough = math.Max(g.rough, rms)
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
		g := grid[c]
		if n, m := g.seen[0]+g.seen[1], g.made[0]+g.made[1]; n == 0 || 3*n < 2*m {
			continue
		}
		last := c
		clear := g.seen[0] + g.seen[1] - g.lone // passes rough by more than one reading
		wide := 1
		for last+1 < cells {
			g2 := grid[last+1]
			if n, m := g2.seen[0]+g2.seen[1], g2.made[0]+g2.made[1]; n == 0 || 2*n < m {
				break
			}
			last++
			clear = max(clear, g2.seen[0]+g2.seen[1]-g2.lone)
			wide++
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
		// Single readings that are off come anywhere; how often they do outside
		// tells the chance that so many passes have one in some band as wide.
		if clear <= 0 {
			each := 1 - math.Pow(1-float64(lone+1)/float64(made+2), float64(wide))
			if float64(cells)*stats.BinomialTail(f.Seen, f.Passes, each) > w.lim.Significance {
				continue
			}
		}
		// A loose contact scratches here and there: twice in one place is chance.
		if f.Seen <= 2 && w.loose() || w.looseAtRest() && 5*f.Seen < 4*f.Passes {
			continue
		}
		f.Event = fmt.Sprintf("track %.2f", f.Volts.Mid())
		f.TieP = math.Pow(math.Max(0.02, f.Volts.Width()/span), float64(max(0, f.Seen-1)))
		f.Strength = 1 - math.Exp(-float64(f.Seen)*math.Log(g.rough/base))
		if f.Seen < 2 {
			f.Strength *= 0.6
		}
		f.Time, f.Places = w.visits(f.Volts)
		// Where the contact opens the reading slides, and no row tells the edge.
		if g.peak < 0.1*w.ref {
			f.Volts = w.noiseEdges(f.Volts, width, base)
		}
		f.Measures = []Measure{
			{"roughness over the rest of the track", g.rough / base, "times"},
			{"largest departure", g.peak, w.unit()},
			{"output smoothness", 100 * g.peak / w.ref, "% of reference"},
		}
		f.Measures = append(f.Measures, waysOf(g.seen, g.made)...)
		w.found = append(w.found, f)
	}
}

// departs is how far the reading left the track, in V.
func (f *Finding) departs() float64 {
	v, _ := f.Measure("departure")
	return v
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
		i, _ := slices.BinarySearch(s.x[:s.n], v[s.a])
		copy(s.x[i:], s.x[i+1:s.n])
		s.n--
	}
	for ; s.b < b; s.b++ {
		i, _ := slices.BinarySearch(s.x[:s.n], v[s.b])
		copy(s.x[i+1:s.n+1], s.x[i:s.n])
		s.x[i] = v[s.b]
		s.n++
	}
	return s.x[s.n/2]
}
