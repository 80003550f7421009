package signal

// unsaidPercent takes a feedback without a unit for percent of its supply where it lies,
// more than now and then, above what a 12 V system feeds anything with, and within 0 to 100
// (a hundredth of it beside, for offsets): a small logger writes the share of its reference
// so, as often with a digit behind the point, and no wiper has such volts. Whole numbers
// beyond [rawCountsMax] are counts. A probe of 10:1 counted twice looks the same up to what
// ten times 5 V are, so there it is said beside the verdict.
func (r *reducer) unsaidPercent(t *Trace, j int, o *Options) {
	const whole = 100.0
	c := &r.p.cols[j]
	if _, told := o.Scale[Feedback]; told || t.Feedback.Unit != "V" || c.unit.q != noQuantity {
		return
	}
	lo, hi := bulk(t.Feedback.Mean, 100)
	if !(hi > mostDrive && hi <= 1.01*whole && lo >= -0.01*whole) {
		return
	}
	t.Feedback.Unit = "%"
	const text = "the feedback (%s) has no unit and reads up to %.4g, more than a 12 V system feeds a sensor with: taken as percent of its supply (--scale feedback=1 keeps it as volts)"
	if hi > rawCountsMax {
		r.p.note("unsaid-percent", text, r.p.columnName(j), hi)
		return
	}
	r.p.doubt("unsaid-percent", text, r.p.columnName(j), hi)
}
