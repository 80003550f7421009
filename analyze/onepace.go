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
		w.notes = append(w.notes, fmt.Sprintf("from %.1f to %.1f s a row comes only every %s, elsewhere more often: all was judged at one row every %s, and what is shorter does not show", p.From, p.To, SecondsText(p.Step), SecondsText(one.Step)))
	}
	for _, p := range paces.TooSlow {
		w.blind = append(w.blind, Absence{NoMotion, fmt.Sprintf("from %.1f to %.1f s a row comes only every %s, too seldom to judge what was driven there; log the whole recording at one rate", p.From, p.To, SecondsText(p.Step))})
	}
	w.unjudged = paces.Unjudged
	return one
}
