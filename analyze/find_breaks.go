package analyze

import (
	"math"
	"slices"

	"threewire/analyze/stats"
)

// longestBreak is what still counts as a break of a drive, s: beyond it somebody
// may have switched it off and on again (common practice, no source).
const longestBreak = 1.5

// breakOnItsWay is how long, in s, is driven before and after a break: nudges, and the
// pulses of a control that slows down, are shorter.
const breakOnItsWay = 0.3

// A tail tells how a drive falls to nothing while the motor turns.
type tail int8

const (
	unknownTail tail = iota
	brakes           // at once: the leads are shorted, or the driver holds them
	coasts           // by way of what the motor itself generates: a lead is open
)

// findBreaks reports a drive that falls to nothing in its midst and comes back
// in the same direction, again and again. Surest is that the motor is open in
// the breaks and held where the drive ends otherwise. Else a control that pulses,
// slows down or tries a stop again does so too, but by its clock; a person
// pauses on the way for moments of any length, but has no reason to let go and
// press again where the shaft stands at a stop. So lengths that are spread tell,
// over several breaks of which three at least are at a stop.
func (w *work) findBreaks() {
	if w.tr.DriveIsPolarity || w.d.pulsed || slices.ContainsFunc(w.found, func(f Finding) bool { return f.Form == bothMidway }) {
		return // told by what both leads do in the breaks
	}
	open := w.breaks()
	if w.openerThanEnds(open) {
		var odd []opening
		for _, o := range open {
			if o.coasts == coasts {
				odd = append(odd, o)
			}
		}
		f := w.brokenFinding(brokenCoasts, odd)
		f.Strength = 1 - math.Exp(-float64(len(odd))/2)
		w.found = append(w.found, f)
		return
	}
	// No contact that opens holds the motor.
	open = slices.DeleteFunc(open, func(o opening) bool { return o.coasts == brakes })
	chance := w.contactsChance(open)
	if chance < w.lim.Significance || w.restsLikeBreaks() {
		return // by hand
	}
	// What a contact makes once in twenty only is said, and blames nothing.
	if len(open) >= 3 && w.spreadLengths(open) && (len(open) < 5 || w.atStops(open) < 3 || chance < 0.05) {
		f := w.brokenFinding(brokenMidway, open)
		f.Strength = 1 - math.Exp(-float64(len(open))/4)
		w.found = append(w.found, f)
		return
	}
	if len(open) < 5 || !w.spreadLengths(open) || w.atStops(open) < 3 || w.triesStops(open) {
		return
	}
	f := w.brokenFinding(brokenIrregular, open)
	f.Strength = 1 - math.Exp(-float64(len(open)-3)/2)
	w.found = append(w.found, f)
}

// breaks lists the breaks of drives that were on their way, in which the shaft
// did not go on as if driven (a clip of the instrument that slips off).
func (w *work) breaks() []opening {
	var out []opening
	for k := 1; k < len(w.moves); k++ {
		m, n := &w.moves[k-1], &w.moves[k]
		gap := lapse(w.t[n.first], w.t[m.last])
		if m.Polarity != n.Polarity || gap > longestBreak || m.Duration() < breakOnItsWay || n.Duration() < breakOnItsWay || w.generated(m) || w.generated(n) {
			continue
		}
		o := opening{first: m.last, last: n.first, midst: true, dir: m.Direction, coasts: w.tailAfter(m)}
		due := w.rate[side(m.Direction)] * gap
		went := float64(m.Direction) * (w.v[o.last] - w.v[o.first])
		seen := due > 2*w.visible()
		if seen && went > due/2 {
			continue
		}
		o.stood = seen && math.Abs(went) < due/3
		out = append(out, o)
	}
	return out
}

// generated tells whether a move is only what the motor gives back as a stop
// turns it: never as much as its drive.
func (w *work) generated(m *Move) bool {
	const least = 0.6 // of the drive, as in dropGenerated
	return medianOf(w.d.mean[m.first:m.last])*float64(m.Polarity) < least*w.d.amp
}

