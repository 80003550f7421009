package analyze

import (
	"math"

	"threewire/signal"
)

// switchedOff takes the bins out in which the logged supply is switched off, and gives
// the stretches they took: an ignition key that is turned takes the sensor's supply
// with it, and what the reading does then tells nothing of the sensor; so does an engine
// that is started, whose starter takes the supply to 8 V and less for a while (the starting
// profile of ISO 16750-2, from memory), where the control gives up. Off is less than that
// share of what the supply mostly is, while nothing is driven and the reading lies at nothing
// as well. Where it went off under drive the drive dies with it, as its capacitors run
// empty, and does not come back at once, as it would where a plug is loose. Each stretch
// counts with the time in which supplies and filters rise after it.
func (w *work) switchedOff() []signal.Span {
	const (
		off    = 8 / 12. // of what it mostly is
		up     = 0.8     // of it, when it is back
		rising = 1.0     // s
		dying  = 0.3     // s, of a drive
		boots  = 0.1     // s, till a control that had no supply drives
	)
	s := w.tr.Supply
	if s == nil || s.Unit != "V" {
		return nil
	}
	all := make([]float64, 0, len(s.Mean))
	for _, x := range s.Mean {
		if !math.IsNaN(float64(x)) {
			all = append(all, float64(x))
		}
	}
	if len(all) == 0 {
		return nil
	}
	usual, ref := quantileOf(thinned(all, 20000), 0.75), w.reference()
	dead := func(i int) bool { return float64(s.Mean[i]) < off*usual }
	gone := func(i int) bool { return math.Abs(float64(w.tr.Feedback.Mean[i])) < wiperMargin*ref }
	if usual < lowestSupply { // a sensor has 5
		return nil
	}
	var out []signal.Span
	left := make([]bool, len(w.t))
	for a := 0; a < len(w.t); a++ {
		if !dead(a) {
			continue
		}
		b, quiet, lost := a, true, 0
		for ; b < len(w.t) && dead(b); b++ {
			quiet = quiet && (w.d.pol[b] == 0 || lapse(w.t[b], w.t[a]) < dying)
			if gone(b) {
				lost++
			}
		}
		driven := false
		for i := a; i >= 0 && lapse(w.t[a], w.t[i]) < dying; i-- {
			driven = driven || w.d.pol[i] != 0
		}
		for i := b; driven && lapse(w.t[b-1], w.t[a]) > boots && i < len(w.t) && lapse(w.t[i], w.t[b-1]) < boots; i++ {
			quiet = quiet && w.d.pol[i] == 0
		}
		from, to := a, b
		a = b
		// A sensor with a supply of its own goes on reading.
		if !quiet || 2*lost < to-from {
			continue
		}
		for from > 0 && w.d.pol[from-1] == 0 && (gone(from-1) || float64(s.Mean[from-1]) < up*usual) {
			from--
		}
		for to < len(w.t) && w.d.pol[to] == 0 && lapse(w.t[to], w.t[b-1]) < rising && (gone(to) || float64(s.Mean[to]) < up*usual) {
			to++
		}
		for i := from; i < to; i++ {
			left[i] = true
		}
		out = append(out, signal.Span{From: w.t[from], To: w.t[to-1]})
	}
	if len(out) == 0 {
		return nil
	}
	fed := w.tr.Without(left)
	if fed.Len() < max(8, len(w.t)/10) {
		return nil
	}
	w.keep(fed)
	return out
}

// keep goes on with some of the rows only, of which the logged reference is measured anew.
func (w *work) keep(rows *signal.Trace) {
	w.tr, w.t = rows, rows.Time
	w.d = readDrive(rows, w.lim)
	w.refLevel, w.refLost = memo[float64]{}, memo[bool]{}
}
