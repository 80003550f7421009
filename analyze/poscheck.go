package analyze

import (
	"fmt"
	"math"
)

// PositionCheck is what a controller does after power-up to learn where the
// shaft is (common practice, no source): a nudge to and fro, or a sweep to
// both ends. It is no fault. Neither is a drive that is tried again; where the
// controller gives up, something kept it from finishing, and that alone does
// not say what.
type PositionCheck struct {
	// Kind is "nudge" or "sweep" at the beginning of a capture, "tries" for
	// drives that were repeated in vain at any time.
	Kind string `json:"kind"`
	// Outcome is "completed", "retried" (more than one try, and driven on),
	// "given up" (no drive for much longer than between the tries), or "cut
	// short" (the capture ends in it).
	Outcome string   `json:"outcome"`
	Time    Interval `json:"time"` // s, from the first drive to the last of it

	Retries int `json:"retries"` // tries after the first one
	// LockOut is the time without drive after giving up, in s; Resumed tells
	// that it was driven again afterwards, else the capture ended.
	LockOut float64 `json:"lock_out,omitempty"`
	Resumed bool    `json:"resumed,omitempty"`

	Text string `json:"text"` // one plain sentence

	ways [2]int // drives of either polarity, where the reading answered none; else zero
}

// The kinds of position checks, and their outcomes.
const (
	CheckNudge = "nudge"
	CheckSweep = "sweep"
	CheckTries = "tries"

	CheckCompleted = "completed"
	CheckRetried   = "retried"
	CheckGivenUp   = "given up"
	CheckCutShort  = "cut short"
)

// The limits of what counts as a nudge: a drive no longer than this, s, and a
// travel no larger than this share of the span. Controllers nudge for as long
// as the reading needs to answer, half a second or so (common practice, no
// source).
const (
	nudgeTime   = 1.5
	nudgeTravel = 0.2
)

// patience is the shortest rest after tries, s, that is giving up. It must
// also be three times as long as the longest pause between the tries.
const patience = 3

// leastTries is the fewest drives in one direction that are tries: a target
// beyond a stop that is set twice drives into it twice.
const leastTries = 3

// atOnce is the longest gap, s, between two drives of a machine that turns
// round at once; a hand needs its reaction time of a fifth of a second.
const atOnce = 0.15

// findPositionChecks recognises a position check at the beginning, and drives
// that were repeated in vain at any time.
func (w *work) findPositionChecks() {
	if w.d.none || len(w.moves) == 0 {
		return
	}
	var check *PositionCheck
	// A capture that begins under drive does not show how it began.
	if w.moves[0].Time.From-w.t[0] > 2*w.tr.Step {
		if check = w.nudge(); check == nil {
			check = w.checkSweep()
		}
	}
	t := w.inVain()
	if t == nil {
		t = w.tries()
	}
	if t == nil && check == nil {
		t = w.onceInVain()
	}
	if check != nil && t != nil && t.Time.From < check.Time.To {
		// The tries are those of the check.
		t.Kind, t.Time.From = check.Kind, check.Time.From
		check, t = t, nil
	}
	for _, c := range []*PositionCheck{check, t} {
		if c != nil {
			c.Text = c.sentence()
			w.checks = append(w.checks, *c)
		}
	}
}

// motionless tells whether a drive moved nothing.
func (w *work) motionless(m *Move) bool {
	// A pulse of a fine approach is too short to move anything visibly.
	if m.Moving > 0 || m.Duration() < 3*w.lim.StallSeconds {
		return false
	}
	lo, hi := extremes(w.smooth[m.first:m.last])
	return hi-lo < 2*w.tol
}

