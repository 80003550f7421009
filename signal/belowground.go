package signal

// turnedFeedback puts right a feedback whose volts are negative throughout: in a 12 V system
// no wire lies below ground but by what currents make on it, so the probe's two ends, or
// the channel's invert, were changed over. A sensor that reads down where others read up is
// another thing: its volts are positive, and need nothing. A reference read through the
// same probe is turned with it. A negative factor is the caller's word.
func (r *reducer) turnedFeedback(t *Trace, j int, o *Options) {
	if o.Scale[Feedback] < 0 || !belowGround(&t.Feedback) {
		return
	}
	t.Feedback = scaleSeries(t.Feedback, -1)
	if t.Reference != nil && belowGround(t.Reference) {
		s := scaleSeries(*t.Reference, -1)
		t.Reference = &s
	}
	r.p.note("feedback-turned", "the feedback (%s) is negative throughout, which no wiper is: its probe was clipped on the other way round, or the channel inverts, so its volts are taken as positive", r.p.columnName(j))
}

// turnedSupply puts right a supply that was logged with its clips exchanged: against the
// vehicle's ground no supply is negative.
func (r *reducer) turnedSupply(t *Trace, o *Options) {
	if _, told := o.Scale[Supply]; told || t.Supply == nil || !belowGround(t.Supply) {
		return
	}
	s := scaleSeries(*t.Supply, -1)
	t.Supply = &s
	r.p.note("clips-exchanged", "the supply is negative throughout, as with its clips exchanged: its volts are taken as positive (--scale supply=1 keeps them as written)")
}

// belowGround tells whether a channel in volts is negative throughout, more than the
// grounds of a vehicle lie apart.
func belowGround(s *Series) bool {
	const (
		apart = 1.0 // V, between two grounds at most (common practice, no source)
		zero  = 0.1 // V, an instrument's own zero
	)
	if s.Unit != "V" {
		return false
	}
	lo, hi := bulk(s.Mean, 100)
	return lo < -apart && hi < zero
}
