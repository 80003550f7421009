package analyze

import (
	"math"
	"slices"

	"threewire/signal"
)

// drive is the conditioned motor drive of a capture.
type drive struct {
	mean   []float64 // V about the rest level, local mean where pulsed
	pol    []int8    // -1, 0, +1 for each bin
	levels Levels
	amp    float64 // V, full drive
	pulsed bool
	folded bool // the pulses come faster than the rows: a drive may begin and end in rows that are off
	none   bool // no drive anywhere
}

// readDrive finds the drive's levels and polarity. Levels are histogram modes
// (IEEE Std 181) of each side; polarity is a threshold with hysteresis on the
// local mean, so PWM reads as its duty.
func readDrive(t *signal.Trace, lim Limits) drive {
	d := drive{mean: filled(t.Drive.Mean), pol: make([]int8, t.Len())}
	lo, hi := outer(t.Drive.Mean, max(3, int(0.01/math.Max(t.Step, 1e-6))))
	// A one-row nudge of a slow logger must count, so a capture with few bins
	// uses its plain extremes.
	if t.Len() < 2000 {
		lo, hi = extremes(d.mean)
	}
	d.levels = driveLevels(t.Drive.Mean, lo, hi)
	if t.DriveIsPolarity {
		d.levels.Rest = 0
	}
	for i := range d.mean {
		d.mean[i] -= d.levels.Rest
	}
	d.amp = math.Max(d.levels.High-d.levels.Rest, d.levels.Rest-d.levels.Low)
	if !(d.amp > driveFloor(t, d.mean, d.amp)) {
		d.none = true
		return d
	}
	d.threshold(lim.DriveOn, lim.DriveOff)
	if w := d.pulseWindow(t.Time); w > 1 {
		d.pulsed = true
		d.mean = movingMean(d.mean, w)
		d.threshold(lim.DriveOn/2, lim.DriveOff/2)
		return d
	}
	d.foldPulses(t)
	return d
}

// driveFloor is the amplitude a drive must exceed to be one. A polarity
// column needs half a unit. A voltage needs 1 V (a 12 V motor does not stir
// on less), or, when a probe factor was forgotten, two clean states ten times
// further apart than their own scatter.
func driveFloor(t *signal.Trace, mean []float64, amp float64) float64 {
	if t.DriveIsPolarity || t.Drive.Unit == "" {
		return 0.4
	}
	if amp > 1 {
		return 1
	}
	diff := make([]float64, 0, len(mean))
	for i := 1; i < len(mean); i++ {
		diff = append(diff, math.Abs(mean[i]-mean[i-1]))
	}
	slices.Sort(diff)
	scatter := 0.0
	if len(diff) > 0 {
		scatter = diff[len(diff)*9/10]
	}
	return math.Max(0.05, 10*scatter)
}

// restRows is the least number of rows that show a rest level which is not about zero.
const restRows = 5

// driveLevels places the low, rest and high level. Rest is the mode of the
// middle of the range, or 0 when the drive never rests.
func driveLevels(x []float32, lo, hi float64) Levels {
	amp := math.Max(math.Abs(lo), math.Abs(hi))
	if amp == 0 || math.IsInf(lo, 0) || math.IsInf(hi, 0) {
		return Levels{}
	}
	const bins = 400
	var count [bins]int
	scale := bins / (2 * amp * 1.01)
	for _, v := range x {
		f := float64(v)
		if f >= -amp && f <= amp {
			count[int((f+amp*1.01)*scale)]++
		}
	}
	// mode returns the fullest bin's centre between the values a and b.
	mode := func(a, b float64) (float64, bool) {
		best, n := 0, 0
		for i := range count {
			c := (float64(i)+0.5)/scale - amp*1.01
			if c >= a && c <= b && count[i] > n {
				best, n = i, count[i]
			}
		}
		return (float64(best)+0.5)/scale - amp*1.01, n > 0
	}
	var l Levels
	// A level is kept for some rows; one or two on the way from one polarity to the other,
	// or while the motor still generates, are none, unless they lie where rest does.
	kept := func(at float64) (n int) {
		for i := int((at+amp*1.01)*scale) - 2; i <= int((at+amp*1.01)*scale)+2; i++ {
			n += count[i]
		}
		return n
	}
	if r, ok := mode(-amp/4, amp/4); ok {
		if kept(r) >= restRows || math.Abs(r) < amp/20 {
			l.Rest = r
			// A control that holds the shaft with a few volts does so either way, or rests
			// at other times; an instrument that reads beside zero has one rest, and its
			// edges leave no such share of rows elsewhere (a tenth is chosen, not derived).
			least := max(restRows, kept(r)/10)
			if m, ok := mode(-r-amp/50, -r+amp/50); math.Abs(r) > amp/20 && ok && kept(m) >= least {
				l.Rest = (r + m) / 2
			} else if z, ok := mode(-amp/50, amp/50); math.Abs(r) > amp/20 && ok && kept(z) >= least {
				l.Rest = z
			}
		}
	}
	l.Low, l.High = l.Rest, l.Rest
	if h, ok := mode(amp/2, 1.02*amp); ok && hi > amp/2 {
		l.High = h
	}
	if v, ok := mode(-1.02*amp, -amp/2); ok && lo < -amp/2 {
		l.Low = v
	}
	return l
}

