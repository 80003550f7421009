package analyze

import (
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
	rows := w.rowByRow()
	w.noisyBands(rows, reach)
	// The smoothness of a potentiometer is told for pieces of one percent of
	// the travel (VRCI-P-100A, from memory): three blocks make one.
	last, cycle := 1, w.humRows()
	if cycle > 0 { // a cycle of the hum is for a row then
		last = wholeCycles(max(2, int(math.Round(cycle))), cycle)
		w.noisyBands(w.blocks(rows, last, nil), reach)
	}
	for _, share := range []float64{1. / 1600, 1. / 800, 1. / 400, 1. / 200} {
		if n := int(share * w.span.Width() / (r * w.tr.Step)); n >= 2 && n > last {
			last = wholeCycles(n, cycle)
			w.noisyBands(w.blocks(rows, last, w.evenRunning(last)), reach)
		}
	}
}

// noisyBands looks for the bands at one grain.
func (w *work) noisyBands(g grain, reach Interval) {
	n := noiseMap{grain: g, reach: reach, speed: math.Max(w.rate[0], w.rate[1])}
	n.width = roughWidth(reach.Width(), n.speed*n.step)
	cells := int(reach.Width() / n.width)
	if cells < 5 {
		return
	}
	n.width = reach.Width() / float64(cells)
	n.passes = make([][]noisePass, len(w.moves))
	for k := range w.moves {
		n.passes[k] = w.noiseOfMove(&n, &w.moves[k], cells)
	}
	if !w.noiseBase(&n, cells) {
		return
	}
	n.cells = make([]noiseCell, cells)
	for k, p := range n.passes {
		n.addPass(p, side(w.moves[k].Direction))
	}
	n.poolFaint()
	lone := n.loneChance()
	for c := 0; c < cells; c++ {
		if !n.beginsBand(c) {
			continue
		}
		b := n.band(c)
		c = b.last
		if f, ok := w.noisyBand(&n, b, lone); ok {
			w.found = append(w.found, f)
		}
	}
}

// noiseMap is how much the readings scatter in the stretches of the track, at one
// grain.
type noiseMap struct {
	grain
	reach  Interval      // of the track, cut into the stretches
	width  float64       // of a stretch, V
	speed  float64       // of the shaft, in the faster direction, V/s
	passes [][]noisePass // by move and stretch, nil where the shaft did not travel
	base   float64       // second difference, rms, of readings where nothing is rough, V
	cells  []noiseCell   // by stretch, all passes together
}

// noisePass is the scatter in one stretch of the track while one move passes.
type noisePass struct {
	sum, peak float64 // of squared second differences; largest departure, V
	n         int
	worst     int     // bin of the largest second difference
	most      float64 // and its size
}

// rough is the second difference, rms, in V.
func (p *noisePass) rough() float64 { return math.Sqrt(p.sum / float64(p.n)) }

// tells tells whether enough readings fell into the stretch in this pass.
func (p *noisePass) tells() bool { return p.n >= 3 }

// noiseCell is the scatter in one stretch of the track in all passes.
type noiseCell struct {
	seen, made [2]int
	rough      float64
	peak       float64

	lone  int     // passes rough by one reading alone
	faint [2]int  // passes somewhat rougher than the base
	sum   float64 // of squares, all passes
	n     int
}

// noiseOfMove measures the scatter of one move in each stretch of the track.
func (w *work) noiseOfMove(n *noiseMap, m *Move, cells int) []noisePass {
	from, to := n.bins(m)
	if m.Moving == 0 || to-from < 5 {
		return nil
	}
	pass := make([]noisePass, cells)
	edge := 0.06 * n.reach.Width()
	// Where the motor stalls its own noise is larger, wherever that is.
	louder, stands := w.pressedNoise()/w.moving(), m.Time.To-m.Stalled-float64(w.window)*w.tr.Step
	h := max(1, w.window/2/n.block)
	away := w.spellsIn(m)
	var win sortedWindow
	for i := from + 1; i+1 < to; i++ {
		// A start is a corner too.
		if n.skip[i] || lapse(n.t[i], m.Time.From) < w.lim.StallSeconds {
			continue
		}
		a, b := max(from, i-h), min(to, i+h+1)
		mid := win.median(n.v, a, b)
		mid = w.leftAt(away, n.t[i], n.t[b-1]-n.t[i], mid)
		// Where a drive begins or ends on the way the reading has a corner;
		// at a stop it is the end of the track that is looked at.
		if m.Stalled == 0 && math.Abs(mid-m.End) < n.width || math.Abs(mid-m.Start) < n.width && m.Start > n.reach.From+edge && m.Start < n.reach.To-edge {
			continue
		}
		c := int(math.Floor((mid - n.reach.From) / n.width))
		if c < 0 || c >= cells {
			continue
		}
		p := &pass[c]
		d2, off := n.bend(i), math.Abs(n.v[i]-mid)
		if n.t[i] > stands && louder > 1 {
			d2, off = d2/louder, off/louder
		}
		p.sum += d2 * d2
		p.n++
		if a := math.Abs(d2); a > p.most {
			p.most, p.worst = a, i
		}
		p.peak = math.Max(p.peak, off)
	}
	return pass
}

