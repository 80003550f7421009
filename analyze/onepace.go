package analyze

import (
	"fmt"

	"threewire/signal"
)

// atOnePace brings a capture to one pace, where its logger was switched to another in
// the middle of it, and says so.
func (w *work) atOnePace(t *signal.Trace) *signal.Trace {
	one, paces := t.OnePace()
	for _, p := range paces.Slow {
		w.notes = append(w.notes, fmt.Sprintf("from %.1f to %.1f s a row comes only every %.3g ms, elsewhere more often: all was judged at one row every %.3g ms, and what is shorter does not show", p.From, p.To, 1000*p.Step, 1000*one.Step))
	}
	for _, p := range paces.TooSlow {
		w.blind = append(w.blind, Absence{NoMotion, fmt.Sprintf("from %.1f to %.1f s a row comes only every %.3g ms: what was driven there was not judged; log all of it at one pace", p.From, p.To, 1000*p.Step)})
	}
	w.unjudged = paces.Unjudged
	return one
}
