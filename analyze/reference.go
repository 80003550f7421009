package analyze

import "math"

// sureSupply is by how much, as a share, a sensor's regulated supply and an
// instrument are off together at the most: a regulator holds its output to one or
// two percent (common practice, no source).
const sureSupply = 0.05

// usualReference is what the sensor is meant to be supplied with, by the channel
// that logged it: the middle of its readings where it holds still. Where it does
// not, a supply that is lost may be lost for most of the capture: then it is what
// was told, if it was near that for a tenth of the time, or else the upper level,
// as a contact and a regulator that fail give less. A sensor is not supplied
// with much more than 10 V (common practice, no source): that is the battery's.
func (w *work) usualReference() float64 { return w.refLevel.of(w.measureReference) }

func (w *work) measureReference() float64 {
	r := w.tr.Reference
	m := medianOf32(r.Mean)
	if !(m > 0) {
		return m
	}
	level := w.referenceLevels(1)
	if lo, hi := extremes(level); len(level) < 10 || hi-lo < 0.03*m {
		return m
	}
	const tenth = 0.1
	var near, within []float64
	for _, x := range level {
		if told := w.opt.ReferenceVolts; r.Unit == "V" && math.Abs(x-told) < sureSupply*told {
			near = append(near, x)
		}
		if r.Unit != "V" || x < aboveMeasured*10 {
			within = append(within, x)
		}
	}
	if len(near) > 0 && float64(len(near)) >= tenth*float64(len(level)) {
		return medianOf(near)
	}
	if len(within) < len(level)/2 {
		return m
	}
	lo, _ := extremes(within)
	top := quantileOf(within, 1-tenth)
	var upper []float64
	for _, x := range within {
		if x >= (lo+top)/2 {
			upper = append(upper, x)
		}
	}
	return medianOf(upper)
}

// referenceLevels are the medians of the reference channel over stretches of so
// many seconds, one behind the other; of eight rows at least, and short enough for
// twenty of them where there are rows enough. Stretches without a reading are left
// out.
func (w *work) referenceLevels(seconds float64) []float64 {
	r := w.tr.Reference
	n := max(8, min(w.rows(seconds), len(r.Mean)/20))
	var level []float64
	for a := 0; a+n <= len(r.Mean); a += n {
		if m := medianOf32(r.Mean[a : a+n]); !math.IsNaN(m) {
			level = append(level, m)
		}
	}
	return level
}

// referenceUnit is the unit of the channel that logged the sensor's supply.
func (w *work) referenceUnit() string {
	if r := w.tr.Reference; r != nil && r.Unit != "" {
		return r.Unit
	}
	return w.unit()
}
