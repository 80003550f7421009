package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/analyze/stats"
)

// SpanTrend is the trend of one end of the travel, or of the span between
// them, over several captures of an actuator.
type SpanTrend struct {
	What      string  `json:"what"`      // "low end", "high end" or "span"
	Captures  int     `json:"captures"`  // that reached both stops
	Slope     float64 `json:"slope"`     // feedback units per Per (Theil-Sen)
	Per       string  `json:"per"`       // "day" or "capture"
	P         float64 `json:"p"`         // Mann-Kendall, two-sided
	Change    float64 `json:"change"`    // over all captures, feedback units
	Intercept float64 `json:"intercept"` // at x = 0, the first capture

	// Low and High are the 95 % limits of Slope; nil where so few captures do
	// not bound it.
	Low  *float64 `json:"slope_low,omitempty"`
	High *float64 `json:"slope_high,omitempty"`

	X []float64 `json:"x"` // days from the first capture, or its number
	Y []float64 `json:"y"` // feedback units
}

// TrendLeast is the fewest captures a trend is tested on: four in perfect
// order have a two-sided p of 2/4! = 0.08, which can show nothing.
const TrendLeast = 5

// SpanTrends tests the stops of captures for a trend, low end, high end and
// span, by Mann-Kendall with the Theil-Sen slope. x are the times of the
// captures in days (or their numbers), in order, per says which. Fewer than
// TrendLeast captures give none.
func SpanTrends(x, low, high []float64, per string) []SpanTrend {
	if len(x) < TrendLeast || len(low) != len(x) || len(high) != len(x) {
		return nil
	}
	span := make([]float64, len(x))
	for i := range x {
		span[i] = high[i] - low[i]
	}
	var out []SpanTrend
	for _, s := range []struct {
		what string
		y    []float64
	}{{"low end", low}, {"high end", high}, {"span", span}} {
		line := stats.TheilSen(x, s.y, 0.95)
		out = append(out, SpanTrend{What: s.what, Captures: len(x), Slope: line.Slope, Low: known(line.Low), High: known(line.High), Per: per,
			P: stats.MannKendall(s.y).P, Change: line.Slope * (x[len(x)-1] - x[0]), Intercept: line.Intercept, X: x, Y: s.y})
	}
	return out
}

// Limits are the 95 % limits of the slope, infinite where it is not bounded.
func (t *SpanTrend) Limits() (low, high float64) {
	low, high = math.Inf(-1), math.Inf(1)
	if t.Low != nil {
		low = *t.Low
	}
	if t.High != nil {
		high = *t.High
	}
	return low, high
}

// Series is what several captures of one actuator say together.
type Series struct {
	Order  string      `json:"order"` // "by start time" or "as given"
	Files  []string    `json:"files"` // in that order
	Trends []SpanTrend `json:"trends"`
	Text   string      `json:"text"` // one plain sentence
	// Different says which captures are plainly not of one actuator.
	Different []string `json:"different_actuators"`
	// Doubtful says which captures may be of different actuators, or were
	// logged otherwise.
	Doubtful []string `json:"doubtful"`
	// LeftOut lists the captures that are evidently of another actuator than the first
	// one (uncoupled: than a coupled one) and were not weighed.
	LeftOut []string `json:"left_out,omitempty"`

	asides []aside
	others []*Capture // of which Different tells

	// inwards is how far the low and the high end drifted inwards, where the travel took as
	// long all the same.
	inwards [2]float64
	mixed   bool // what is wrong with each makes one actuator unlikely, see [otherTroubles]
}

// inOrder gives captures in the order of time, as given where not all have one, and
// looks for a trend of the span over them, those left out that are plainly of another
// actuator; same tells that all are of one. It returns no series for fewer than two.
func inOrder(captures []*Capture, same bool) ([]*Capture, *Series) {
	if len(captures) < 2 {
		return captures, nil
	}
	s := &Series{Order: "as given", Files: []string{}, Trends: []SpanTrend{}}
	sorted := slices.Clone(captures)
	if !slices.ContainsFunc(captures, func(c *Capture) bool { return c.Start.IsZero() }) {
		s.Order = "by start time"
		slices.SortStableFunc(sorted, func(a, b *Capture) int { return a.Start.Compare(b.Start) })
	}
	for _, c := range sorted {
		s.Files = append(s.Files, c.Source)
	}
	s.Different, s.Doubtful, s.others = different(sorted)
	one := sorted
	if !same {
		one = slices.DeleteFunc(slices.Clone(sorted), s.isOther)
	}
	s.Doubtful = append(s.Doubtful, unlikeFree(one)...)
	if !same {
		s.doubtTroubles(one)
	}
	if len(s.Different) > 0 && (same || len(one) < 2) {
		s.Text = "The captures do not look like one actuator's, so no trend over them was looked for."
		return sorted, s
	}
	s.trend(one)
	if len(s.asides) == 0 {
		s.scaleChange(one)
	}
	if len(s.asides) == 0 {
		s.stallShort(one)
	}
	if len(s.asides) == 0 {
		s.paceChange(one)
	}
	return sorted, s
}

