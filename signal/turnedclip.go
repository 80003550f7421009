package signal

// turnedSupply puts right a supply that was logged with its clips exchanged, and notes it:
// against the vehicle's ground no supply is negative.
func (r *reducer) turnedSupply(t *Trace, o *Options) {
	s := t.Supply
	if s == nil || s.Unit != "V" {
		return
	}
	if _, told := o.Scale[Supply]; told {
		return
	}
	// A supply at nothing wavers about 0 by the noise of its channel: half a volt is more.
	if lo, hi := bulk(s.Mean, 100); lo < -0.5 && hi < 0.5 && hi < -lo/2 {
		*s = scaleSeries(*s, -1)
		r.p.note("clips-exchanged", "the supply reads below 0 V, as with its clips exchanged: its sign was turned (--scale supply=1 keeps it as written)")
	}
}
