package analyze

import "math"

// The shares of the stall torque that a healthy actuator's motor works
// against: little off its door, up to two fifths on a heavy one (a gear motor
// that needs half its stall torque runs at half its speed and wears out;
// common practice, no source).
const (
	usualLoad    = 0.2
	leastLoad    = 0.05
	greatestLoad = 0.4
)

// usualWarmth is how far, in K either way, two recordings of healthy
// actuators may differ in temperature: a frosty against a warm workshop, and
// a motor that has run for a minute. It is half of the 80 K by which a
// tormented motor heats.
const usualWarmth = 40

// relativeSpeed is the speed of a permanent-magnet DC motor at drive times
// its voltage and warmer kelvin above its temperature, over its speed before,
// against a torque that was the share load of its stall torque before.
//
// From w = V/k - R T/k^2 (no-load speed V/k, stall torque k V/R) with copper
// at +0.393 %/K (IEC 60028, from memory) and ferrite flux at -0.2 %/K (typical
// of magnet makers' pages). It is not below 0.
func relativeSpeed(drive, load, warmer float64) float64 {
	flux, ohms := 1-0.002*warmer, 1+0.00393*warmer
	return math.Max(0, (drive/flux-load*ohms/(flux*flux))/(1-load))
}

// speedBand is the range of speeds, over that at full drive, which a healthy
// actuator may show at drive times that drive: over all usual loads and
// temperatures. Off its door only the small loads count.
func speedBand(drive float64, free bool) Interval {
	heaviest := greatestLoad
	if free {
		heaviest = usualLoad
	}
	band := noInterval()
	const steps = 4
	for i := range steps + 1 {
		load := leastLoad + (heaviest-leastLoad)*float64(i)/steps
		for _, warmer := range []float64{-usualWarmth, 0, usualWarmth} {
			band = band.widen(relativeSpeed(drive, load, warmer))
		}
	}
	return band
}
