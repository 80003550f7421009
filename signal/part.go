package signal

import "slices"

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
	for _, s := range p.optional() {
		x := (*s).part(a, b)
		*s = &x
	}
	return &p
}

// Recording is the trace from bin a up to, and without, bin b as if it were a file of its
// own, with the pace that its own rows have.
func (t *Trace) Recording(a, b int) *Trace {
	p := *t.Part(a, b)
	p.Anew, p.Notes = nil, nil
	if step := medianStep(p.Time); step > 0 {
		p.RowStep *= step / p.Step
		p.Step = step
	}
	return &p
}

func (s *Series) part(a, b int) Series {
	p := *s
	p.Mean, p.Min, p.Max = s.Mean[a:b], s.Min[a:b], s.Max[a:b]
	return p
}

// Told is the trace without the bins that tell nothing of the feedback: rows that a
// logger wrote and left empty are missing rows, and an empty cell is no reading of
// nothing. The other channels keep what their last cell said. Marks for a reading
// beyond the range do tell something: where the empty cells of the feedback are
// mostly such, only the rows without a drive go. Step is that of what is left. A
// trace without such bins is itself.
func (t *Trace) Told() *Trace {
	is := func(x float32) bool { return x == x } // NaN is not itself
	over := 2*t.Feedback.Stats.Over > t.Feedback.Stats.Missing
	told := func(i int) bool {
		return is(t.Feedback.Mean[i]) || over && is(t.Drive.Mean[i])
	}
	n := 0
	for i := range t.Time {
		if told(i) {
			n++
		}
	}
	if n == t.Len() || n == 0 {
		return t
	}
	p := *t
	p.Drive = *t.Drive.carried()
	for _, s := range p.optional() {
		*s = (*s).carried()
	}
	q := p.only(told)
	if step := medianStep(q.Time); t.RowsPerBin == 1 && step > t.Step {
		q.Step, q.RowStep = step, step
	}
	return q
}

// optional lists where the trace holds the optional channels that it has.
func (t *Trace) optional() []**Series {
	var out []**Series
	for _, s := range []**Series{&t.Reference, &t.Supply, &t.Current, &t.Command, &t.Both} {
		if *s != nil {
			out = append(out, s)
		}
	}
	return out
}

// Without is the trace without the bins that are marked; left has one mark a bin. Rows
// and the statistics of the columns stay those of the whole.
func (t *Trace) Without(left []bool) *Trace {
	return t.only(func(i int) bool { return !left[i] })
}

// only is the trace of the bins that are kept.
func (t *Trace) only(kept func(int) bool) *Trace {
	p := *t
	p.Time = keep(t.Time, kept)
	p.Drive, p.Feedback = t.Drive.kept(kept), t.Feedback.kept(kept)
	for _, s := range p.optional() {
		x := (*s).kept(kept)
		*s = &x
	}
	return &p
}

// carried is the series with empty bins that follow a value taken as that value; those
// before the first value stay empty.
func (s *Series) carried() *Series {
	p := *s
	p.Mean, p.Min, p.Max = carried(s.Mean), carried(s.Min), carried(s.Max)
	return &p
}

// carried is values of which those that are missing are taken as the last before.
func carried(x []float32) []float32 {
	y := slices.Clone(x)
	for i := 1; i < len(y); i++ {
		if y[i] != y[i] {
			y[i] = y[i-1]
		}
	}
	return y
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
