package analyze

import (
	"fmt"
	"math"
)

// rescaled says of two captures before and after a repair whose spans differ by more than
// tracks do, and whose ways from stop to stop take the same time, that the reading has another
// scale, or "": an obstacle, or a stop that is gone, takes from the time what it takes from
// the span. speed is that of before over after by full sweeps, with the band of good ones, NaN
// where there are none. A smaller scale after it is something new.
func (r *Repair) rescaled(before, after steady, speed float64, band Interval) string {
	span := (after.high - after.low) / (before.high - before.low)
	if !(span > 1+repairSpan || span < 1/(1+repairSpan)) {
		return ""
	}
	// The speed before over that after is the time after over that before.
	times, healthy := speed, band.Has(speed)
	if !(times > 0) {
		times, band = wayTimes(before, after)
		healthy = band.Has(1 / times)
	}
	if !(times > 0) || math.IsInf(band.To, 0) || !healthy {
		return "" // not known, or not the same time
	}
	l := travelOverScale(times, span, band)
	zero := aboutZero(before, after)
	if zero {
		l -= math.Log(oneStopKept)
	}
	if l > -math.Log(oneStopKept) {
		return ""
	}
	if span < 1 {
		scale, because := shown{.03, .2, .02, .02, .12}, "the reading has another scale and the travel takes as long: the sensor or its feed; a renewed actuator of another kind may read so too"
		if zero {
			scale, because = shown{.03, .1, .02, .02, .3}, "both stops read what they did in proportion, and the travel takes as long: the sensor is fed with other volts, or its reading goes through something that takes a share"
		}
		r.worse(after.c, SpanShift, fmt.Sprintf("It reads %.0f %% of the span of before the repair, and takes %.0f %% of the time.", 100*span, 100*times), scale, because)
	}
	return fmt.Sprintf("it read %.0f %% of the span that it reads now, and took %.0f %% of the time.", 100/span, 100/times)
}
