package analyze

import (
	"math"
	"slices"
)

// findNoStart reports drives that moved nothing although they set out from a
// place that other drives of the same direction left or passed: the motor did
// not start. At a place where a moving shaft was stopped they belong to that
// stop.
func (w *work) findNoStart(stalls []stall, hidden []float64) {
	slowStart, offStop, ok := w.slowStarts()
	if !ok {
		return
	}
	var idle []stall
	for i, s := range stalls {
		if s.arrived || hidden[i] > 0 || s.seconds < slowStart || s.seconds < offStop && w.offStop(s.move) {
			continue
		}
		if w.movedNothing(s) && !w.stopsThere(s, stalls, hidden) && w.getsPast(s) &&
			!w.atJam(w.moves[s.move].Direction, s.level) && !w.goesOnAsleep(s.move) && !w.takesUpPlay(s.move) && w.clearOfWander(s) {
			idle = append(idle, s)
		}
	}
	late := w.lateStarts(slowStart)
	if idle = append(idle, late...); len(idle) > 0 {
		w.found = append(w.found, w.noStart(idle, len(late)))
	}
}

// slowStarts gives the times, in s, from which on a start is slow: in general, and off a
// stop that the shaft was pressed into. A slow start (cold grease, slack) is no failure
// to start. Not ok where nothing ever started.
func (w *work) slowStarts() (usual, offStop float64, ok bool) {
	var delays []float64
	for k := range w.moves {
		if m := &w.moves[k]; m.Moving > 0 {
			delays = append(delays, m.Delay)
		}
	}
	if len(delays) == 0 {
		return 0, 0, false
	}
	// Where most starts are late they are no measure of a slow one: grease and slack
	// take up to half a second, and gears with a tenth of the travel to go free would be
	// broken (common practice, no source).
	slow := func(delays []float64) float64 { return math.Min(0.2+3*medianOf(delays), 0.8+3*w.tr.Step) }
	usual = slow(delays)
	// Off a stop it was pressed into a shaft starts later: play, and what the gears were
	// wound up by, come first. Such starts are a measure of one another.
	offStop = usual
	if late := w.startsOffStops(); len(late) >= 3 {
		offStop = math.Max(usual, slow(late))
	}
	return usual, offStop, true
}

// movedNothing tells whether a drive stood although it would have moved the reading
// visibly.
func (w *work) movedNothing(s stall) bool {
	// The travel it missed must stand clear of what would not have shown.
	m := &w.moves[s.move]
	if missed := w.rate[side(m.Direction)] * math.Abs(m.DriveMean) / w.d.amp * s.seconds; missed < 4*w.visible() && !w.heldToAStep(m, missed) {
		return false
	}
	// Strokes as short as the rate can hardly be measured in show their
	// motion only together with the next one; without current there is none.
	last := m.last
	if s.move+1 < len(w.moves) && m.Duration() < 5*w.lim.StallSeconds && !w.drewNothing(m) {
		last = max(last, min(w.moves[s.move+1].last, len(w.v)))
	}
	if lo, hi := extremes(w.v[m.first:last]); hi-lo > 2*w.tol {
		return false // it did move, only not on balance
	}
	return !w.moved(m)
}

// stopsThere tells whether a moving shaft was stopped where a drive stood.
func (w *work) stopsThere(s stall, stalls []stall, hidden []float64) bool {
	near := w.stallsApart()
	dir := w.moves[s.move].Direction
	for j, o := range stalls {
		if o.arrived && w.moves[o.move].Direction == dir && math.Abs(o.level-s.level) < near || hidden[j] > 0 && math.Abs(o.level-s.level) < near && !w.leftPromptly(o.level, near) {
			return true
		}
	}
	return false
}

// getsPast tells whether another drive of the same direction went over the place where
// one stood, or away from it.
func (w *work) getsPast(s stall) bool {
	near := w.stallsApart()
	dir := w.moves[s.move].Direction
	for k := range w.moves {
		if m := &w.moves[k]; m.Direction == dir && m.Moving > 0 {
			lo, hi := w.tracked(m)
			if dir == Up && hi > s.level+near && lo < s.level+near || dir == Down && lo < s.level-near && hi > s.level-near {
				return true
			}
		}
	}
	return false
}

