package analyze

import (
	"fmt"
	"math"
	"slices"
)

// startLevel is the reading before a move, V.
func (w *work) startLevel(m *Move) float64 {
	return medianOf(w.v[max(0, m.first-max(1, w.window/2)) : m.first+1])
}

// lostMotion is what the drives of one direction from move k on should have moved
// the reading by, and did not, before they had moved it by reach: V, negative
// where they never did. next is the first move after those that it took: pulses
// may be several.
func (w *work) lostMotion(k int, reach float64) (lost float64, next int) {
	first := &w.moves[k]
	r := w.rate[side(first.Direction)]
	start := w.startLevel(first)
	should := 0.0
	for next = k; next < len(w.moves) && w.moves[next].Direction == first.Direction; next++ {
		m := &w.moves[next]
		for i := m.first + 1; i < m.last; i++ {
			should += r * math.Min(1, math.Abs(w.d.mean[i])/w.d.amp) * (w.t[i] - w.t[i-1])
			if float64(m.Direction)*(w.smooth[i]-start) >= reach {
				return math.Max(0, should-reach), next + 1
			}
		}
	}
	return -1, next
}

// shortOf is what a drive should have moved the reading by, coasting left out,
// and did not: V, 0 or more.
func (w *work) shortOf(m *Move) float64 {
	should := w.rate[side(m.Direction)] * math.Min(1, math.Abs(m.DriveMean)/w.d.amp) * m.Duration()
	after := w.smooth[min(m.last, len(w.smooth)-1)]
	return math.Max(0, should-float64(m.Direction)*(after-w.startLevel(m)))
}

// deadTime is longer, in s, than a relay, a driver and a good motor take to start
// (common practice, no source).
const deadTime = 0.25

// goesAtOnce tells whether the shaft, once it goes, goes at its usual speed: slack
// is taken up in no time, while a start that is slow by cold grease or by a drive
// that is raised shows in the speed.
func (w *work) goesAtOnce(m *Move) bool {
	start, r := w.startLevel(m), w.rate[side(m.Direction)]
	from, to := math.Max(2*w.visible(), 0.01*w.span.Width()), math.Max(4*w.visible(), 0.05*w.span.Width())
	begin := math.NaN()
	for i := m.first + 1; i < m.last; i++ {
		went := float64(m.Direction) * (w.smooth[i] - start)
		if math.IsNaN(begin) && went >= from {
			begin = w.t[i]
		}
		if went >= to+from {
			return to > 0.7*r*(w.t[i]-begin)
		}
	}
	return false
}

// alikeAndLate tells whether three reversals or more are enough: they lose the same to a
// tenth, which no stiction does, and a start of which it is not known how the gears lay
// lost less by as much as gears in order may have, or the motor's current says that it
// ran under no more than its usual load while the reading waited. What it lost includes
// all that any start takes.
func (p *playSearch) alikeAndLate() bool {
	const fewest, alike = 3, 1.1
	lo, hi := slices.Min(p.lost), slices.Max(p.lost)
	if len(p.lost) < fewest || hi > alike*lo {
		return false
	}
	return lo-p.first >= mostPlay*math.Max(p.span.Width(), p.leastTravel()) || p.runsInSlack(p.places)
}

// longAndAlike tells whether the shaft follows one reversal each way so late that no start
// takes it, by as much either way to a tenth, and at once at its speed: a drive and a motor
// in order start within deadTime, and stiction that held on for longer would hold on for
// good under volts that stay. A start of which it is not known how the gears lay must not
// have lost more. What is left is a track that ends before the stops, the same at both
// ends, which is why so few are weighed as little as they are.
func (p *playSearch) longAndAlike() bool {
	const alike = 1.1
	if p.runningCurrent() < letsGoBelow*p.startCurrent() && !p.runsInSlack(p.places) {
		return false // the motor is held meanwhile
	}
	lo, hi := slices.Min(p.lost), slices.Max(p.lost)
	late := 2 * deadTime * math.Max(p.rate[0], p.rate[1])
	none := math.IsInf(p.first, 1)
	return hi <= alike*lo && lo > late && (none || p.first <= alike*hi)
}

