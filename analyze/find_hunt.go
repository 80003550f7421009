package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/analyze/stats"
)

// findHunting reports stretches in which the drive reverses again and again
// over a short travel. Four reversals are the least that make two whole
// cycles; a controller that corrects an overshoot needs one or two.
func (w *work) findHunting() {
	const (
		least = 4
		many  = 12 // of swings that may be half of a travel of which no stop was seen
	)
	// Where no stop was seen the travel may be half of a usual one: what is small on
	// that is small on any.
	if way := math.Max(w.span.Width(), math.Min(w.likelyTravel().Width(), 0.5*w.usualTravel())); w.huntsWithin(way, least) {
		return
	}
	if len(w.stops) == 0 {
		w.huntsWithin(w.huntTravel(), many)
	}
}

// huntsWithin looks for drives to and fro that are no sweeps of a travel, with so many
// reversals at least; it tells whether it found any.
func (w *work) huntsWithin(way float64, least int) bool {
	const (
		pause  = 4.0 // s between moves that still belong together
		travel = 0.4 // of the span, the largest that is not a sweep
	)
	before := len(w.found)
	small := func(m *Move) bool {
		lo, hi := w.tracked(m)
		if !(hi > lo) {
			return true
		}
		// However far a failing track throws the reading, the shaft goes no
		// further than the motor takes it in that time.
		if r := w.rate[side(m.Direction)]; r > 0 && r*m.Duration() < travel*way {
			return true
		}
		return w.span.Width() <= 0 || hi-lo < travel*way
	}
	tiny := make([]bool, len(w.moves))
	for k := range w.moves {
		tiny[k] = small(&w.moves[k])
	}
	// follows tells whether move k comes soon after the one before, both of them small.
	follows := func(k int) bool {
		return tiny[k] && tiny[k-1] && w.moves[k].Time.From-w.moves[k-1].Time.To < pause
	}
	var p presses
	for k := 1; k < len(w.moves); k++ {
		if !follows(k) {
			continue
		}
		again := w.moves[k].Polarity == w.moves[k-1].Polarity
		p.add(again, k > 1 && follows(k-1) && w.moves[k-1].Polarity == w.moves[k-2].Polarity)
	}
	for i := 0; i < len(w.moves); {
		j := i + 1
		for j < len(w.moves) && follows(j) && w.moves[j].Polarity == -w.moves[j-1].Polarity {
			j++
		}
		if tiny[i] && j-i-1 >= least && !p.explain(j-i-1) && !w.sweepsToObstacle(i, j) {
			w.hunt(i, j)
		}
		i = j
	}
	return len(w.found) > before
}

// presses count short drives by what follows what.
type presses struct {
	turns, repeats int // the other way, and the same way again
	turned, more   int // of those after a repeat: turned over, and again the same way
}

func (p *presses) add(again, after bool) {
	switch {
	case again && after:
		p.more++
	case after:
		p.turned++
	}
	if again {
		p.repeats++
	} else {
		p.turns++
	}
}

// explain tells whether k reversals on end are what chance makes of short drives that
// go on the same way as well, as somebody's at the switch do: where after a repeat
// the drive turns over with the chance q, each repeat begins a run of k reversals or
// more with q^k. Of up, down and off, taken at random again and again, three drives
// in four turn over; a control that hunts hardly ever drives twice the same way, and
// is not asked where fewer than one drive in five does.
func (p *presses) explain(k int) bool {
	const known = 30 // repeats, that tell q to a tenth
	if p.turned+p.more < known || 4*p.repeats < p.turns {
		return false
	}
	q := float64(p.turned) / float64(p.turned+p.more)
	return float64(p.repeats)*math.Pow(q, float64(k)) > 0.05
}

// tracked is the range of feedback a move tracked over.
func (w *work) tracked(m *Move) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, s := range m.segs {
		if s.state == track {
			lo = math.Min(lo, math.Min(w.v[s.first], w.v[s.last-1]))
			hi = math.Max(hi, math.Max(w.v[s.first], w.v[s.last-1]))
		}
	}
	return lo, hi
}

