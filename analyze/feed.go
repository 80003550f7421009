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
// drive. So it does where the volts are low and the current is not, [work.lowWithoutCurrent].
// ok tells that starts were seen to agree, or that the current speaks against any loss:
// then none is.
func (w *work) feedByCurrent() (level, drop float64, ok bool) {
	c := w.tr.Current
	if c == nil || !w.driveKnown() || w.d.pulsed {
		return 0, 0, false
	}
	var lost, ohms []float64
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
		if w.lowWithoutCurrent(pol, (va+vb)/2, ma+0.35*(mb-ma)) {
			return w.d.amp, 0, true
		}
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
		lost, ohms = append(lost, r*mb/(va+r*ma)), append(ohms, r)
		level = vb
	}
	if !ok {
		return 0, 0, false
	}
	drop = slices.Min(lost)
	if c.Unit == "A" && slices.Min(ohms) < feedOhms && drop < feedOhms/(feedOhms+strongMotor) {
		return w.d.amp, 0, true
	}
	return level, drop, true
}

// What a sound feed has: two transistors of a bridge, of up to 1.7 ohm each when hot, with
// half an ohm of wire and plugs; and the least that a strong door motor has, 0.9 A when it
// is held (both common practice, no source). In volts alone they are [sagOfDrive] of the
// usual motor's; where the current is in ampere their ohms are known.
const (
	feedOhms    = 4.0  // ohm
	strongMotor = 13.0 // ohm
)

// lowWithoutCurrent tells whether, of the drives of a polarity that ever get less than so
// many volts, a good part gets them for a while with less than so many ampere, under way:
// a resistance takes nothing without a current, and a control that slows down for its
// target lowers the current as well. The moments after the start are left out, and as much
// time as the current's channel is behind.
func (w *work) lowWithoutCurrent(pol int8, volts, amps float64) bool {
	const (
		start  = 0.3  // s
		atOnce = 0.05 // s
	)
	low, contrary := 0, 0
	n := max(3, w.rows(atOnce+w.currentLag(amps/2)))
	for k := range w.moves {
		m := &w.moves[k]
		if m.Polarity != pol {
			continue
		}
		any, none := false, false
		for i := m.first + max(3, w.rows(start)); i+n+3 < m.last; i += max(1, n/4) {
			if !(math.Abs(medianOf(w.d.mean[i:i+n])) < volts) {
				continue
			}
			any = true
			// It is fed all the same: no wire that opens.
			if a := math.Abs(medianOf32(w.tr.Current.Mean[i : i+n])); a < amps && a > amps/4 {
				none = true
				break
			}
		}
		if any {
			low++
		}
		if none {
			contrary++
		}
	}
	return contrary > 1 && 3*contrary > low
}

// currentLag is by how much, in s, the current is behind the drive at the starts: until
// it is more than so many ampere.
func (w *work) currentLag(amps float64) float64 {
	var late []float64
	for k := range w.moves {
		m := &w.moves[k]
		for i := m.first; i < m.last; i++ {
			if math.Abs(float64(w.tr.Current.Mean[i])) > amps {
				late = append(late, lapse(w.t[i], w.t[m.first]))
				break
			}
		}
	}
	if len(late) == 0 {
		return 0
	}
	return medianOf(late)
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
		first := w.voltsAtStart(m)
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

// voltsAtStart is the unsigned drive of a motor that is switched on and does not turn yet: the
// winding's own time constant and the switch take a few milliseconds, and the shaft some ten
// to get up to speed. Where rows are so few that it does meanwhile, the line through them is
// followed back to where it did not.
func (w *work) voltsAtStart(m *Move) float64 {
	const (
		from = 0.003 // s
		to   = 0.012 // s
	)
	a := m.Time.From
	few := 3.5 * w.tr.Step
	v := w.driveBetween(a+math.Max(from, 1.5*w.tr.Step), a+math.Max(to, few))
	next := w.driveBetween(a+few, a+few+2*w.tr.Step)
	if few <= to || !(next > v) {
		return v
	}
	rises := (next - v) / (2 * w.tr.Step) // V/s, from the middle of the one to that of the other
	return v - rises*(2.5*w.tr.Step-from)
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

// runsOnLow tells whether a drive that goes down from run to less than half way to level,
// V, leaves the shaft faster than a load that takes these volts would. By the motor's
// equations, V = Vs - I*Rs and n = (V - I*R)/Ke, a feed that leaves level to a motor that is
// held leaves at V the share (V-level)/(run-level) of the speed, less than half; a control
// that slows down for its target leaves (V-I*R)/(run-I*R), mostly more than three quarters.
// The drive has to end by itself then: no contact knows where a control wants to be.
func (w *work) runsOnLow(run, level float64) bool {
	const (
		behind = 0.1 // s, what a feedback's filter is behind
		before = 0.5 // s of the even run
		apart  = 0.25
		sure   = 3 // standard errors
	)
	for k := range w.moves {
		m := &w.moves[k]
		b := m.last - 1
		for b > m.first && lapse(w.t[m.last-1], w.t[b]) < 0.02 { // of the switching
			b--
		}
		a := b
		for a > m.first && math.Abs(w.d.mean[a-1]) < (run+level)/2 {
			a--
		}
		full := a
		for full > m.first && math.Abs(w.d.mean[full-1]) < run-0.1*(run-level) {
			full--
		}
		for a < b && lapse(w.t[a], w.t[full]) < behind {
			a++
		}
		from := full - w.rows(before)
		if m.Direction == None || b-a < 8 || full-from < 8 || from < m.first+w.rows(w.lim.StallSeconds) {
			continue
		}
		at := indexAt(w.t, w.t[b]-before) // just before its end, where it stands if it ever does
		a = max(a, at)
		was, _ := straightLine(w.t[from:full], w.v[from:full])
		is, _ := straightLine(w.t[a:b], w.v[a:b])
		was, is = was*float64(m.Direction), is*float64(m.Direction)
		err := sure * slopeNoise(w.noise, b-a, w.tr.Step)
		due := math.Max(0, (math.Abs(medianOf(w.d.mean[a:b]))-level)/(run-level))
		if was > err && is-err > (due+apart)*was {
			return true
		}
	}
	return false
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
