package signal

import (
	"fmt"
	"math"
)

// doubts notes what is odd about the data.
func (r *reducer) doubts(a *assignment) {
	p, t := r.p, &r.p.time
	for _, w := range r.words {
		p.note("odd-text", "%s: %s, first %s in line %d, read as missing", p.columnName(w.col), plural(w.n, "cell holds text", "cells hold text"), w.text, w.line)
	}
	if r.sign < 0 {
		p.note("descending", "the rows run backwards in time and were turned round")
	}
	if r.gapCount > 0 {
		g := r.gaps[0]
		p.note("gap", "rows are missing in %s, first from %.6g to %.6g s", plural(r.gapCount, "place", "places"), g.From, g.To)
	}
	if r.repeated {
		p.note("repeated-times", "many rows share a time stamp (%.4g s apart): spread evenly, one row every %.4g s", r.quantum, r.rowStep())
	} else if 2*r.nudged > r.rows {
		p.note("repeated-times", "most rows repeat the time of the row before, so the time column tells no times: if the rows are evenly spaced, give --rate HZ")
	} else if r.nudged > 0 {
		p.note("repeated-times", "%s the time of the row before: moved on by a part of a step", plural(r.nudged, "row repeats", "rows repeat"))
	}
	if r.noTime > 0 {
		p.note("no-time", "%s no time and left out", plural(r.noTime, "row has", "rows have"))
	}
	if r.irregular {
		p.note("irregular", "the time step varies widely: this may be a list of events")
	}
	told, what := p.facts.step, "interval"
	if told == 0 && p.facts.rate > 0 {
		told, what = 1/p.facts.rate, "rate"
	}
	if step := r.rowStep(); told > 0 && t.col >= 0 && step > 0 && !r.irregular && math.Abs(told/step-1) > 0.02 {
		p.note("interval-differs", "the preamble tells a sample %s of %s, the times one of %s: the times are used", what, interval(told, what), interval(step, what))
	}
	if n := p.facts.samples; n > 0 && n != r.rows && n != r.rows*int64(r.perRow()) {
		p.note("count-differs", "the preamble tells %d samples, the file holds %d rows", n, r.rows)
	}
	for _, role := range []Role{Drive, Feedback} {
		want := "switch"
		if role == Feedback {
			want = "move"
		}
		j, ok := a.col[role]
		if ok && a.feat[j] != nil && a.feat[j].flat {
			p.note("constant-"+role.String(), "the %s (%s) is constant: it does not %s in this file", role, p.columnName(j), want)
		}
	}
	for _, role := range []Role{Drive, Polarity, LeadA, LeadB, Feedback} {
		j, ok := a.col[role]
		if !ok || a.feat[j] == nil {
			continue
		}
		f := a.feat[j]
		if role != Feedback && !f.flat && f.gliding() && f.motion > 3 {
			p.note("unlike-drive", "%s was taken as drive (%s) but glides like a wiper", p.columnName(j), a.reason[j])
		}
		if role == Feedback && f.switching() {
			p.note("unlike-feedback", "%s was taken as feedback (%s) but switches between levels like a drive", p.columnName(j), a.reason[j])
		}
	}
}

// tooHigh notes a feedback that lies, most of the time, where no wiper of a
// 12 V system can: a unit was lost. One wild reading is not meant.
func (r *reducer) tooHigh(t *Trace, j int) {
	high := 0
	for _, v := range t.Feedback.Mean {
		if v > rawCountsMax {
			high++
		}
	}
	if t.Feedback.Unit == "V" && 2*high > t.Len() {
		r.p.note("too-high", "the feedback (%s) reaches %.6g V, which no wiper of a 12 V system does: if the numbers are mV, give --scale feedback=0.001", r.p.columnName(j), t.Feedback.Stats.Max)
	}
}

func interval(step float64, what string) string {
	if what == "rate" {
		return fmt.Sprintf("%.6g Hz", 1/step)
	}
	return fmt.Sprintf("%.6g s", step)
}

func plural(n int64, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// perRow is how many samples of one series stand in a row: instruments that
// print a single stream break it into lines of several values.
func (r *reducer) perRow() int {
	p := r.p
	if p.time.mode != timeCount || p.head.names >= 0 || len(r.chans) < 3 || !p.facts.oneSeries {
		return 1
	}
	return len(r.chans)
}
