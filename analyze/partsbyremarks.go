package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/signal"
)

// A file whose remarks say that the actuator was taken off its door in between is two
// captures: one on the door and one off it, as if they had been given apart. Which is which
// changes what a stall means, so the result says what was taken for what, and Options.Whole
// takes such a file as one all the same.

// Part is a capture by itself, or a part of one file that is judged as such.
type Part struct {
	Trace   *signal.Trace
	Capture *Capture
}

// Parts are what one file is judged as.
type Parts struct {
	Source string // the file
	List   []Part
	// Told says which parts were taken for what, or why the file was taken as one though a
	// remark says otherwise; "" where no remark does.
	Told string
}

// ExamineParts measures one capture; one whose remarks say that the actuator was uncoupled in
// between as its parts, in the order of time.
func ExamineParts(t *signal.Trace, opt Options) (*Parts, error) {
	whole, err := Examine(t, opt)
	if err != nil {
		return nil, err
	}
	one := &Parts{Source: t.Source, List: []Part{{t, whole}}}
	if opt.Free || opt.Whole || whole.Apart != "" {
		return one, nil
	}
	list := doorParts(t, whole.Moves)
	if len(list) < 2 {
		return one, nil
	}
	parts := &Parts{Source: t.Source}
	var kept []doorPart
	free, coupled := false, false
	for _, s := range list {
		p, err := s.examine(t, opt)
		if err != nil || p.Capture.Driven < leastPartDriven {
			continue
		}
		parts.List, kept = append(parts.List, p), append(kept, s)
		free, coupled = free || s.free, coupled || !s.free
	}
	switch {
	case !free:
		one.Told = list[1].says() + ", but hardly anything is driven after it: the recording was taken as one, coupled to its door."
		return one, nil
	case !coupled:
		parts.Told = list[1].says() + ", and hardly anything is driven before it: only what follows was judged, as uncoupled, and says nothing of the door. If that is wrong, --whole takes the recording as one, coupled to its door."
	default:
		parts.Told = toldOf(kept)
	}
	return parts, nil
}

// leastPartDriven is how many s a part of a file is driven at least to be judged by itself: less is
// a nudge, or what is left of a move that the remark cuts in two (chosen, not derived).
const leastPartDriven = 1.0

// aboutRemark is how long before and after a remark the coupling is not known while the drive
// is on, in s: an arm is pulled off and the remark typed with the same hands (chosen, not
// derived). A part that held the seconds before would show a load that leaves its door.
const aboutRemark = 3.0

// A doorPart is a part of a trace between two remarks on the coupling.
type doorPart struct {
	first, last int     // bins [first, last)
	from, to    float64 // s, of the remarks about it
	free        bool
	remark      string // with which it begins; "" at the beginning of the file
}

// doorParts cuts a trace where remarks say that the actuator was uncoupled from the door or
// coupled to it again; it begins coupled. What is driven about a remark belongs to no part.
func doorParts(t *signal.Trace, moves []Move) []doorPart {
	list := []doorPart{{from: math.Inf(-1)}}
	for _, m := range t.Remarks {
		s := &list[len(list)-1]
		says := couplingIn(m.Text)
		if says == saysNothing || (says == saysUncoupled) == s.free {
			continue
		}
		before, after := m.Time, m.Time
		for i := range moves {
			if x := moves[i].Time; x.From < m.Time && x.To > m.Time {
				before, after = math.Max(x.From, m.Time-aboutRemark), math.Min(x.To, m.Time+aboutRemark)
			}
		}
		s.to = m.Time
		s.last, _ = slices.BinarySearch(t.Time, before)
		at, _ := slices.BinarySearch(t.Time, after)
		list = append(list, doorPart{first: at, from: m.Time, free: !s.free, remark: m.Text})
	}
	s := &list[len(list)-1]
	s.last, s.to = t.Len(), math.Inf(1)
	return list
}

// examine measures a part as a capture of its own.
func (s *doorPart) examine(t *signal.Trace, opt Options) (Part, error) {
	p := t.Piece(s.first, s.last)
	if p == nil {
		return Part{}, ErrTooShort
	}
	p.Source = fmt.Sprintf("%s (%.1f to %.1f s)", t.Source, p.Time[0], p.Time[p.Len()-1])
	p.Remarks = slices.DeleteFunc(slices.Clone(t.Remarks), func(m signal.Remark) bool { return m.Time < s.from || m.Time >= s.to })
	opt.Free = s.free
	c, err := Examine(p, opt)
	if err != nil {
		return Part{}, err
	}
	if s.remark != "" {
		c.Notes = append([]string{fmt.Sprintf("this part was taken as %s because of the remark “%s” at %.1f s", doorWord(s.free), s.remark, s.from)}, c.Notes...)
	}
	return Part{p, c}, nil
}

func doorWord(free bool) string {
	if free {
		return "uncoupled"
	}
	return "coupled"
}

// says is the remark with which a stretch begins, as the beginning of a sentence.
func (s *doorPart) says() string {
	return fmt.Sprintf("At %.1f s the recording says “%s”", s.from, s.remark)
}

// toldOf says which parts were taken for what.
func toldOf(list []doorPart) string {
	told := ""
	for _, s := range list {
		switch {
		case s.remark == "":
		case s.free:
			told += fmt.Sprintf("From %.1f s on the recording says “%s”: this part is taken as uncoupled. ", s.from, s.remark)
		default:
			told += fmt.Sprintf("From %.1f s on it says “%s”: this part is taken as coupled. ", s.from, s.remark)
		}
	}
	return told + "If that is wrong, --whole takes the recording as one."
}
