package analyze

import (
	"fmt"
	"math"

	"threewire/analyze/nominal"
)

// wayPace is how fast the reading goes one way, Capture.Unit per s, at which drive, V (or
// the share of time, where only a sign was logged); NaN where it is not known.
type wayPace struct{ rate, drive float64 }

// paces are the middle paces down and up: of the sweeps, and where a way has none, of the
// moves over a good part of the travel.
func (c *Capture) paces() [2]wayPace {
	var rates, drives [2][]float64
	add := func(d Direction, rate, drive float64) {
		if drive = math.Abs(drive); d != None && rate > 0 && drive > 0 {
			rates[side(d)], drives[side(d)] = append(rates[side(d)], rate), append(drives[side(d)], drive)
		}
	}
	for _, s := range c.Sweeps {
		add(s.Direction, s.Rate, s.DriveMean)
	}
	none := [2]bool{len(rates[0]) == 0, len(rates[1]) == 0}
	for i := range c.Moves {
		if m := &c.Moves[i]; m.Direction != None && none[side(m.Direction)] && m.Travel() > leastThrough*c.Span.Width() {
			add(m.Direction, m.Rate, m.DriveMean)
		}
	}
	var out [2]wayPace
	for i := range out {
		out[i] = wayPace{medianOf(rates[i]), medianOf(drives[i])}
	}
	return out
}

// driveBetween is the drive of a pace, V; of a sign alone the volts between an idle and a
// charging battery, and NaN where it is chopped or clipped.
func (c *Capture) driveBetween(p wayPace) Interval {
	const idle, charging = 11, 14.5
	switch {
	case c.driveKnown():
		return Interval{p.drive, p.drive}
	case c.Pulsed || c.Clipped:
		return nowhere
	}
	return Interval{idle, charging}
}

// oneActuatorsPaces are the speeds, over that of one capture, in which another capture of
// the same actuator, or of one of its kind, lies at drive times its volts: n = V - M of a
// permanent-magnet motor between all loads of healthy doors, [leastLoad] to
// [greatestLoad] of its stall torque in either capture, both warm or cold ([usualWarmth]),
// and what motors of one make differ by ([nominal.Pace]). At like volts that is half to
// twice the speed, from 14 V to 9 V a fifth to one and a third.
func oneActuatorsPaces(drive float64) Interval {
	band := noInterval()
	for _, was := range []float64{leastLoad, greatestLoad} {
		for _, is := range []float64{leastLoad, greatestLoad} {
			for _, warmer := range []float64{-usualWarmth, usualWarmth} {
				// In relativeSpeed the speed before is 1: bring the two to one no-load speed.
				band = band.widen(relativeSpeed(drive, is, warmer) * (1 - is) / (1 - was))
			}
		}
	}
	return Interval{band.From * (1 - nominal.Pace), band.To * (1 + nominal.Pace)}
}

// paceBeyond tells how many times as fast b runs as the fastest that one actuator may
// (above 1), or as the slowest (below 1), both ways, by the reading's pace at the drives of
// a and b, b's readings taken by scale; with both figures. It is 1 where it lies between, or where nothing can be
// compared: volts that nobody knows, or a reading that is not the shaft's.
func paceBeyond(a, b *Capture, scale float64) (beyond float64, said string) {
	k, ok := levelScale(b, a)
	if !ok || a.shows(RefLoss) || a.shows(AtRail) || b.shows(RefLoss) || b.shows(AtRail) {
		return 1, ""
	}
	x, y := a.paces(), b.paces()
	over, under := math.Inf(1), 0.0
	for d := range x {
		was, is := a.driveBetween(x[d]), b.driveBetween(y[d])
		ratio := scale * k * y[d].rate / x[d].rate
		if !(ratio > 0) || !(was.From > 0) || !(is.From > 0) {
			return 1, "" // not seen both ways, or at volts that nobody knows
		}
		over = math.Min(over, ratio/oneActuatorsPaces(is.To/was.From).To)
		under = math.Max(under, ratio/oneActuatorsPaces(is.From/was.To).From)
	}
	at := func(c *Capture, p wayPace) string {
		if !c.driveKnown() {
			return amount(p.rate, c.Unit) + " per s"
		}
		return fmt.Sprintf("%s per s at %.1f V", amount(p.rate, c.Unit), p.drive)
	}
	said = fmt.Sprintf("%s and %s", at(a, x[1]), at(b, y[1]))
	switch {
	case over > 1:
		return over, said
	case under < 1:
		return under, said
	}
	return 1, ""
}

// paceApart says of two captures of one coupling that one runs faster, or slower, than one
// actuator does, or "".
func paceApart(a, b *Capture) string {
	if a.Free != b.Free {
		return ""
	}
	switch beyond, said := paceBeyond(a, b, 1); {
	case beyond > 1:
		return fmt.Sprintf("%s runs faster than %s by more than drive, door and warmth make (going up %s)", b.Source, a.Source, said)
	case beyond < 1:
		return fmt.Sprintf("%s runs slower than %s by more than drive, door and warmth make (going up %s)", b.Source, a.Source, said)
	}
	return ""
}
