package analyze

import (
	"fmt"
	"math"
)

// leave is how long the feedback stayed put when the drive reversed after a
// stall: slack in the gears if short, a shaft that had moved on unseen if
// long.
type leave struct {
	stall   stall
	delay   float64 // s from reversal to first motion
	rate    float64 // V/s of the reverse drive
	present bool
}

// leaves pairs every stall with the move that leaves it.
func (w *work) leaves(stalls []stall) []leave {
	out := make([]leave, len(stalls))
	for i, s := range stalls {
		out[i].stall = s
		k := s.move + 1
		if k >= len(w.moves) || w.moves[k].Direction != -w.moves[s.move].Direction {
			continue
		}
		m := &w.moves[k]
		if m.Moving == 0 {
			continue
		}
		out[i].present = true
		out[i].rate = w.rate[side(m.Direction)] * math.Max(math.Abs(m.DriveMean)/w.d.amp, 0.1)
		for _, g := range m.segs {
			if g.state == track && g.last-g.first >= min(3, w.window) {
				out[i].delay = w.t[g.first] - m.Time.From
				break
			}
		}
	}
	return out
}

// usualDelay is the start delay of the capture's own reversals: the lower
// quartile, so that a fault at one end does not set the standard.
func (w *work) usualDelay() float64 {
	var d []float64
	for k := range w.moves {
		if m := &w.moves[k]; m.Moving > 0 && m.Travel() > w.tol {
			d = append(d, m.Delay)
		}
	}
	if len(d) == 0 {
		return 0
	}
	return quantileOf(d, 0.25)
}

// findEnds looks at the stalls: end of track lost, and jams.
func (w *work) findEnds(stalls []stall) {
	lv := w.leaves(stalls)
	usual := w.usualDelay()
	hidden := w.findEndLoss(lv, usual)
	w.findJams(stalls, hidden)
	w.findNoStart(stalls, hidden)
}

// mostPlay is the play of a gear train and its links, as a share of the travel,
// that a good actuator may have to take up after a reversal (common practice, no
// source).
const mostPlay = 0.05

// moved tells whether the readings before and after a move differ by more than
// their averaged noise, in its direction.
func (w *work) moved(m *Move) bool {
	n := max(3, w.window/2)
	before := medianOf(w.v[max(0, m.first-n) : m.first+1])
	after := medianOf(w.v[m.last-1 : min(len(w.v), m.last+n)])
	return float64(m.Direction)*(after-before) > w.visible()
}

// atJam tells whether a stall found already, in the same direction, lies
// within a tenth of the span: an object that gives, or is pushed along, stops
// the next try a little further on or short.
func (w *work) atJam(dir Direction, level float64) bool {
	near := 0.1 * w.span.Width()
	for _, f := range w.found {
		if f.Kind == Jam && f.Direction == dir && level > f.Volts.From-near && level < f.Volts.To+near {
			return true
		}
	}
	return false
}

// rowsMissing tells whether rows are missing in a stretch of time.
func (w *work) rowsMissing(from, to float64) bool {
	for i := indexAt(w.t, from); i+1 < len(w.t) && w.t[i] < to; i++ {
		if w.t[i+1]-w.t[i] > missingRows*w.tr.Step {
			return true
		}
	}
	return false
}

// atRailBetween tells whether most readings of a stretch of time lie at a rail.
func (w *work) atRailBetween(from, to float64) bool {
	rail := w.opt.RailBand * w.ref
	a, b := indexAt(w.t, from), indexAt(w.t, to)
	n := 0
	for _, v := range w.v[a:b] {
		if v < rail || v > w.ref-rail {
			n++
		}
	}
	return b > a && 2*n > b-a
}