// bend is the second difference of the readings about reading i.
func (n *noiseMap) bend(i int) float64 { return n.v[i+1] - 2*n.v[i] + n.v[i-1] }

// addPass counts one pass, up or down, in each stretch that it tells about.
func (n *noiseMap) addPass(pass []noisePass, d int) {
	for c := range pass {
		p, q := &pass[c], &n.cells[c]
		if !p.tells() {
			continue
		}
		q.made[d]++
		rms := p.rough()
		q.sum += p.sum
		q.n += p.n
		if rms > 1.6*n.base {
			q.faint[d]++
		}
		// n second differences of clean noise exceed three times the base
		// with a chance far below 1e-6 for n >= 3; short cells need more.
		if limit := roughLimit(n.base, float64(p.n)); rms > limit {
			q.seen[d]++
			if n.byOneReading(p, limit) {
				q.lone++
			}
			q.rough = math.Max(q.rough, rms)
			q.peak = math.Max(q.peak, p.peak)
		}
	}
}

// byOneReading tells whether one stray reading made a pass rough.
func (n *noiseMap) byOneReading(p *noisePass, limit float64) bool {
	// One reading that is off shows in three second differences.
	rest := p.sum
	for i := p.worst - 1; i <= p.worst+1; i++ {
		if i > 0 && i+1 < len(n.v) {
			d2 := n.bend(i)
			rest -= d2 * d2
		}
	}
	// Where a track ends the reading leaps and stays: that is no stray.
	before, stray, after := n.v[p.worst-1], n.v[p.worst], n.v[p.worst+1]
	way := 3 * n.speed * n.step // the shaft's own in two rows, and half as much
	returns := 2*(math.Abs(after-before)-way) < math.Abs(stray-(before+after)/2)
	return returns && rest <= limit*limit*float64(max(1, p.n-3))
}

// poolFaint counts passes together where few readings fall into each one: all of
// them faintly rough, and their pooled roughness beyond chance (of n second
// differences two fifths are independent, so six deviations are 6/sqrt(n)).
func (n *noiseMap) poolFaint() {
	// Where the tails of the noise are heavy, many places look faintly rough.
	var rough []float64
	for c := range n.cells {
		if q := &n.cells[c]; q.n > 0 {
			rough = append(rough, math.Sqrt(q.sum/float64(q.n)))
		}
	}
	heavy := 2 * quantileOf(rough, 0.65)
	span := n.reach.Width()
	for c := range n.cells {
		q := &n.cells[c]
		faint, made := q.faint[0]+q.faint[1], q.made[0]+q.made[1]
		rms := math.Sqrt(q.sum / math.Max(1, float64(q.n)))
		if seen := q.seen[0] + q.seen[1]; seen < faint && faint >= 3 && 4*faint >= 3*made && rms > n.base*math.Max(2.2, 1.3+6/math.Sqrt(float64(q.n))) && rms > heavy &&
			// At a stop the arrival is a corner between two rows.
			float64(c)*n.width > 0.06*span && float64(c+1)*n.width < 0.94*span {
			q.seen = q.faint
			q.rough = math.Max(q.rough, rms)
		}
	}
}

// loneChance is how often one reading alone makes a pass through a stretch rough,
// anywhere on the track.
func (n *noiseMap) loneChance() float64 {
	lone, made := 0, 0
	for c := range n.cells {
		q := &n.cells[c]
		// Where most passes have one it is a place.
		if m := q.made[0] + q.made[1]; m >= 3 && 3*q.lone >= 2*m {
			continue
		}
		lone += q.lone
		made += q.made[0] + q.made[1]
	}
	return float64(lone+1) / float64(made+2)
}

// beginsBand tells whether two of three passes or more were rough in a stretch.
func (n *noiseMap) beginsBand(c int) bool {
	q := &n.cells[c]
	seen, made := q.seen[0]+q.seen[1], q.made[0]+q.made[1]
	return seen > 0 && 3*seen >= 2*made
}

// noiseBand is a run of rough stretches.
type noiseBand struct {
	noiseCell     // of the run: the most that a stretch of it shows
	first, last   int
	byMoreThanOne int // passes rough by more than one reading
}

