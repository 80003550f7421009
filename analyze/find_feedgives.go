package analyze

import (
	"math"
	"slices"
)

// A contact in the feed that goes bad while the capture runs takes volts by the current
// from that moment on: V = V0 - R I, and V0 is what was there before. A control that turns
// its drive down takes a share of its own, the same whatever the motor draws.
const (
	givesStep  = 0.08 // of the drive, the fall under way: half a volt on either lead is a harness's
	givesFit   = 0.04 // of the drive, how far off the line the rows may lie
	givesRange = 1.6  // the largest current over the least: a line needs two points apart
)

// findFeedGives reports a feed that gives way by the current from one moment on. That is
// surer than a drive that falls at the stops, which a control or a bench supply may do.
func (w *work) findFeedGives() {
	c := w.tr.Current
	if c == nil || !w.driveKnown() || w.d.pulsed {
		return
	}
	atStops := func(f Finding) bool { return f.Kind == SupplySag && (f.Form == "drive" || f.Form == sagAsLimit) }
	if slices.ContainsFunc(w.found, func(f Finding) bool { return f.Kind == SupplySag && !atStops(f) }) {
		return
	}
	at, before := w.fallsUnderWay()
	if at == 0 {
		return
	}
	var amps, volts []float64
	for _, x := range w.settledRows(at) {
		amps, volts = append(amps, x.amps), append(volts, x.volts)
	}
	if len(amps) < 40 {
		return
	}
	few, many := quantileOf(amps, 0.1), quantileOf(amps, 0.97)
	// Both ends weigh alike, however long it stood at a stop.
	var at1, at2, i1, i2 []float64
	for i, a := range amps {
		switch {
		case a <= few+0.2*(many-few):
			at1, i1 = append(at1, volts[i]), append(i1, a)
		case a >= few+0.8*(many-few):
			at2, i2 = append(at2, volts[i]), append(i2, a)
		}
	}
	if !(many > givesRange*few) || len(at1) < 5 || len(at2) < 5 {
		return
	}
	r := (medianOf(at1) - medianOf(at2)) / (medianOf(i2) - medianOf(i1))
	full := medianOf(at1) + r*medianOf(i1)
	var off []float64
	for i, a := range amps {
		off = append(off, math.Abs(volts[i]-full+r*a))
	}
	level := medianOf(at2)
	drop := 1 - level/full
	if drop < sagOfDrive || quantileOf(off, 0.9) > givesFit*full || math.Abs(full-before) > givesFit*before {
		return
	}
	w.found = append(slices.DeleteFunc(w.found, atStops), Finding{Kind: SupplySag, Form: "drive, by the current", Time: Interval{w.t[at], w.t[len(w.t)-1]}, Tie: TiedToTime, TieP: 1, Event: "supply",
		Strength: math.Min(1, (drop-sagOfDrive)/0.1+0.5), Seen: 1, Passes: 1,
		Measures: []Measure{{MeasureLevelUnderLoad, level, "V"}, {MeasureDropUnderLoad, 100 * drop, "%"}}})
}

// fallsUnderWay is the bin at which the drive falls most while the shaft runs on and the
// current does not rise, 0 where it does not fall, and what the drive was before, V.
func (w *work) fallsUnderWay() (at int, before float64) {
	n, gap := w.rows(0.2), w.rows(0.05)+1
	if n < 3 {
		return 0, 0
	}
	most := givesStep
	current := func(from, to int) float64 {
		sum := 0.0
		for i := from; i < to; i++ {
			sum += math.Abs(float64(w.tr.Current.Mean[i]))
		}
		return sum / float64(to-from)
	}
	for k := range w.moves {
		m := &w.moves[k]
		for _, g := range m.segs {
			if g.state != track {
				continue
			}
			// The motor's start is over; a stop loads the shaft before it stands.
			start := max(g.first, m.first+w.rows(w.lim.StallSeconds)) + n + gap
			for i := start; i+gap+2*n < g.last; i += max(1, gap/2) {
				a, _ := w.meanVolts(i-gap-n, i-gap)
				b, _ := w.meanVolts(i+gap, i+gap+n)
				if fall := 1 - b/a; fall > most && current(i+gap, i+gap+n) < 1.15*current(i-gap-n, i-gap) {
					most, at, before = fall, i, a
				}
			}
		}
	}
	return at, before
}
