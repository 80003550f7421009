package signal

import (
	"math"
	"slices"
)

// A changeLog is what a list of changes tells of itself. Such a logger writes a row only
// when a channel has left its last row by some least step, and may leave the cells of the
// others empty: no row means that nothing has changed, where in other files it means that
// nobody knows.
type changeLog struct {
	drive []float32 // with empty cells taken as unchanged
	feed  []float32
	knots []int   // rows in which the feedback is told, or the drive switches
	on    float64 // V, from there on the drive is one
	least float64 // step of the feedback that makes a row
	pace  float64 // s between knots while the shaft moves
	step  float64 // s, the logger's own
}

const (
	changeKnots = 50   // fewest that tell
	changeAlike = 0.02 // share of them at most that change nothing
	changeLong  = 10   // a pause of so many usual ones is long
)

// changes tells whether the rows of a trace come only when something changes: none is like
// the one before, and where long none comes the reading has stayed; at least once a drive
// goes off so, at the end of a stall that no row marks. A recorder that runs only under
// drive has rows alike in its stalls and none in which the drive is off.
func (t *Trace) changes() *changeLog {
	if t.RowsPerBin > 1 || t.Len() < changeKnots {
		return nil
	}
	c := &changeLog{drive: carried(t.Drive.Mean), feed: carried(t.Feedback.Mean),
		on: 0.3 * math.Max(math.Abs(t.Drive.Stats.Max), math.Abs(t.Drive.Stats.Min))}
	knot := func(i int) bool { return !math.IsNaN(float64(t.Feedback.Mean[i])) || c.switches(i) }
	if !pauses(t.Time, knot) {
		return nil
	}
	c.knots = make([]int, 0, t.Len())
	for i := range t.Time {
		if knot(i) {
			c.knots = append(c.knots, i)
		}
	}
	if len(c.knots) < changeKnots || !c.learn(t.Time) || !c.holdsStill(t.Time) {
		return nil
	}
	return c
}

// pauses tells whether some of the knots are so far apart that a pause could be long: no
// usual pace is quicker than the quickest.
func pauses(t []float64, knot func(i int) bool) bool {
	quickest, longest, last := math.Inf(1), 0.0, -1
	for i := range t {
		if !knot(i) {
			continue
		}
		if last >= 0 {
			quickest, longest = math.Min(quickest, t[i]-t[last]), math.Max(longest, t[i]-t[last])
		}
		last = i
	}
	return longest > changeLong*quickest
}

// learn takes the least change and the pace of the rows from them; false where rows are alike.
func (c *changeLog) learn(t []float64) bool {
	var steps, rises, paces []float64
	alike := 0
	for n := 1; n < len(c.knots); n++ {
		i := c.knots[n]
		steps = append(steps, t[i]-t[i-1])
		rise := c.rise(n)
		switch {
		case c.switches(i), rise != rise: // the drive made this row, or nothing was known yet
		case rise == 0:
			alike++
		default:
			rises = append(rises, rise)
			if c.driven(i) {
				paces = append(paces, t[i]-t[c.knots[n-1]])
			}
		}
	}
	if len(rises) < changeKnots/2 || len(paces) < changeKnots/4 || float64(alike) > changeAlike*float64(len(c.knots)) {
		return false
	}
	c.least, c.pace, c.step = quantile(rises, 0.05), quantile(paces, 0.5), quantile(steps, 0.1)
	return c.step > 0
}

// holdsStill tells whether the reading has stayed where long no row came.
func (c *changeLog) holdsStill(t []float64) bool {
	long, stays, ends := 0, 0, 0
	for n := 1; n < len(c.knots); n++ {
		a, b := c.knots[n-1], c.knots[n]
		if t[b]-t[a] <= changeLong*c.pace {
			continue
		}
		long++
		if !(c.rise(n) <= 2*c.least) {
			continue
		}
		stays++
		if c.driven(a) && !c.driven(b) {
			ends++
		}
	}
	return ends > 0 && 10*stays >= 9*long
}

// rise is how far the reading is at a knot from the one before.
func (c *changeLog) rise(n int) float64 {
	return math.Abs(float64(c.feed[c.knots[n]]) - float64(c.feed[c.knots[n-1]]))
}

func (c *changeLog) driven(i int) bool { return math.Abs(float64(c.drive[i])) > c.on }

// switches tells whether the drive of row i is another one than that before.
func (c *changeLog) switches(i int) bool {
	return i > 0 && math.Abs(float64(c.drive[i])-float64(c.drive[i-1])) > c.on
}

// at is the reading at a time after knot n: it stood where long no row came, set off just
// before the next, and goes on evenly under way.
func (c *changeLog) at(t []float64, n int, x float64) float32 {
	a := c.knots[n]
	if n+1 == len(c.knots) || x <= t[a] {
		return c.feed[a]
	}
	b, begin := c.knots[n+1], t[a]
	if t[b]-begin > 3*c.pace {
		begin = t[b] - c.pace
	}
	if c.switches(b) || x <= begin {
		return c.feed[a]
	}
	return c.feed[a] + float32((x-begin)/(t[b]-begin)*(float64(c.feed[b])-float64(c.feed[a])))
}

func quantile(x []float64, p float64) float64 {
	s := slices.Clone(x)
	slices.Sort(s)
	return s[int(p*float64(len(s)-1))]
}

// fillChanges draws the rows that a list of changes left out, where the trace is one, and
// tells whether it is. Drive and other channels stand at their last value.
func (t *Trace) fillChanges(most int) bool {
	c := t.changes()
	if c == nil {
		return false
	}
	// Drawn more coarsely than twice its own pace it would say less than it does as it is.
	if rows := t.Duration()/c.step + float64(t.Len()); rows > float64(most) {
		if c.step *= 2; t.Duration()/c.step+float64(t.Len()) > float64(most) {
			return false
		}
	}
	var from []int // row of which each bin is
	var time []float64
	var feed []float32
	n := 0
	for i, begin := range t.Time {
		for n+1 < len(c.knots) && c.knots[n+1] <= i {
			n++
		}
		end := begin + c.step
		if i+1 < t.Len() {
			end = t.Time[i+1]
		}
		for k := 0; k == 0 || begin+float64(k)*c.step <= end-c.step/2; k++ {
			x := begin + float64(k)*c.step
			from, time, feed = append(from, i), append(time, x), append(feed, c.at(t.Time, n, x))
		}
	}
	t.Time, t.Gaps, t.Step, t.RowStep = time, nil, c.step, c.step
	t.Drive = t.Drive.carried().rows(from)
	for _, s := range t.optional() {
		x := (*s).carried().rows(from)
		*s = &x
	}
	t.Feedback.Mean, t.Feedback.Min, t.Feedback.Max = feed, feed, feed
	t.Feedback.Stats.Quantum = math.Max(t.Feedback.Stats.Quantum, c.least)
	return true
}

// rows is the series with the rows given.
func (s *Series) rows(is []int) Series {
	p := *s
	p.Mean = make([]float32, len(is))
	for i, k := range is {
		p.Mean[i] = s.Mean[k]
	}
	p.Min, p.Max = p.Mean, p.Mean
	return p
}
