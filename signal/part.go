package signal

// Part is the trace from bin a up to, and without, bin b; it shares their memory.
// Rows and the statistics of the columns stay those of the whole. A part that is
// empty or no part is the trace itself.
func (t *Trace) Part(a, b int) *Trace {
	if a < 0 || b > t.Len() || a >= b || b-a == t.Len() {
		return t
	}
	p := *t
	p.Time = t.Time[a:b]
	p.Drive, p.Feedback = t.Drive.part(a, b), t.Feedback.part(a, b)
	for _, s := range []**Series{&p.Reference, &p.Supply, &p.Current, &p.Command} {
		if *s != nil {
			x := (*s).part(a, b)
			*s = &x
		}
	}
	return &p
}

func (s *Series) part(a, b int) Series {
	p := *s
	p.Mean, p.Min, p.Max = s.Mean[a:b], s.Min[a:b], s.Max[a:b]
	return p
}
