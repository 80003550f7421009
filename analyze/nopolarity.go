package analyze

import (
	"math"
	"slices"
)

// leg is a stretch of the reading from one turning point to the next.
type leg struct {
	from, to         float64 // V, the turning points
	driven, undriven float64 // V of its travel with and without drive
	moving           float64 // s in which it travelled
}

// legs cuts the reading at its leaps and turning points and keeps the pieces
// that a shaft can have gone: longer than a fifth of the whole and not faster
// than an actuator turns. Shorter ones are hunting, slips and noise.
func (w *work) legs() []leg {
	lo, hi := extremes(w.v)
	// Well clear of noise, where the range leaves room for that.
	least := math.Max(0.2*(hi-lo), math.Min(10*w.tol, math.Max(0.35*(hi-lo), 3*w.tol)))
	if !(hi-lo > least) {
		return nil
	}
	on := w.drivenOn()
	var out []leg
	first := 0
	for i := 1; i <= len(w.v); i++ {
		// A tenth of the whole between two readings is a leap: a leg would
		// have fewer than ten of them.
		if i == len(w.v) || math.Abs(w.v[i]-w.v[i-1]) > math.Max(0.1*(hi-lo), w.tol) {
			out = w.legsOf(out, on, first, i, least)
			first = i
		}
	}
	return out
}

// drivenOn tells of each bin whether it is driven, the pauses between pulses with them:
// a shaft that goes by pulses goes on between these.
func (w *work) drivenOn() []bool {
	const pause = 0.5 // s
	on := make([]bool, len(w.t))
	last := -1 // bin, the last one driven
	for i, p := range w.d.pol {
		if p == 0 {
			continue
		}
		if last < 0 || lapse(w.t[i], w.t[last]) >= pause {
			last = i
		}
		for ; last <= i; last++ {
			on[last] = true
		}
		last = i
	}
	return on
}

// legsOf appends the legs of the bins [first, end), which have no leap.
func (w *work) legsOf(out []leg, on []bool, first, end int, least float64) []leg {
	top, bottom := first, first // bins of the extremes since the last turning point
	up := 0                     // +1 rising, -1 falling, 0 not known yet
	for i := first; i < end; i++ {
		v := w.v[i]
		if v > w.v[top] {
			top = i
		}
		if v < w.v[bottom] {
			bottom = i
		}
		switch {
		case up >= 0 && w.v[top]-v > least:
			out = w.addLeg(out, on, bottom, top, least)
			up, bottom = -1, i
		case up <= 0 && v-w.v[bottom] > least:
			out = w.addLeg(out, on, top, bottom, least)
			up, top = 1, i
		}
	}
	switch {
	case up > 0:
		out = w.addLeg(out, on, bottom, top, least)
	case up < 0:
		out = w.addLeg(out, on, top, bottom, least)
	}
	return out
}

// addLeg appends the leg from bin a to bin b if it is one.
func (w *work) addLeg(out []leg, on []bool, a, b int, least float64) []leg {
	if b <= a {
		return out
	}
	l := leg{from: w.v[a], to: w.v[b]}
	d, size := math.Copysign(1, l.to-l.from), math.Abs(l.to-l.from)
	for i := a + 1; i <= b; i++ {
		if x := d * (w.v[i] - w.v[i-1]); on[i] && on[i-1] {
			l.driven += x
		} else {
			l.undriven += x
		}
	}
	// Time in motion: between the first and the last tenth of the way, so that
	// the rest at a stop does not count, nor that between two moves.
	from, to := a, b
	for from < b && d*(w.v[from]-l.from) < 0.1*size {
		from++
	}
	for to > from && d*(l.to-w.v[to]) < 0.1*size {
		to--
	}
	l.moving = w.t[to] - w.t[from]
	// s; longer than a track holds the reading of a shaft that moves, or noise does
	rest := math.Max(0.3, 3*w.tol*l.moving/size)
	for i := from; i < to; {
		j := i
		for j < to && math.Abs(w.v[j+1]-w.v[i]) < w.tol {
			j++
		}
		if still := lapse(w.t[j], w.t[i]); still > rest {
			l.moving -= still
		}
		i = max(i+1, j)
	}
	if size >= least && l.moving > 0.8*size/w.ref*fastestTransit {
		out = append(out, l)
	}
	return out
}

// motorAlike is the factor between two speeds of one motor, load and way apart: a door
// that falls back by its weight, or a wiper that drifts, is far from that.
const motorAlike = 2.5