// noStart is the finding of starts in vain, so many of them late ones.
func (w *work) noStart(idle []stall, late int) Finding {
	f := Finding{Kind: Pauses, Form: doesNotStart, Seen: len(idle), Passes: len(idle), Tie: TieUnknown, TieP: 1, Event: "no start"}
	f.Time = noInterval()
	f.Volts = f.Time
	longest := 0.0
	for _, s := range idle {
		o := Occurrence{Interval{s.at, s.at + s.seconds}, Interval{s.level, s.level}, w.moves[s.move].Direction}
		f.Places = append(f.Places, o)
		f.Time = f.Time.widen(o.Time.From).widen(o.Time.To)
		f.Volts = f.Volts.widen(s.level)
		longest = math.Max(longest, s.seconds)
	}
	f.Strength = 1 - math.Exp(-float64(len(idle)))
	f.Measures = []Measure{{MeasureLongestStand, longest, "s"}, {"stands", float64(len(idle)), ""}}
	if late > 0 {
		f.Measures = append(f.Measures, Measure{startedLate, float64(late), ""})
	}
	if w.atStallCurrent(f.Places) {
		f.Measures = append(f.Measures, Measure{heldAtStall, 1, ""})
	}
	if w.atNoCurrent(f.Places) {
		f.Measures = append(f.Measures, Measure{drawsNothing, 1, ""})
		if n := w.idleElsewhere(idle); n > 0 {
			f.Measures = append(f.Measures, Measure{idleAtStop, float64(n), ""})
		}
	}
	if w.oneAfterTheOther(idle) {
		f.Measures = append(f.Measures, Measure{oneStand, 1, ""})
		if w.pushes(idle) {
			f.Measures = append(f.Measures, Measure{pushesThere, 1, ""})
		}
	}
	return f
}

// heldToAStep tells whether over a whole drive the reading keeps within one step of a
// coarse converter, where a running shaft would have gone so many volts and passed four
// steps or more: rows by the dozen that all agree tell more than their noise does.
func (w *work) heldToAStep(m *Move, missed float64) bool {
	const rows = 12
	if m.last-m.first < rows || missed < 4*w.quantum || missed < 3*w.visible() {
		return false
	}
	lo, hi := extremes(w.v[m.first:m.last])
	return hi-lo <= 1.01*w.quantum
}

// offStop tells whether a move is the first one back after the shaft was pressed into a
// stop.
func (w *work) offStop(k int) bool {
	return k > 0 && w.moves[k].Direction == -w.moves[k-1].Direction && w.moves[k-1].Moving > 0 && w.moves[k-1].Stalled > 0
}

// startsOffStops lists how long it was driven, in s, until the shaft came away from a
// stop it had been pressed into, in one drive or in several.
func (w *work) startsOffStops() []float64 {
	var out []float64
	for k := range w.moves {
		if !w.offStop(k) {
			continue
		}
		driven, dir := 0.0, w.moves[k].Direction
		for _, m := range w.moves[k:] {
			if m.Direction != dir {
				break
			}
			if m.Moving > 0 {
				out = append(out, driven+m.Delay)
				break
			}
			driven += m.Duration()
		}
	}
	return out
}

// oneStand is the measure of drives in vain that came one after the other, all at one
// place and into one direction, in which the shaft had come there.
const oneStand = "all at one place, where it had come that way"

// oneAfterTheOther tells whether starts in vain are that.
func (w *work) oneAfterTheOther(idle []stall) bool {
	first := idle[0].move
	dir := w.moves[first].Direction
	for i, s := range idle {
		if s.move != first+i || w.moves[s.move].Direction != dir || w.moves[s.move].Moving > 0 || math.Abs(s.level-idle[0].level) > 2*w.tol {
			return false
		}
	}
	return first > 0 && w.moves[first-1].Direction == dir && w.moves[first-1].Moving > 0
}

// pushesThere is the measure of drives in vain that yet press the shaft on a little.
const pushesThere = "gives a little and springs back"