// nudge is a short drive that is taken back by one of the same length, before
// anything else.
func (w *work) nudge() *PositionCheck {
	if len(w.moves) < 2 {
		return nil
	}
	a, b := &w.moves[0], &w.moves[1]
	gap := b.Time.From - a.Time.To
	same := math.Abs(a.Duration()-b.Duration()) < math.Max(0.05, 3*w.tr.Step) // a clock's, not a hand's
	small := math.Max(math.Abs(a.Travel()), math.Abs(b.Travel())) < nudgeTravel*w.span.Width()
	dead := w.motionless(a) && w.motionless(b)
	if a.Polarity == b.Polarity || !same || !(small || dead) || a.Duration() > nudgeTime || gap > 2*nudgeTime {
		return nil
	}
	c := &PositionCheck{Kind: CheckNudge, Outcome: CheckCompleted, Time: Interval{a.Time.From, b.Time.To}}
	if dead {
		// Into both ends at once, as it believes.
		switch {
		case gap < atOnce:
			c.Kind = CheckSweep
		case w.sense == 0:
			return nil // where nothing ever moves, a hand's tries look the same
		}
		if len(w.moves) == 2 {
			c.Outcome = CheckCutShort
		}
		return c
	}
	// To and fro goes on in hunting; a nudge comes once.
	if len(w.moves) > 3 {
		short := func(m *Move) bool {
			return m.Duration() < 1.3*a.Duration() && math.Abs(m.Travel()) < nudgeTravel*w.span.Width()
		}
		if m, n := &w.moves[2], &w.moves[3]; m.Polarity == a.Polarity && n.Polarity == b.Polarity && short(m) && short(n) {
			return nil
		}
	}
	return c
}

// checkSweep is one run into a stop, another into the opposite one, by a clock
// and not by a hand (turned round at once, or stalled equally long), and then
// no third: bench sweeps go on.
func (w *work) checkSweep() *PositionCheck {
	if len(w.moves) < 2 || !(w.span.Width() > 0) {
		return nil
	}
	a, b := &w.moves[0], &w.moves[1]
	gap := b.Time.From - a.Time.To
	clock := gap < atOnce || math.Abs(a.Stalled-b.Stalled) < math.Max(0.12, 3*w.tr.Step)
	stall := math.Min(a.Stalled, b.Stalled) >= math.Max(w.lim.StallSeconds, 2*w.tr.Step)
	most := math.Max(math.Abs(a.Travel()), math.Abs(b.Travel())) > 0.7*w.span.Width()
	if a.Polarity == b.Polarity || !stall || !clock || !most || gap > 0.5 {
		return nil
	}
	if retried := w.sweptAgain(); retried != nil {
		return retried
	}
	if len(w.moves) > 2 {
		m := &w.moves[2]
		if m.Polarity == a.Polarity && m.Stalled >= w.lim.StallSeconds && m.Travel() > 0.7*w.span.Width() && m.Time.From-b.Time.To < patience {
			return nil
		}
	}
	return &PositionCheck{Kind: CheckSweep, Outcome: CheckCompleted, Time: Interval{a.Time.From, b.Time.To}}
}

// sweptAgain recognises a sweep that the controller was not content with: the
// same pair of runs again, turned round at once each time, after a pause.
func (w *work) sweptAgain() *PositionCheck {
	a, b := &w.moves[0], &w.moves[1]
	near := 0.05 * w.span.Width()
	pair := func(k int) bool {
		if k+1 >= len(w.moves) {
			return false
		}
		m, n := &w.moves[k], &w.moves[k+1]
		return m.Polarity == a.Polarity && n.Polarity == b.Polarity && n.Time.From-m.Time.To < atOnce &&
			m.Stalled >= w.lim.StallSeconds && n.Stalled >= w.lim.StallSeconds &&
			math.Abs(m.End-a.End) < near && math.Abs(n.End-b.End) < near
	}
	if !pair(0) {
		return nil
	}
	last, next, n, pause := 1, 2, 0, 0.0
	for {
		for next < len(w.moves) && w.moves[next].Duration() < 1 && math.Abs(w.moves[next].Travel()) < 0.15*w.span.Width() {
			next++ // a step back
		}
		if next >= len(w.moves) {
			break
		}
		gap := w.moves[next].Time.From - w.moves[next-1].Time.To
		if !pair(next) || gap < 2*atOnce || gap > math.Max(patience, 3*pause) {
			break
		}
		pause = math.Max(pause, gap)
		last, next, n = next+1, next+2, n+1
	}
	if n == 0 {
		return nil
	}
	c := w.outcome(0, last, n, pause, next)
	c.Kind = CheckSweep
	return c
}

