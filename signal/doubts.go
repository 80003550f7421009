package signal

import (
	"fmt"
	"math"
)

// doubts notes what is odd about the data.
func (r *reducer) doubts(a *assignment) {
	p, t := r.p, &r.p.time
	slow := int64(slowRows(r.time)) // no rows are missing there
	for _, w := range r.words {
		keep := p.note
		if role := a.role[w.col]; manyOf(w.n, r.rows) && role != Unused && role != TimeRole {
			keep = p.doubt
		}
		keep("odd-text", "%s: %s, first %s in line %d, read as missing", p.columnName(w.col), plural(w.n, "cell holds text", "cells hold text"), w.text, w.line)
	}
	r.noteBetween()
	if r.heads > 0 {
		further := ""
		if r.heads > 1 {
			further = fmt.Sprintf(", and in %s further on", plural(r.heads-1, "line", "lines"))
		}
		p.note("header-again", "what stands above the data comes again in line %d%s: left out", p.long.sourceLine(r.headLine), further)
	}
	r.noteCodes()
	if r.sign < 0 {
		p.note("descending", "the rows run backwards in time and were turned round")
	}
	if r.onChange {
		p.note("on-change", "a row comes only when something changes: between rows the drive was taken to stay as it is, and the feedback to stay or, under way, to move evenly")
	} else if r.clustered {
		p.note("uneven-rows", "rows come in clusters with pauses between them: they were put on an even grid, the reading going on evenly from row to row and the drive standing until the next")
	} else if r.gapCount > slow {
		g := r.firstGap
		p.note("gap", "rows are missing in %s, first from %.6g to %.6g s", plural(r.gapCount, "place", "places"), g.From, g.To)
	}
	if r.repeated {
		p.note("repeated-times", "many rows share a time stamp (%.4g s apart): spread evenly, one row every %.4g s", r.quantum, r.rowStep())
	} else if 2*r.nudged > r.rows {
		p.doubt("repeated-times", "most rows repeat the time of the row before, so the time column tells no times: if the rows are evenly spaced, give --rate HZ")
	} else if r.nudged > 0 {
		p.note("repeated-times", "%s the time of the row before: moved on by a part of a step", plural(r.nudged, "row repeats", "rows repeat"))
	}
	if r.behind > 0 {
		p.note("jitter", "%s by less than a row's distance before the row above: the stamps jitter, and the rows are kept in the order of the file", plural(r.behind, "row is stamped", "rows are stamped"))
	}
	if r.noTime > 0 {
		keep := p.note
		if manyOf(r.noTime, r.rows) {
			keep = p.doubt
		}
		keep("no-time", "%s no time and left out", plural(r.noTime, "row has", "rows have"))
	}
	if w := &r.twice; w.blocks > 0 {
		more := ""
		if w.blocks > 1 {
			more = fmt.Sprintf(", and %s further on,", plural(w.blocks-1, "block", "blocks"))
		}
		p.note("written-twice", "lines %d to %d%s repeat rows already read, cell for cell: read once (a logger that writes its buffer a second time does so)", w.from, w.to, more)
	}
	if r.irregular && slow == 0 && !r.onChange && !r.clustered {
		p.doubt("irregular", "the time step varies widely: this may be a list of events")
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
	r.alike(a)
}

// manyOf tells whether so many of all rows were not read that what they would have told
// could turn the verdict: a tenth, of which one pass in ten may consist (chosen, not
// derived).
func manyOf(n, rows int64) bool { return 10*n >= n+rows }

// alike notes a drive that looks like a wiper and a feedback that looks like
// a drive. Eased and pulsed drives glide, and a bad wiper jumps, so that what
// the header says holds; only volts that no wiper can have prove that the two
// were taken for each other.
func (r *reducer) alike(a *assignment) {
	p := r.p
	var unlikeDrive, unlikeFeedback bool
	var odd []Note
	for _, role := range []Role{Drive, Polarity, LeadA, LeadB, Feedback} {
		j, ok := a.col[role]
		if !ok || a.feat[j] == nil {
			continue
		}
		f := a.feat[j]
		// One lead taken for the wiper leaves the other one's volts: of both signs, and
		// the wiper between them may have gone to and fro only once.
		lead := (role == LeadA || role == LeadB) && f.motion > 1.2 && a.exchanged()
		if role != Feedback && f.gliding() && (lead || f.motion > 3 && !a.bothSigns()) {
			odd = append(odd, Note{Code: "unlike-drive", Text: fmt.Sprintf("%s was taken as drive (%s) but glides like a wiper", p.columnName(j), a.reason[j])})
			unlikeDrive = true
		}
		if role == Feedback && f.switching() {
			odd = append(odd, Note{Code: "unlike-feedback", Text: fmt.Sprintf("%s was taken as feedback (%s) but switches between levels like a drive", p.columnName(j), a.reason[j])})
			unlikeFeedback = true
		}
	}
	for _, n := range odd {
		// Alone it is what a drive that is eased, or a wiper that loses its track, looks like.
		n.Turns = unlikeDrive && unlikeFeedback
		p.keepNote(n)
	}
	if unlikeFeedback && (unlikeDrive && a.exchanged() || a.exchangedPlainly()) {
		p.doubt("swapped", "drive and feedback look swapped: the feedback has volts that no wiper has, the drive stays within a wiper's range")
	}
}

// bothSigns tells whether the drive has volts of both signs, which a wiper
// has not.
func (a *assignment) bothSigns() bool {
	lo, hi := 0.0, 0.0
	s, least := 1.0, leastDrive/2
	if j, ok := a.col[Drive]; ok {
		s = columnScale(&a.p.cols[j])
	} else if j, ok := a.col[LeadA]; ok {
		// A lead less a wiper has both signs too, but not as much.
		s, least = columnScale(&a.p.cols[j]), leastDrive
	}
	for _, x := range a.driveValues() {
		lo, hi = min(lo, x*s), max(hi, x*s)
	}
	return hi >= least && lo <= -least
}

// exchanged tells whether the feedback has the volts of a drive and the drive
// those of a wiper.
func (a *assignment) exchanged() bool {
	v, ok := a.col[Feedback]
	if !ok || a.feat[v] == nil { // none was found, or nothing stands in it
		return false
	}
	drive, wiper := a.drivesVolts(v), false
	for _, r := range []Role{Drive, LeadA, LeadB} {
		if j, ok := a.col[r]; ok && a.feat[j] != nil {
			d, s := a.feat[j], columnScale(&a.p.cols[j])
			wiper = wiper || d.gliding() && d.min*s > -0.5 && d.max*s > 1 && d.max*s < wiperMost
		}
	}
	return drive && wiper && !a.has(Polarity)
}

// drivesVolts tells whether column v has the volts of a drive.
func (a *assignment) drivesVolts(v int) bool {
	f, s := a.feat[v], columnScale(&a.p.cols[v])
	return f.size()*s >= leastDrive && (f.min < -0.2*f.size() || a.share(v, 0, 0.05) >= 0.02 && f.max*s > 9)
}

// highAsALead tells whether column v reaches as high as one of the leads, to a seventh (the
// drop in either half of a bridge), or none of two was logged.
func (a *assignment) highAsALead(v int) bool {
	leads := 0
	for _, r := range []Role{LeadA, LeadB} {
		if j, ok := a.col[r]; ok && a.feat[j] != nil {
			leads++
			high, other := a.feat[j].max*columnScale(&a.p.cols[j]), a.feat[v].max*columnScale(&a.p.cols[v])
			if math.Abs(high-other) < other/7 {
				return true
			}
		}
	}
	return leads == 0
}

// exchangedPlainly tells the same where the wiper leaps, as one on a worn track does, so
// that it does not glide: what was taken for the feedback does nothing but switch between
// levels of which the highest is above what any wiper reads that is fed with 5 V; and a
// column taken for the drive or for one lead never leaves a wiper's range, on which no
// 12 V motor turns, and does not switch, as a lead does even where it is pulsed or read
// through a probe that its channel was not told of. It lies at rest or at the top but for
// one row in ten; where a second lead was logged, as high as that one stands: what a wire at
// the battery makes of a wiper does neither.
func (a *assignment) exchangedPlainly() bool {
	v, ok := a.col[Feedback]
	if !ok || a.feat[v] == nil || a.has(Polarity) || a.bySign || !a.inVolts(v) || !a.drivesVolts(v) {
		return false
	}
	if a.share(v, 0, 0.1)+a.share(v, 0.85, math.Inf(1)) < 0.9 || !a.highAsALead(v) {
		return false
	}
	for _, r := range []Role{Drive, LeadA, LeadB} {
		if j, ok := a.col[r]; ok && a.feat[j] != nil {
			d, s := a.feat[j], columnScale(&a.p.cols[j])
			switches := d.jumpy > 0.6 && d.levels > 0.6
			if a.inVolts(j) && !d.flat && !switches && d.motion > 1 && d.min*s > -0.5 && d.max*s > 1 && d.max*s < wiperMost {
				return true
			}
		}
	}
	return false
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
		r.p.doubt("too-high", "the feedback (%s) reaches %.6g V, which no wiper of a 12 V system does: if the numbers are mV, give --scale feedback=0.001", r.p.columnName(j), t.Feedback.Stats.Max)
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
