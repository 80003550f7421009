package signal

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// columnScale is the factor from the written number to the base unit.
func columnScale(c *planCol) float64 {
	switch c.unit.q {
	case volts, amperes, seconds, hertz, percent:
		return c.unit.factor
	}
	return 1
}

// roleScale adds the user's factor.
func (o *Options) roleScale(r Role) float64 {
	if f, ok := o.Scale[r]; ok {
		return f
	}
	if r == Polarity {
		if f, ok := o.Scale[Drive]; ok {
			return f
		}
	}
	return 1
}

// factor is what a column is multiplied by in a role: by its unit, and by the user, whose
// word stands in the place of a divider that the file speaks of.
func (o *Options) factor(c *planCol, r Role) float64 {
	f := columnScale(c) * o.roleScale(r)
	_, told := o.Scale[r]
	if _, drive := o.Scale[Drive]; c.probe > 0 && (told || drive && (r == LeadA || r == LeadB)) {
		f /= c.probe
	}
	return f
}

// baseUnit is the unit of a channel after scaling.
func baseUnit(c *planCol, r Role) string {
	switch c.unit.q {
	case volts:
		return "V"
	case amperes:
		return "A"
	case percent:
		return "%"
	case counts:
		return "counts"
	case otherQuantity, hertz, seconds:
		return c.unit.base
	}
	switch r {
	case Drive, LeadA, LeadB, Reference, Supply:
		return "V"
	}
	return ""
}

// leastPeak and mostPeak bound, in A, the highest current of a small gear motor on a
// 12 V vehicle network in a recording: that of a start or a stall (common practice, no
// source). The same in milliampere, or as the 0.1 V/A or 10 mV/A of a clamp, lies
// outside.
const leastPeak, mostPeak = 0.1, 6

// currentUnit is the unit of the motor's current: ampere where the file or a factor
// to it says so, else what is written. Loggers write ampere, milliampere and a clamp's
// volts without a unit alike; numbers are ampere where they are of a size that only
// these have, else "".
func currentUnit(c *planCol, st *Stats, told bool) string {
	u := baseUnit(c, Unused)
	if name := strings.ToLower(c.name); told || u == "" && (strings.HasSuffix(name, "_a") || strings.HasSuffix(name, " a")) {
		return "A"
	}
	if peak := math.Max(-st.Min, st.Max); u == "" && peak >= leastPeak && peak <= mostPeak {
		return "A"
	}
	return u
}

// rawCountsMax is the highest reading of a wiper in volts on a 12 V vehicle
// network, with room for a load dump clamp; whole numbers beyond it are
// converter counts.
const rawCountsMax = 60

// feedbackUnit decides what numbers without a unit are.
func feedbackUnit(c *planCol, st *Stats) string {
	if u := baseUnit(c, Unused); u != "" {
		return u
	}
	if st.Max > rawCountsMax && st.Min == math.Trunc(st.Min) && st.Max == math.Trunc(st.Max) && (st.Quantum == 0 || st.Quantum >= 1) {
		return "counts"
	}
	return "V"
}

// seriesOf makes the series of a channel in base units.
func (r *reducer) seriesOf(c *channel, role Role, o *Options) Series {
	pc := &r.p.cols[c.col]
	s := Series{Name: pc.name, Unit: baseUnit(pc, role)}
	if s.Name == "" {
		s.Name = fmt.Sprintf("column %d", c.col+1)
	}
	f := o.factor(pc, role)
	if role == Polarity && pc.unit == ofWhole {
		f = o.roleScale(role) // -1, 0 and 1, of dimension one too
	}
	s.Stats = r.statsOf(c, f)
	if lead := role == LeadA || role == LeadB; s.Unit == "V" && s.Stats.Over > 0 && (lead || role == Drive) {
		if c.fillOver(lead, overVolts/math.Abs(f)) {
			r.p.note("over-range", "%s goes over the instrument's range, and its marks do not tell which way: use a wider range or a divider", r.p.columnName(c.col))
		}
	}
	if role == Current {
		_, told := o.Scale[Current]
		s.Unit = currentUnit(pc, &s.Stats, told)
	}
	switch _, told := o.Scale[role]; {
	case role == Supply && told:
		s.Unit = "V" // the factor makes volts of what is written
	case role == Feedback, role == Supply, role == Reference:
		s.Unit = feedbackUnit(pc, &s.Stats)
		if told && s.Unit == "counts" && s.Stats.Valid > 0 {
			s.Unit = toldUnit(&s.Stats, f)
		}
	}
	s.Mean = scaled(c.mean, f)
	s.Min, s.Max = s.Mean, s.Mean
	if c.min != nil {
		s.Min, s.Max = scaled(c.min, f), scaled(c.max, f)
		if f < 0 {
			s.Min, s.Max = s.Max, s.Min
		}
	}
	return s
}

