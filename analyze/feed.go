package analyze

import (
	"math"
	"slices"
)

// A feed with too much resistance gives its volts by the current: V = V0 - R I.
// A control that turns the drive down lowers the current with it, so the sign
// of what goes with what tells the two apart. Without a current channel the
// motor itself tells where its current is largest: a shaft that stands draws
// the stall current, at a stop as at the first moment of each start, so the
// volts are the same there and there, and higher while it runs.

// feedByCurrent gives the level of the drive at the largest steady current, in V,
// and the share that is lost there of what there would be without current. A
// control that turns the drive down at a stop, where the current is large as
// well, gives itself away at the starts: there the current is as large under full
// drive. ok tells that starts were seen to agree.
func (w *work) feedByCurrent() (level, drop float64, ok bool) {
	c := w.tr.Current
	if c == nil || !w.driveKnown() || w.d.pulsed {
		return 0, 0, false
	}
	var lost []float64
	for _, pol := range []int8{-1, 1} {
		var amps, volts []float64
		for i := 2; i+2 < len(w.d.pol); i++ {
			// Away from the moment of switching, where the two columns may be
			// rows apart.
			if w.d.pol[i-2] != pol || w.d.pol[i] != pol || w.d.pol[i+2] != pol {
				continue
			}
			if a := math.Abs(float64(c.Mean[i])); !math.IsNaN(a) {
				amps, volts = append(amps, a), append(volts, math.Abs(w.d.mean[i]))
			}
		}
		if len(amps) < 40 {
			continue
		}
		few, many := quantileOf(amps, 0.3), quantileOf(amps, 0.97)
		if many < 2*few || few <= 0 {
			continue // the current hardly changes
		}
		var atFew, atMany, ia, ib []float64
		for i, a := range amps {
			switch {
			case a <= few:
				atFew, ia = append(atFew, volts[i]), append(ia, a)
			case a >= 0.85*many:
				atMany, ib = append(atMany, volts[i]), append(ib, a)
			}
		}
		if len(atMany) < 5 {
			continue
		}
		va, vb := medianOf(atFew), medianOf(atMany)
		ma, mb := medianOf(ia), medianOf(ib)
		r := (va - vb) / (mb - ma)
		// What the line says of the starts, and what they were.
		var told, was []float64
		for _, x := range w.startRows(pol, ma+0.35*(mb-ma)) {
			told, was = append(told, va-r*(x.amps-ma)), append(was, x.volts)
		}
		switch {
		case len(was) < 3:
		case math.Abs(medianOf(was)-medianOf(told)) > 0.35*math.Abs(va-medianOf(told)):
			return 0, 0, false
		default:
			ok = true
		}
		lost = append(lost, r*mb/(va+r*ma))
		level = vb
	}
	if !ok {
		return 0, 0, false
	}
	return level, slices.Min(lost), true
}

// feedRow is the unsigned drive and current of a bin.
type feedRow struct{ volts, amps float64 }

// startRows lists the bins of a polarity within the first moments of a drive in
// which at least so much current flows. The shaft takes some hundredths of a
// second to get up to speed.
func (w *work) startRows(pol int8, least float64) []feedRow {
	var out []feedRow
	for k := range w.moves {
		m := &w.moves[k]
		for i := m.first + 2; i < m.last && lapse(w.t[i], m.Time.From) < 0.06; i++ {
			if a := math.Abs(float64(w.tr.Current.Mean[i])); w.d.pol[i] == pol && a >= least {
				out = append(out, feedRow{math.Abs(w.d.mean[i]), a})
			}
		}
	}
	return out
}

// feedByStarts gives the same from the volts of starts and stands, where each
// direction has two starts and the capture a stand.
func (w *work) feedByStarts() (level, drop float64, ok bool) {
	if !w.driveKnown() || w.d.pulsed || w.tr.Step > 0.006 || w.tr.Current != nil {
		return 0, 0, false // where the current is known it says more
	}
	var start, run, stand []float64
	for k := range w.moves {
		m := &w.moves[k]
		if m.Duration() < 0.6 {
			continue
		}
		at := func(from, to float64) float64 { return w.driveBetween(m.Time.From+from, m.Time.From+to) }
		// The winding's own time constant and the switch take a few
		// milliseconds; the shaft takes some ten to get up to speed.
		first := at(math.Max(0.003, 1.5*w.tr.Step), math.Max(0.012, 3.5*w.tr.Step))
		if k > 0 && m.Time.From-w.moves[k-1].Time.To < 0.1 {
			first = math.NaN() // a motor that is reversed draws more than its stall current
		}
		for _, g := range m.segs {
			a, b := w.t[g.first], w.t[min(g.last, len(w.t)-1)]
			if b-a < 0.3 {
				continue
			}
			level := w.driveBetween(a+0.1, b-0.05)
			switch {
			case math.IsNaN(level):
			case g.state == track && a-m.Time.From < 0.3:
				run = append(run, level)
				if m.Moving > 0 && !math.IsNaN(first) {
					start = append(start, first)
				}
			case g.state == still && m.Moving > 0:
				stand = append(stand, level)
			}
		}
	}
	if len(start) < 3 || len(stand) < 1 || len(run) < 3 {
		return 0, 0, false
	}
	s, r, st := medianOf(start), medianOf(run), medianOf(stand)
	if math.Abs(s-st) > 0.12*r || s < 0.25*r {
		return 0, 0, false
	}
	level = math.Max(s, st)
	return level, 1 - level/r, true
}

// driveBetween is the median unsigned drive between two times, NaN without a
// row, and where single rows are far below it: then it pulses.
func (w *work) driveBetween(from, to float64) float64 {
	a, b := indexAt(w.t, from), indexAt(w.t, to)
	if w.t[a] < from {
		a++
	}
	if b+1 > len(w.d.mean) || a > b {
		return math.NaN()
	}
	level := math.Abs(medianOf(thinned(w.d.mean[a:b+1], 500)))
	for i := a; i <= b; i += 1 + (b-a)/500 {
		low := math.Min(math.Abs(float64(w.tr.Drive.Min[i])), math.Abs(float64(w.tr.Drive.Max[i])))
		if low < 0.6*level {
			return math.NaN()
		}
	}
	return level
}

// endsGently tells whether the drives that end on the way, away from either end of what was
// seen, mostly end below so many volts. No load takes them there: a control that starts and
// stops gently does, and it does so at the stops as well.
func (w *work) endsGently(volts float64) bool {
	margin := 0.05 * w.span.Width() // a stop gives and a reading has noise
	gentle, ends := 0, 0
	for k := range w.moves {
		m := &w.moves[k]
		at := w.v[max(m.first, m.last-1)]
		if m.Direction == None || m.Duration() < 0.6 || m.Stalled > 0 || at < w.span.From+margin || at > w.span.To-margin {
			continue
		}
		// The last rows may be those of the switching: of one that averages, too.
		last := w.driveBetween(m.Time.To-math.Max(0.04, 6.5*w.tr.Step), m.Time.To-math.Max(0.01, 2.5*w.tr.Step))
		if math.IsNaN(last) {
			continue
		}
		ends++
		if last < volts {
			gentle++
		}
	}
	return gentle > 1 && 2*gentle > ends
}
