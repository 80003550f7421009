package analyze

import (
	"math"
	"slices"
	"sort"

	"threewire/analyze/stats"
)

// stopsMoved is the measure of a leap after which the stops read shifted by just as
// much: how many pairs of visits tell so.
const stopsMoved = "stops shifted by as much"

// alikeFar is the measure of such a leap where a stop far from its place tells, or both
// stops do.
const alikeFar = "the same wherever it is measured"

// leapUnseen is the form of a [LastingLeap] whose moment no reading shows, known by
// the stops alone.
const leapUnseen = "and both stops read shifted alike"

// mostSlips is the number of slips beyond which a reading is a contact's and no
// wiper's (chosen, not derived).
const mostSlips = 3

// An offset is an instant at which the reading steps by more than the shaft can have
// moved.
type offset struct {
	at, size, err float64 // s, V, V
	from, to      float64 // V
	first, last   int     // bins before it and after it
	after         float64 // V, what the line after it scatters by
}

// A pressing is where a drive held the shaft at the end of a move.
type pressing struct {
	at    float64 // s, the middle of the rows that tell the level
	level float64 // V
	err   float64 // V
	move  int
}

// findSlippedWiper tells a wiper that slips on its shaft: the reading steps in an
// instant, and the stops read shifted by the step from then on, while before it and
// after it they repeat. A gear that lets go moves the shaft and not the stops; an
// obstacle moves one stop, and not by what the reading stepped by; a door that comes
// off lets both move outward. It tells whether it found one.
func (w *work) findSlippedWiper() bool {
	if w.covered(DriveShift, None) || w.covered(RefLoss, None) || w.span.Width() <= 0 {
		return false
	}
	steps, undone := w.lastingSteps()
	if len(steps) == 0 && w.fineSlip() {
		return true
	}
	if len(steps) == 0 || undone && len(steps) > mostSlips {
		return w.findShiftedStops(w.pressings(0))
	}
	if len(steps) > mostSlips {
		return false
	}
	// A stop that reads shifted may lie deeper in what was travelled by as much.
	shifted := 0.0
	for _, s := range steps {
		shifted += math.Abs(s.size)
	}
	told, far, ok := w.stopsFollow(w.pressings(shifted), steps)
	if undone && !(ok && far) {
		// A contact comes and goes as well, but shifts one end more than the other.
		return w.findShiftedStops(w.pressings(0))
	}
	if !ok {
		return false
	}
	w.addSlips(steps, told, far)
	return true
}

// fineSlip tells a wiper that slipped by less than two readings side by side can tell,
// by a step that the lines beside it tell and a stop that reads shifted by as much. A
// step alone, so small, is noise as well as not; a stop that moves by it is the check.
func (w *work) fineSlip() bool {
	steps, undone := largeSteps(w.oneStep(w.listSteps(w.tol)))
	if undone || len(steps) == 0 || len(steps) > mostSlips {
		return false
	}
	told, far, ok := w.stopsFollow(w.pressings(0), steps)
	if !ok {
		return false
	}
	w.addSlips(steps, told, far)
	return true
}

// addSlips adds the finding of the steps that so many pairs of visits tell of.
func (w *work) addSlips(steps []offset, told int, far bool) {
	first := steps[0]
	f := Finding{Kind: LastingLeap, Form: leapGoesOn, Tie: TiedToTime, TieP: 1, Seen: len(steps), Passes: len(steps), Event: "leap", Strength: 1,
		Time: Interval{first.at, w.t[len(w.t)-1]}, Volts: noInterval(),
		Measures: []Measure{{MeasureFrom, first.from, w.unit()}, {MeasureTo, first.to, w.unit()}, {MeasureStep, first.size, w.unit()}, {stopsMoved, float64(told), ""}}}
	for _, s := range steps {
		f.Volts = f.Volts.widen(s.from).widen(s.to)
		f.Places = append(f.Places, Occurrence{Interval{s.at, s.at + 2*w.tr.Step}, Interval{math.Min(s.from, s.to), math.Max(s.from, s.to)}, None})
	}
	if far {
		f.Measures = append(f.Measures, Measure{alikeFar, 1, ""})
	}
	w.found = append(w.found, f)
	w.joinLeap(f)
}

