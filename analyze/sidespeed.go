package analyze

import (
	"fmt"
	"math"
	"slices"
)

// sidePace is how fast one side runs against the other one way, at the same drive.
type sidePace struct {
	ratio float64
	band  Interval // in which healthy pairs lie, two deviations each way

	atMost bool // it never got there: the ratio is the most that it can be
}

// deviations tells how far a ratio lies from 1, in deviations of healthy pairs.
func (p sidePace) deviations() float64 { return deviationsOf(p.ratio, p.band) }

// deviationsOf tells how many deviations lie between a ratio and 1; a band is two.
func deviationsOf(x float64, band Interval) float64 {
	if math.IsNaN(x) || !(x > 0) || !(band.From > 0) {
		return 0
	}
	if x < 1 {
		return 2 * math.Log(x) / math.Log(band.From) * -1
	}
	return 2 * math.Log(x) / math.Log(band.To)
}

// sidePaces compares two sides way by way, named by the good side's direction: by full
// sweeps where both have some, else by how fast they run through the same readings.
func sidePaces(good, bad steady, mirrored bool) (by [2]*sidePace, throughReadings bool) {
	for d := range by {
		// A mirrored door goes down where the other goes up.
		e := d
		if mirrored {
			e = 1 - d
		}
		p := sidePace{ratio: math.NaN()}
		if len(good.sweeps[d]) > 0 && len(bad.sweeps[e]) > 0 {
			p.ratio, p.band = speedRatio(good.c, bad.c, good.sweeps[d], bad.sweeps[e])
		} else if !mirrored {
			p = paceThrough(good.c, bad.c, d)
			throughReadings = throughReadings || p.ratio > 0
		}
		if !(p.ratio > 0) {
			p = stillOnItsWay(good, bad, d, e)
		}
		if p.ratio > 0 && !math.IsInf(p.band.To, 0) { // else hardly driven
			by[d] = &p
		}
	}
	return by, throughReadings
}

// stillOnItsWay compares the whole way of the good side, going d, with the longest drive of
// the bad one, going e, that it did not get to the end of: not slower than the other side it
// would have been there. That holds whatever the scale, which makes no drive longer.
func stillOnItsWay(good, bad steady, d, e int) sidePace {
	none := sidePace{ratio: math.NaN()}
	if len(good.sweeps[d]) == 0 || good.c.Unit != bad.c.Unit {
		return none
	}
	var longest *Move
	for i := range bad.c.Moves {
		m := &bad.c.Moves[i]
		if m.Direction == Direction(2*e-1) && m.Stalled == 0 && math.Abs(m.DriveMean) > fullyDriven*math.Abs(good.sweeps[d][0].drive) && (longest == nil || m.Moving > longest.Moving) {
			longest = m
		}
	}
	if longest == nil || math.Abs(longest.End-longest.Start) > good.high-good.low {
		return none // nothing stopped it where the other side stops
	}
	p := sidePace{atMost: true}
	p.ratio, p.band = speedRatio(good.c, bad.c, good.sweeps[d], []fullSweep{{longest.Moving, math.Abs(longest.DriveMean)}})
	if !(p.ratio < 1) {
		return none
	}
	return p
}

// leastThrough is the share of the longer travel that two sides must have been driven
// over both, for the speeds there to stand for the actuators: some seventh (chosen, not
// derived).
const leastThrough = 0.15

// paceThrough compares the speeds of two captures at the same readings one way, where
// the whole way from stop to stop was not driven on both sides.
func paceThrough(good, bad *Capture, d int) sidePace {
	none := sidePace{ratio: math.NaN()}
	if good.Unit != bad.Unit {
		return none
	}
	x, y := good.profileOf(Direction(2*d-1)), bad.profileOf(Direction(2*d-1))
	if x == nil || y == nil {
		return none
	}
	var ratios []float64
	common := noInterval()
	for _, p := range x.Points {
		if v, ok := y.rateAt(p.Position); ok && p.Rate > 0 {
			ratios, common = append(ratios, v/p.Rate), common.widen(p.Position)
		}
	}
	const fewest = 5 // cells, see findSlowZones
	if len(ratios) < fewest || common.Width() < leastThrough*math.Max(good.Span.Width(), bad.Span.Width()) {
		return none
	}
	at := func(c *Capture, s float64) []fullSweep { return []fullSweep{{s, c.fullDriveOf(Direction(2*d - 1))}} }
	r := medianOf(ratios)
	p := sidePace{}
	p.ratio, p.band = speedRatio(good, bad, at(good, r), at(bad, 1))
	return p
}

