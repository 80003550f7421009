package analyze

import "math"

// levelScale is the factor that brings feedback levels of one capture to the
// unit of another: 1 in the same unit, else by their shares of the sensor's
// supply. It is false where levels cannot be compared, because a supply is not
// known or percent may be of the travel and not of the supply.
func levelScale(from, to *Capture) (float64, bool) {
	if from.Unit == to.Unit {
		return 1, true
	}
	if !from.shareKnown || !to.shareKnown || !(from.Reference > 0) || !(to.Reference > 0) {
		return 0, false
	}
	return to.Reference / from.Reference, true
}

// shareKnown tells whether readings are known as shares of the sensor's
// supply: that was measured in their unit or told by the user, or is the full
// scale of percent or of a converter.
func (w *work) shareKnown() bool {
	if w.refMeasured() {
		return true
	}
	switch w.tr.Feedback.Unit {
	case "V":
		return w.opt.ReferenceTold && w.ref == w.opt.ReferenceVolts
	case "%":
		// A wiper hardly touches both ends of its track: percent from 0 to 100
		// are of the travel.
		return w.ref == 100 && !(w.span.From < 2 && w.span.To > 98)
	case "counts":
		// Below half of it a smaller converter would do as well.
		return w.heldMaximum() > w.ref/2
	}
	return false
}

// refMeasured tells whether the sensor's supply was logged in the unit of the
// feedback, and is there.
func (w *work) refMeasured() bool {
	r := w.tr.Reference
	return r != nil && r.Unit == w.tr.Feedback.Unit && !w.refGone() && w.usualReference() > 0
}

// ownShare carries a level by its share of the travel.
func ownShare(from, to *Capture, v float64) float64 {
	return to.Span.From + (v-from.Span.From)/from.Span.Width()*to.Span.Width()
}

// nowhere is a band that holds no level.
var nowhere = Interval{math.NaN(), math.NaN()}