// threshold fills pol with hysteresis: on above on*amp, off below off*amp.
func (d *drive) threshold(on, off float64) {
	state := int8(0)
	for i, v := range d.mean {
		a := math.Abs(v)
		sign := int8(1)
		if v < 0 {
			sign = -1
		}
		switch {
		case a >= on*d.amp:
			state = sign
		case a < off*d.amp || sign != state:
			state = 0
		}
		d.pol[i] = state
	}
}

// pulseWindow returns the number of bins over which a pulsed drive must be
// averaged, 0 when it is not pulsed. It is PWM when most of the driven time
// lies in pulses with on and off times below 30 ms, which the mechanics (time
// constant of tens of ms) cannot follow.
func (d *drive) pulseWindow(t []float64) int {
	const short = 0.03
	var periods []float64
	var inPulses, driven float64
	lastStart, lastBin := math.Inf(-1), 0
	for i := 0; i < len(d.pol); {
		j := i
		for j < len(d.pol) && d.pol[j] == d.pol[i] {
			j++
		}
		if d.pol[i] != 0 && j < len(d.pol) {
			width := lapse(t[j], t[i])
			driven += width
			if width < short && lapse(t[i], lastStart) < 2*short {
				inPulses += width
				periods = append(periods, float64(i-lastBin))
			}
			lastStart, lastBin = t[i], i
		}
		i = j
	}
	if len(periods) < 10 || inPulses < 0.3*driven {
		return 0
	}
	slices.Sort(periods)
	return max(3, int(3*periods[len(periods)/2])|1)
}

// moves cuts the polarity into runs, bridging pauses too short for the shaft
// to notice.
func (d *drive) moves(t []float64, step float64, lim Limits) []Move {
	var out []Move
	bridge := math.Max(lim.Bridge, 1.5*step)
	for i := 0; i < len(d.pol); {
		j := i
		for j < len(d.pol) && d.pol[j] == d.pol[i] {
			j++
		}
		if p := d.pol[i]; p != 0 {
			if n := len(out); n > 0 && out[n-1].Polarity == p && lapse(t[i], t[out[n-1].last-1]) <= bridge {
				out[n-1].last = j
			} else {
				out = append(out, Move{Polarity: p, first: i, last: j})
			}
		}
		i = j
	}
	kept := out[:0]
	for _, m := range out {
		sum := 0.0
		for i := m.first; i < m.last; i++ {
			sum += d.mean[i]
		}
		m.DriveMean = sum / float64(m.last-m.first)
		m.Time = Interval{t[m.first], endOf(t, m.last, step)}
		// Spikes shorter than 4 ms are commutation or switching noise, not
		// drive: the motor's electrical time constant alone is about 1 ms.
		if m.Time.Width() < 0.004 && m.last-m.first < 5 && step < 0.004 {
			continue
		}
		kept = append(kept, m)
	}
	return kept
}

// endOf is when the rows up to, and without, last are over: as the next row comes, or
// one usual step after the last of them where rows are missing, of which nobody knows
// what the drive did.
func endOf(t []float64, last int, step float64) float64 {
	if last >= len(t) {
		return t[len(t)-1]
	}
	if t[last]-t[last-1] > missingRows*step {
		return t[last-1] + step
	}
	return t[last]
}

// filled copies x to float64 with NaN replaced by the last valid value (the
// first valid one at the start).
func filled(x []float32) []float64 {
	out := make([]float64, len(x))
	last := math.NaN()
	for i, v := range x {
		f := float64(v)
		if !math.IsNaN(f) && !math.IsInf(f, 0) {
			if math.IsNaN(last) {
				for k := range i {
					out[k] = f
				}
			}
			last = f
		}
		out[i] = last
	}
	if math.IsNaN(last) {
		clear(out)
	}
	return out
}

// outer returns the values that only k-1 readings lie beyond, on each side,
// to within 1/4096 of the range: extremes that ignore a few spikes.
func outer(x []float32, k int) (lo, hi float64) {
	const bins = 4096
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, v := range x {
		f := float64(v)
		if !math.IsNaN(f) && !math.IsInf(f, 0) {
			lo, hi = min(lo, f), max(hi, f)
		}
	}
	if !(hi > lo) {
		return lo, hi
	}
	var count [bins]int
	scale := bins / (hi - lo)
	for _, v := range x {
		f := float64(v)
		if !math.IsNaN(f) && !math.IsInf(f, 0) {
			count[min(bins-1, int((f-lo)*scale))]++
		}
	}
	a, n := 0, 0
	for ; a < bins-1; a++ {
		if n += count[a]; n >= k {
			break
		}
	}
	b := bins - 1
	for n = 0; b > a; b-- {
		if n += count[b]; n >= k {
			break
		}
	}
	return lo + float64(a)/scale, lo + float64(b+1)/scale
}

// extremes returns the least and greatest value; NaN-free input.
func extremes(x []float64) (lo, hi float64) {
	if len(x) == 0 {
		return 0, 0
	}
	return slices.Min(x), slices.Max(x)
}

// movingMean is the centred mean over w bins (fewer at the edges).
func movingMean(x []float64, w int) []float64 {
	out := make([]float64, len(x))
	h := w / 2
	sum, a, b := 0.0, 0, 0
	for i := range x {
		for b < len(x) && b <= i+h {
			sum += x[b]
			b++
		}
		for a < i-h {
			sum -= x[a]
			a++
		}
		out[i] = sum / float64(b-a)
	}
	return out
}