// findEndLoss reports an end of travel at which the track stops telling
// before the shaft stops: after the reversal the reading stays put for as
// long as the shaft needs to come back. It returns for each stall the travel,
// in V, hidden behind it.
func (w *work) findEndLoss(lv []leave, usual float64) []float64 {
	hidden := make([]float64, len(lv))
	var byEnd [2][]int
	for i, l := range lv {
		if h := w.hiddenBehind(l, usual); h > 0 {
			hidden[i] = h
			sd := side(w.moves[l.stall.move].Direction)
			byEnd[sd] = append(byEnd[sd], i)
		}
	}
	for sd, idx := range byEnd {
		if len(idx) == 0 {
			continue
		}
		dir := Direction(2*sd - 1)
		var h, lev []float64
		for _, i := range idx {
			h = append(h, hidden[i])
			lev = append(lev, lv[i].stall.level)
		}
		// Delays at the other end are the control: if they are as long, it is
		// the start of the motor and not the track.
		if w.everyReversal(lv, dir, usual, medianOf(h)) || len(byEnd[1-sd]) > 0 && len(idx) < 3 {
			continue
		}
		if medianOf(h) > w.trackBeyond(dir, medianOf(lev), lv, idx) {
			continue
		}
		f := Finding{Kind: EndLoss, Direction: dir, Tie: TiedToPosition, TieP: 1, Seen: len(idx)}
		f.Time = noInterval()
		for _, i := range idx {
			s := lv[i].stall
			o := Occurrence{Interval{s.at, s.at + s.seconds + lv[i].delay}, Interval{s.level, s.level}, dir}
			f.Places = append(f.Places, o)
			f.Time = f.Time.widen(o.Time.From).widen(o.Time.To)
		}
		for _, l := range lv {
			if l.present && w.moves[l.stall.move].Direction == dir {
				f.Passes++
			}
		}
		// One arrival of several around which the reading lay at a rail is a loss of
		// the signal then: the others went the same way.
		if f.Seen == 1 && f.Passes > 1 && w.atRailBetween(f.Time.From, f.Time.To) {
			continue
		}
		if 2*f.Seen < f.Passes || w.allRanIntoRail(lv, idx) {
			continue
		}
		w.describeEndLoss(&f, medianOf(lev), medianOf(h), usual)
		w.found = append(w.found, f)
	}
	return hidden
}

// trackBeyond is how much of a track may lie beyond the level of some stalls, in V: at its even
// rate it reads its supply, or its ground, at the latest where it ends, give or take by how much
// a rate taken elsewhere is off. A reading that goes to a rail meanwhile has lost its place, and
// a motor that is held in the end, by its current, has come to a stop, wherever that lies: then
// no more than the whole track can lie beyond it.
func (w *work) trackBeyond(dir Direction, level float64, lv []leave, idx []int) float64 {
	const uneven = 1.25 // the most that the rates of a sound track, bent by its load, are apart (chosen, not derived)
	rail, held := w.opt.RailBand*w.ref, (w.runningCurrent()+w.blockedCurrent(nil))/2
	for _, k := range idx {
		s := lv[k].stall
		if w.currentWithin(s.at+s.seconds*3/4, s.at+s.seconds) > held { // false for NaN
			return math.Max(w.ref, w.span.Width())
		}
		for _, v := range w.v[indexAt(w.t, s.at):indexAt(w.t, s.at+s.seconds+lv[k].delay)] {
			if v < rail || v > w.ref-rail {
				return math.Max(w.ref, w.span.Width())
			}
		}
	}
	if dir == Up {
		return uneven * (w.ref - level)
	}
	return uneven * level
}

