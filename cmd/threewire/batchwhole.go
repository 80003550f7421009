package main

import (
	"fmt"
	"math"

	"threewire/analyze"
)

// batchWhole is what only all rows of a batch tell of one: whether the tables count it,
// and what its actuator does from capture to capture.
type batchWhole struct {
	copied map[*batchRow]*batchRow
	counts map[*batchRow]string // conclusion that the tables count in this row
	first  map[string]*batchRow // of an occasion judged together, the row that counts
	trend  map[string]drift     // by actuator
}

// wholeOf reads sorted rows.
func wholeOf(rows []*batchRow) *batchWhole {
	b := &batchWhole{copied: copies(rows), counts: map[*batchRow]string{}, first: map[string]*batchRow{}, trend: drifts(rows)}
	for _, j := range judgements(rows) {
		b.counts[j.row] = j.Conclusion
		if j.row.Joined != nil {
			b.first[j.row.occasion()] = j.row
		}
	}
	return b
}

// note says of a row how the tables count it, where that is not by its own conclusion.
func (b *batchWhole) note(r *batchRow) string {
	first := b.first[r.occasion()]
	switch {
	case r.Error != "":
		return "not read"
	case b.copied[r] != nil:
		return "copy of " + b.copied[r].Path
	case r.Joined != nil && first != nil && first != r:
		return "counted with " + first.Path
	case r.Joined != nil:
		return "coupled and free judged together"
	}
	return ""
}

// drift says how the actuator of a row drifts; empty where it does not.
func (b *batchWhole) drift(r *batchRow) string {
	if d := b.trend[r.Actuator]; d.seen() {
		return d.what + " " + d.pace()
	}
	return ""
}

// seen tells whether a trend is more than chance.
func (d *drift) seen() bool { return d.what != "" && d.q < driftSeen }

// matters tells whether a trend that is seen has come so far that a drift is to be spoken
// of, as one over the captures of a check: see [analyze.DriftLeast].
func (d *drift) matters() bool {
	return d.seen() && math.Abs(d.moved()) >= analyze.DriftLeast*d.span
}

// moved is how far the trend went from the first capture to the last, in its unit.
func (d *drift) moved() float64 { return d.slope * (d.x[len(d.x)-1] - d.x[0]) }

// daysPerMonth is a twelfth of a year of 365.25 days.
const daysPerMonth = 365.25 / 12

// pace is the slope as a workshop says it: in mV and by the month where it can be.
func (d *drift) pace() string {
	scale, unit, per := d.says()
	return fmt.Sprintf("%+.3g %s per %s", scale*d.slope, unit, per)
}

// says is what a slope is to be multiplied by to be in the unit and by the time that a
// workshop speaks of.
func (d *drift) says() (scale float64, unit, per string) {
	scale, unit, per = 1, d.unit, d.per
	if unit == "V" {
		scale, unit = 1000, "mV"
	}
	if per == "day" {
		scale, per = scale*daysPerMonth, "month"
	}
	return scale, unit, per
}

// line says the trend in one sentence.
func (d *drift) line() string {
	scale, _, _ := d.says()
	s := fmt.Sprintf("%s moves %s (likely %+.3g to %+.3g), over %d captures; of trends as clear as this in a table like this, %s are chance",
		d.what, d.pace(), scale*d.low, scale*d.high, d.captures, sure(d.q))
	if !d.matters() && d.span > 0 {
		s += fmt.Sprintf("; so far %.1f %% of the span, too little to matter", 100*math.Abs(d.moved())/d.span)
	}
	return s
}
