package analyze

import (
	"math"

	"gonum.org/v1/gonum/stat"

	"threewire/analyze/nominal"
)

// profilePace is the speed against a profile.
type profilePace struct {
	speed [2]float64 // of the reading, over a good one's at that drive; NaN unknown
	good  Interval   // where a good one's lies
	times float64    // travel time stop to stop over a good one's; NaN unknown
}

// paceAgainst measures the speed over the profile's. Each sweep is compared
// with what a motor under the usual load does at the sweep's own drive; the
// tolerance is the profile's own, with what load and temperature can do.
func (w *work) paceAgainst(p *nominal.Profile, scale float64) profilePace {
	c := w.paceCourse(p, scale)
	by := c.sweepsBy()
	full := len(by[0]) > 0 && len(by[1]) > 0
	if !full && p.Unit == w.unit() && w.steadyTravel(0.2*c.scale*p.Span()) {
		c.movesBy(&by)
	}
	var r profilePace
	var times, from, to []float64
	for i := range by {
		var speeds []float64
		for _, x := range telling(by[i]) {
			speeds, from, to = append(speeds, x.speed), append(from, x.band.From), append(to, x.band.To)
			if !math.IsNaN(x.time) {
				times = append(times, x.time)
			}
		}
		// The better ones: grease and motor warm in the first sweeps.
		r.speed[i] = quantileOf(speeds, 0.75)
	}
	r.times = medianOf(times)
	band := c.bandAt(c.drive(w.d.amp))
	if len(from) > 0 {
		band = Interval{stat.Mean(from, nil), stat.Mean(to, nil)}
	}
	own := p.TransitTolerance
	if !full {
		// Sweeps average over seals and bumps, a local rate does not.
		own = math.Hypot(own, 0.1)
	}
	r.good = Interval{band.From * (1 - own), band.To * (1 + own)}
	return r
}

// paceCourse is what a capture's speeds are measured by against a profile.
type paceCourse struct {
	*work
	p     *nominal.Profile
	scale float64 // reading over the profile's; NaN where not known
	// ends are the levels of the stops at either end, bothStops whether both are
	// known.
	ends      [2]float64
	bothStops bool
	// volts tells that both drives were logged in volts; else the supply may have
	// been between least and most of what the profile's was.
	volts       bool
	least, most float64
}

func (w *work) paceCourse(p *nominal.Profile, scale float64) *paceCourse {
	c := &paceCourse{work: w, p: p, scale: scale, least: 1, most: 1}
	c.volts = p.DriveVolts > 0 && w.driveKnown()
	if !c.volts {
		// Anything between an idle battery's 11 V and a charging one's 14.5 V
		// (common practice, no source).
		usual := p.DriveVolts
		if usual == 0 {
			usual = 12.5
		}
		c.least, c.most = 11/usual, 14.5/usual
	}
	n := 0
	for _, x := range w.stops {
		if x.Extreme {
			c.ends[side(x.Direction)] = x.Level
			n++
		}
	}
	c.bothStops = n == 2 && c.ends[1] > c.ends[0]
	if w.unit() != p.Unit { // the travel itself says, where both ends are known
		c.scale = math.NaN()
		if c.bothStops {
			c.scale = (c.ends[1] - c.ends[0]) / p.Span()
		}
	}
	return c
}

// drive is a mean drive as a share of the profile's.
func (c *paceCourse) drive(mean float64) float64 {
	if !c.volts {
		return mean / c.d.amp
	}
	return mean / c.p.DriveVolts
}

// bandAt is where the speed of a good one lies at a drive, over that under the
// usual load.
func (c *paceCourse) bandAt(at float64) Interval {
	band := noInterval()
	for _, k := range []float64{c.least, c.most} {
		b := speedBand(at*k, c.p.Free)
		for _, x := range []float64{b.From, b.To} {
			band = band.widen(x / math.Max(relativeSpeed(at, usualLoad, 0), 1e-3))
		}
	}
	return band
}

// goodRate is how fast a good one's reading moves at a drive under the usual load.
func (c *paceCourse) goodRate(d Direction, at float64) float64 {
	return c.scale * c.p.Span() / goodTransit(c.p, d) * relativeSpeed(at, usualLoad, 0)
}

// sweepsBy measures the sweeps of either direction.
func (c *paceCourse) sweepsBy() (by [2][]pacedSweep) {
	for _, s := range c.sweeps {
		if !(s.Rate > 0) || !(s.DriveMean > 0) {
			continue
		}
		at := c.drive(s.DriveMean)
		good := c.goodRate(s.Direction, at)
		if !(good > 0) {
			continue
		}
		x := pacedSweep{speed: s.Rate / good, time: math.NaN(), band: c.bandAt(at)}
		if c.bothStops && s.Stalled && s.FromStall {
			full := s.Transit * (c.ends[1] - c.ends[0]) / (s.High - s.Low)
			x.time = full / goodTransit(c.p, s.Direction) * relativeSpeed(at, usualLoad, 0)
		}
		by[side(s.Direction)] = append(by[side(s.Direction)], x)
	}
	return by
}

// movesBy takes the usual local rate, at the full drive, for a direction without
// a sweep.
func (c *paceCourse) movesBy(by *[2][]pacedSweep) {
	at := c.drive(c.d.amp)
	for k := range c.moves {
		d := c.moves[k].Direction
		if good := c.goodRate(d, at); d != None && good > 0 && len(by[side(d)]) == 0 {
			by[side(d)] = []pacedSweep{{c.rate[side(d)] / good, math.NaN(), c.bandAt(at)}}
		}
	}
}

// pacedSweep is one sweep against a profile.
type pacedSweep struct {
	speed float64  // over a good one's under the usual load, at the sweep's own drive
	time  float64  // travel time over a good one's; NaN unknown
	band  Interval // where the speed of a good one lies at that drive
}

// telling leaves out the sweeps whose drive lets a good one's speed be almost
// anything, beside others of the same direction that tell: half as wide again as
// the narrowest band. Near the volts at which the load holds the motor, its speed
// says nothing of it.
func telling(s []pacedSweep) []pacedSweep {
	least := math.Inf(1)
	for _, x := range s {
		least = math.Min(least, x.band.Width())
	}
	var out []pacedSweep
	for _, x := range s {
		if x.band.Width() <= 1.5*least {
			out = append(out, x)
		}
	}
	return out
}

// steadyTravel tells whether the capture moved long and far enough, at least
// once over least, for its local rate to be the motor's: a reading that hardly
// travels, or pulses in which the motor never gets up to speed, say nothing.
func (w *work) steadyTravel(least float64) bool {
	longest, short, long := 0.0, 0.0, 0.0
	for k := range w.moves {
		m := &w.moves[k]
		if lo, hi := w.tracked(m); hi > lo {
			longest = math.Max(longest, hi-lo)
		}
		// Half a second: several times the start delay and the time constant.
		if m.Moving > 0.5 {
			long += m.Moving
		} else {
			short += m.Moving
		}
	}
	return longest > least && long >= short
}
