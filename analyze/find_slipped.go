package analyze

import (
	"math"
	"slices"

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

// stopGives is how far, as a share of the travel, a healthy stop may read from one visit
// to the next (common practice, no source).
const stopGives = 0.02

// mostSlips is the number of slips beyond which a reading is rather a contact's than a
// wiper's (chosen, not derived): a stop that follows once is not enough then.
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
		return w.findShiftedStops(w.pressings(0)) // more of it may be unseen
	}
	if len(steps) > mostSlips && (told < 2 || !far) {
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