// runsInSlack tells whether the motor drew no more than a running one does in the second
// half of each stretch in which the reading waited: one that does not start draws what
// a held motor does.
func (w *work) runsInSlack(places []Occurrence) bool {
	run, start := w.runningCurrent(), w.startCurrent()
	if !(run < letsGoBelow*start) {
		return false // not known, or hardly less than that of a held motor
	}
	for _, p := range places {
		amps := w.currentWithin(p.Time.Mid(), p.Time.To)
		// Below half of the running current it may be broken off.
		if !(amps > run/2 && amps < (run+letsGoBelow*start)/2) {
			return false
		}
	}
	return true
}

// runsOnUnseen tells whether the motor ran on at its usual current, as long as it did
// after the reversals, while the reading stood at the stops before them: the track ends
// before the actuator does, at both ends, as many are made. With play the shaft is at its
// stop when the reading is, and holds the motor from then on.
func (p *playSearch) runsOnUnseen() bool {
	run := p.runningCurrent()
	if !(run > 0) || p.middles > 0 {
		return false
	}
	known, on := 0, 0
	for _, r := range p.places {
		k := slices.IndexFunc(p.moves, func(m Move) bool { return m.Time.From >= r.Time.From })
		if k < 1 || p.moves[k-1].Direction != -r.Direction {
			continue
		}
		stood := math.NaN()
		for _, g := range p.moves[k-1].segs {
			if g.state == track {
				stood = p.t[min(g.last, len(p.t)-1)]
			}
		}
		// Half of that time, so that where it begins and ends does not matter, and what
		// the motor draws in the end, when it is held.
		until := p.moves[k-1].Time.To
		amps, held := p.currentWithin(stood+r.Time.Width()/8, stood+r.Time.Width()*5/8), p.currentWithin(until-(until-stood)/4, until)
		if run < letsGoBelow*held && !math.IsNaN(amps) {
			known++
			if amps > run/2 && amps < (run+letsGoBelow*held)/2 {
				on++
			}
		}
	}
	return known >= 2 && 4*on >= 3*known
}

// findPlay reports play: after each reversal, wherever it happens and whichever
// way, the shaft follows only when the motor has turned through the same lost
// travel. A worn end of the track loses travel at its end, slack in a stop at
// the stops, a slow start at every start; play at reversals only, and
// everywhere alike.
func (w *work) findPlay() {
	span := w.span.Width()
	if span <= 0 || w.rate[0] <= 0 || w.rate[1] <= 0 {
		return
	}
	p := playSearch{work: w, reach: math.Max(4*w.visible(), 0.03*span), first: math.Inf(1), time: noInterval()}
	if p.reach > 0.2*span {
		return
	}
	p.search()
	if p.pressed > len(p.lost)/3 || len(p.lost) == 0 || p.runsOnUnseen() {
		return
	}
	slices.Sort(p.lost)
	if !p.enough() {
		return
	}
	// More travel may lie beyond what was driven.
	span = math.Max(span, w.leastTravel())
	if !w.bothEnds() {
		span = math.Max(span, 0.5*w.usualTravel())
	}
	// Everywhere alike; and a slow start is no play.
	kept := p.kept()
	middle, lo, hi := medianOf(kept), kept[0], kept[len(kept)-1]
	if lo < playAlike*middle || hi > middle/playAlike || len(p.again) > 0 && medianOf(p.again) > 0.5*middle {
		return
	}
	// What every start takes is no play: the motor's own, and that of a drive which begins
	// at less than it comes to.
	if len(p.again) >= 2 {
		middle -= medianOf(p.again)
	}
	if middle < mostPlay*span+2*w.quantum {
		return
	}
	w.found = append(w.found, Finding{
		Kind: Play, Tie: TiedToDirection, TieP: 1, Event: "play", Volts: w.span, Time: p.time, Places: p.places,
		Seen: len(p.lost), Passes: len(p.lost), Strength: p.strength(middle, span),
		Measures: []Measure{{MeasureLostTravel, middle, w.unit()}, {MeasureOfSpan, 100 * middle / span, "%"}, {"starts without reversal", float64(len(p.again)), ""}},
	})
}

