package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/signal"
)

const (
	// mostSystemVolts is what no 12 V system drives a motor with, V: the long overvoltage
	// that such a system is tested with is 18 V (ISO 16750-2, from memory); a load dump
	// goes beyond, for a part of a second.
	mostSystemVolts = 20.0

	// longestSurge is how long such volts may last and be a surge or the instrument's, s:
	// over twice what a load dump lasts (0.4 s, from memory). What lasts longer is another
	// supply, and no row is touched.
	longestSurge = 1.0

	// leastUsual is the least usual drive, V, beside which volts are beyond all: less does
	// not turn such a motor.
	leastUsual = 5.0
)

// withoutSurges gives the trace without the drive's volts that no 12 V system gives, where
// they come for moments only: a level taken from there would be no level of the drive.
// Within a drive that way they are cut to its usual volts; else they are no drive.
func (w *work) withoutSurges(t *signal.Trace) *signal.Trace {
	if t.DriveIsPolarity || t.Drive.Unit != "V" {
		return t
	}
	usual, beyond := usualVolts(t.Drive.Mean)
	if len(beyond) == 0 || !(usual >= leastUsual) {
		return t
	}
	for _, b := range beyond {
		if t.Time[b.last-1]-t.Time[b.first] > longestSurge {
			return t
		}
	}
	out := *t
	out.Drive.Mean, out.Drive.Min, out.Drive.Max = slices.Clone(t.Drive.Mean), slices.Clone(t.Drive.Min), slices.Clone(t.Drive.Max)
	worst, at := 0.0, 0
	for _, b := range beyond {
		for i := b.first; i < b.last; i++ {
			if x := float64(t.Drive.Mean[i]); math.Abs(x) > math.Abs(worst) {
				worst, at = x, i
			}
		}
		cutSurge(&out, b, usual)
	}
	w.notes = append(w.notes, fmt.Sprintf("the drive reads %.1f V at %.2f s, and more than %.0f V %s, %s at the longest: no 12 V system drives a motor with so much. That is a surge on the supply or the instrument's, and was not taken for a drive of its own",
		worst, t.Time[at], mostSystemVolts, timesText(len(beyond)), SecondsText(longestOf(t, beyond))))
	return &out
}

// usualVolts is the middle of the volts of a drive, and the stretches beyond what a 12 V
// system gives; none where these are a quarter of all drive or more.
func usualVolts(x []float32) (usual float64, beyond []stretch) {
	var on []float64
	n := 0
	for i := 0; i < len(x); i++ {
		switch a := math.Abs(float64(x[i])); {
		case a > mostSystemVolts && !math.IsInf(a, 0):
			n++
			if k := len(beyond); k > 0 && beyond[k-1].last == i {
				beyond[k-1].last++
			} else {
				beyond = append(beyond, stretch{i, i + 1})
			}
		case a >= leastUsual && a <= mostSystemVolts:
			on = append(on, a)
		}
	}
	if len(on) == 0 || 4*n >= len(on)+n {
		return 0, nil
	}
	return medianIn(on), beyond
}

// cutSurge takes one stretch of too many volts, with its slopes, out of the drive.
func cutSurge(t *signal.Trace, b stretch, usual float64) {
	x := t.Drive.Mean
	sign := math.Copysign(1, float64(x[b.first]))
	grow := func(above float64) stretch {
		g := b
		for g.first > 0 && sign*float64(x[g.first-1]) > above {
			g.first--
		}
		for g.last < len(x) && sign*float64(x[g.last]) > above {
			g.last++
		}
		return g
	}
	to, part := sign*usual, grow(1.1*usual)
	// With hardly any usual drive of that side about it, it is what lies beside it that
	// goes on: a rest, with a shaft that stays where it is, or a drive the other way.
	if whole := grow(0.1 * usual); whole.last-whole.first < 3*(part.last-part.first) && whole.first > 0 && whole.last < len(x) {
		before, after := float64(x[whole.first-1]), float64(x[whole.last])
		rests := math.Abs(before) < 0.3*usual
		if math.Abs(before-after) < 0.3*usual && !(rests && shaftMoves(t, whole)) {
			to, part = (before+after)/2, whole
		}
	}
	for i := part.first; i < part.last; i++ {
		t.Drive.Mean[i], t.Drive.Min[i], t.Drive.Max[i] = float32(to), float32(to), float32(to)
	}
}

// shaftMoves tells whether the reading goes a fiftieth of all that it does in the capture
// over a stretch: a driven shaft does so in some tenths of a second (chosen, not derived).
func shaftMoves(t *signal.Trace, s stretch) bool {
	lo, hi := extremes(filled(t.Feedback.Mean))
	a, b := float64(t.Feedback.Mean[max(0, s.first-1)]), float64(t.Feedback.Mean[min(s.last, len(t.Feedback.Mean)-1)])
	return math.Abs(b-a) > 0.02*(hi-lo)
}

// longestOf is the longest of stretches, s, by the rows in them.
func longestOf(t *signal.Trace, in []stretch) float64 {
	longest := 0.0
	for _, s := range in {
		longest = math.Max(longest, lapse(t.Time[s.last-1], t.Time[s.first])+t.Step)
	}
	return longest
}