// isOther tells whether a capture is plainly of another actuator than the first one.
func (s *Series) isOther(c *Capture) bool { return slices.Contains(s.others, c) }

// DriftLeast is the share of the span below which no end is said to drift over captures:
// play, stops that give and the warmth of the room lie below it (common practice, no source).
const DriftLeast = 0.015

// trend looks for a trend over the captures, in their order.
func (s *Series) trend(sorted []*Capture) {
	var list []steady
	for _, c := range sorted {
		// The door's stops are not the actuator's own: free runs would mix.
		if x := steadyOf(c); !c.Free && x.high > x.low && (len(list) == 0 || list[0].c.Unit == c.Unit) {
			list = append(list, x)
		}
	}
	if len(list) < TrendLeast {
		s.Text = fmt.Sprintf("%s reached both stops: a trend of the span over captures needs %d.", counted(len(list), "capture"), TrendLeast)
		return
	}
	x, per := make([]float64, len(list)), "capture"
	low, high := make([]float64, len(list)), make([]float64, len(list))
	for i, c := range list {
		x[i], low[i], high[i] = float64(i), c.low, c.high
	}
	if first := list[0].c.Start; s.Order == "by start time" && list[len(list)-1].c.Start.After(first) {
		per = "day"
		for i, c := range list {
			x[i] = c.c.Start.Sub(first).Hours() / 24
		}
	}
	s.Trends = SpanTrends(x, low, high, per)
	lo, hi, span := s.Trends[0], s.Trends[1], medianOf(high)-medianOf(low)
	unit := list[0].c.Unit
	// Three tests at once: Bonferroni.
	wanders := func(t SpanTrend) bool { return 3*t.P < 0.05 && math.Abs(t.Change) > DriftLeast*span }
	if !wanders(lo) && !wanders(hi) && !wanders(s.Trends[2]) {
		s.Text = fmt.Sprintf("No drift of the span from one capture to the next, over %d of them (%s). This says nothing of a drift within a capture.", len(list), s.Order)
		return
	}
	f := Finding{Kind: SpanDrift, Seen: len(list), Passes: len(list), span: span}
	logged := slices.ContainsFunc(list, func(x steady) bool { return !x.c.lacks(RefLoss, "reference") })
	f.Form = driftForm([2]float64{lo.Change, hi.Change}, [2]bool{wanders(lo), wanders(hi)}, [2]float64{medianOf(low), medianOf(high)}, list[0].c.Reference, logged)
	// Does the travel time follow?
	if share, ok := timeShare(list, x, s.Trends[2].Change/span); ok && share > 0.6 && share < 1.6 {
		f.Kind = TravelChange
	} else if ok && share < 0.6 {
		s.inwards = [2]float64{lo.Change, -hi.Change}
	}
	p := math.Min(lo.P, math.Min(hi.P, s.Trends[2].P))
	s.Text = fmt.Sprintf("Over %d captures (%s) the low end moved by %+.2f %s and the high end by %+.2f %s, %+.3g and %+.3g %s per %s (p = %.2g).",
		len(list), s.Order, lo.Change, unit, hi.Change, unit, lo.Slope, hi.Slope, unit, per, math.Min(1, 3*p))
	for _, c := range sorted {
		for i := range c.Findings {
			if k := c.Findings[i].Kind; k == SpanDrift || k == TravelChange {
				return // it is counted with that capture
			}
		}
	}
	likely, because := likelihoods(&f)
	s.asides = append(s.asides, newAside(f.Kind, likely, math.Min(1, math.Max(math.Abs(lo.Change), math.Abs(hi.Change))/(0.04*span))*(1-math.Min(1, 3*p)), s.Text, because))
}

// timeShare is the relative change of the travel time over that of the span.
func timeShare(list []steady, x []float64, span float64) (float64, bool) {
	var at, rel []float64
	for d := range 2 {
		var t []float64
		var when []float64
		for i, c := range list {
			for _, s := range c.sweeps[d] {
				t, when = append(t, s.time*s.drive), append(when, x[i]) // time goes with one over the drive
			}
		}
		m := medianOf(t)
		for i := range t {
			at, rel = append(at, when[i]), append(rel, t[i]/m)
		}
	}
	if len(at) < TrendLeast || math.Abs(span) < 0.015 {
		return 0, false
	}
	ts := stats.TheilSen(at, rel, 0.95)
	if math.IsNaN(ts.Slope) {
		return 0, false
	}
	return ts.Slope * (x[len(x)-1] - x[0]) / span, true
}