// profileOf is the profile of one direction, nil without one.
func (c *Capture) profileOf(d Direction) *Profile {
	i := slices.IndexFunc(c.Profiles, func(p Profile) bool { return p.Direction == d })
	if i < 0 {
		return nil
	}
	return &c.Profiles[i]
}

// rateAt is the speed at a reading, between the two cells beside it; not where one of
// them is missing or they lie three cells apart and more.
func (p *Profile) rateAt(v float64) (rate float64, ok bool) {
	cell := math.Inf(1)
	for i := 1; i < len(p.Points); i++ {
		cell = math.Min(cell, math.Abs(p.Points[i].Position-p.Points[i-1].Position))
	}
	for i := 1; i < len(p.Points); i++ {
		a, b := p.Points[i-1], p.Points[i]
		if a.Position > b.Position {
			a, b = b, a
		}
		if v < a.Position || v > b.Position || b.Position-a.Position > 3*cell {
			continue
		}
		k := (v - a.Position) / (b.Position - a.Position)
		return a.Rate + k*(b.Rate-a.Rate), true
	}
	return 0, false
}

// fullDriveOf is the drive level that moves the reading one way, V.
func (c *Capture) fullDriveOf(d Direction) float64 {
	if float64(d)*float64(c.Sense) > 0 {
		return math.Abs(c.Levels.High)
	}
	return math.Abs(c.Levels.Low)
}

// weighWays weighs the ways against each other: a supply, cold grease and a load that
// drags change both alike, and what is left is known better than either by itself.
func (r *SideBySide) weighWays(by [2]*sidePace) {
	if by[0] == nil || by[1] == nil {
		return
	}
	z := (by[1].deviations() - by[0].deviations()) / math.Sqrt2
	if math.Abs(z) < farOff {
		return
	}
	slow, other := Up, Down
	if z > 0 {
		slow, other = Down, Up
	}
	x, y := by[side(slow)].ratio, by[side(other)].ratio
	if r.Mirrored { // by is named by the good side
		slow, other = -slow, -other
	}
	r.add(shown{.04, .03, .3, .15, .2}, strengthOf(z),
		fmt.Sprintf("Going %s it runs at %.0f %% of the good side's speed, going %s at %.0f %%.", slow, 100*x, other, 100*y),
		"slow one way only, and the other side is not: brushes or a lead that give one polarity less, or a door that drags one way")
}

// goesFurther tells of a travel that ends at the end of the track where the other side,
// whose other stop reads the same, stops well before it: an actuator in order does not
// leave its track.
func (r *SideBySide) goesFurther(good, bad steady) {
	if r.Mirrored || good.c.Unit != bad.c.Unit || !(good.high > good.low) || !(bad.high > bad.low) {
		return
	}
	if zs := deviationsOf((bad.high-bad.low)/(good.high-good.low), r.SpanGood); math.Abs(zs) > 2 {
		return // said already
	}
	ref, span := bad.c.Reference, good.high-good.low
	near := sideStop * span
	atHigh := bad.high > (1-bareRail)*ref && good.high < bad.high-2*near && math.Abs(good.low-bad.low) < near
	atLow := bad.low < bareRail*ref && good.low > bad.low+2*near && math.Abs(good.high-bad.high) < near
	if !(ref > 0) || atHigh == atLow {
		return
	}
	end, level, other := "high", bad.high, good.high
	if atLow {
		end, level, other = "low", bad.low, good.low
	}
	r.add(shown{.03, .12, .02, .3, .05}, 0.8,
		fmt.Sprintf("At the %s end it goes on to the end of the track, %s, where the good side stops at %s.", end, amount(level, bad.c.Unit), amount(other, bad.c.Unit)),
		"the stop that the other side has there is gone: a door broken off its link; or a track that is open at its end")
}