// stopsFollow compares the visits of each stop with the steps between them: the level
// has to change by their sum, and to stay where there is none. It counts the pairs
// that tell of a step; far says whether a step was seen at both stops, or far from
// where it happened.
func (w *work) stopsFollow(stops [2][]pressing, steps []offset) (told int, far, ok bool) {
	largest := 0.0
	for _, s := range steps {
		largest = math.Max(largest, math.Abs(s.size))
	}
	repeat := w.repeats(stops, steps)
	rail := bareRail * w.ref // there the reading can go no further
	var sides [2]bool
	for d, v := range stops {
		for i := 1; i < len(v); i++ {
			change := v[i].level - v[i-1].level
			want, err, n := 0.0, math.Max(repeat, 3*math.Hypot(v[i].err, v[i-1].err)), 0
			away := false
			for _, s := range steps {
				if s.at > v[i-1].at && s.at <= v[i].at {
					want, n = want+s.size, n+1
					err += 2 * s.err
					away = away || math.Abs(v[i].level-s.to) > 0.3*w.ref
				}
			}
			atRail := v[i].level < rail || v[i].level > w.ref-rail || v[i-1].level < rail || v[i-1].level > w.ref-rail
			switch {
			case math.Abs(want) > 2*err && w.endsOfTrack(v[i], change, want, err):
				told++
				sides[d] = true
				far = far || away
			case atRail && change*want >= 0 && math.Abs(change) <= math.Abs(want)+err:
			case n == 0 && math.Abs(change) > largest/4:
				return 0, false, false
			case n == 0:
			case math.Abs(change-want) > math.Max(err, 0.1*math.Abs(want)):
				return 0, false, false
			case math.Abs(want) > 2*err:
				told++
				sides[d] = true
				far = far || away
			}
		}
	}
	return told, far || sides[0] && sides[1], told > 0
}

// repeats is how far a stop may read from one visit to the next: three times what
// visits with no step between them differ by, or half a percent of the travel where
// there are none (chosen, not derived).
func (w *work) repeats(stops [2][]pressing, steps []offset) float64 {
	var d []float64
	for _, v := range stops {
		for i := 1; i < len(v); i++ {
			if !slices.ContainsFunc(steps, func(s offset) bool { return s.at > v[i-1].at && s.at <= v[i].at }) {
				d = append(d, math.Abs(v[i].level-v[i-1].level))
			}
		}
	}
	if len(d) == 0 {
		return 0.005 * w.span.Width()
	}
	return 3 * medianOf(d)
}

// findShiftedStops tells the same by the stops alone, where the step fell into a stand,
// between two rows or into noise: both stops, visited before some moment and after it,
// differ by the same, and repeat otherwise. A scale moves the stop with the higher
// reading by more, a travel that changes moves the stops apart or together.
func (w *work) findShiftedStops(stops [2][]pressing) bool {
	const (
		least = 0.02 // of the travel: healthy stops give by less
		clear = 8    // times what a stop repeats by
		equal = 0.1  // of the shift
	)
	if len(stops[0]) < 2 || len(stops[1]) < 2 || len(stops[0])+len(stops[1]) < 5 {
		return false // nothing repeats
	}
	var cut [2]int // the first visit after it
	var shift [2]float64
	for d, v := range stops {
		for i := 1; i < len(v); i++ {
			if x := v[i].level - v[i-1].level; math.Abs(x) > math.Abs(shift[d]) {
				shift[d], cut[d] = x, i
			}
		}
		if cut[d] == 0 {
			return false
		}
	}
	from := math.Max(stops[0][cut[0]-1].at, stops[1][cut[1]-1].at)
	to := math.Min(stops[0][cut[0]].at, stops[1][cut[1]].at)
	mean := (shift[0] + shift[1]) / 2
	if from >= to || math.Abs(shift[0]-shift[1]) > equal*math.Abs(mean) || math.Abs(mean) < least*w.span.Width() {
		return false
	}
	for d, v := range stops {
		for i := 1; i < len(v); i++ {
			if i != cut[d] && math.Abs(v[i].level-v[i-1].level) > math.Abs(mean)/clear || 3*v[i].err > math.Abs(mean)/clear {
				return false
			}
		}
	}
	f := Finding{Kind: LastingLeap, Form: leapUnseen, Tie: TiedToTime, TieP: 1, Seen: 1, Passes: 1, Event: "leap", Strength: 0.9,
		Time: Interval{from, to}, Volts: w.span, Measures: []Measure{{MeasureStep, mean, w.unit()}}}
	w.found = append(w.found, f)
	w.joinLeap(f)
	return true
}

