package signal

import "math"

// A Pace is a stretch of rows that come evenly.
type Pace struct {
	Span
	Step   float64 // s, from row to row
	Driven float64 // s of it under drive
	bins   int
}

// Paces tells how a trace at several paces was brought to one.
type Paces struct {
	Slow     []Pace  // driven ones that set the pace of all
	TooSlow  []Pace  // driven ones too coarse for that, which cannot be judged
	Unjudged float64 // their share of the drive
}

const (
	paceRows   = 20   // the fewest rows in a row that make a pace
	paceLike   = 1.3  // how far steps of one pace differ at most
	paceOther  = 2.5  // and how far those of another: beyond, rows would seem missing
	paceDriven = 0.05 // the least share of the drive at another pace that matters
	// coarsestPace is the slowest pace, in s, to which all is brought: a travel of
	// five seconds leaves ten rows there.
	coarsestPace = 0.5
)

// OnePace is the trace at one pace, where a logger was switched over to another in
// the middle of it: a logger's slow rows look missing beside its fast ones, and its fast
// ones crowded beside slow ones. Both are judged at the slower pace, with the extremes
// of the fast rows kept. Rows that come slowly while nothing is driven are a rest and
// are left as they are. What is driven at a pace
// too coarse for that is left out, unless it is nearly all. A trace at one pace is itself.
func (t *Trace) OnePace() (*Trace, Paces) {
	var ps Paces
	on := 0.3 * math.Max(math.Abs(t.Drive.Stats.Max), math.Abs(t.Drive.Stats.Min))
	all := pacesOf(t.Time, func(i int) bool { return math.Abs(float64(t.Drive.Mean[i])) > on })
	finest, driven := math.Inf(1), 0.0
	for _, p := range all {
		finest = math.Min(finest, p.Step)
		driven += p.Driven
	}
	step := 0.0
	for _, p := range all {
		switch {
		case p.Step < paceOther*finest, p.Driven < paceDriven*driven, p.Driven < 2*p.Step:
		case p.Step > coarsestPace:
			ps.TooSlow = append(ps.TooSlow, p)
			ps.Unjudged += p.Driven / driven
		default:
			step = math.Max(step, p.Step)
			ps.Slow = append(ps.Slow, p)
		}
	}
	if ps.Unjudged > 0.9 { // nearly all there is to judge
		for _, p := range ps.TooSlow {
			step = math.Max(step, p.Step)
		}
		ps = Paces{Slow: append(ps.Slow, ps.TooSlow...)}
	}
	if len(ps.TooSlow) > 0 {
		left := make([]bool, t.Len())
		for i, x := range t.Time {
			for _, p := range ps.TooSlow {
				left[i] = left[i] || x > p.From && x <= p.To
			}
		}
		t = t.Without(left)
	}
	if step == 0 {
		return t, ps
	}
	tick, n, begin := make([]int64, t.Len()), int64(0), t.Time[0]
	for i, x := range t.Time {
		if x-begin > 0.9*step {
			n, begin = n+1, x
		}
		tick[i] = n
	}
	one := t.binned(func(i int) int64 { return tick[i] }, step, false)
	one.Uniform, one.RowStep = false, t.RowStep
	one.RowsPerBin = max(2, t.RowsPerBin*int(math.Round(step/finest)))
	return one, ps
}

// pacesOf parts times into stretches of even rows.
func pacesOf(t []float64, driven func(i int) bool) []Pace {
	var out []Pace
	for i := 1; i < len(t); {
		p := Pace{Span: Span{From: t[i-1]}, Step: t[i] - t[i-1]}
		for ; i < len(t); i++ {
			d := t[i] - t[i-1]
			if p.bins > 0 && (d > paceLike*p.Step || d*paceLike < p.Step) {
				break
			}
			p.Step += (d - p.Step) / float64(p.bins+1)
			p.bins++
			if driven(i) {
				p.Driven += d
			}
			p.To = t[i]
		}
		if p.bins >= paceRows {
			out = append(out, p)
		}
	}
	return out
}

// slowRows is how many rows come so slowly, in stretches of their own, that they seem
// to be missing beside the fastest.
func slowRows(t []float64) (n int) {
	all := pacesOf(t, func(int) bool { return false })
	least := math.Inf(1)
	for _, p := range all {
		least = math.Min(least, p.Step)
	}
	for _, p := range all {
		if p.Step >= paceOther*least {
			n += p.bins
		}
	}
	return n
}
