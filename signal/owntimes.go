package signal

import (
	"fmt"
	"math"
	"slices"
)

// An ownTime is a second column of times in a file of time and value pairs, with the
// channels that it times: those behind it, up to the next column of times.
type ownTime struct {
	col, end int     // column, and the first one that is no longer timed by it
	scale    float64 // to s
	most     float64 // s, furthest from the time of the row
	used     bool    // its channels were moved
}

// pairTimes finds the columns of times in "time, motor, time, feedback", and takes that
// with most rows a second for the time of the file: on it the others lose least.
func (p *plan) pairTimes(o *Options) {
	t := &p.time
	if t.mode != timeNumber && t.mode != timeClock || t.col2 >= 0 || t.fraction > 0 {
		return
	}
	var cols []int
	channels := 0 // since the last column of times
	for j := range p.cols {
		switch {
		case j == t.col || p.isPairTime(j, o):
			if len(cols) > 0 && channels == 0 {
				return // two clocks side by side are of one row
			}
			cols, channels = append(cols, j), 0
		case p.cols[j].kind == numberCol && !isIndexName(p.cols[j].name), p.cols[j].kind == wordCol:
			if len(cols) == 0 {
				return // a channel before the first times has the row's
			}
			channels++
		}
	}
	if len(cols) < 2 || channels == 0 {
		return
	}
	p.densest(cols, o)
	for k, j := range cols {
		if j == t.col {
			continue
		}
		own := ownTime{col: j, end: len(p.cols), scale: t.scale}
		if k+1 < len(cols) {
			own.end = cols[k+1]
		}
		if p.cols[j].unit.q == seconds {
			own.scale = p.cols[j].unit.factor
		}
		p.own = append(p.own, own)
	}
}

// isPairTime tells whether a column beside the time may be the time of some channels.
func (p *plan) isPairTime(j int, o *Options) bool {
	c, main := &p.cols[j], &p.cols[p.time.col]
	if c.kind != main.kind || taken(p, o, j) {
		return false
	}
	if c.kind == numberCol {
		switch timed := isTimeName(c.name) || c.name == main.name; {
		case c.unit.q != seconds && (c.unit.q != noQuantity && !c.unitGuess || !timed):
			return false
		}
	}
	s := shapeOf(p.headTimes(j))
	return s.n > 2 && s.monotone && !s.down && s.median > 0
}

// headTimes gives the times of a column in the head, of clocks too.
func (p *plan) headTimes(j int) []float64 {
	if p.cols[j].kind == numberCol {
		return p.headValues(j)
	}
	var v []float64
	for i := p.first; i < p.end; i++ {
		if s, ok := p.readStamp(j, p.text(i, j)); ok {
			x := s.sec
			if d, ok := s.days(p.cols[j].order); ok && s.hasDate {
				x += day * float64(d-p.time.baseDays)
			}
			v = append(v, x)
		}
	}
	if p.cols[j].kind == todCol && len(v) > 0 {
		unroll(v, p.lapOf(j))
	}
	return v
}

// densest makes the column of times with most rows a second the time of the file, unless
// the user named another.
func (p *plan) densest(cols []int, o *Options) {
	const clearly = 1.2
	if _, told := o.Roles[TimeRole]; told {
		return
	}
	best, step := p.time.col, shapeOf(p.headTimes(p.time.col)).median
	for _, j := range cols {
		if s := shapeOf(p.headTimes(j)); s.median*clearly < step && p.cols[j].unit.factor == p.cols[p.time.col].unit.factor {
			best, step = j, s.median
		}
	}
	if best != p.time.col {
		p.useTime(best, "of the columns of times the one with most rows a second")
		p.timeFactor(o.Scale[TimeRole])
	}
}

// ownTimes turns the own times of the block's rows into what they are later than the row.
func (r *reducer) ownTimes(b *block) {
	for k := range r.p.own {
		own := &r.p.own[k]
		v := b.cols[own.col][:len(r.times)]
		for i, x := range v {
			d := x*own.scale - r.base*r.p.time.scale + r.shift - r.times[i]
			if r.p.time.todOnly {
				d -= math.Round(d/r.p.time.lap) * r.p.time.lap
			}
			v[i] = d
			if math.Abs(d) > own.most {
				own.most = math.Abs(d)
			}
		}
	}
}

