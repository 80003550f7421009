package analyze

import (
	"fmt"
	"math"
	"strings"
)

// freeTravel is the way that the actuator goes uncoupled, from stop to stop, in the
// unit of a coupled capture of it: the widest of several. It is false where no
// uncoupled capture shows it, or where they are hardly of one actuator.
func freeTravel(c *Capture, captures []*Capture) (Interval, bool) {
	way := Interval{}
	for _, x := range captures {
		if k, ok := levelScale(x, c); ok && x.Free && bothEnds(x.Stops) && k*x.Span.Width() > way.Width() && blockedAlike(x, c) == nil {
			way = Interval{k * x.Span.From, k * x.Span.To}
		}
	}
	return way, way.Width() > 0 && longerThanFree(captures) == ""
}

// TitleOf is the title of a finding of one of the report's captures; the place of a jam is
// a share of the way that the actuator goes uncoupled, where that is known: of its coupled
// way a jam hides what lies beyond.
func (r *Report) TitleOf(c *Capture, f *Finding) string {
	if way, ok := freeTravel(c, r.Captures); ok && !c.Free && f.Kind == Jam {
		return titleInFree(f, way)
	}
	return f.Title
}

// titleInFree is the title of a jam with its place as a share of the way uncoupled.
func titleInFree(f *Finding, way Interval) string {
	share := func(x float64) float64 { return math.Max(0, math.Min(100, 100*(x-way.From)/way.Width())) }
	place := Interval{share(f.Volts.From), share(f.Volts.To)}
	at := fmt.Sprintf(" (%s to %s %% of the uncoupled travel)", wholeText(place.From), wholeText(place.To))
	if place.Width() < 1 {
		at = fmt.Sprintf(" (%s %% of the uncoupled travel)", wholeText(place.Mid()))
	}
	title := f.Title
	if from, to := strings.Index(title, " ("), strings.Index(title, " % of the span)"); from >= 0 && from < to {
		return title[:from] + at + title[to+len(" % of the span)"):]
	}
	return strings.Replace(title, " going ", at+" going ", 1)
}

// inFreeTravel says the jams as [Report.TitleOf] does.
func (v *Verdict) inFreeTravel(captures []*Capture) {
	for _, c := range captures {
		way, ok := freeTravel(c, captures)
		if c.Free || !ok {
			continue
		}
		for i := range c.Findings {
			f := &c.Findings[i]
			if f.Kind != Jam {
				continue
			}
			title := titleInFree(f, way)
			if v.Summary == f.Title {
				v.Summary = title
			}
			for _, list := range [][]Evidence{v.For, v.Against} {
				for k := range list {
					if e := &list[k]; e.Text == f.Title && e.Capture == c.Source {
						e.Text = title
					}
				}
			}
		}
	}
}