// pressings lists, by side, where drives held the shaft still at their end, in the
// outer quarter of the travel and in order of time. The stand is taken by what it
// scatters about itself: a stalled motor's current can be louder in the reading than
// one that runs. They may lie deeper by the given volts.
func (w *work) pressings(deeper float64) (out [2][]pressing) {
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction == None || w.madeUp(m) {
			continue
		}
		n := max(5, w.rows(0.2))
		if m.last-m.first < n {
			continue
		}
		end := w.v[m.last-n : m.last]
		// The jolt of letting go may be what makes a wiper slip: that is after it.
		p := pressing{at: w.t[m.last-n/2-1], level: medianOf(end), move: k}
		scatter := math.Max(math.Max(stats.MAD(end), w.noise), w.quantum/3)
		p.err = 1.25 * scatter / math.Sqrt(float64(n))
		// Half of it must lie where the other half does, and all of it be too long for a
		// shaft that moves.
		a, b := medianOf(end[:n/2]), medianOf(end[n/2:])
		first := m.last - n
		for first > m.first && math.Abs(w.v[first-1]-p.level) < 4*scatter {
			first--
		}
		still := math.Max(5*p.err, 0.003*w.span.Width())
		rate := w.rate[side(m.Direction)] * math.Max(math.Abs(m.DriveMean)/w.d.amp, 0.1)
		seconds := w.t[m.last-1] - w.t[first]
		if math.Abs(a-b) > still || seconds < w.lim.StallSeconds || rate*seconds < 4*still || w.atClip(p.level) {
			continue
		}
		if depth := w.span.To - p.level; m.Direction == Up && depth > outerVisits*w.span.Width()+deeper {
			continue
		}
		if depth := p.level - w.span.From; m.Direction == Down && depth > outerVisits*w.span.Width()+deeper {
			continue
		}
		d := side(m.Direction)
		out[d] = append(out[d], p)
	}
	return out
}

// lastingSteps lists the steps of the reading that the shaft cannot have made, those at
// least half as large as the largest; undone tells whether one undoes another.
func (w *work) lastingSteps() ([]offset, bool) {
	return largeSteps(w.oneStep(w.stepped.of(func() []offset { return w.listSteps(2 * w.tol) })))
}

// largeSteps keeps the steps at least half as large as the largest; undone tells
// whether one of them undoes the one before.
func largeSteps(all []offset) (_ []offset, undone bool) {
	largest := 0.0
	for _, s := range all {
		largest = math.Max(largest, math.Abs(s.size))
	}
	all = slices.DeleteFunc(all, func(s offset) bool { return math.Abs(s.size) < largest/2 })
	for i := 1; i < len(all); i++ {
		if math.Abs(all[i].size+all[i-1].size) < largest/2 {
			undone = true
		}
	}
	return all, undone
}

// oneStep joins steps that follow one another so soon that the lines beside them would
// hold the other, and measures them as one, less what the shaft went meanwhile.
func (w *work) oneStep(all []offset) []offset {
	var out []offset
	for _, s := range all {
		n := len(out) - 1
		if n < 0 || lapse(w.t[s.first], w.t[out[n].last]) > besideStep || s.size*out[n].size < 0 {
			out = append(out, s)
			continue
		}
		o := &out[n]
		if j, ok := w.stepBetween(o.first, s.last); ok {
			// What is not told is when in the meantime it stood.
			way := w.wayDriven(o.first, s.last)
			j.at, j.size, j.err = o.at, j.size-way, j.err+math.Abs(way)/2
			*o = j
		}
	}
	return out
}

// wayDriven is how far the drive moves a free shaft between two bins, in V.
func (w *work) wayDriven(first, last int) float64 {
	way := 0.0
	for k := range w.moves {
		m := &w.moves[k]
		if a, b := max(first, m.first), min(last, m.last-1); a < b && m.Direction != None {
			way += float64(m.Direction) * w.rate[side(m.Direction)] * (w.t[b] - w.t[a])
		}
	}
	return way
}

