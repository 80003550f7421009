package signal

import "math"

// What tells a lead whose channel ends below the motor's volts.
const (
	clipExact = 0.98 // of the rows in which it is high, that hold the highest value exactly
	clipRows  = 20   // of those at least
	clipBelow = 1.15 // the other lead over it: more than two switches of one bridge differ
	clipStill = 0.2  // of the pace under drive, that the shaft has at most where both are high
)

// endLeads cuts both leads at the range of the one whose channel ends first, and
// notes it. Else a rest with both leads high, as brakes do, would be the difference
// of a full and a cut voltage, a drive of some volts. A weak leg of the bridge is no
// such channel: it drops volts with the motor's current, so it reads in full where
// both leads are high and none flows, and it falls at a start. Nor is a second
// supply: across two of them the motor would run.
func (r *reducer) endLeads(a, b *Series, feedback []float32) {
	if a.Unit != "V" || b.Unit != "V" {
		return
	}
	low, high := a, b
	if drivenLevel(a.Mean) > drivenLevel(b.Mean) {
		low, high = b, a
	}
	top := low.Stats.Max
	if !(top >= leastDrive/2) || drivenLevel(high.Mean) < clipBelow*top {
		return
	}
	on, at := 0, 0
	for _, x := range low.Mean {
		if float64(x) > 0.8*top {
			on++
			if float64(x) == float64(float32(top)) {
				at++
			}
		}
	}
	if at < clipRows || float64(at) < clipExact*float64(on) || !restsBothHigh(low.Mean, high.Mean, top/2, feedback) {
		return
	}
	r.p.note("lead-clipped", "%s stands at exactly %.4g V whenever it is high, also where both leads are high and the shaft rests, while %s goes to %.4g V: its channel ends there, and both leads were cut at that; use a wider range or a divider", low.Name, top, high.Name, drivenLevel(high.Mean))
	*high = cutAt(*high, top)
	low.Stats.Over = max(low.Stats.Over, int64(at))
}

// restsBothHigh tells whether both leads are high together for a good part of the
// time and the shaft, which runs where one of them is, then does not.
func restsBothHigh(a, b []float32, from float64, v []float32) bool {
	var n [2]int
	var gone [2]float64
	kind, first := -1, 0
	end := func(i int) {
		if d := math.Abs(float64(v[i-1] - v[first])); kind >= 0 && d == d {
			n[kind] += i - first
			gone[kind] += d
		}
	}
	for i := range v {
		k := -1
		switch x, y := float64(a[i]) > from, float64(b[i]) > from; {
		case x && y:
			k = 0
		case x || y:
			k = 1
		}
		if k != kind {
			if i > 0 {
				end(i)
			}
			kind, first = k, i
		}
	}
	if len(v) > 0 {
		end(len(v))
	}
	return n[0] >= clipRows && n[1] >= clipRows && gone[0]*float64(n[1]) < clipStill*gone[1]*float64(n[0])
}

// cutAt is a series with all above a level put to it.
func cutAt(s Series, top float64) Series {
	shared := len(s.Mean) > 0 && &s.Mean[0] == &s.Min[0]
	cut := func(v []float32) {
		for i := range v {
			v[i] = min(v[i], float32(top)) // NaN stays
		}
	}
	cut(s.Mean)
	if !shared {
		cut(s.Min)
		cut(s.Max)
	}
	s.Stats.Max = math.Min(s.Stats.Max, top)
	return s
}