// pushes tells whether three starts in vain or more each press the reading on, the way
// they drive, and let it go again: the motor pulls, and something holds it.
func (w *work) pushes(idle []stall) bool {
	if len(idle) < 3 {
		return false
	}
	for _, s := range idle {
		m := &w.moves[s.move]
		n := max(2, min(w.window, (m.last-m.first)/2))
		on := float64(m.Direction) * medianOf(w.v[m.last-n:m.last])
		before := float64(m.Direction) * medianOf(w.v[max(0, m.first-n):m.first])
		// Let go it takes a moment to spring back.
		a := min(len(w.v)-1, indexAt(w.t, m.Time.To+0.2))
		after := float64(m.Direction) * medianOf(w.v[a:min(len(w.v), a+n)])
		if least := math.Max(0.99*w.quantum, 2*w.noise); on-before < least || on-after < least {
			return false
		}
	}
	return true
}

// heldAtStall is the measure of drives that stood and drew far more current than it
// takes to run.
const heldAtStall = "stall current meanwhile"

// atStallCurrent tells whether the current of most of the given stands is that of a
// motor that is held: more than half as much again as it draws running.
func (w *work) atStallCurrent(stands []Occurrence) bool {
	run := w.runningCurrent()
	return run > 0 && w.mostStandsDraw(stands, func(amps float64, _ int) bool { return amps > 1.5*run })
}

// drawsNothing is the measure of drives that stood while no current flowed.
const drawsNothing = "no current meanwhile"

// atNoCurrent tells whether most of the given stands draw no more than is seen at rest.
func (w *work) atNoCurrent(stands []Occurrence) bool {
	if none, ok := w.noCurrentLevel(); ok {
		return w.mostStandsDraw(stands, func(amps float64, _ int) bool { return amps < none })
	}
	// Where single readings scatter as much as the motor draws, the middle of many does
	// not: its standard error is 1.25 times that of the mean. It must be clear of half
	// the running current by three.
	idle, scatter, ok := w.currentAtRest()
	run := w.runningCurrent() - idle
	return ok && run > 0 && w.mostStandsDraw(stands, func(amps float64, n int) bool {
		return amps-idle+3*1.25*scatter/math.Sqrt(float64(n)) < run/2
	})
}

// idleAtStop is the measure of the drives that drew no current where it does not show
// whether the shaft would have moved: pressed against a stop, mostly.
const idleAtStop = "further drives without current"

// drewNothing tells whether a logged current was none all through a move but for its first
// moment, in ten rows or more: of fewer each may lie beside what the motor drew.
func (w *work) drewNothing(m *Move) bool {
	return m.last-m.first >= 10 && w.tr.Current != nil && w.atNoCurrent([]Occurrence{{m.Time, Interval{}, m.Direction}})
}

// idleElsewhere counts the moves without current or travel besides the given ones.
func (w *work) idleElsewhere(idle []stall) int {
	n := 0
	for k := range w.moves {
		m := &w.moves[k]
		if !slices.ContainsFunc(idle, func(s stall) bool { return s.move == k }) && !w.moved(m) && w.drewNothing(m) {
			n++
		}
	}
	return n
}

// mostStandsDraw tells whether the usual current of most of the given stands, their first
// moment left out, is such, with the number of readings that it is the middle of.
func (w *work) mostStandsDraw(stands []Occurrence, such func(amps float64, n int) bool) bool {
	const inrush = 0.1 // s
	held := 0
	for _, o := range stands {
		var x []float64
		for i := indexAt(w.t, o.Time.From+inrush); i < indexAt(w.t, o.Time.To); i++ {
			if f := math.Abs(float64(w.tr.Current.Mean[i])); !math.IsNaN(f) {
				x = append(x, f)
			}
		}
		if len(x) >= 3 && such(medianOf(x), len(x)) {
			held++
		}
	}
	return 2*held > len(stands)
}

// offStopLate is longer, in s, than gears that were wound up against a stop and their play
// take (common practice, no source).
const offStopLate = 0.6

// offStopTwice is as long, in s, where it comes twice or more off stops that were left at once
// the other times: play and what winds up take the same time each time, and grease that is
// cold holds the first start (common practice, no source).
const offStopTwice = 0.45