// listSteps lists them all. Their size is that between the lines through a quarter of
// a second before and after, and at least so many volts.
func (w *work) listSteps(least float64) []offset {
	const window = 0.03 // s: an input capacitor stretches a leap to about that
	rate := math.Max(w.rate[0], w.rate[1])
	var out []offset
	k, move := 0, -1
	for i := 1; i < len(w.v); i++ {
		for k < i-1 && lapse(w.t[i], w.t[k]) > window {
			k++
		}
		for move+1 < len(w.moves) && w.moves[move+1].first <= i {
			move++
		}
		gap := lapse(w.t[i], w.t[k])
		lo, hi := -1.5*rate*gap, 1.5*rate*gap
		if move >= 0 && k >= w.moves[move].first && i < w.moves[move].last {
			// Driven, it goes one way.
			switch w.moves[move].Direction {
			case Up:
				lo = 0
			case Down:
				hi = 0
			}
		}
		if d := w.v[i] - w.v[k]; d > lo-least && d < hi+least || gap > math.Max(window, missingRows*w.tr.Step) {
			continue
		}
		j := i // until it holds its line again
		for j+1 < len(w.v) && lapse(w.t[j], w.t[i]) < window && math.Abs(w.v[j+1]-w.v[j]) > 1.5*rate*(w.t[j+1]-w.t[j])+w.tol {
			j++
		}
		if s, ok := w.settledStep(k, j); ok && math.Abs(s.size) > math.Max(4*s.err, least) {
			s.at = w.t[i]
			out = append(out, s)
		}
		i, k = j, j
	}
	return out
}

const (
	// besideStep is the length of the lines on both sides of a step, in s.
	besideStep = 0.25

	// startLag is how much later than its drive a small motor comes to speed, play and
	// all, in s (common practice, no source): a line that a start or an end lies in is
	// off by half of that way at the most.
	startLag = 0.04
)

// switchedWithin tells whether a drive begins or ends between two bins.
func (w *work) switchedWithin(a, b int) bool {
	k := sort.Search(len(w.moves), func(k int) bool { return w.moves[k].last > a })
	return k < len(w.moves) && (w.moves[k].last <= b || w.moves[k].first >= a && w.moves[k].first <= b)
}

// settling is how long a filter before the converter may take to follow a step, in s:
// three of its time constants, where those of instruments that average go to 50 ms
// (common practice, no source).
const settling = 0.15

// settledStep measures the step between two bins, and where the reading creeps to its
// new line, by the line after that.
func (w *work) settledStep(k, j int) (offset, bool) {
	before := w.lineBefore(k)
	s, ok := w.stepFrom(before, j)
	if !ok {
		return s, false
	}
	var later []offset
	straight := math.Inf(1)
	for e := j + 1; e < len(w.t) && lapse(w.t[e], w.t[j]) <= settling; e++ {
		if l, ok := w.stepFrom(before, e); ok && l.size*s.size > 0 && math.Abs(l.size) > math.Abs(s.size) {
			later = append(later, l)
			straight = math.Min(straight, l.after)
		}
	}
	// The line must get straight by it, to a half of the squares it scattered by.
	if straight > 0.7*s.after {
		return s, true
	}
	for _, l := range later {
		if l.after <= 1.5*straight {
			return l, true
		}
	}
	return s, true
}

// stepBetween measures the step from bin k to bin j by the lines beside it.
func (w *work) stepBetween(k, j int) (offset, bool) { return w.stepFrom(w.lineBefore(k), j) }

// leadLine is the line of the reading up to a step.
type leadLine struct {
	stats.Line
	first, last int // bins, both on it
	ok          bool
}

// lineBefore is the line that ends in bin k.
func (w *work) lineBefore(k int) (l leadLine) {
	a := sort.Search(k, func(i int) bool { return lapse(w.t[k], w.t[i]) < besideStep })
	l.first, l.last = a, k
	if k-a >= 3 {
		l.Line, l.ok = stats.FitLine(w.t[a:k+1], w.v[a:k+1])
	}
	return l
}

// stepFrom measures the step from the end of a line to bin j.
func (w *work) stepFrom(before leadLine, j int) (s offset, ok bool) {
	later := w.t[j+1:]
	b := j + sort.Search(len(later), func(i int) bool { return lapse(later[i], w.t[j]) >= besideStep })
	if !before.ok || b-j < 3 {
		return s, false
	}
	after, ok := stats.FitLine(w.t[j:b+1], w.v[j:b+1])
	if !ok {
		return s, false
	}
	k := before.last
	at := (w.t[k] + w.t[j]) / 2
	s.from, s.to = before.Intercept+before.Slope*at, after.Intercept+after.Slope*at
	s.size = s.to - s.from
	s.first, s.last, s.after = k, j, after.Residual
	// The error of a line at its end is twice that of its mean.
	s.err = 2*math.Hypot(before.Residual/math.Sqrt(float64(before.N)), after.Residual/math.Sqrt(float64(after.N))) + w.quantum/4
	if w.switchedWithin(before.first, b) {
		s.err += startLag * math.Max(w.rate[0], w.rate[1]) / 2
	}
	return s, true
}
