package analyze

import (
	"fmt"

	"threewire/signal"
)

// inKnownUnits leaves out a motor's supply that is not in volts, and a sensor's that
// is neither in volts nor in the unit of the feedback. Of a converter's counts, a
// percentage or a current loop neither the zero nor the full scale is known: a tenth
// less of such numbers may be a hundredth or all of the volts. The feedback's own unit
// has its zero, and the wiper's reading is a share of its reference in it.
func (w *work) inKnownUnits(t *signal.Trace) *signal.Trace {
	s, r := t.Supply, t.Reference
	if s != nil && s.Unit != "V" {
		w.unread(SupplySag, "supply", s, "--scale supply=FACTOR")
		s = nil
	}
	if r != nil && r.Unit != "V" && r.Unit != t.Feedback.Unit {
		w.unread(RefLoss, "reference", r, "a unit in its header")
		r = nil
	}
	if s == t.Supply && r == t.Reference {
		return t
	}
	in := *t
	in.Supply, in.Reference = s, r
	return &in
}

// unread says of a channel that it was left out for its unit.
func (w *work) unread(k Kind, name string, s *signal.Series, how string) {
	unit := s.Unit
	if unit == "" {
		unit = "no unit"
	}
	w.blind = append(w.blind, Absence{k, fmt.Sprintf("the %s is in %s, of which neither the zero nor the volts are known: it was not judged; give its volts (%s)", name, unit, how)})
}
