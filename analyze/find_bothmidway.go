package analyze

import (
	"math"

	"threewire/analyze/stats"
)

// bothMidway is the form of [Ignored] drives that break off in their midst with both leads
// up, where the control ends its drives otherwise.
const bothMidway = "both leads up amid drives"

// quickestHand is the shortest time, in s, for which somebody lets go of a switch before
// pressing it again: the fastest tapping is six or seven a second (from memory, no source),
// and half of each is up.
const quickestHand = 0.07

// findBothMidway reports breaks amid drives in which both leads are up, for moments of any
// length: the one that should be down has lost its way to ground and follows the other
// through the motor, or its driver holds it up. A control that brakes with both leads up
// ends its drives so too, and one that pulses so goes by its clock; a hand at one lead is
// not as quick, nor does it let go where the shaft stands at a stop. A lead that opens
// breaks off the drive one way with both leads up and the other way with both down, so a
// way with no such break is left out.
func (w *work) findBothMidway() {
	top := w.leadsTop()
	if w.d.pulsed || top < 2*startVolts {
		return
	}
	var up []leadStand
	var open []opening
	var breaks [2][2]int // by polarity; down, up
	for _, o := range w.breaks() {
		high, low := w.leadsAre(o.first, o.last, top)
		s := side(Direction(w.d.pol[o.first-1]))
		switch {
		case low:
			breaks[s][0]++
		case high:
			breaks[s][1]++
			up, open = append(up, leadStand{o.first, o.last, true}), append(open, o)
		}
	}
	quick := w.quickRises(top)
	noHand := len(quick) >= 2 && len(quick) <= len(up) || len(up) > 3 && w.atStops(open) >= 3 && !w.triesStops(open)
	if len(up) < 3 || !noHand || !w.spreadLengths(open) {
		return
	}
	var n [2]int
	for _, b := range breaks {
		if b[1] > 0 {
			n[0], n[1] = n[0]+b[0], n[1]+b[1]
		}
	}
	ends := w.leadsAfterDrives(top)
	if ends[0] < 2 || stats.FisherExact(n[1], n[0], ends[1], ends[0]) > 0.05 {
		return
	}
	w.foundBoth(bothMidway, append(up, quick...))
}

// quickRises lists the moments amid drives in which both leads are up for less than a hand
// needs, and longer than a contact bounces: 10 ms, and three rows.
func (w *work) quickRises(top float64) (quick []leadStand) {
	const (
		bounce = 0.01 // s
		edge   = 2    // rows that an edge takes, and in which nothing seems driven yet
	)
	for i := edge; i < len(w.t); i++ {
		first := i
		for i < len(w.t) && float64(w.tr.Both.Mean[i]) > leadsUp*top {
			i++
		}
		if i-first < 3 || i+edge > len(w.t) {
			continue
		}
		amid := w.d.pol[first-edge] != 0 && w.d.pol[first-edge] == w.d.pol[i+edge-1]
		if took := lapse(w.t[i], w.t[first]); amid && took > bounce && took < quickestHand {
			quick = append(quick, leadStand{first, i, true})
		}
	}
	return quick
}

// leadsAfterDrives counts the drives that end, and do not go on after a break or after both
// leads were up all along, with both leads down and with both up, by the first moment after.
func (w *work) leadsAfterDrives(top float64) (ends [2]int) {
	for k := range w.moves {
		m := &w.moves[k]
		if k+1 < len(w.moves) && w.moves[k+1].Polarity == m.Polarity {
			n := &w.moves[k+1]
			if _, down := w.leadsUpDown(m.last, n.first, top); down == 0 || lapse(w.t[n.first], w.t[m.last]) <= longestBreak {
				continue
			}
		}
		last := m.last
		for last < len(w.t) && !w.drives(last, last+1) && lapse(w.t[last], w.t[m.last]) < leadsRest {
			last++
		}
		if high, low := w.leadsAre(m.last, last, top); low {
			ends[0]++
		} else if high {
			ends[1]++
		}
	}
	return ends
}

// leadsAre tells whether both leads are up, or both down, in most of the bins [first, last).
func (w *work) leadsAre(first, last int, top float64) (high, low bool) {
	up, down := w.leadsUpDown(first, last, top)
	return 2*up > last-first, 2*down > last-first
}

// leadsUpDown counts the bins of [first, last) in which both leads are up, and both down.
func (w *work) leadsUpDown(first, last int, top float64) (up, down int) {
	for i := first; i < last; i++ {
		switch lower := float64(w.tr.Both.Mean[i]); {
		case lower > leadsUp*top:
			up++
		case lower+math.Abs(w.d.mean[i]) < leadsDown*top:
			down++
		}
	}
	return up, down
}
