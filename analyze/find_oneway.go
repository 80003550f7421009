package analyze

import (
	"fmt"
	"math"
	"slices"
)

// roughOneWay is the form of a noisy track over which the wiper lets go one way only.
const roughOneWay = "one way only"

// otherWayClean is the measure of how often the same stretch was passed the other way
// without a leap.
const otherWayClean = "passed cleanly the other way"

// A contactLeap is a moment at which the reading leaves its line and is back at once.
type contactLeap struct {
	at   float64 // V, of the line there
	off  float64 // V, the furthest from it
	bin  int
	move int // -1 at rest
}

const (
	// leastLeaps is the least number of leaps that make a stretch: that as many are all
	// further than any going the other way has the chance 2/2^8 if the ways were alike.
	leastLeaps = 8

	// strayLeaps is the share of leaps that may come elsewhere, as sparks do (chosen, not
	// derived).
	strayLeaps = 0.04
)

// findRoughOneWay reports a stretch of the track in which the reading leaves its line for
// moments whenever the shaft passes it one way, and never the other way. A contact
// finger that is bent, or a burr, catches going one way and trails going the other. What
// is loose in the wiring does not know which way the shaft turns: that k passes one way
// all have such leaps, and m the other way none, has the chance 1/C(k+m, k) if the passes
// were drawn alike. What a motor's brushes send goes to both sides and comes all along.
func (w *work) findRoughOneWay() {
	for _, f := range w.found {
		if (f.Kind == NoisyTrack || f.Kind == DeadSpot && f.Tie == TiedToPosition) && f.Strength > 0.5 {
			return // told, at a place or everywhere
		}
	}
	// Teeth that let go one way make such leaps of the line, as far as they are seen as falls.
	if w.d.pulsed || !(w.span.Width() > 0) || len(w.rockings) > 0 || w.covered(DriveShift, None) || w.covered(RefLoss, None) || w.covered(GearSlip, None) {
		return
	}
	line := w.contactLine()
	mine, d := w.leapsOneWay(w.contactLeaps(line))
	if len(mine) < leastLeaps || !oneSidedLeaps(mine) {
		return
	}
	at := make([]float64, len(mine))
	for i, l := range mine {
		at[i] = l.at
	}
	band := Interval{quantileOf(at, strayLeaps), quantileOf(at, 1-strayLeaps)}
	p := w.passesOneWay(line, band, mine, d)
	if p.seen == 0 || p.other == 0 || 4*p.seen < 3*p.made || p.seen < 2 && (p.made > 1 || !w.clusteredIn(line, band, mine)) {
		return
	}
	chance := math.Exp(-logChoose(p.seen+p.other, p.seen))
	f := Finding{Kind: NoisyTrack, Form: roughOneWay, Direction: directionOf(d), Tie: TiedToPosition, TieP: chance, Event: "one way", Strength: 1,
		Volts: band, Seen: p.seen, Passes: p.made, Time: noInterval(), Places: p.places, ownTie: true,
		tieWord:  "goes with the way the shaft turns",
		Measures: []Measure{{MeasureLeaps, float64(len(mine)), ""}, {MeasureLargestDeparture, furthestLeap(mine), w.unit()}, {otherWayClean, float64(p.other), "times"}}}
	for _, o := range p.places {
		f.Time = f.Time.widen(o.Time.From).widen(o.Time.To)
	}
	w.overrule(f.Event, Dropouts, DeadSpot, NoisyTrack, EndLoss, Pauses, StickSlip, AtRail, SlowZone, LastingLeap)
	w.found = append(w.found, f)
}

// leapsOneWay gives the leaps of the way that has more of them, as far as they go further
// than those of the other way and those at rest, but for strays: brushes spark both ways.
func (w *work) leapsOneWay(all []contactLeap) (mine []contactLeap, d int) {
	var of [2][]contactLeap
	var others []float64
	for _, l := range all {
		if l.move < 0 {
			others = append(others, math.Abs(l.off))
			continue
		}
		s := side(w.moves[l.move].Direction)
		of[s] = append(of[s], l)
	}
	if len(of[1]) > len(of[0]) {
		d = 1
	}
	for _, l := range of[1-d] {
		others = append(others, math.Abs(l.off))
	}
	slices.Sort(others)
	limit := 0.0
	for _, x := range others[:max(0, len(others)-int(strayLeaps*float64(len(of[d]))))] {
		limit = 1.25 * x // beyond the scatter of the largest
	}
	for _, l := range of[d] {
		if math.Abs(l.off) > limit {
			mine = append(mine, l)
		}
	}
	return mine, d
}

// directionOf is the direction of a side.
func directionOf(d int) Direction {
	if side(Up) == d {
		return Up
	}
	return Down
}

// oneSidedLeaps tells whether the leaps go to one side for the most part: a wiper's wire
// that is let go is left to what pulls it.
func oneSidedLeaps(all []contactLeap) bool {
	up := 0
	for _, l := range all {
		if l.off > 0 {
			up++
		}
	}
	return 10*max(up, len(all)-up) >= 8*len(all)
}