// playSearch goes through the starts of a capture and keeps what each of them
// lost, V.
type playSearch struct {
	*work
	reach       float64   // what the reading has to move for a start to be over
	was         Direction // in which the gears lie on, None where it is not known
	within      float64   // how far the motor has turned back into the slack, V
	turns       []playReversal
	first       float64   // least lost at a start of which it is not known how the gears lay
	lost, again []float64 // after reversals, and after pauses
	ways        [2]int    // reversals by the new direction
	middles     int       // of those, in mid travel
	pressed     int       // left out: off a stop that pushed
	abrupt      int       // reversals after which the shaft goes at once as ever
	time        Interval
	places      []Occurrence

	// By move: the reading that it and those of its direction next to it get to at most,
	// and the first move after these. Drives that move nothing are not gone through
	// again and again.
	furthest []float64
	groupEnd []int
}

// search goes through all the starts, and weighs the reversals among them.
func (p *playSearch) search() {
	p.lookAhead()
	for k := 0; k < len(p.moves); {
		k = p.start(k)
	}
	p.weigh()
}

// lookAhead fills in how far the drives from each move on get.
func (p *playSearch) lookAhead() {
	p.furthest, p.groupEnd = make([]float64, len(p.moves)), make([]int, len(p.moves))
	for k := len(p.moves) - 1; k >= 0; k-- {
		m := &p.moves[k]
		sign := float64(m.Direction)
		far, end := math.Inf(-1), k+1
		if end < len(p.moves) && p.moves[end].Direction == m.Direction {
			far, end = sign*p.furthest[end], p.groupEnd[end]
		}
		for i := m.first + 1; i < m.last; i++ {
			if x := sign * p.smooth[i]; x > far {
				far = x
			}
		}
		p.furthest[k], p.groupEnd[k] = sign*far, end
	}
}

// start takes in the start at move k, and tells at which move the next one is.
func (p *playSearch) start(k int) (next int) {
	m := &p.moves[k]
	if m.Direction == None {
		return k + 1
	}
	x, next := -1.0, p.groupEnd[k]
	if float64(m.Direction)*(p.furthest[k]-p.startLevel(m)) >= p.reach {
		x, next = p.lostMotion(k, p.reach)
	}
	switch {
	case p.was == m.Direction && p.within > 0:
		// Back within the slack, before the shaft has followed the other way.
		if p.within = math.Max(0, p.within-p.driven(k)); x >= 0 {
			p.within = 0
			p.goesOn(k, next)
		}
		return next
	case p.was == m.Direction:
		if x >= 0 {
			p.again = append(p.again, x)
		} else if m.Stalled == 0 {
			p.again = append(p.again, p.shortOf(m))
		}
		return k + 1
	case x < 0 && p.was != None && !p.wentOn(k):
		p.within += p.driven(k)
		return next
	}
	known, before := p.was != None, p.within
	p.was, p.within = m.Direction, 0
	p.goesOn(k, next)
	switch {
	case x < 0:
		p.was = None // too short to tell
	case known:
		p.turns = append(p.turns, playReversal{m, x, before + x})
	default:
		p.first = math.Min(p.first, x)
	}
	return next
}

// goesOn takes in the last of several drives from move k up to next, the one in which the
// shaft followed: how the gears lay before it is not known, as they may have come to lie on
// in those before.
func (p *playSearch) goesOn(k, next int) {
	if last := &p.moves[next-1]; next-1 > k && last.Stalled == 0 {
		p.first = math.Min(p.first, p.shortOf(last))
	}
}

// driven is what the motor turned by in the drives of one direction from move k on, in V
// of the reading at its usual speed.
func (p *playSearch) driven(k int) (turned float64) {
	for _, m := range p.moves[k:p.groupEnd[k]] {
		turned += p.rate[side(m.Direction)] * math.Min(1, math.Abs(m.DriveMean)/p.d.amp) * m.Duration()
	}
	return turned
}

// wentOn tells whether the shaft was seen to follow the drives of one direction from move
// k on, or their coasting.
func (p *playSearch) wentOn(k int) bool {
	from, last := &p.moves[k], &p.moves[p.groupEnd[k]-1]
	after := p.smooth[min(last.last, len(p.smooth)-1)]
	if n := p.groupEnd[k]; n < len(p.moves) {
		after = p.startLevel(&p.moves[n])
	}
	return float64(from.Direction)*(after-p.startLevel(from)) >= 2*p.visible()
}

// playAlike is how far one reversal may lose less, as a share, or more, than is usual where
// they all lose the same play: rows, noise and the start of the motor come on top of it
// (chosen, not derived).
const playAlike = 0.6