// hiddenBehind is the travel, in V, that the reading did not show behind one stall, 0
// for none.
func (w *work) hiddenBehind(l leave, usual float64) float64 {
	if !l.present {
		return 0
	}
	// A slow start (cold grease) delays every move: only the excess counts,
	// and no more than the stall could have hidden.
	extra := l.delay - usual
	if extra <= 0 || w.rowsMissing(l.stall.at+l.stall.seconds, l.stall.at+l.stall.seconds+l.delay+3*w.tr.Step) {
		return 0
	}
	// Nor can the way back take much longer than the way there could: then the
	// shaft stood.
	if extra > 1.5*l.stall.seconds+0.3 {
		return 0
	}
	// A motor that no current flows through comes back from nowhere: it did not start.
	reversed := w.moves[l.stall.move+1].Time.From
	if none, known := w.noCurrentLevel(); known && w.currentWithin(reversed, reversed+l.delay) < none {
		return 0
	}
	// No track ends where it is read on both sides, pass after pass: an object
	// that holds the door wound up delays the way back as well.
	if w.passedOver(l.stall.level, math.Max(3*w.tol, mostPlay*w.span.Width())) >= 2 {
		return 0
	}
	h := math.Min(extra, l.stall.seconds) * l.rate
	if extra > math.Max(0.12, 3*w.tr.Step) && h > math.Max(2*w.tol, 0.02*w.span.Width()) {
		return h
	}
	return 0
}

// everyReversal tells whether the shaft misses at the other end, or at reversals on
// the way, more than half of what it misses at one: slack and wound-up gears delay
// every reversal, and that is not the track's.
func (w *work) everyReversal(lv []leave, dir Direction, usual, missed float64) bool {
	var there []float64
	for _, l := range lv {
		if k := l.stall.move + 1; l.present && w.moves[l.stall.move].Direction != dir {
			x := math.Min(l.delay-usual, l.stall.seconds) * l.rate
			// A spike of the reading is no motion: the way tells when it began.
			if lost, _ := w.lostMotion(k, math.Max(4*w.visible(), 0.03*w.span.Width())); l.delay <= w.tr.Step && lost >= 0 {
				x = math.Max(x, lost-usual*l.rate)
			}
			there = append(there, math.Max(0, x))
		}
	}
	if len(there) > 0 && medianOf(there) > 0.5*missed {
		return true
	}
	// So are reversals on the way: play is everywhere.
	on := w.delaysOnTheWay(usual)
	return len(on) >= 2 && medianOf(on) > 0.5*missed
}

// describeEndLoss fills in where the track ends, how sure that is, and what was
// measured.
func (w *work) describeEndLoss(f *Finding, level, missed, usual float64) {
	// An open contact lies at a rail, wherever the shaft is: the place is
	// where the track was last told.
	if rail := w.opt.RailBand * w.ref; level < rail || level > w.ref-rail {
		level = w.span.From
		if f.Direction == Up {
			level = w.span.To
		}
	}
	f.Volts = Interval{level - 0.01*w.span.Width(), level + 0.01*w.span.Width()}
	f.Form = w.huntPlace(*f)
	f.Strength = 1 - math.Exp(-float64(f.Seen)*0.7)
	// One arrival with little hidden behind it may be slack in the gears.
	if f.Seen == 1 {
		f.Strength *= math.Min(1, missed/(0.1*w.span.Width()))
	}
	f.Event = fmt.Sprintf("end %s", f.Direction)
	f.Measures = []Measure{{MeasureHiddenTravel, missed, w.unit()}, {"usual start delay", usual, "s"}}
}

// delaysOnTheWay is the travel, in V, that the shaft missed after reversals in
// mid travel, beyond what starts usually miss.
func (w *work) delaysOnTheWay(usual float64) []float64 {
	edge := math.Max(0.1*w.span.Width(), 3*w.tol)
	var out []float64
	for k := 1; k < len(w.moves); k++ {
		m, was := &w.moves[k], &w.moves[k-1]
		if m.Direction == None || m.Direction != -was.Direction || m.Moving == 0 || was.Stalled > 0 ||
			m.Start < w.span.From+edge || m.Start > w.span.To-edge {
			continue
		}
		r := w.rate[side(m.Direction)] * math.Max(math.Abs(m.DriveMean)/w.d.amp, 0.1)
		out = append(out, math.Max(0, m.Delay-usual)*r)
	}
	return out
}
