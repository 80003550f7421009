package analyze

import "math"

// upperRail is the level of the sensor's supply. Where none was logged and the reading
// knows but ground and one other level, that is it: a sensor may be fed with less than
// was taken for usual.
func (w *work) upperRail() float64 {
	band := w.wideRail()
	if w.tr.Reference != nil {
		return w.ref
	}
	high := upper(w.tr.Feedback.Mean)
	if len(high) == 0 {
		return w.ref
	}
	top := medianOf(high)
	if top > w.ref-band || top < 0.5*w.ref {
		return w.ref
	}
	other := 0
	for _, v := range w.v {
		if v > band && math.Abs(v-top) > w.tol+0.01*w.ref {
			other++
		}
	}
	if 50*other > len(w.v) {
		return w.ref
	}
	return top
}
