package analyze

import (
	"math"
	"slices"
)

// triesByClock is the form of a drive that its driver gives up under a short and tries anew.
const triesByClock = "tried again by a clock, at few volts"

// otherWayHeld is the name of a measure: how many drives of the other polarity, as long as any
// that is given up, were not.
const otherWayHeld = "drives of the other polarity"

// findRetries reports bouts of short pulses of the drive that reach a part of its volts only,
// come by one clock, and go over into a full drive of their polarity, or come out of one, by
// the same clock: a driver that limits its current into a short, gives up, waits and tries
// again. A control that nudges, holds or pulses gives all the volts it has, however short its
// pulses are (those shorter than a row are left out), and no clock ties them to its drives.
func (w *work) findRetries() {
	if !w.driveKnown() || w.d.pulsed || w.d.amp < 2*startVolts {
		return
	}
	const (
		few    = 2 // bouts, and drives that take the place of a pulse
		pulses = 6
	)
	var places []Occurrence
	n, tied, other := 0, 0, 0
	polarity := int8(0)
	for k := 0; k < len(w.moves); k++ {
		last, clock := w.bout(k)
		if last == k {
			continue
		}
		a, z := &w.moves[k], &w.moves[last]
		ties := w.joinsClock(k-1, k, clock) + w.joinsClock(last, last+1, clock)
		if ties > 0 {
			if polarity == 0 {
				polarity = a.Polarity
			}
			if a.Polarity != polarity {
				other++
			}
			n, tied = n+last-k+1, tied+ties
			lo, hi := extremes(w.v[a.first:z.last])
			places = append(places, Occurrence{Interval{a.Time.From, z.Time.To}, Interval{lo, hi}, a.Direction})
		}
		k = last
	}
	if len(places) < few || tied < few || n < pulses {
		return
	}
	f := Finding{Kind: SupplySag, Form: triesByClock, Tie: TieUnknown, TieP: 1, Event: "supply", Volts: w.span,
		Time: Interval{places[0].Time.From, places[len(places)-1].Time.To}, Places: places, Seen: len(places), Passes: len(places),
		Strength: 1 - math.Exp(-float64(tied)/2), Measures: []Measure{{"pulses", float64(n), ""}}}
	if held := w.drivesOf(-polarity); held >= few && other == 0 {
		f.Measures = append(f.Measures, Measure{otherWayHeld, float64(held), ""})
	}
	w.found = append(w.found, f)
}

// drivesOf counts the drives of a polarity that were on their way.
func (w *work) drivesOf(polarity int8) (n int) {
	for k := range w.moves {
		if m := &w.moves[k]; m.Polarity == polarity && m.Duration() >= breakOnItsWay && !w.generated(m) {
			n++
		}
	}
	return n
}

// bout gives the last of the pulses that follow one another from move k on by one clock, and
// how long they pause, in s; k itself where there is no other.
func (w *work) bout(k int) (last int, clock float64) {
	last = k
	if !w.givenUp(&w.moves[k]) {
		return k, 0
	}
	for last+1 < len(w.moves) {
		m, n := &w.moves[last], &w.moves[last+1]
		gap := lapse(n.Time.From, m.Time.To)
		if n.Polarity != m.Polarity || !w.givenUp(n) || gap > longestBreak || last > k && !w.sameClock(gap, clock) {
			break
		}
		if last == k {
			clock = gap
		}
		last++
	}
	return last, clock
}

// sameClock tells whether two pauses, in s, are alike as read by rows.
func (w *work) sameClock(a, b float64) bool {
	return math.Abs(a-b) <= math.Max(2.5*w.tr.Step, 0.05*b)
}

// givenUp tells whether a move is a pulse of three rows or more that gets hardly more than
// half of the drive's volts.
func (w *work) givenUp(m *Move) bool {
	const (
		longest = 0.1 // s: a driver that limits its current gets hot within some ms
		most    = 0.6 // of the drive, as in generated
	)
	if m.last-m.first < 3 || m.Duration() > longest {
		return false
	}
	inner := slices.Clone(w.d.mean[m.first+1 : m.last-1])
	for i, x := range inner {
		inner[i] = x * float64(m.Polarity)
	}
	return medianOf(inner) < most*w.d.amp && slices.Max(inner) < most*w.d.amp
}

// joinsClock is 1 where moves a and b are a pulse and a full drive of its polarity, or a drive
// and a pulse, as far apart as the pulses are.
func (w *work) joinsClock(a, b int, clock float64) int {
	if a < 0 || b >= len(w.moves) {
		return 0
	}
	m, n := &w.moves[a], &w.moves[b]
	if m.Polarity != n.Polarity || w.generated(m) && w.generated(n) || !w.sameClock(lapse(n.Time.From, m.Time.To), clock) {
		return 0
	}
	return 1
}