// atStops counts the breaks in which the shaft stood at an end of the travel.
func (w *work) atStops(open []opening) int {
	near := math.Max(w.tol, w.lim.EndZone*w.span.Width())
	n := 0
	for _, o := range open {
		if v := w.v[o.first]; v < w.span.From+near || v > w.span.To-near {
			n++
		}
	}
	return n
}

// triesStops tells whether the breaks keep to the stops more than a contact does,
// which opens when it will: a control that tries its stops again breaks off
// there and nowhere else.
func (w *work) triesStops(open []opening) bool {
	stalled, driven := 0.0, 0.0
	for k := range w.moves {
		stalled += w.moves[k].Stalled
		driven += w.moves[k].Duration()
	}
	return stats.BinomialTail(w.atStops(open), len(open), stalled/driven) < w.lim.Significance
}

// spreadLengths tells whether the lengths of the breaks scatter by more than a
// control's clock does: by a robust deviation of a quarter of the middle one,
// and of two rows.
func (w *work) spreadLengths(open []opening) bool {
	var s []float64
	for _, o := range open {
		s = append(s, w.t[o.last]-w.t[o.first])
	}
	return w.scattered(s)
}

// scattered tells whether lengths, in s, keep to no clock, as breaks that spreadLengths asks.
func (w *work) scattered(s []float64) bool {
	return stats.MAD(s) > math.Max(0.25*medianOf(s), 2*w.tr.Step)
}

// openerThanEnds tells whether the motor was open in the breaks and held where
// the drive ended for good, by Fisher's exact test.
func (w *work) openerThanEnds(open []opening) bool {
	odd, paused, held, opened := 0, 0, 0, 0
	for _, o := range open {
		switch o.coasts {
		case coasts:
			odd++
		case brakes:
			paused++
		}
	}
	for k := range w.moves {
		m := &w.moves[k]
		if k+1 < len(w.moves) && w.moves[k+1].Polarity == m.Polarity && w.moves[k+1].Time.From-m.Time.To <= longestBreak {
			continue
		}
		switch w.tailAfter(m) {
		case brakes:
			held++
		case coasts:
			opened++
		}
	}
	return odd >= 3 && 5*opened <= held && stats.FisherExact(odd, paused, opened, held) < 0.01
}

// tailAfter tells how the drive fell at the end of a move, where the motor
// turned until then. A motor that is open gives back part of its drive until it
// stands, some tens of ms; one whose leads are held shows nothing from the next
// row on.
func (w *work) tailAfter(m *Move) tail {
	const (
		nothing = 0.05 // of the drive
		some    = 0.5  // of the drive: what a loaded gear motor's copper leaves of it at least
	)
	if w.tr.Step > 0.005 || !w.turnedAtEnd(m) {
		return unknownTail // rows too few to see it
	}
	i := m.last
	level := func(i int) float64 { return float64(m.Polarity) * w.d.mean[i] / w.d.amp }
	for i > m.first && level(i-1) < some {
		i--
	}
	j := i
	for j < len(w.t)-1 && level(j) > nothing && level(j) < some {
		j++
	}
	switch {
	case j-i <= 1:
		return brakes
	case j-i >= 3 && lapse(w.t[j], w.t[i]) >= 0.01:
		return coasts
	}
	return unknownTail
}

// turnedAtEnd tells whether the reading followed the drive just before its end.
func (w *work) turnedAtEnd(m *Move) bool {
	n := len(m.segs)
	for i := n - 1; i >= 0 && i >= n-2; i-- {
		s := m.segs[i]
		if s.state == track {
			return lapse(w.t[min(m.last, len(w.t)-1)], w.t[min(s.last, len(w.t)-1)]) < 0.12
		}
	}
	return false
}