// inVain finds the first run of drives that move nothing, whichever way, and
// what comes after it.
func (w *work) inVain() *PositionCheck {
	for i := 0; i < len(w.moves); i++ {
		if !w.motionless(&w.moves[i]) {
			continue
		}
		var by [2]int
		pause := 0.0
		j := i
		for ; j < len(w.moves) && w.motionless(&w.moves[j]); j++ {
			if j > i {
				gap := w.moves[j].Time.From - w.moves[j-1].Time.To
				if gap > patience && gap > 3*pause {
					break
				}
				pause = math.Max(pause, gap)
			}
			by[side(Direction(w.moves[j].Polarity))]++
		}
		n := max(by[0], by[1])
		if n >= leastTries {
			c := w.outcome(i, j-1, n-1, pause, j)
			c.ways = by
			return c
		}
		i = max(i, j-1)
	}
	return nil
}

// onceInVain is the only drive of a capture that moves nothing and is not tried again for
// much longer than it lasted: a control that has no position to go by gives up at once.
func (w *work) onceInVain() *PositionCheck {
	if len(w.moves) != 1 || !w.motionless(&w.moves[0]) {
		return nil
	}
	c := w.outcome(0, 0, 0, w.moves[0].Duration(), 1)
	if c.Outcome != CheckGivenUp {
		return nil
	}
	return c
}

// outcome says how tries from the move first to the move last ended; next is
// the move after them, if there is one.
func (w *work) outcome(first, last, retries int, pause float64, next int) *PositionCheck {
	// The way there was not in vain.
	from := w.moves[first].Time.From
	if m := &w.moves[first]; m.Moving > 0 && m.Stalled > 0 {
		from = m.Time.To - m.Stalled
	}
	c := &PositionCheck{Kind: CheckTries, Outcome: CheckRetried, Retries: retries, Time: Interval{from, w.moves[last].Time.To}}
	end := w.t[len(w.t)-1]
	resumed := next < len(w.moves)
	if resumed {
		end = w.moves[next].Time.From
	}
	switch rest := end - w.moves[next-1].Time.To; {
	case rest > math.Max(patience, 3*pause):
		c.Outcome, c.LockOut, c.Resumed = CheckGivenUp, rest, resumed
	case !resumed:
		c.Outcome = CheckCutShort
	}
	return c
}

// tries finds the longest run of drives in one direction that each ended in a
// stall or moved nothing, with no more than a short step back between them.
func (w *work) tries() *PositionCheck {
	var best *PositionCheck
	for i := 0; i < len(w.moves); {
		if !w.failed(&w.moves[i]) {
			i++
			continue
		}
		first, last, n, pause, back := i, i, 1, 0.0, false
		end := w.moves[i].Time.To
		j := i + 1
		for ; j < len(w.moves); j++ {
			m := &w.moves[j]
			gap := m.Time.From - end
			if n > 1 && gap > math.Max(patience, 3*pause) || n == 1 && gap > 2*patience {
				break
			}
			if m.Polarity != w.moves[first].Polarity {
				// A step back: shorter than a try, and not a travel of its own.
				if m.Duration() > math.Min(1, 0.6*w.moves[last].Duration()) || math.Abs(m.Travel()) > 0.15*w.span.Width() {
					break
				}
				end, back = m.Time.To, true
				continue
			}
			if !w.failed(m) {
				break
			}
			pause = math.Max(pause, m.Time.From-w.moves[last].Time.To)
			last, end = j, m.Time.To
			n++
		}
		// Two are enough with a step back between: nobody else does that.
		if (n >= leastTries || n == 2 && back) && w.alike(first, last) {
			k := last + 1 // past a last step back
			for k < len(w.moves) && w.moves[k].Polarity != w.moves[first].Polarity && w.moves[k].Duration() < 0.6*w.moves[last].Duration() && w.moves[k].Time.From-w.moves[last].Time.To < pause+1 {
				k++
			}
			c := w.outcome(first, last, n-1, pause, k)
			if best == nil || c.Outcome == CheckGivenUp && best.Outcome != CheckGivenUp || c.Outcome == best.Outcome && c.Retries > best.Retries {
				best = c
			}
		}
		i = max(j, i+1)
	}
	return best
}