// contactLine is the running median of the reading, short enough that a shaft on its way
// stays on it.
func (w *work) contactLine() []float64 {
	half := max(2, min(30, w.rows(0.05)))
	var win sortedWindow
	line := make([]float64, len(w.raw))
	for i := range w.raw {
		line[i] = win.median(w.raw, max(0, i-half), min(len(w.raw), i+half+1))
	}
	return line
}

// contactLeaps lists the moments at which the reading is further off its line than noise
// and than a shaft could go in two rows, under way and at rest. Where a drive begins or
// ends the line has a corner: those are left out.
func (w *work) contactLeaps(line []float64) []contactLeap {
	limit := math.Max(w.tol, w.lim.NoiseSigmas*w.moving())
	limit = math.Max(limit, 3*w.tr.Step*math.Max(w.rate[0], w.rate[1]))
	limit = math.Max(limit, 2*w.quantum)
	corner := max(3, w.rows(0.1))
	var out []contactLeap
	add := func(from, to, move int) {
		for i := from; i < to; i++ {
			off := w.raw[i] - line[i]
			if math.Abs(off) <= limit {
				continue
			}
			if n := len(out) - 1; n >= 0 && i-out[n].bin <= 1 {
				out[n].bin = i
				if math.Abs(off) > math.Abs(out[n].off) {
					out[n].off = off
				}
				continue
			}
			out = append(out, contactLeap{line[i], off, i, move})
		}
	}
	last := 0
	for k := range w.moves {
		m := &w.moves[k]
		if from := last + w.rows(restAfter); last > 0 || k == 0 {
			add(from, m.first-corner, -1)
		}
		last = m.last
		if m.Direction != None {
			add(m.first+corner, m.last-corner, k)
		}
	}
	return out
}

// oneWayPasses are the passes through a stretch of the track.
type oneWayPasses struct {
	seen, made int // the way the leaps come, with a leap and in all
	other      int // the other way
	places     []Occurrence
}

// passesOneWay counts the moves that pass half of a stretch or more.
func (w *work) passesOneWay(line []float64, band Interval, all []contactLeap, d int) (p oneWayPasses) {
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction == None {
			continue
		}
		way, in := noInterval(), noInterval()
		for i := m.first; i < m.last; i++ {
			if band.Has(line[i]) {
				way, in = way.widen(line[i]), in.widen(w.t[i])
			}
		}
		if way.Width() < 0.5*band.Width() {
			continue
		}
		if side(m.Direction) != d {
			p.other++
			continue
		}
		p.made++
		if slices.ContainsFunc(all, func(l contactLeap) bool { return l.move == k }) {
			p.seen++
			p.places = append(p.places, Occurrence{in, band, m.Direction})
		}
	}
	return p
}

// clusteredIn tells whether all leaps of the only pass lie in a stretch so short, beside
// what that pass went in all, that one in a hundred would be as short by chance.
func (w *work) clusteredIn(line []float64, band Interval, all []contactLeap) bool {
	m := &w.moves[all[0].move]
	lo, hi := extremes(line[m.first:m.last])
	share := band.Width() / math.Max(hi-lo, 1e-9)
	return math.Pow(share, float64(len(all)-2)) < w.lim.Significance && share < 0.5
}

// furthestLeap is how far the leaps go at the most, in V.
func furthestLeap(all []contactLeap) (far float64) {
	for _, l := range all {
		far = math.Max(far, math.Abs(l.off))
	}
	return far
}

func (f *Finding) oneWayRoughTitle(band string, unit string) string {
	clean := int(f.value(otherWayClean))
	return fmt.Sprintf("Noisy track %s, driven %s only: the reading leaps away for moments, %s and by up to %s; the other way it passed there cleanly, %s.", band, f.Direction, counted(int(f.value(MeasureLeaps)), "leap"), amount(f.value(MeasureLargestDeparture), unit), timesText(clean))
}

// roughOneWayLikelihood is the table of it. Seen in one pass alone, the time may have
// made it and not the place.
func roughOneWayLikelihood(f *Finding) (shown, string) {
	if f.Seen < 2 {
		return shown{.008, .15, .006, .005, .06}, "for a stretch of one pass the reading left its line again and again, and passed there cleanly the other way: a wiper that catches one way, or a contact that was loose just then"
	}
	if f.TieP > 0.05 {
		return shown{.003, .25, .005, .004, .04}, "the reading leaves its line for moments in one stretch, each time the shaft passes it one way, and not the other way: a wiper that catches; a contact in the cable seldom keeps to that"
	}
	return shown{.001, .3, .004, .003, .012}, "the reading leaves its line for moments in one stretch, each time the shaft passes it one way and never the other way: a wiper's finger catches there, no contact in the cable knows which way the shaft turns"
}
