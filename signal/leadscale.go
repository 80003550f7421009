package signal

import (
	"math"
	"slices"
)

// A probe divides by ten or by one, and the channel is told which by hand: told
// wrongly, one lead reads ten times as high as the other, or a tenth.
const (
	probeFactor = 10.0
	probeLeast  = 4.0 // a lead over the other, from which it is the probe's: a third of the volts hardly turns a motor
	mostDrive   = 17  // V, more than a 12 V system drives a motor with
)

// probeScales puts right leads whose channels were told the wrong factor of the
// probe, and notes it. Volts that no 12 V system has prove it; so does a shaft that
// runs with the lower lead as it does with the other: a motor does not turn at a
// tenth of its volts.
func (r *reducer) probeScales(a, b *Series, feedback []float32, o *Options) {
	for _, role := range []Role{LeadA, LeadB, Drive} {
		if _, told := o.Scale[role]; told {
			return
		}
	}
	if a.Unit != "V" || b.Unit != "V" {
		return
	}
	ha, hb := drivenLevel(a.Mean), drivenLevel(b.Mean)
	high, low, top := a, b, ha
	if hb > ha {
		high, low, top = b, a, hb
	}
	ratio := math.Max(ha, hb) / math.Min(ha, hb)
	switch {
	case top > rawCountsMax:
		r.p.doubt("probe-factor", "%s reads %.4g V, which no 12 V system has: taken as a probe of 10:1 counted twice, its volts are divided by ten (--scale lead-a=1 keeps all as written)", high.Name, top)
		*high = scaleSeries(*high, 1/probeFactor)
		if math.Min(ha, hb) > rawCountsMax {
			*low = scaleSeries(*low, 1/probeFactor)
		}
	case ratio >= probeLeast && probeFactor*top/ratio <= mostDrive && probeFactor*top/ratio >= leastDrive && top >= leastDrive && answersBoth(high.Mean, low.Mean, top/2, top/(2*ratio), feedback):
		r.p.doubt("probe-factor", "%s reads a tenth of %s and drives the shaft as well: taken as a probe of 10:1 that the channel does not know of, its volts are taken ten times (--scale lead-a=1 keeps all as written)", low.Name, high.Name)
		*low = scaleSeries(*low, probeFactor)
	}
}

// drivenLevel is the level of a lead when it is driven, V: the middle of what lies
// above half of its highest readings, of which one in two hundred may be wild. One that is
// never above 0 is not driven.
func drivenLevel(x []float32) float64 {
	v := sortedSample(x)
	if len(v) == 0 {
		return 0
	}
	half := v[len(v)-1-len(v)/200] / 2
	if !(half > 0) {
		return 0
	}
	i, _ := slices.BinarySearch(v, half)
	return float64(v[(i+len(v))/2])
}

// sortedSample is a channel's readings in order of size, without those that are missing,
// and of a long one no more than every so many.
func sortedSample(x []float32) []float32 {
	stride := max(1, len(x)/20000)
	v := make([]float32, 0, len(x)/stride+1)
	for i := 0; i < len(x); i += stride {
		if x[i] == x[i] {
			v = append(v, x[i])
		}
	}
	slices.Sort(v)
	return v
}

// answersBoth tells whether the feedback goes one way while one lead is driven and
// the other way, at least a third as far, while the other is.
func answersBoth(a, b []float32, fromA, fromB float64, v []float32) bool {
	var gone [2]float64
	lo, hi := math.Inf(1), math.Inf(-1)
	which := func(i int) int {
		switch onA, onB := float64(a[i]) > fromA, float64(b[i]) > fromB; {
		case onA && !onB:
			return 0
		case onB && !onA:
			return 1
		}
		return -1
	}
	for i := 1; i < len(v); i++ {
		x, y := float64(v[i-1]), float64(v[i])
		if x != x || y != y {
			continue
		}
		lo, hi = math.Min(lo, y), math.Max(hi, y)
		if k := which(i); k >= 0 && k == which(i-1) {
			gone[k] += y - x
		}
	}
	x, y := math.Abs(gone[0]), math.Abs(gone[1])
	return gone[0]*gone[1] < 0 && 3*math.Min(x, y) > math.Max(x, y) && math.Min(x, y) > 0.1*(hi-lo)
}