// lateOffStops is the delay, in s, from which on a start off a stop is late.
func (w *work) lateOffStops() float64 {
	n := 0
	for k := range w.moves {
		if m := &w.moves[k]; w.offStop(k) && m.Moving > 0 && m.Delay >= offStopTwice && w.leftPromptly(m.Start, w.stallsApart()) {
			n++
		}
	}
	if n >= 2 {
		return offStopTwice
	}
	return offStopLate
}

// leftPromptly tells whether the shaft came away from a stop at once, twice at least and
// more often than not: then neither the stop holds it nor does the track end before it.
func (w *work) leftPromptly(level, near float64) bool {
	const atOnce = 0.15 // s: a driver and a motor take as long
	prompt, all := 0, 0
	for k := range w.moves {
		if m := &w.moves[k]; w.offStop(k) && m.Moving > 0 && math.Abs(m.Start-level) < near {
			all++
			if m.Delay < atOnce {
				prompt++
			}
		}
	}
	return prompt >= 2 && 2*prompt > all
}

// lateStarts lists drives that set out only after standing much
// longer than this actuator's drives do, and than play can explain.
func (w *work) lateStarts(slowStart float64) []stall {
	var out []stall
	late := w.lateOffStops()
	atEnd := math.Max(0.1*w.span.Width(), 3*w.tol)
	for k := range w.moves {
		m := &w.moves[k]
		delay := m.Delay
		if m.Moving == 0 {
			delay = w.setsOutAtEnd(m)
		}
		if !(delay >= slowStart) {
			continue
		}
		// A stop may hold the shaft, and the track may end before it: not where it mostly comes
		// away at once, nor where it was sent back from before the end that was seen.
		edge := atEnd
		if k > 0 && w.moves[k-1].Moving > 0 && w.moves[k-1].Stalled == 0 {
			edge = math.Min(edge, w.stallsApart())
		}
		if (m.Start < w.span.From+edge || m.Start > w.span.To-edge) && !(w.offStop(k) && delay >= late && w.leftPromptly(m.Start, w.stallsApart())) {
			continue
		}
		r := w.rate[side(m.Direction)] * math.Abs(m.DriveMean) / w.d.amp
		// What a worn place holds back it gives back in one leap.
		i := indexAt(w.t, m.Time.From+delay)
		leap := false
		for j := max(1, i-w.window); j < min(len(w.v), i+w.window); j++ {
			leap = leap || math.Abs(w.v[j]-w.v[j-1]) > w.tol+w.lim.Fast*r*(w.t[j]-w.t[j-1])
		}
		if !leap && r*delay > math.Max(4*w.visible(), mostPlay*math.Max(w.span.Width(), w.leastTravel())) && !w.atJam(m.Direction, m.Start) && !w.atJam(-m.Direction, m.Start) && !w.onTrackFault(m.Start) {
			if s := (stall{move: k, level: m.Start, at: m.Time.From, seconds: delay}); w.clearOfWander(s) {
				out = append(out, s)
			}
		}
	}
	return out
}

// setsOutAtEnd is how long a drive stood, in s, that its shaft came away from in its last
// moments: too late for a rate, but it had left before the drive went and ran on the same
// way after it. 0 where it did not. A seal or a spring that lets go as the drive ends moves
// the shaft back from the start, and does not count.
func (w *work) setsOutAtEnd(m *Move) float64 {
	const few = 3 // rows
	half := (m.last - m.first) / 2
	if m.Direction == None || m.Moving > 0 || half < 2*few || m.Coast < w.tol {
		return 0
	}
	sign := float64(m.Direction)
	level := medianOf(w.v[m.first : m.first+half])
	least := w.lim.NoiseSigmas*math.Max(w.noise, w.pressedNoise())/math.Sqrt(few) + w.quantum
	j := m.last
	for j > m.first+half && sign*(medianOf(w.v[j-few:j])-level) > least {
		j--
	}
	if j == m.last || j == m.first+half {
		return 0
	}
	if stood := lapse(w.t[j], m.Time.From); stood >= offStopLate {
		return stood
	}
	return 0
}