// hunt measures the hunting of moves [i, j).
func (w *work) hunt(i, j int) {
	h, ok := w.toAndFro(i, j)
	if !ok {
		return
	}
	f := w.huntFinding(h)
	stalls := w.huntStalls(&f, i, j)
	if w.covered(OneWay, None) || w.covered(OneWay, Up) || w.covered(OneWay, Down) {
		// One direction moves nothing: what goes to and fro is a stop that gives
		// way and springs back.
		if h.amp < math.Max(2*w.tol, mostPlay*math.Max(w.span.Width(), w.leastTravel())) && w.swingsAlike(i, j) == 0 {
			return
		}
		f.Event = "one way"
	}
	w.weakenHunt(&f, h, stalls)
	w.huntMarks(&f, h)
	if f.has(answersAtOnce) && !w.strokesOfALoop(i, j) {
		return
	}
	if n := w.followsPulses(i, j); n > 0 {
		f.Measures = append(f.Measures, Measure{pulsesFollowed, float64(n), ""})
	}
	w.found = append(w.found, f)
}

// toAndFro is a run of moves [from, to) of which each goes the other way than the
// one before.
type toAndFro struct {
	from, to int
	period   float64 // from one start to the next but one, s
	spread   float64 // of the period, as a share of it
	amp      float64 // from turn to turn, median, V
}

// reversals is how often the drive turned over.
func (h toAndFro) reversals() int { return h.to - h.from - 1 }

// toAndFro measures moves [i, j), false where they are no hunting whatever they do.
func (w *work) toAndFro(i, j int) (toAndFro, bool) {
	h := toAndFro{from: i, to: j}
	var starts, amps []float64
	for k := i; k < j; k++ {
		starts = append(starts, w.moves[k].Time.From)
	}
	for k := i + 1; k+1 < j; k++ {
		lo, hi := extremes(w.v[w.moves[k].first:min(w.moves[k+1].last, len(w.v))])
		amps = append(amps, hi-lo)
	}
	h.amp = medianOf(amps)
	// What gets on from turn to turn is under way: the drive is turned down by
	// turning it over, and seeks nothing.
	if on := math.Abs(w.moves[j-1].End - w.moves[i+1].Start); on > 1.5*h.amp && w.getsOn(i+1, j) {
		return h, false
	}
	// The first period often contains the approach: leave it out of the rate.
	skip := 0
	if h.reversals() >= 5 {
		skip = 1
	}
	cycles := float64(len(starts)-1-skip) / 2
	took := starts[len(starts)-1] - starts[skip]
	// A gear motor does not reverse its output ten times a second: what does is
	// the drive's own pulsing.
	if took <= 0 || cycles <= 0 || cycles/took > fastestHunt {
		return h, false
	}
	// A cycle-to-cycle slope over the starts of all moves of one polarity is
	// less sensitive to the two ends than a plain count.
	h.period = took / cycles
	if p := stats.UsualPeriod(starts[skip:]); p > 0 {
		h.period = p
	}
	h.spread = relSpread(starts[skip:])
	// What takes longer from turn to turn than the whole way from stop to stop is
	// driven over it, or would be: those are sweeps, of a motor that does not answer
	// perhaps, and no hunting.
	// Leaps of the reading make a rate that no motor has.
	if way := w.transit(); way > 0 && h.period/2 > math.Max(way, fastestTransit) {
		return h, false
	}
	return h, true
}

// huntFinding says when and where it hunts, how fast and how far.
func (w *work) huntFinding(h toAndFro) Finding {
	first, last := &w.moves[h.from], &w.moves[h.to-1]
	a, b := first.first, last.last
	f := Finding{
		Kind: Hunting, Time: Interval{first.Time.From, last.Time.To},
		Volts: Interval{quantileOf(w.v[a:b], 0.05), quantileOf(w.v[a:b], 0.95)},
		Seen:  h.reversals(), Passes: h.reversals(), Strength: 1 - math.Exp(-float64(h.reversals())/2.5),
		Event: fmt.Sprintf("hunting %.1f", first.Time.From),
	}
	f.Measures = []Measure{
		{"reversals", float64(h.reversals()), ""},
		{MeasureFrequency, 1 / h.period, "Hz"},
		{MeasureAmplitude, h.amp, w.unit()},
	}
	if s := w.huntTravel(); s > 0 {
		f.Measures = append(f.Measures, Measure{MeasureAmplitudeOfSpan, 100 * h.amp / s, "%"})
	}
	if regular, ok := w.regularity(a, b); ok {
		f.Measures = append(f.Measures, Measure{MeasureRegularity, regular, "(above 1 is regular)"})
	}
	f.Measures = append(f.Measures, Measure{MeasureCycleSpread, 100 * h.spread, "%"})
	for k := h.from; k < h.to; k++ {
		m := &w.moves[k]
		f.Places = append(f.Places, Occurrence{m.Time, Interval{math.Min(m.Start, m.End), math.Max(m.Start, m.End)}, m.Direction})
	}
	f.Form = w.huntPlace(f)
	return f
}