// failed tells whether a drive ended in a stall or moved nothing.
func (w *work) failed(m *Move) bool {
	return m.Duration() >= 3*w.lim.StallSeconds && (m.Stalled >= math.Max(2*w.lim.StallSeconds, 3*w.tr.Step) || m.Moving == 0)
}

// alike tells whether the tries after the first last about as long as each
// other: a controller's patience is a clock.
func (w *work) alike(first, last int) bool {
	var d []float64
	for k := first + 1; k <= last; k++ {
		if m := &w.moves[k]; m.Polarity == w.moves[first].Polarity {
			d = append(d, m.Duration())
		}
	}
	lo, hi := extremes(d)
	return len(d) < 2 || hi < 2.5*lo+3*w.tr.Step
}

// sentence says the check plainly.
func (c *PositionCheck) sentence() string {
	s := fmt.Sprintf("Drives in vain from %.1f to %.1f s: ", c.Time.From, c.Time.To)
	if c.Kind != CheckTries {
		s = fmt.Sprintf("Position check by %s from %.1f to %.1f s: ", c.Kind, c.Time.From, c.Time.To)
	}
	again := "driven again " + timesText(c.Retries)
	if more, fewer := max(c.ways[0], c.ways[1]), min(c.ways[0], c.ways[1]); fewer > 0 { // in vain both ways
		again = fmt.Sprintf("driven %s one way and %s the other", timesText(more), timesText(fewer))
	}
	switch c.Outcome {
	case CheckCompleted:
		return s + "completed, as a healthy one is."
	case CheckRetried:
		return s + again + ", then it went on."
	case CheckCutShort:
		if c.Retries > 0 {
			return s + again + " until the capture ends."
		}
		return s + "the capture ends in it."
	}
	if c.Retries == 0 && c.Kind == CheckTries {
		return s + fmt.Sprintf("driven once, and not again for %.1f s, to the end of the capture: a control gives up like that, or a hand made one drive.", c.LockOut)
	}
	s += fmt.Sprintf("%s and given up; no drive for %.1f s", again, c.LockOut)
	if c.Resumed {
		return s + ", then driven again."
	}
	return s + ", to the end of the capture."
}

// checkAside is the weak evidence of tries in a capture whose findings do not
// show already what stopped them; nil when there is none.
func (c *Capture) checkAside() *aside {
	for i := range c.Findings {
		if c.Findings[i].force() > math.Log(3) {
			return nil // one event counts once
		}
	}
	for _, k := range c.Checks {
		if k.Retries == 0 {
			continue
		}
		p := shown{.1, .16, .16, .16, .16}
		because := "a controller that tries again has not seen what it waited for: sensor, motor, door and wiring alike can be why, and so can a stop that is simply driven into"
		if k.Outcome == CheckGivenUp {
			p = shown{.05, .16, .16, .16, .16}
			if k.Retries >= 3 {
				p[0] = .02 // a hand does not tap so often and then leave it
			}
			because = "a controller that gives up has not seen what it waited for: sensor, motor, door and wiring alike can be why"
		}
		a := newAside(PositionTried, p, 1, k.Text, because)
		a.vague = true
		return &a
	}
	return nil
}
