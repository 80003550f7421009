package analyze

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// scaled are captures a month apart, each of which reads a percent less of the
// shaft than the one before, with its own noise.
func scaled(t *testing.T, n int) []*Capture {
	var out []*Capture
	for i := range n {
		d := newDraft(uint64(i))
		d.noise *= 1 + 0.1*float64(i)
		d.read = func(d *draft) float64 { return d.x * (1 - 0.01*float64(i)) }
		c := examineWith(t, d.sweeps(2), nil, false)
		c.Source, c.Start = fmt.Sprintf("month-%d.csv", i), time.Date(2026, time.Month(i+1), 1, 9, 0, 0, 0, time.UTC)
		out = append(out, c)
	}
	return out
}

// A scale that falls about zero volts over captures may be the supply's, as it may
// in one: the sensor and the wiring are then as likely by that alone.
func TestSeriesInProportion(t *testing.T) {
	t.Parallel()
	r := Judge(scaled(t, 7)...)
	if a := r.Series.asides; len(a) != 1 || !strings.Contains(a[0].because, "in proportion") || chanceOf(r, WiringControl) < 0.1 {
		t.Errorf("wiring %.2f, %+v", chanceOf(r, WiringControl), a)
	}
}

// What several captures do not show is said once, by the coarsest of them.
func TestSeriesSaysAbsencesOnce(t *testing.T) {
	t.Parallel()
	captures := scaled(t, 6)
	widest, text := 0.0, ""
	for _, c := range captures {
		for _, a := range c.Absent {
			if share := c.leastHold / c.Span.Width(); a.Kind == DeadSpot && share > widest {
				widest, text = share, a.Text
			}
		}
	}
	var said []string
	for _, s := range Judge(captures...).Verdict.Absent {
		if strings.Contains(s, "dead spot") {
			said = append(said, s)
		}
	}
	if len(said) != 1 || said[0] != text {
		t.Errorf("said %q, expected %q", said, text)
	}
}

// A span that drifts from capture to capture is not denied by what each shows of itself.
func TestSeriesDriftIsNotDenied(t *testing.T) {
	t.Parallel()
	no := func(r *Report) bool {
		for _, s := range r.Verdict.Absent {
			if strings.HasPrefix(s, "no drift of the span") {
				return true
			}
		}
		return false
	}
	captures := scaled(t, 7)
	for i := range captures {
		captures[i].Absent = append(captures[i].Absent, Absence{SpanDrift, "no drift of the span over 4 sweeps"})
	}
	if !no(Judge(captures[0])) || no(Judge(captures...)) {
		t.Errorf("alone %q, together %q", Judge(captures[0]).Verdict.Absent, Judge(captures...).Verdict.Absent)
	}
}
