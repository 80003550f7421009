package main

import (
	"math"
	"slices"

	"threewire/analyze"
	"threewire/analyze/stats"
	"threewire/fixtures"
)

// spotFound is how a damaged stretch of track was found. Errors are shares of
// the span; Edge and Centre hold only where a spot was found.
type spotFound struct {
	Kind   string    `json:"kind"`
	Shown  bool      `json:"shown"` // it left a mark the instrument could show
	Found  bool      `json:"found"`
	Edges  []float64 `json:"edge_error,omitempty"`
	Centre *float64  `json:"centre_error,omitempty"` // not of a spot at the end of the travel
	Told   *float64  `json:"told_error,omitempty"`   // of the percentage as the report tells it, likewise
}

// placeFound is how the place of an object was found.
type placeFound struct {
	Found bool    `json:"found"`
	Error float64 `json:"error"` // share of the span
}

// huntFound is how hunting was found.
type huntFound struct {
	Found     bool    `json:"found"`
	Reversals int     `json:"reversals"`
	Error     float64 `json:"frequency_error"` // relative
}

// driftFound is how the drift of one end was measured.
type driftFound struct {
	End     string  `json:"end"`
	Visits  int     `json:"visits"`
	True    float64 `json:"true"` // change over the capture, share of the span
	Found   bool    `json:"found"`
	Error   float64 `json:"slope_error"` // relative
	Off     float64 `json:"change_error"`
	Covered bool    `json:"covered"` // the 95 % interval holds the true slope
	Ranged  bool    `json:"interval_given"`
}

// firm is the strength from which a finding counts as stated.
const firm = 0.5

// near is how far from a spot or an object, as a share of the span, a finding
// may lie and still be meant for it: twice the aim of 1.5 %.
const near = 0.03

// measure compares the findings with the truth of one capture.
func (o *outcome) measure(t *fixtures.Truth, c *analyze.Capture) {
	span := t.Shown.High - t.Shown.Low
	list := inVolts(c.Findings, t.Front.PerVolt)
	o.compareSpots(t, list, span)
	o.compareJam(t, list, span)
	o.compareHunt(t, list)
	o.compareDrift(t, list, span)
}

// inVolts converts findings in the counts of a converter to volts.
func inVolts(findings []analyze.Finding, perVolt float64) []analyze.Finding {
	if perVolt == 1 || perVolt <= 0 {
		return findings
	}
	out := slices.Clone(findings)
	for i := range out {
		f := &out[i]
		f.Volts.From, f.Volts.To = f.Volts.From/perVolt, f.Volts.To/perVolt
		f.Measures = slices.Clone(f.Measures)
		for k := range f.Measures {
			if m := &f.Measures[k]; m.Unit != "" && m.Unit != "s" && m.Unit != "Hz" && m.Unit[0] != '%' && m.Unit[0] != '(' {
				m.Value /= perVolt
			}
		}
	}
	return out
}

func ofKind(all []analyze.Finding, kinds ...analyze.Kind) []*analyze.Finding {
	var out []*analyze.Finding
	for i := range all {
		if f := &all[i]; f.Strength >= firm && slices.Contains(kinds, f.Kind) {
			out = append(out, f)
		}
	}
	return out
}

// spotless tells whether places without a reading are nowhere to be expected:
// an open wire or a cracked track also loses the reading at places.
func spotless(t *fixtures.Truth) bool {
	switch fixtures.Fault(t.Fault) {
	case fixtures.FeedbackOpen, fixtures.FeedbackShort, fixtures.SpanDrift:
		return false
	}
	return t.Component != fixtures.Wiring
}

func (o *outcome) compareSpots(t *fixtures.Truth, all []analyze.Finding, span float64) {
	list := ofKind(all, analyze.DeadSpot, analyze.EndLoss, analyze.NoisyTrack)
	used := map[*analyze.Finding]bool{}
	for _, sp := range t.DeadSpots {
		s := spotFound{Kind: sp.Kind, Shown: sp.Shown > 0}
		best, gap := (*analyze.Finding)(nil), math.Inf(1)
		for _, f := range list {
			if f.Volts.To < sp.SeenFrom-near*span || f.Volts.From > sp.SeenTo+near*span {
				continue
			}
			used[f] = true
			if g := math.Abs(f.Volts.Mid() - (sp.SeenFrom+sp.SeenTo)/2); g < gap {
				best, gap = f, g
			}
		}
		if best != nil {
			s.Found = true
			from, to := math.Abs(best.Volts.From-sp.SeenFrom)/span, math.Abs(best.Volts.To-sp.SeenTo)/span
			switch mid := (sp.SeenFrom + sp.SeenTo) / 2; {
			case sp.AtEnd && mid < (t.Shown.Low+t.Shown.High)/2:
				s.Edges = []float64{to} // the inner edge
			case sp.AtEnd:
				s.Edges = []float64{from}
			default:
				centre := gap / span
				told := math.Abs(best.Percent.Mid()/100 - (mid-t.Shown.Low)/span)
				s.Edges, s.Centre, s.Told = []float64{from, to}, &centre, &told
			}
		}
		o.Spots = append(o.Spots, s)
	}
	if spotless(t) {
		for _, f := range list {
			if !used[f] {
				o.FalseSpot++
			}
		}
	}
}

