package signal

// Head is the first n bins of the trace; it shares their memory. Rows and the
// statistics of the columns stay those of the whole.
func (t *Trace) Head(n int) *Trace {
	if n < 0 || n >= t.Len() {
		return t
	}
	h := *t
	h.Time = t.Time[:n]
	h.Drive, h.Feedback = t.Drive.head(n), t.Feedback.head(n)
	for _, s := range []**Series{&h.Reference, &h.Supply, &h.Current, &h.Command} {
		if *s != nil {
			x := (*s).head(n)
			*s = &x
		}
	}
	return &h
}

func (s *Series) head(n int) Series {
	h := *s
	h.Mean, h.Min, h.Max = s.Mean[:n], s.Min[:n], s.Max[:n]
	return h
}