// scaled multiplies in place: a channel is used once.
func scaled(v []float32, f float64) []float32 {
	if f != 1 {
		for i := range v {
			v[i] = float32(float64(v[i]) * f)
		}
	}
	return v
}

func (r *reducer) statsOf(c *channel, f float64) Stats {
	st := c.stats
	st.Missing, st.Over = r.miss[c.col], r.over[c.col]
	if st.Valid == 0 {
		st.Min, st.Max = math.NaN(), math.NaN()
		return st
	}
	st.Quantum = quantumOf(c.seen.values()) * math.Abs(f)
	st.Min, st.Max = st.Min*f, st.Max*f
	if f < 0 {
		st.Min, st.Max = st.Max, st.Min
		st.AtMin, st.AtMax = st.AtMax, st.AtMin
	}
	return st
}

// difference makes the drive from two leads. The extremes are bounds: the
// leads' extremes need not fall on the same row.
func difference(a, b Series) Series {
	n := len(a.Mean)
	d := Series{Name: a.Name + " - " + b.Name, Unit: a.Unit, Mean: make([]float32, n)}
	exact := &a.Mean[0] == &a.Min[0]
	d.Min, d.Max = d.Mean, d.Mean
	if !exact {
		d.Min, d.Max = make([]float32, n), make([]float32, n)
	}
	st := &d.Stats
	for i := range d.Mean {
		d.Mean[i] = a.Mean[i] - b.Mean[i]
		if !exact {
			d.Min[i], d.Max[i] = a.Min[i]-b.Max[i], a.Max[i]-b.Min[i]
			d.Mean[i] = max(d.Min[i], min(d.Max[i], d.Mean[i]))
		}
	}
	st.bound(d.Mean)
	st.Valid = min(a.Stats.Valid, b.Stats.Valid)
	st.Missing = max(a.Stats.Missing, b.Stats.Missing)
	st.Over = max(a.Stats.Over, b.Stats.Over)
	st.Quantum = min(a.Stats.Quantum, b.Stats.Quantum)
	return d
}

// lower is the lower of two leads, bin by bin.
func lower(a, b Series) *Series {
	s := Series{Name: "lower of " + a.Name + " and " + b.Name, Unit: a.Unit, Mean: make([]float32, len(a.Mean))}
	s.Min, s.Max = s.Mean, s.Mean
	for i := range s.Mean {
		s.Mean[i] = min(a.Mean[i], b.Mean[i])
	}
	s.Stats.bound(s.Mean)
	s.Stats.Valid, s.Stats.Missing = min(a.Stats.Valid, b.Stats.Valid), max(a.Stats.Missing, b.Stats.Missing)
	s.Stats.Quantum = min(a.Stats.Quantum, b.Stats.Quantum)
	return &s
}

// bound sets the extremes of a combined channel, NaN when it has no reading,
// and how many bins lie at them.
func (st *Stats) bound(x []float32) {
	st.Min, st.Max, st.AtMin, st.AtMax = math.NaN(), math.NaN(), 0, 0
	for _, v := range x {
		f := float64(v)
		switch {
		case f != f:
			continue
		case !(f >= st.Min):
			st.Min, st.AtMin = f, 0
		}
		if !(f <= st.Max) {
			st.Max, st.AtMax = f, 0
		}
		if f == st.Min {
			st.AtMin++
		}
		if f == st.Max {
			st.AtMax++
		}
	}
}

