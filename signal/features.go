package signal

import "math"

// features describe the shape of a reduced column, to tell a drive from a
// wiper without names. All are relative to the column's own range.
type features struct {
	valid    int
	min, max float64 // base units, robust: 0.1 % and 99.9 %
	median   float64
	flat     bool    // the range is within noise of a constant
	jumpy    float64 // share of all movement made in single large steps
	jumps    int
	levels   float64 // share of bins near one of three levels
	motion   float64 // total movement over the range
	negative bool
	positive bool
}

// bigStep is the part of the range that a single bin-to-bin step must cross
// to count as switching. A motor needs seconds for its travel, hence a wiper
// needs hundreds of bins for its range; a fifth of it in one bin is a switch.
const bigStep = 0.2

func featuresOf(v []float32) features {
	var f features
	s := sortedSample(v)
	if len(s) == 0 {
		return features{flat: true, min: math.NaN(), max: math.NaN(), median: math.NaN()}
	}
	q := func(p float64) float64 { return float64(s[int(p*float64(len(s)-1)+0.5)]) }
	f.valid = len(s)
	f.min, f.max, f.median = q(0.001), q(0.999), q(0.5)
	span := f.max - f.min
	scale := max(math.Abs(f.min), math.Abs(f.max))
	f.flat = span <= 0.02*scale || span == 0
	// Both directions of a motor have much the same supply; an offset of one
	// level is not a direction.
	f.negative, f.positive = f.min < -0.4*scale, f.max > 0.4*scale
	if span == 0 {
		return f
	}
	f.levels = levelShare(s, f.min, span)
	f.valid = 0
	for _, x := range v {
		if x == x {
			f.valid++
		}
	}
	f.movement(v, span)
	return f
}

// levelShare finds the three fullest places of the range, each a tenth wide,
// and how many of the values lie there.
func levelShare(s []float32, lo, span float64) float64 {
	const n = 50
	var h [n + 1]int
	for _, x := range s {
		i := int((float64(x) - lo) / span * n)
		h[max(0, min(n, i))]++
	}
	total := 0
	for range 3 {
		best, at := 0, 0
		for i := range h {
			c := 0
			for k := max(0, i-2); k <= min(n, i+2); k++ {
				c += h[k]
			}
			if c > best {
				best, at = c, i
			}
		}
		for k := max(0, at-2); k <= min(n, at+2); k++ {
			total += h[k]
			h[k] = 0
		}
	}
	return float64(total) / float64(len(s))
}

// movement follows the column with a dead band of a tenth of its range, so
// that noise does not count, and splits the way into large steps and small.
func (f *features) movement(v []float32, span float64) {
	dead := 0.1 * span
	total, jump := 0.0, 0.0
	hold, prev := math.NaN(), math.NaN()
	for _, x32 := range v {
		x := float64(x32)
		if x != x {
			continue
		}
		if hold != hold {
			hold, prev = x, x
			continue
		}
		if d := math.Abs(x - hold); d > dead {
			total += d
			// A step may be split over two bins by averaging.
			if s := math.Abs(x - prev); s > bigStep*span {
				jump += min(d, s+dead)
				f.jumps++
			}
			hold = x
		}
		prev = x
	}
	f.motion = total / span
	if total > 0 {
		f.jumpy = min(1, jump/total)
	}
}

// switching tells whether the column looks like something switched: few
// levels, each kept for a while. A quiet channel whose noise flips a few
// converter codes also has few levels but changes them all the time; only a
// pulsed drive, seen at too low a rate, does so with volts.
func (f *features) switching() bool {
	return !f.flat && f.jumps > 0 && f.jumpy > 0.6 && f.levels > 0.6 && (f.jumps*5 < f.valid || f.max-f.min > pulsedVolts)
}

// pulsedVolts is a swing that noise of a 12 V system never reaches.
const pulsedVolts = 5

// gliding tells whether the column looks like something that moves.
func (f *features) gliding() bool {
	return !f.flat && f.jumpy < 0.5
}