// weakenHunt takes from the strength what a sound control or a person may do too.
func (w *work) weakenHunt(f *Finding, h toAndFro, stalls int) {
	// A controller that overshoots its target by a percent or two and steps
	// back a few times is not lost; one that does so three times as often on end as the
	// longest of such corrections (chosen, not derived) is.
	if small := h.amp / (0.025 * math.Max(w.span.Width(), 0.5*w.usualTravel())); small < 1 && h.reversals() < 24 && (stalls == 0 || w.inTries(f.Time) && !w.covered(Jam, Up) && !w.covered(Jam, Down)) {
		f.Strength *= math.Max(0.1, small*small)
	}
	// A control that rests most of the time and steps to and fro now and then
	// is content for most of it.
	driven := 0.0
	for k := h.from; k < h.to; k++ {
		driven += w.moves[k].Duration()
	}
	if stalls == 0 && driven < 0.2*f.Time.Width() {
		f.Strength *= 0.5
	}
	// One that rests after every move for longer than that took, and for more than a
	// second, has got where it was sent: somebody asks for one place and for another.
	if stalls == 0 && w.restsBetween(h.from, h.to) {
		f.Strength *= 0.3
	}
	// A limit cycle keeps its period (Thornhill, Huang and Zhang 2003); a person,
	// or a control that comes back to a stop now and then, does not.
	if h.spread > loosePeriod {
		f.Strength *= loosePeriod / h.spread
	}
}

// huntMarks adds what tells a bad track from a motor or a load that hunts: whether
// the reading answers the drive, leaps, and settled at other times.
func (w *work) huntMarks(f *Finding, h toAndFro) {
	if h.amp < 2*w.tol {
		// The extremes of noise hide a small motion; the levels at which the
		// moves end, many rows each, show it.
		if d := w.endsApart(h.from, h.to); d > 0 {
			f.Measures[2].Value = d
		} else if d := w.swingsAfter(h.from, h.to); d > 0 {
			// It follows, though too late for any one drive to show it.
			f.Measures[2].Value = d
			f.Measures = append(f.Measures, Measure{answersAtOnce, 1, ""})
			if 2*(h.to-h.from) > len(w.moves) {
				w.overrule(f.Event, Pauses, Jam)
			}
		} else {
			// The drive reverses and the reading does not answer: the same
			// event as a motor that does not start.
			f.Event = "no start"
			f.Measures = append(f.Measures, Measure{doesNotAnswer, 1, ""})
		}
	}
	// From one turn to the next no shaft goes as far as this: the reading leaps, and
	// the control answers it.
	if 2*h.amp/h.period > 1.5*w.ref/fastestTransit {
		f.Measures = append(f.Measures, Measure{readingLeaps, 1, ""})
		if 2*(h.to-h.from) > len(w.moves) {
			w.overrule(f.Event, SlowZone, Jam, Pauses, StickSlip, GearSlip, EndLoss)
		}
	}
	if lost := w.lostAlike(h.from, h.to); lost > 0 && !f.has(readingLeaps) {
		f.Measures = append(f.Measures, Measure{lostEachTurn, lost, w.unit()})
	}
	if s := w.settles(*f); s != "" {
		f.Measures = append(f.Measures, Measure{s, 1, ""})
	}
	if n := w.settledHere(*f); n > 1 { // once is chance
		f.Measures = append(f.Measures, Measure{settlesHere, float64(n), ""})
	}
	if !f.has(answersAtOnce) && w.answers(h.from+1, h.to, *f) {
		f.Measures = append(f.Measures, Measure{answersAtOnce, 1, ""})
	}
	if f.has(answersAtOnce) && w.heardBeyond(f, h) {
		f.Form = huntMidTravel
		f.Measures = slices.DeleteFunc(f.Measures, func(m Measure) bool { return m.Name == otherEndSettles || m.Name == settlesHere })
	}
}

// restsBetween tells whether nothing drives between any two of moves [i, j) for a
// second, and for as long as the move before took.
func (w *work) restsBetween(i, j int) bool {
	for k := i + 1; k < j; k++ {
		was := &w.moves[k-1]
		if rest := w.moves[k].Time.From - was.Time.To; rest < math.Max(1, was.Duration()) {
			return false
		}
	}
	return true
}