// trace builds the result from the reduced channels.
func (r *reducer) trace(a *assignment, o *Options) *Trace {
	r.widenPauses(a)
	t := &Trace{Source: o.Source, Time: r.time, Start: r.startTime(), RowStep: r.rowStep(), RowsPerBin: r.k, Rows: r.rows, Uniform: r.uniform(), Gaps: r.gaps, Anew: r.anew}
	t.Step = medianStep(t.Time)
	if t.Step == 0 {
		t.Step = t.RowStep * float64(t.RowsPerBin)
	}
	t.Columns, t.Remarks = r.columns(a, o), r.remarksInTime()
	t.Current = r.inRole(Current, a, o)
	r.setDrive(t, a, o)
	t.Feedback = *r.inRole(Feedback, a, o)
	t.Reference, t.Supply = r.inRole(Reference, a, o), r.inRole(Supply, a, o)
	r.turnedSupply(t, o)
	r.turnedFeedback(t, a.col[Feedback], o)
	r.tenths(t, o)
	r.feedbackProbe(t, a.col[Feedback], o)
	r.unsaidPercent(t, a.col[Feedback], o)
	r.lowDrive(t, a, o)
	t.Command = share(r.inRole(Command, a, o))
	r.onChange = t.fillChanges(r.maxBins)
	r.clustered = !r.onChange && t.spreadUneven(r.maxBins)
	r.doubts(a)
	r.tooHigh(t, a.col[Feedback])
	t.Notes = r.p.notes
	return t
}

// inRole is the channel of the column that has this role; nil when none has.
func (r *reducer) inRole(role Role, a *assignment, o *Options) *Series {
	j, ok := a.col[role]
	if !ok {
		return nil
	}
	s := r.seriesOf(a.channel(j), role, o)
	return &s
}

// share brings a command to -1 .. +1, whatever it is written in.
func share(s *Series) *Series {
	if s == nil {
		return nil
	}
	f := 1.0
	if top := max(math.Abs(s.Stats.Min), math.Abs(s.Stats.Max)); s.Unit == "%" {
		f = 0.01
	} else if top > 1 {
		f = 1 / top
	}
	c := scaleSeries(*s, f)
	c.Unit = ""
	return &c
}

func scaleSeries(s Series, f float64) Series {
	shared := len(s.Mean) > 0 && &s.Mean[0] == &s.Min[0]
	s.Mean = scaled(s.Mean, f)
	if shared {
		s.Min, s.Max = s.Mean, s.Mean
	} else {
		s.Min, s.Max = scaled(s.Min, f), scaled(s.Max, f)
		if f < 0 {
			s.Min, s.Max = s.Max, s.Min
		}
	}
	s.Stats.Min, s.Stats.Max, s.Stats.Quantum = s.Stats.Min*f, s.Stats.Max*f, s.Stats.Quantum*math.Abs(f)
	if f < 0 {
		s.Stats.Min, s.Stats.Max = s.Stats.Max, s.Stats.Min
		s.Stats.AtMin, s.Stats.AtMax = s.Stats.AtMax, s.Stats.AtMin
	}
	return s
}

func medianStep(t []float64) float64 {
	if len(t) < 2 {
		return 0
	}
	stride := max(1, len(t)/20000)
	d := make([]float64, 0, len(t)/stride+1)
	for i := stride; i < len(t); i += stride {
		d = append(d, t[i]-t[i-1])
	}
	if len(d) == 0 {
		return t[1] - t[0]
	}
	slices.Sort(d)
	// What the last bits of a difference are hangs on where the clock began.
	const fine = 1e9 // to the nanosecond
	if step := math.Round(d[len(d)/2]*fine) / fine; step > 1e4/fine {
		return step
	}
	return d[len(d)/2]
}

// columns lists how every column was read.
func (r *reducer) columns(a *assignment, o *Options) []Column {
	out := make([]Column, len(r.p.cols))
	for j := range out {
		c := &r.p.cols[j]
		out[j] = Column{Number: j + 1, Name: c.name, Unit: c.unitText, Scale: o.factor(c, a.role[j]), Role: a.role[j], Reason: a.reason[j]}
		if a.role[j] == TimeRole && r.p.time.mode == timeNumber {
			out[j].Scale = r.p.time.scale
		}
		if a.role[j] == Unused && r.remarkColumn(j) {
			out[j].Reason = "remarks"
		}
		if ch := a.channel(j); ch != nil {
			out[j].Stats = r.statsOf(ch, out[j].Scale)
		} else {
			out[j].Stats.Missing, out[j].Stats.Over = r.miss[j], r.over[j]
		}
	}
	// A trailing delimiter makes an empty last column that nobody counts.
	for n := len(out); n > 0 && out[n-1].Name == "" && out[n-1].Reason == "empty"; n-- {
		out = out[:n-1]
	}
	return out
}
