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

// Told is the trace without the bins in which neither the drive nor the feedback
// has a reading: rows that a logger wrote and left empty are missing rows. A trace
// without such bins is itself.
func (t *Trace) Told() *Trace {
	told := func(i int) bool {
		return t.Drive.Mean[i] == t.Drive.Mean[i] || t.Feedback.Mean[i] == t.Feedback.Mean[i] // NaN is not itself
	}
	n := 0
	for i := range t.Time {
		if told(i) {
			n++
		}
	}
	if n == t.Len() {
		return t
	}
	p := *t
	p.Time = keep(t.Time, told)
	p.Drive, p.Feedback = t.Drive.kept(told), t.Feedback.kept(told)
	for _, s := range []**Series{&p.Reference, &p.Supply, &p.Current, &p.Command} {
		if *s != nil {
			x := (*s).kept(told)
			*s = &x
		}
	}
	return &p
}

func (s *Series) kept(told func(int) bool) Series {
	p := *s
	p.Mean, p.Min, p.Max = keep(s.Mean, told), keep(s.Min, told), keep(s.Max, told)
	return p
}

// keep is the values whose index is kept.
func keep[T any](x []T, kept func(int) bool) []T {
	var out []T
	for i, v := range x {
		if kept(i) {
			out = append(out, v)
		}
	}
	return out
}