// alignOwn brings channels with times of their own to the times of the file, when these
// are more than a row away.
func (r *reducer) alignOwn() {
	for k := range r.p.own {
		own := &r.p.own[k]
		times := r.channelOf(own.col)
		if times == nil {
			continue
		}
		at := make([]float64, len(r.time))
		st := Stats{Min: math.Inf(1), Max: math.Inf(-1), Valid: times.stats.Valid}
		for i, d := range times.mean {
			at[i] = r.time[i] + r.sign*float64(d)
			if d == d {
				st.Min, st.Max = min(st.Min, at[i]/own.scale), max(st.Max, at[i]/own.scale)
			}
		}
		times.stats = st
		if r.sign < 0 || own.most <= 1.001*max(r.typical, r.quantum) {
			continue
		}
		own.used = true
		for _, c := range r.chans {
			if c.col > own.col && c.col < own.end {
				c.moveTo(r.time, at)
				r.noteOwn(own, c)
			}
		}
	}
}

func (r *reducer) channelOf(col int) *channel {
	i := slices.IndexFunc(r.chans, func(c *channel) bool { return c.col == col })
	if i < 0 {
		return nil
	}
	return r.chans[i]
}

func (r *reducer) noteOwn(own *ownTime, c *channel) {
	valid := 0
	for _, x := range c.mean {
		if x == x {
			valid++
		}
	}
	r.p.note("own-times", "%s has times of its own in column %d, up to %.3g s from those of column %d: brought to these, of which it covers %.0f %%",
		r.p.columnName(c.col), own.col+1, own.most, r.p.time.col+1, 100*float64(valid)/float64(max(1, len(c.mean))))
}

// moveTo takes the readings of the channel, made at the times in at, to other times.
func (c *channel) moveTo(times, at []float64) {
	from := make([]int, 0, len(at)) // bins with a time and a reading, in order
	for i, x := range at {
		if x == x && (c.mean[i] == c.mean[i] || isOver64(float64(c.mean[i]))) && (len(from) == 0 || x > at[from[len(from)-1]]) {
			from = append(from, i)
		}
	}
	m := mover{at: at, from: from, jump: bigStep * (c.stats.Max - c.stats.Min)}
	if n := len(from); n > 1 {
		m.step = (at[from[n-1]] - at[from[0]]) / float64(n-1)
	}
	parts := [][]float32{c.mean}
	if c.min != nil {
		parts = append(parts, c.min, c.max)
	}
	for _, v := range parts {
		copy(v, m.values(times, v))
	}
}

// A mover reads a channel between its own times.
type mover struct {
	at   []float64
	from []int
	step float64 // typical, of the own times
	jump float64 // between neighbours from which on they are a switch, not a slope
}

func (m *mover) values(times []float64, v []float32) []float32 {
	out := make([]float32, len(times))
	k := 0
	for i, t := range times {
		for k+1 < len(m.from) && m.at[m.from[k+1]] <= t {
			k++
		}
		out[i] = m.value(t, k, v)
	}
	return out
}

func (m *mover) value(t float64, k int, v []float32) float32 {
	missing := float32(math.NaN())
	if len(m.from) == 0 {
		return missing
	}
	a := m.from[k]
	if t <= m.at[a] || k+1 == len(m.from) {
		if math.Abs(t-m.at[a]) > m.step {
			return missing
		}
		return v[a]
	}
	b := m.from[k+1]
	if m.at[b]-m.at[a] > gapFactor*m.step && min(t-m.at[a], m.at[b]-t) > m.step {
		return missing
	}
	f := (t - m.at[a]) / (m.at[b] - m.at[a])
	if d := float64(v[b] - v[a]); !(math.Abs(d) <= m.jump) {
		if f > 0.5 {
			return v[b]
		}
		return v[a]
	}
	return v[a] + float32(f)*(v[b]-v[a])
}

// ownRoles tells what the second columns of times are for.
func (a *assignment) ownRoles() {
	for _, own := range a.p.own {
		if !own.used {
			continue
		}
		a.role[own.col] = TimeRole
		a.reason[own.col] = fmt.Sprintf("the times of column %d", own.col+2)
		if own.end > own.col+2 {
			a.reason[own.col] = fmt.Sprintf("the times of columns %d to %d", own.col+2, own.end)
		}
	}
}
