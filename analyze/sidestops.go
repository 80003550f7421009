package analyze

import (
	"fmt"
	"math"
)

// sideStop is how far, as a share of the span, the stops of two healthy sides lie apart
// where they are built alike: play and seals (common practice, no source).
const sideStop = 0.03

// oneStopKept is how many times likelier a shorter travel than a smaller scale leaves one stop
// where the other side has it: a body in the way moves one stop and no other; of a scale,
// whose two ends may be anywhere, one in four stays (chosen, not derived).
const oneStopKept = 4

// stopsTell is the logarithm of how much likelier the stops make another travel than another
// scale. One that reads as on the other side speaks for the travel, unless a scale about the
// end of the track beside it would leave it there too; two that both lie further in, or both
// further out, speak for the scale: no body is in the way at both ends.
func (r *SideBySide) stopsTell(good, bad steady) float64 {
	span := good.high - good.low
	ratio := (bad.high - bad.low) / span
	if good.c.Unit != bad.c.Unit || !(span > 0) || !(ratio > 0) {
		return 0
	}
	near := sideStop * span
	low, high := bad.low-good.low, good.high-bad.high // further in
	if math.Min(low, high) > 2*near || math.Max(low, high) < -2*near {
		return -math.Log(oneStopKept)
	}
	moved := math.Abs(1-ratio) * math.Min(good.low, bad.low) // by a scale about 0 V
	if math.Abs(high) < math.Abs(low) {
		moved = math.Abs(1-ratio) * (good.c.Reference - math.Max(good.high, bad.high))
	}
	if math.Min(math.Abs(low), math.Abs(high)) < near && math.Max(math.Abs(low), math.Abs(high)) > 2*near && moved > near {
		return math.Log(oneStopKept)
	}
	return 0
}

// shifted tells of a span that is the other side's and lies elsewhere on the track. Levers are
// set on their shafts tooth by tooth, and air cases are not built alike, so it says little: a
// control that learns its stops loses nothing by it, another one stops the door short. A side
// that turns the other way round may have its stops anywhere.
func (r *SideBySide) shifted(good, bad steady) {
	if r.Mirrored || good.c.Unit != bad.c.Unit || !(good.high > good.low) || !(bad.high > bad.low) || len(r.asides) > 0 {
		return
	}
	span := good.high - good.low
	low, high := bad.low-good.low, bad.high-good.high
	least := math.Min(math.Abs(low), math.Abs(high))
	if low*high < 0 || least < farOff*sideSpan/2*span {
		return
	}
	where, by := "higher", (low+high)/2
	if by < 0 {
		where, by = "lower", -by
	}
	r.add(shown{.05, .2, .05, .06, .12}, 0.8,
		fmt.Sprintf("Both its stops read %s %s than the good side's, and its span is the same.", amount(by, bad.c.Unit), where),
		"the sensor reads off by as much all along, or its lever or air case is not built like the other side's")
}
