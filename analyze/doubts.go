package analyze

import (
	"fmt"
	"math"
	"strings"
)

// ContraryTravel is the code of the [DataDoubt] that much of the travel goes against the drive.
const ContraryTravel = "contrary-travel"

// ConverterAssumed is the code of the [DataDoubt] that the travel takes so little of the least
// converter that it may be next to nothing of the sensor's supply.
const ConverterAssumed = "converter-assumed"

// doubt keeps a note on which the verdict hangs, see [Capture.Doubts].
func (w *work) doubt(code, text string) {
	w.notes = append(w.notes, text)
	w.doubts = append(w.doubts, DataDoubt{code, text})
}

// Doubts lists what the verdict hangs on and nobody has confirmed, of all captures judged;
// of several each with the name of its capture. What the summary says already is left out.
func (r *Report) Doubts() []DataDoubt {
	var out []DataDoubt
	several := len(r.Captures)+len(r.Before)+len(r.Good) > 1
	for _, list := range [][]*Capture{r.Captures, r.Before, r.Good} {
		for _, c := range list {
			if c.Apart != "" { // nothing is judged of it
				continue
			}
			for _, d := range c.Doubts {
				if d.Code == ContraryTravel && strings.Contains(r.Verdict.Summary, c.contrary[1:]) {
					continue
				}
				if several {
					d.Text = "in " + c.Source + ": " + d.Text // so that a sentence may begin with it
				}
				out = append(out, d)
			}
		}
	}
	return out
}

// leastWhole is the share of its supply that a sensor's travel takes at the least, but for
// that of a short-travel actuator.
const leastWhole = 0.25

// nextConverter is how many times as many counts the next larger usual converter has, by
// two bits.
const nextConverter = 4

// converterOpen tells whether the feedback is in counts of which nobody knows the full
// scale, and would with the next larger converter be of a travel shorter than any: then the
// share of the supply that it takes is not known.
func (w *work) converterOpen() bool {
	return w.tr.Feedback.Unit == "counts" && !w.shareKnown() && w.span.Width() < leastWhole*w.ref
}

// tellConverter says which converter was taken for a feedback in counts, where the sensor's
// supply was not logged in them.
func (w *work) tellConverter() {
	if w.tr.Feedback.Unit != "counts" || w.refMeasured() || w.span.Width() <= 0 {
		return
	}
	bits := math.Round(math.Log2(w.ref + 1))
	taken := fmt.Sprintf("the feedback is in counts of a converter that the file does not tell: taken as one of %.0f bits, 0 to %.0f", bits, w.ref)
	if !w.converterOpen() {
		w.notes = append(w.notes, taken)
		return
	}
	share := 100 * w.span.Width() / w.ref
	w.doubt(ConverterAssumed, fmt.Sprintf("%s. Of it the travel takes %.0f %%, of one of %.0f bits %.0f %%, which would be no whole travel: log the sensor's supply in counts too, or compare with a good actuator", taken, share, bits+2, share/nextConverter))
}