// huntStalls says of moves [i, j) that hunt how they end in stalls, and counts those
// that are an obstacle's.
func (w *work) huntStalls(f *Finding, i, j int) int {
	stalls, levels := 0, []float64{}
	var stallDir, went [2]int
	for k := i; k < j; k++ {
		went[side(w.moves[k].Direction)]++
		// A stand too short to have missed a visible travel is none; nor is one at hardly
		// any drive: after a pulse open leads show the volts of a motor that runs out.
		if m := &w.moves[k]; m.Stalled >= math.Max(w.lim.StallSeconds, 2*w.tr.Step) && w.rate[side(m.Direction)]*m.Stalled*w.shareOfDrive(m) >= 2*w.visible() && (m.Moving > 0 || !w.moved(m)) {
			stalls++
			stallDir[side(m.Direction)]++
			levels = append(levels, m.End)
		}
	}
	// An obstacle stands on one side: stands at both turning points are the
	// control's own pauses.
	if 2*min(stallDir[0], stallDir[1]) > max(stallDir[0], stallDir[1]) {
		return 0
	}
	dir := Down
	if stallDir[1] > stallDir[0] {
		dir = Up
	}
	if stalls < 2 || 5*stallDir[side(dir)] < 3*went[side(dir)] {
		return 0 // it stops what comes there
	}
	lo, hi := quantileOf(levels, 0.1), quantileOf(levels, 0.9)
	f.Measures = append(f.Measures, Measure{"moves ending in a stall", float64(stalls), ""}, Measure{stallSpread, hi - lo, w.unit()})
	f.span = w.span.Width()
	if w.leavesAtOnce(i, j) {
		f.Measures = append(f.Measures, Measure{leftAtOnce, 1, ""})
	}
	// The stall and the hunting are one event.
	f.Event = fmt.Sprintf("stall %s", dir)
	if in := medianOf(levels) / w.ref; w.refSure && (dir == Up && in < 1-outerQuarter || dir == Down && in > outerQuarter) {
		f.Measures = append(f.Measures, Measure{stallFarInside, medianOf(levels), w.unit()})
	}
	return stalls
}

// shareOfDrive is the mean drive of a move over full drive.
func (w *work) shareOfDrive(m *Move) float64 {
	sum := 0.0
	for i := m.first; i < m.last; i++ {
		sum += math.Abs(w.d.mean[i])
	}
	if n := float64(m.last - m.first); n > 0 && w.d.amp > 0 {
		return math.Min(1, sum/n/w.d.amp)
	}
	return 1
}

// getsOn tells whether moves [i, j) that reverse each time get further by every
// pair of them, and nearly always the same way.
func (w *work) getsOn(i, j int) bool {
	on, back := 0, 0
	way := w.moves[j-1].Start - w.moves[i].Start
	for k := i; k+2 < j; k++ {
		if (w.moves[k+2].Start-w.moves[k].Start)*way > 0 {
			on++
		} else {
			back++
		}
	}
	return on >= 4 && 6*back <= on
}

// inTries tells whether a stretch is for the most part a controller's tries of its
// stops: it presses on one, and what the reading does meanwhile is the stop's give.
func (w *work) inTries(when Interval) bool {
	for _, c := range w.checks {
		both := c.Time.inCommon(when)
		if c.Kind == CheckTries && both > when.Width()/2 {
			return true
		}
	}
	return false
}

// endsApart is the distance, in V, between the levels at which the upward and
// the downward moves of [i, j) end, 0 if it is not clear of noise. The median
// of n Gaussian readings has the standard error 1.25 sigma / sqrt(n).
func (w *work) endsApart(i, j int) float64 {
	var ends [2][]float64
	var rows [2]int
	for k := i; k < j; k++ {
		m := &w.moves[k]
		d := side(m.Direction)
		ends[d] = append(ends[d], m.End)
		rows[d] += max(1, min(w.window/2, (m.last-m.first)/4))
	}
	if rows[0] == 0 || rows[1] == 0 {
		return 0
	}
	apart := medianOf(ends[1]) - medianOf(ends[0])
	se := 1.25 * w.noise * math.Sqrt(1/float64(rows[0])+1/float64(rows[1]))
	if apart < math.Max(4*se, w.quantum/2) {
		return 0
	}
	return apart
}

// nearUsual begins the form of a hunting where such an actuator usually ends, in a
// capture that shows no stop there.
const nearUsual = "near the usual "