// polarityMissing tells that the drive as it was logged cannot be what the
// motor got: one polarity only, and the shaft travels both ways. A DC motor
// turns by its polarity, so either the sign was lost (a rectified or absolute
// value), or only one of the two leads was logged and the drive the other way
// does not show. It returns what is missing and what to do, or "".
func (w *work) polarityMissing() string {
	if w.overBothWays() {
		return "the drive goes over the instrument's range and its marks do not tell which way: use a wider range, or log both motor leads"
	}
	if w.d.none || len(w.moves) == 0 {
		return ""
	}
	p := w.moves[0].Polarity
	if slices.ContainsFunc(w.moves, func(m Move) bool { return m.Polarity != p }) {
		return ""
	}
	// A few volts the other way are a drive too weak to count, but a drive; a
	// spike or two are not.
	against := 0
	for _, x := range w.d.mean {
		if -float64(p)*x > 0.06*w.d.amp {
			against++
		}
	}
	if against > 3 {
		return ""
	}
	var driven, undriven [2]int
	var speed [2][]float64
	span := noInterval()
	for _, l := range w.legs() {
		d := 0
		if l.to > l.from {
			d = 1
		}
		span = span.widen(l.from).widen(l.to)
		speed[d] = append(speed[d], math.Abs(l.to-l.from)/math.Max(l.moving, w.tr.Step))
		// A leg is clear when nine tenths of it (the ends are blurred by the
		// threshold and by coasting) went with or without drive.
		switch whole := math.Abs(l.to - l.from); {
		case l.driven > 0.9*whole:
			driven[d]++
		case l.undriven > 0.9*whole:
			undriven[d]++
		}
	}
	if len(speed[0]) == 0 || len(speed[1]) == 0 {
		return ""
	}
	never := "negative"
	if p < 0 {
		never = "positive"
	}
	switch {
	case driven[0] > 0 && driven[1] > 0 && math.Abs(math.Log(medianOf(speed[0])/medianOf(speed[1]))) < math.Log(motorAlike):
		w.span = span
		return "the drive is never " + never + " although the reading travels both ways under it: its polarity was not logged; log both motor leads"
	case driven[0] > 0 && undriven[0] == 0 && undriven[1] > 0, driven[1] > 0 && undriven[1] == 0 && undriven[0] > 0:
		// It may go by pulses at times, either way.
		for _, a := range speed[0] {
			for _, b := range speed[1] {
				if math.Abs(math.Log(a/b)) < math.Log(motorAlike) {
					w.span = span
					return loneLead
				}
			}
		}
	}
	return ""
}

// overBothWays tells whether the drive is unknown, beyond the instrument's range
// one way or the other, for a twentieth of the capture or more: a spike or two
// over the range are no drive.
func (w *work) overBothWays() bool {
	if w.tr.Drive.Stats.Over == 0 {
		return false
	}
	n := 0
	for _, x := range w.tr.Drive.Mean {
		if x != x {
			n++
		}
	}
	return 20*n > len(w.t)
}

// withoutPolarity ends an examination that lacks the polarity: what the
// reading does at a rail is told, and nothing that depends on directions.
func (w *work) withoutPolarity(why string) {
	w.noPolarity = why
	w.sense = 0
	for k := range w.moves {
		w.moves[k].Start, w.moves[k].End = w.v[w.moves[k].first], w.v[w.moves[k].last-1]
	}
	w.findRails()
}

// MissesPolarity says, in a sentence without capital and full stop, why the
// drive of a capture has no polarity and what to log; "" when it has one.
func (c *Capture) MissesPolarity() string {
	for _, b := range c.Blind {
		if b.Kind == HalfDrive {
			return b.Text
		}
	}
	return ""
}

// oneLead tells whether the drive one way was not on record and was taken from the
// reading or the current.
func (c *Capture) oneLead() bool {
	return slices.ContainsFunc(c.Blind, func(a Absence) bool { return a.Kind == OneLead })
}

// logBothLeads is the only test that helps a capture without polarity, and the first
// for one in which the drive one way was made up.
func logBothLeads() NextTest {
	return NextTest{
		Name: "Log both motor leads", Minutes: 5, Turns: true,
		Procedure: []string{
			"Put one channel on each motor lead, both against ground, and one on the feedback wire.",
			"Repeat the capture with all three; with two channels only, take the feedback with each lead in turn and judge both files.",
			"Give the two leads with --lead-a and --lead-b.",
		},
		Outcomes: []string{},
		Cautions: []string{cautionPinch, cautionGround},
	}
}
