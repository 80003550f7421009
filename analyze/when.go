package analyze

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// mostTimes is how many places of one finding are told with their times: more are not
// looked up one by one.
const mostTimes = 6

// signBeside is how far the first or last sign of a finding may lie from its places
// without a word of its own, s, or a twentieth of the whole: what nobody tells apart in a
// trace of a minute (chosen, not derived).
const signBeside = 0.5

// When says when a finding was seen: one stretch from its beginning to its end, or each
// place, so that a range over several of them is never read as one long event. Empty
// where the evidence is of no moment.
func (e *Evidence) When() string {
	at := e.moments()
	if len(at) == 0 {
		switch {
		case !(e.Time.To > e.Time.From):
			return ""
		case e.seen > 1 && e.Finding != Hunting:
			return fmt.Sprintf("Signs of it between %.2f and %.2f s", e.Time.From, e.Time.To)
		}
		return stretchText(e.Time)
	}
	if len(at) == 1 {
		return stretchText(at[0]) + e.signsBeside(at[0])
	}
	longest := 0.0
	for _, x := range at {
		longest = math.Max(longest, x.Width())
	}
	times := func(list []Interval) string {
		var out []string
		for _, x := range list {
			out = append(out, fmt.Sprintf("%.2f", x.From))
		}
		return strings.Join(out, ", ")
	}
	last := at[len(at)-1]
	text := fmt.Sprintf("At %s and %.2f s", times(at[:len(at)-1]), last.From)
	if len(at) > mostTimes {
		text = fmt.Sprintf("%d times: first at %s s, last at %.2f s", len(at), times(at[:mostTimes-1]), last.From)
	}
	// What is shorter is no more than a mark in a trace.
	if longest >= 0.1 {
		text += fmt.Sprintf(", for up to %.2g s each", longest)
	}
	return text + e.signsBeside(Interval{at[0].From, last.To})
}

// moments are the places of a finding in order of time; those that overlap or touch are
// one. A hunting is one stretch, however many turns it has.
func (e *Evidence) moments() []Interval {
	if e.Finding == Hunting {
		return nil
	}
	all := slices.Clone(e.places)
	slices.SortFunc(all, func(a, b Interval) int { return cmp.Compare(a.From, b.From) })
	var out []Interval
	for _, x := range all {
		if n := len(out); n > 0 && x.From <= out[n-1].To {
			out[n-1] = out[n-1].widen(x.To)
			continue
		}
		out = append(out, x)
	}
	return out
}

// signsBeside says where the finding begins or ends away from its places: tries before
// a stall, say, or what lasts after a leap.
func (e *Evidence) signsBeside(places Interval) string {
	text, beside := "", math.Max(signBeside, 0.05*e.Time.Width())
	if e.Time.From < places.From-beside {
		text += fmt.Sprintf("; signs of it from %.2f s on", e.Time.From)
	}
	if e.Time.To > places.To+beside {
		text += fmt.Sprintf("; signs of it until %.2f s", e.Time.To)
	}
	return text
}

// stretchText is one stretch of time, to a hundredth of a second.
func stretchText(r Interval) string {
	if r.Width() < 0.02 { // a hundredth apart, as rounded
		return fmt.Sprintf("At %.2f s", r.From)
	}
	return fmt.Sprintf("%.2f to %.2f s", r.From, r.To)
}

// timesOf are the times of the places of a finding.
func timesOf(places []Occurrence) []Interval {
	var out []Interval
	for _, p := range places {
		out = append(out, p.Time)
	}
	return out
}