// band joins to a stretch those behind it that half of the passes show rough.
func (n *noiseMap) band(first int) noiseBand {
	b := noiseBand{noiseCell: n.cells[first], first: first, last: first}
	b.byMoreThanOne = b.seen[0] + b.seen[1] - b.lone
	for b.last+1 < len(n.cells) {
		q := &n.cells[b.last+1]
		if seen, made := q.seen[0]+q.seen[1], q.made[0]+q.made[1]; seen == 0 || 2*seen < made {
			break
		}
		b.last++
		b.byMoreThanOne = max(b.byMoreThanOne, q.seen[0]+q.seen[1]-q.lone)
		b.rough = math.Max(b.rough, q.rough)
		b.peak = math.Max(b.peak, q.peak)
		for d := range b.seen {
			b.seen[d] = max(b.seen[d], q.seen[d])
			b.made[d] = max(b.made[d], q.made[d])
		}
	}
	return b
}

// noisyBand is the finding of a band, false where something else than the track
// explains it.
func (w *work) noisyBand(n *noiseMap, b noiseBand, lone float64) (Finding, bool) {
	f := Finding{
		Kind: NoisyTrack, Tie: TiedToPosition,
		Volts: Interval{n.reach.From + float64(b.first)*n.width, n.reach.From + float64(b.last+1)*n.width},
		Seen:  b.seen[0] + b.seen[1], Passes: b.made[0] + b.made[1], Direction: oneDirection(b.seen),
	}
	// Where a shaft springs over a centre it does so one way, or elsewhere.
	if n.block > 1 && (w.told(f.Volts) || f.Direction != None) {
		return f, false
	}
	// The output of a sound track is smooth to 0.1 % of the supply (Bourns, "Output
	// Smoothness"), half of it to either side. Without noise or steps the rows show less
	// than that, and the bend of a shaft that gets up to speed or is pressed into a seal.
	// How far they depart from their median is no measure: a hold and a leap do not.
	if n.block == 1 && b.rough < 0.0005*w.ref {
		return f, false
	}
	// Single readings that are off come anywhere; how often they do outside
	// tells the chance that so many passes have one in some band as wide.
	if b.byMoreThanOne <= 0 {
		each := 1 - math.Pow(1-lone, float64(b.last+1-b.first))
		if float64(len(n.cells))*stats.BinomialTail(f.Seen, f.Passes, each) > w.lim.Significance {
			return f, false
		}
	}
	// So do groups of them.
	if w.bridgedAlike(f.Volts) || w.straysAlike(f.Volts) {
		return f, false
	}
	f.TieP = n.chanceOf(b)
	// A loose contact scratches here and there: twice in one place is chance.
	if f.Seen <= 2 && w.loose() || w.looseAtRest() && 5*f.Seen < 4*f.Passes {
		return f, false
	}
	w.describeNoise(&f, n, b)
	return f, true
}

// describeNoise fills in how sure a noisy band is, where and when it was passed, and
// what was measured.
func (w *work) describeNoise(f *Finding, n *noiseMap, b noiseBand) {
	f.Event = w.eventAt("track", f.Volts, finePlace)
	// A dead spot there is the same place.
	around := Interval{f.Volts.From - n.width, f.Volts.To + n.width}
	if k := slices.IndexFunc(w.found, func(d Finding) bool { return d.Kind == DeadSpot && d.Volts.Overlaps(around) }); k >= 0 {
		f.Event = w.found[k].Event
	}
	f.TieP = math.Max(f.TieP, math.Pow(math.Max(0.02, f.Volts.Width()/n.reach.Width()), float64(max(0, f.Seen-1))))
	f.Strength = 1 - math.Exp(-float64(f.Seen)*math.Log(b.rough/n.base))
	if f.Seen < 2 {
		f.Strength *= 0.6
	}
	f.Time, f.Places = w.visits(f.Volts)
	// Where the contact opens the reading slides, and no row tells the edge.
	if b.peak < 0.1*w.ref {
		f.Volts = w.noiseEdges(f.Volts, n.width, n.base)
	}
	f.Measures = []Measure{
		{MeasureRoughnessOverRest, b.rough / n.base, "times"},
		{MeasureLargestDeparture, b.peak, w.unit()},
		{MeasureOutputSmoothness, 100 * b.peak / w.ref, "% of reference"},
	}
	f.Measures = append(f.Measures, waysOf(b.seen, b.made)...)
	if n.block > 1 {
		// Means over as many rows that differ by less than the shaft goes meanwhile.
		f.Measures = append(f.Measures, Measure{scatterAsSpeed, b.rough / (n.step * n.speed), "of the usual speed"})
	}
}

// scatterAsSpeed is the measure of a noisy track by how much the shaft's speed would
// have to change to make it.
const scatterAsSpeed = "scatter as a change of speed"

// departs is how far the reading left the track, in V.
func (f *Finding) departs() float64 {
	v, _ := f.Measure(MeasureDeparture)
	return v
}

// amountOf is a measure with its unit, in words.
func (f *Finding) amountOf(name MeasureName) string {
	for _, m := range f.Measures {
		if m.Name == name {
			return amount(m.Value, m.Unit)
		}
	}
	return ""
}

// visits lists when the feedback passed through a band under drive.
func (w *work) visits(band Interval) (Interval, []Occurrence) {
	all := noInterval()
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
