package stats

import "math"

// HalfPeriod is the stretch of a signal between two zero crossings.
type HalfPeriod struct {
	Start, End float64 // crossings, in samples from the first sample
	Sign       int     // +1 above zero, -1 below
	Area       float64 // integral of |e|, in units of e times units of dt
	Duration   float64 // in units of dt
	// PeakRatio is the part of Area before the largest |e| over the part after
	// it.
	PeakRatio float64
}

// HalfPeriods cuts e, sampled every dt, at its zero crossings (see
// [ZeroCrossings]) and integrates each complete half period by the trapezium
// rule. Fewer than two crossings, or NaN or infinity, give nil.
//
// The area is the load of Hagglund T., Control Eng. Practice 3 (1995)
// 1543-1551: 2*A/w for a sine of amplitude A and angular frequency w.
func HalfPeriods(e []float64, dt float64) []HalfPeriod {
	at := ZeroCrossings(e)
	var halves []HalfPeriod
	for i := 1; i < len(at); i++ {
		halves = append(halves, halfPeriod(e, at[i-1], at[i], dt))
	}
	return halves
}

func halfPeriod(e []float64, start, end, dt float64) HalfPeriod {
	from, to := int(math.Floor(start))+1, int(math.Ceil(end))-1 // samples strictly inside
	peak := from
	for i := from; i <= to; i++ {
		if math.Abs(e[i]) > math.Abs(e[peak]) {
			peak = i
		}
	}
	var before, after float64
	lastAt, last := start, 0.0
	add := func(at, v float64) {
		area := (at - lastAt) * (last + v) / 2
		if at <= float64(peak) {
			before += area
		} else {
			after += area
		}
		lastAt, last = at, v
	}
	for i := from; i <= to; i++ {
		add(float64(i), math.Abs(e[i]))
	}
	add(end, 0)
	h := HalfPeriod{Start: start, End: end, Sign: 1,
		Area: (before + after) * dt, Duration: (end - start) * dt, PeakRatio: before / after}
	if e[peak] < 0 {
		h.Sign = -1
	}
	return h
}

// LoadLimit returns the area of a half period below which it does not count as
// a disturbance: amplitude*period/pi, the area of half a sine of that amplitude
// and period. Hagglund (1995) takes 1 % of the range for the amplitude and the
// integral time of the controller for the period (figures from memory).
func LoadLimit(amplitude, period float64) float64 { return amplitude * period / math.Pi }

// Loads counts the half periods with an area above limit. Hagglund (1995)
// speaks of oscillation at more than about ten within the supervision time
// (from memory).
func Loads(halves []HalfPeriod, limit float64) int {
	count := 0
	for _, h := range halves {
		if h.Area > limit {
			count++
		}
	}
	return count
}

// ForsmanStattin returns the share of half periods that resemble the next one
// of the same sign: the areas within a factor alpha and the durations within a
// factor gamma of each other. Above 0.4 is suspicious, above 0.8 very regular
// with alpha 0.5 to 0.7 and gamma 0.7 to 0.8 (figures from memory).
//
// No half periods give NaN. It panics if alpha or gamma is outside (0, 1).
//
// Source: Forsman K., Stattin A., European Control Conference 1999.
func ForsmanStattin(halves []HalfPeriod, alpha, gamma float64) float64 {
	mustFraction(alpha, "alpha")
	mustFraction(gamma, "gamma")
	within := func(ratio, bound float64) bool { return bound < ratio && ratio < 1/bound }
	last := map[int]HalfPeriod{}
	alike := 0
	for _, h := range halves {
		if l, seen := last[h.Sign]; seen &&
			within(h.Area/l.Area, alpha) && within(h.Duration/l.Duration, gamma) {
			alike++
		}
		last[h.Sign] = h
	}
	return float64(alike) / float64(len(halves))
}

// SinghalSalsbury returns the area before the peak over the area after it,
// both summed over all half periods. About 1 is sinusoidal, clearly above 1
// points to sticking: the signal climbs slowly and then gives way. No half
// periods give NaN.
//
// Source: Singhal A., Salsbury T.I., J. Process Control 15 (2005) 371-382.
func SinghalSalsbury(halves []HalfPeriod) float64 {
	var before, after float64
	for _, h := range halves {
		share := h.PeakRatio / (1 + h.PeakRatio)
		if math.IsInf(h.PeakRatio, 1) {
			share = 1
		}
		before += h.Area * share
		after += h.Area * (1 - share)
	}
	return before / after
}

// HeShape fits every half period of e with half a sine and with a symmetric
// triangle, amplitudes by least squares, and returns
// SI = MSE(sine) / (MSE(sine) + MSE(triangle)). SI >= 0.6 points to sticking,
// SI <= 0.4 against it (figures from memory).
//
// Half periods with fewer than three samples inside say nothing about shape and
// are left out. NaN if none is left, or if both fits are perfect.
//
// Source: He Q.P., Wang J., Pottmann M., Qin S.J., Ind. Eng. Chem. Res. 46
// (2007) 4549-4560; here with the apex of the triangle in the middle.
func HeShape(e []float64) float64 {
	at := ZeroCrossings(e)
	var sine, triangle float64
	for i := 1; i < len(at); i++ {
		start, end := at[i-1], at[i]
		from, to := int(math.Floor(start))+1, int(math.Ceil(end))
		if to-from < 3 {
			continue
		}
		s, t := shapeErrors(e[from:to], float64(from)-start, end-start)
		sine += s
		triangle += t
	}
	return sine / (sine + triangle)
}

// shapeErrors returns the sums of squared residuals of the two fits to y, whose
// first sample lies offset samples after the start of a half period.
func shapeErrors(y []float64, offset, length float64) (sine, triangle float64) {
	residual := func(shape func(u float64) float64) float64 {
		var xy, xx, sum float64
		for i, v := range y {
			f := shape((offset + float64(i)) / length)
			xy += f * v
			xx += f * f
		}
		for i, v := range y {
			d := v - xy/xx*shape((offset+float64(i))/length)
			sum += d * d
		}
		return sum
	}
	sine = residual(func(u float64) float64 { return math.Sin(math.Pi * u) })
	triangle = residual(func(u float64) float64 { return 1 - math.Abs(2*u-1) })
	return sine, triangle
}

// Yamashita returns rho1, the share of time in which the input moves and the
// output stands still, among the time in which either moves. Steps are coded +1
// rising, 0 steady, -1 falling. Unrelated signals give 0.25 = 2/8; more
// suggests sticking.
//
// NaN if nothing moves. It panics if the lengths differ.
//
// Source: Yamashita Y., Control Eng. Practice 14 (2006) 503-510.
func Yamashita(input, output []int) float64 {
	mustMatch(len(input), len(output))
	var stuck, moving float64
	for i, in := range input {
		if in == 0 && output[i] == 0 {
			continue
		}
		moving++
		if output[i] == 0 {
			stuck++
		}
	}
	return stuck / moving
}