// level is where a stall finding says the shaft stood, V.
func level(f *analyze.Finding) float64 {
	if v, ok := f.Measure(analyze.MeasureLevel); ok {
		return v
	}
	return f.Volts.Mid()
}

func (o *outcome) compareJam(t *fixtures.Truth, all []analyze.Finding, span float64) {
	list := ofKind(all, analyze.Jam)
	if t.Jam == nil {
		if t.Component == fixtures.None {
			o.FalseJam = len(list)
		}
		return
	}
	// Where the object looks like a stop nobody is asked to find it.
	if t.Jam.Touched == 0 || !t.Decidable {
		return
	}
	o.Jam = &placeFound{Error: math.Inf(1)}
	for _, f := range list {
		o.Jam.Error = math.Min(o.Jam.Error, math.Abs(level(f)-t.Jam.StallVolts)/span)
	}
	// Further off than a tenth of the travel it means something else.
	if o.Jam.Found = o.Jam.Error < 0.1; !o.Jam.Found {
		o.Jam.Error = 0
	}
}

func (o *outcome) compareHunt(t *fixtures.Truth, all []analyze.Finding) {
	list := ofKind(all, analyze.Hunting)
	h := t.Hunting
	switch fixtures.Fault(t.Fault) {
	case fixtures.FeedbackOpen, fixtures.FeedbackShort:
		return // the reading does not show the shaft
	}
	if h == nil {
		if t.Component == fixtures.None {
			o.FalseHunt = len(list)
		}
		return
	}
	o.Hunt = &huntFound{Reversals: h.Reversals}
	for _, f := range list {
		hz, ok := f.Measure(analyze.MeasureFrequency)
		if !ok || f.Time.To < h.From || f.Time.From > h.To {
			continue
		}
		// The same reversals are counted, to within two rows.
		slack := math.Max(0.02, 2/t.RateHz)
		var turns []float64
		for _, at := range t.Reversals {
			if at >= f.Time.From-slack && at <= f.Time.To+slack {
				turns = append(turns, at)
			}
		}
		// The analysis states a median too: a controller whose periods lengthen has no one frequency.
		if period := stats.UsualPeriod(turns); period > 0 {
			o.Hunt.Found = true
			o.Hunt.Error = math.Abs(hz*period - 1)
			return
		}
	}
}

func (o *outcome) compareDrift(t *fixtures.Truth, all []analyze.Finding, span float64) {
	if t.Drift == nil {
		return
	}
	list := ofKind(all, analyze.SpanDrift, analyze.TravelChange)
	for _, e := range []struct {
		end string
		tr  fixtures.TrueTrend
	}{{"low end", t.Drift.Low}, {"high end", t.Drift.High}} {
		// A relative error needs something to be relative to.
		if e.tr.Visits < 3 || math.Abs(e.tr.Change) < math.Max(t.Front.Resolution/3, 0.005*span) {
			continue
		}
		d := driftFound{End: e.end, Visits: e.tr.Visits, True: e.tr.Change / span}
		for _, f := range list {
			d.fill(f, e.end, e.tr, span)
		}
		o.Drift = append(o.Drift, d)
	}
}

// fill compares a finding's trend of one end. A finding that states V/s is
// compared in V/s, one that states a change per move in volts over the
// capture.
func (d *driftFound) fill(f *analyze.Finding, end string, tr fixtures.TrueTrend, span float64) {
	change, ok := f.Measure(analyze.EndMeasure(end, "drift"))
	if !ok {
		return
	}
	d.Found = true
	d.Off = math.Abs(change-tr.Change) / span
	got, want, unit := change, tr.Change, "drift per sweep"
	scale := 1.0
	if per, ok := f.Measure(analyze.EndMeasure(end, "drift per second")); ok && tr.Slope != 0 {
		got, want, unit = per, tr.Slope, "drift per second"
	} else if per, ok := f.Measure(analyze.EndMeasure(end, unit)); ok && per != 0 {
		scale = change / per
	}
	d.Error = math.Abs(got/want - 1)
	lo, ok1 := f.Measure(analyze.EndMeasure(end, unit+", lower 95 %"))
	hi, ok2 := f.Measure(analyze.EndMeasure(end, unit+", upper 95 %"))
	if d.Ranged = ok1 && ok2; d.Ranged {
		lo, hi = scale*lo, scale*hi
		d.Covered = want >= math.Min(lo, hi) && want <= math.Max(lo, hi)
	}
}
