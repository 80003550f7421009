package analyze

import (
	"fmt"
	"math"
	"slices"
	"strings"

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
	// LeftOut lists the uncoupled captures that are evidently of another actuator and
	// were not weighed.
	LeftOut []string `json:"left_out,omitempty"`

	asides []aside
}

// inOrder gives captures in the order of time, as given where not all have one, and
// looks for a trend of the span over them. It returns no series for fewer than two.
func inOrder(captures []*Capture) ([]*Capture, *Series) {
	if len(captures) < 2 {
		return captures, nil
	}
	s := &Series{Order: "as given", Files: []string{}, Trends: []SpanTrend{}}
	sorted := slices.Clone(captures)
	if !slices.ContainsFunc(captures, func(c *Capture) bool { return c.Start.IsZero() }) {
		s.Order = "by start time"
		slices.SortStableFunc(sorted, func(a, b *Capture) int { return a.Start.Compare(b.Start) })
	}
	s.Different, s.Doubtful = different(sorted)
	s.Doubtful = append(s.Doubtful, unlikeFree(sorted)...)
	for _, c := range sorted {
		s.Files = append(s.Files, c.Source)
	}
	if len(s.Different) > 0 {
		s.Text = "The captures are not of one actuator, so no trend over them was looked for."
		return sorted, s
	}
	s.trend(sorted)
	if len(s.asides) == 0 {
		s.scaleChange(sorted)
	}
	if len(s.asides) == 0 {
		s.paceChange(sorted)
	}
	return sorted, s
}

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

// different says which captures do not fit the first one of their coupling as
// captures of one actuator: at least two of span, sense of drive and travel
// time differ, and no single fault explains it. It says besides which are
// doubtful: the sense of drive alone, or the unit alone, changes with the way a
// capture is logged, and with the actuator, and with no fault.
func different(captures []*Capture) (plainly, doubtful []string) {
	plainly, doubtful = []string{}, []string{}
	var first [2]*steady // of each coupling: the door's stops are not the actuator's own
	for _, c := range captures {
		i := 0
		if c.Free {
			i = 1
		}
		s := steadyOf(c)
		if first[i] == nil {
			first[i] = &s
		} else if why := otherActuator(first[i], &s); why != "" {
			plainly = append(plainly, fmt.Sprintf("%s and %s look like different actuators: %s", first[i].c.Source, c.Source, why))
			continue
		}
		a := captures[0]
		if a.Sense*c.Sense < 0 {
			doubtful = append(doubtful, fmt.Sprintf("%s and %s: positive drive raises the reading in one and lowers it in the other; were the leads logged the other way round, or are they different actuators?", a.Source, c.Source))
		}
		if a.Unit != c.Unit {
			doubtful = append(doubtful, fmt.Sprintf("%s and %s: feedback in %s and in %s; are they of one actuator?", a.Source, c.Source, a.Unit, c.Unit))
		}
		if b := first[i].c; b != c && !b.slowed(3) && !c.slowed(3) && b.driveKnown() && c.driveKnown() {
			if why := paceApart(b, c); why != "" {
				doubtful = append(doubtful, why+" per volt of drive, both ways; are they of one actuator?")
			}
		}
	}
	return plainly, doubtful
}

// otherActuator says why two captures are not of one actuator, or "".
func otherActuator(a, b *steady) string {
	var why []string
	if a.c.Sense*b.c.Sense < 0 {
		why = append(why, "positive drive raises the reading in one and lowers it in the other")
	}
	q := (b.high - b.low) / (a.high - a.low)
	// A third: more than faults of the travel or of the track leave unnoticed
	// in the captures themselves (common practice, no source).
	far := math.Log(4. / 3)
	apart := !math.IsNaN(q) && a.c.Unit == b.c.Unit && math.Abs(math.Log(q)) > far
	if apart {
		why = append(why, fmt.Sprintf("span %.2f and %.2f %s", a.high-a.low, b.high-b.low, a.c.Unit))
	}
	var t []float64
	for d := range a.sweeps {
		if len(a.sweeps[d]) > 0 && len(b.sweeps[d]) > 0 {
			speed, band := speedRatio(a.c, b.c, a.sweeps[d], b.sweeps[d])
			if !band.Has(speed) {
				t = append(t, 1/speed)
			}
		}
	}
	if len(t) > 0 {
		r := math.Log(medianOf(t))
		// A jam shortens span and time alike.
		if !apart || math.Abs(r-math.Log(q)) > far {
			why = append(why, fmt.Sprintf("travel time %.0f %% of the other's", 100*medianOf(t)))
		}
	}
	if a.c.Unit != b.c.Unit {
		why = append(why, fmt.Sprintf("feedback in %s and in %s", a.c.Unit, b.c.Unit))
	}
	if len(why) < 2 {
		return ""
	}
	return strings.Join(why, "; ")
}
