package analyze

import "math"

// wayTimes is how long one side takes over its whole way against the other, by the paces and
// the ways between the stops where no full sweep from stop to stop was driven on both, and the
// range in which healthy pairs lie as in [speedRatio]; NaN where a pace is not known. Both
// directions together: which one of a mirrored side is which does not matter then.
func wayTimes(good, bad steady) (times float64, band Interval) {
	of := func(s steady) (t, drive float64) {
		var ways, drives []float64
		for _, d := range []Direction{Down, Up} {
			p := s.c.profileOf(d)
			if p == nil || !(p.Nominal > 0) || p.covers() < mostOfWay*(s.high-s.low) {
				return math.NaN(), math.NaN()
			}
			ways, drives = append(ways, (s.high-s.low)/p.Nominal), append(drives, s.c.fullDriveOf(d))
		}
		return mean(ways), mean(drives)
	}
	ta, va := of(good)
	tb, vb := of(bad)
	if !(ta > 0) || !(tb > 0) {
		return math.NaN(), Interval{}
	}
	speed, band := speedRatio(good.c, bad.c, []fullSweep{{ta, va}}, []fullSweep{{tb, vb}})
	if math.IsInf(band.To, 0) { // hardly driven
		return math.NaN(), Interval{}
	}
	return 1 / speed, band
}

// mostOfWay is the share of a way that its pace must be known over to stand for all of it:
// what is left then counts for less than half of the spread of healthy pairs.
const mostOfWay = 0.75

// covers is how much of the travel the profile was driven over.
func (p *Profile) covers() float64 {
	over := noInterval()
	for _, q := range p.Points {
		over = over.widen(q.Position)
	}
	return over.Width()
}

// aboutZero tells whether both stops lie where a scale about 0 V puts those of a sound capture,
// each moved by more than stops are apart. A body moves one stop, a lever that is set
// otherwise moves both the same way; what feeds the track scales all readings, and so does
// what loads the wiper or stands before the input.
func aboutZero(good, bad steady) bool {
	span := good.high - good.low
	ratio := (bad.high - bad.low) / span
	near := sideStop * span
	return good.c.Unit == bad.c.Unit && math.Abs(bad.low-ratio*good.low) < near && math.Abs(bad.high-ratio*good.high) < near &&
		math.Abs(1-ratio)*good.low > 2*near
}