// playReversal is a reversal that the shaft followed in the end.
type playReversal struct {
	by           *Move   // that it followed
	waited, lost float64 // in that drive, and in those before that moved nothing as well, V
}

// weigh takes in the reversals. A stop that was pressed pushes the shaft off, play and all:
// one that lost far less there than what is usual tells nothing.
func (p *playSearch) weigh() {
	var all []float64
	for _, r := range p.turns {
		all = append(all, r.lost)
	}
	usual := medianOf(all)
	for _, r := range p.turns {
		m := r.by
		d, at := side(m.Direction), (m.Start-p.span.From)/p.span.Width()
		if at > 0.1 && at < 0.9 {
			p.middles++
		} else if r.lost < playAlike*usual {
			p.pressed++
			continue
		}
		if p.goesAtOnce(m) {
			p.abrupt++
		}
		p.lost = append(p.lost, r.lost)
		p.ways[d]++
		p.time = p.time.widen(m.Time.From)
		p.places = append(p.places, Occurrence{Interval{m.Time.From, m.Time.From + r.waited/p.rate[d]}, Interval{m.Start, m.Start}, m.Direction})
	}
}

// kept is what was lost, sorted, without the least of many, which may have been
// pressed out.
func (p *playSearch) kept() []float64 {
	if len(p.lost) > 4 {
		return p.lost[1:]
	}
	return p.lost
}

// enough tells whether the reversals are enough to tell play from other slow
// starts: four of them, two each way, or one each way that stand out.
func (p *playSearch) enough() bool {
	// Starts the same way that lose nothing show what a start takes: then two
	// reversals, one each way, stand out.
	contrast := 0
	for _, x := range p.again {
		if x < p.kept()[0]/2 {
			contrast++
		}
	}
	if p.heldThenRuns() {
		return true
	}
	told := contrast >= 2 && 5*contrast >= 4*len(p.again) || p.abrupt == len(p.lost) && (p.alikeAndLate() || p.longAndAlike())
	fewer := min(p.ways[0], p.ways[1])
	if !(told && fewer >= 1) && (len(p.lost) < 4 || fewer < 2) {
		return false
	}
	// A control that goes slowly near its target starts slowly there as well.
	return !(p.slows > 0) || told && p.mostlyAbrupt()
}

func (p *playSearch) mostlyAbrupt() bool { return 5*p.abrupt >= 4*len(p.lost) }

// strength of a finding of so much play in a travel. Without a start in the same
// direction a slow start remains possible, and without a reversal in mid travel so
// does slack at both stops.
func (p *playSearch) strength(play, span float64) float64 {
	s := 1 - math.Exp(-float64(len(p.lost))/2)
	start := deadTime * math.Max(p.rate[0], p.rate[1])
	if len(p.again) == 0 && !(p.mostlyAbrupt() && play > start) {
		enough := 2 * mostPlay * span
		if !p.driveKnown() { // nor would a drive that is raised slowly show
			enough *= 2
		}
		s *= math.Min(1, play/enough)
		// A motor that is reversed on the run first has to stop, and any takes its time
		// to start.
		s *= math.Min(1, play/start)
	}
	if p.middles == 0 {
		s *= 0.8
	}
	if p.heldThenRuns() { // each by two witnesses
		s = math.Max(s, 1-math.Exp(-1.5*float64(len(p.lost))))
	}
	return s
}

// bothEnds tells whether the travel was driven into a stop on either side, for
// half a second in all: pulses that move nothing look like stops for a moment.
func (w *work) bothEnds() bool { return bothEnds(w.stops) }

func bothEnds(stops []Stop) bool {
	var ends [2]bool
	for _, s := range stops {
		if s.Extreme && s.Seconds >= 0.5 {
			ends[side(s.Direction)] = true
		}
	}
	return ends[0] && ends[1]
}

func (f *Finding) playTitle(lost string) string {
	share, _ := f.Measure(MeasureOfSpan)
	if f.Seen == 1 {
		return fmt.Sprintf("Play: after the one reversal the motor turns, by its current, and the shaft follows only %s (%.0f %% of the span) later.", lost, share)
	}
	return fmt.Sprintf("Play: after each of %s the shaft follows only %s (%.0f %% of the span) later.", counted(f.Seen, "reversal"), lost, share)
}
