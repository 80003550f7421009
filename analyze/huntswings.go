package analyze

import (
	"math"
	"slices"
	"sort"

	"threewire/analyze/stats"
)

// everySwingAlike is the measure of a hunting in which each swing of the reading is the
// one before over again and a shaft's that follows the drive: how many there are.
const everySwingAlike = "swings alike"

// What the swings of a control that hunts by itself keep to. A limit cycle repeats its
// times to a cycle of the control's loop, and drives nearly all the time, as it turns
// over instead of resting, or rests for its loop's own time only; who sends an actuator to and fro waits where it went. A person
// keeps no time to a seventh without a beat, and rests (chosen between, not derived).
const (
	leastAlike   = 6    // swings: three cycles
	evenTimes    = 0.15 // scatter of the half cycles, as a share
	oneTime      = 1.6  // a half cycle that is longer or shorter by this is another thing
	mostlyDriven = 0.7  // of the time
	turningTime  = 0.15 // s, two mechanical time constants: a motor that turns over
)

// swings are the half cycles of a hunting laid upon one another: the reading against the
// time since the drive was turned over, for the downward drives and the upward.
type swings struct {
	n       int          // swings
	half    float64      // s, a half cycle
	step    float64      // s, between two points of a path
	paths   [2][]float64 // V, about the middle of the swing, by direction
	scatter float64      // V, of the single swings about them
	lag     float64      // behind the drive, in parts of a cycle of 2 pi
	driven  float64      // share of the time that is driven
}

// joinLimitCycles looks for hunting in which all swings are alike and follow the drive. A
// place of the track that fails throws the reading about or holds it, never twice alike
// and faster or slower than the shaft goes; a motor or a door that fails does not
// follow. Where the drive turns over like a clock and all that it drives answers each
// time, what turns it over is what hunts. What else was found in those swings alone,
// stands at the turning points above all, is the hunting's.
func (w *work) joinLimitCycles() {
	for _, f := range w.found {
		if (f.Kind == DeadSpot || f.Kind == NoisyTrack || f.Kind == EndLoss || f.Kind == Play || f.Kind == GearSlip) && f.Strength > 0.5 {
			return
		}
	}
	var when []Interval
	for i := range w.found {
		f := &w.found[i]
		if f.Kind != Hunting || f.has(readingLeaps) {
			continue
		}
		from, to := w.movesOf(f)
		n, aims := w.swingsAlike(from, to), w.aims(from+1, to)
		if !aims {
			n = 0
		}
		triesIt := f.has(otherEndSettles) && f.has(stallSpread)
		if n == 0 && f.has(answersAtOnce) && !triesIt && (!aims || w.restful(from, to)) {
			f.Strength *= 0.1 // somebody at work
		}
		// At one end, when it settles at the other, it is the sensor at that end (common
		// practice, no source), however evenly it swings.
		if n < leastAlike || f.has(otherEndSettles) {
			continue
		}
		f.Event = "hunting" // of one cause
		f.Measures = append(f.Measures, Measure{everySwingAlike, float64(n), ""})
		f.Strength = math.Max(f.Strength, 1-math.Exp(-float64(n)/2.5))
		when = append(when, f.Time)
	}
	if len(when) == 0 {
		return
	}
	for i := range w.found {
		f := &w.found[i]
		// Both ways answer there: neither moves nothing.
		if f.Kind == OneWay || slices.Contains([]Kind{Jam, Pauses, SlowZone, StickSlip}, f.Kind) && within(f, when) {
			f.Event, f.Strength = "hunting", 0.3*f.Strength
		}
	}
}

// restful tells whether moves [i, j) reverse at a person's times, or a program's: nothing
// drives for a good part of the time, as where the shaft waits at each place it was sent
// to, for longer than a control takes to answer a reading, or for moments of any length:
// while a shaft rests nothing changes that a loop could answer, so it waits by its clock.
func (w *work) restful(i, j int) bool {
	const answered = 0.5 // s (chosen, not derived)
	driven := 0.0
	var rests []float64
	var after [2][]float64 // a clock may be another one at either turn
	for k := i; k+1 < j; k++ {
		driven += w.moves[k].Duration()
		rest := w.moves[k+1].Time.From - w.moves[k].Time.To
		rests = append(rests, rest)
		after[(k-i)%2] = append(after[(k-i)%2], rest)
	}
	if len(rests) < 2 || driven > mostlyDriven*(w.moves[j-1].Time.From-w.moves[i].Time.From) {
		return false
	}
	var off []float64
	for _, s := range after {
		for _, x := range s {
			off = append(off, x-medianOf(s)+medianOf(rests))
		}
	}
	return medianOf(rests) > answered || w.scattered(off)
}

// aims tells whether the swings of moves [i, j) have a level in common, or one length, by the
// robust scale: what hunts goes to and fro about its target, and each swing passes it, give or
// take a few, as in the first a target changes and in the last it is found. Where the
// target changes oftener, its swings are still as long as its loop makes them. Drives of any
// length to and fro, as somebody at a switch makes them, wander off.
func (w *work) aims(i, j int) bool {
	const (
		passed = 0.8  // of the swings
		even   = 0.25 // of their length; at random up to three times the least, it scatters by 0.4
	)
	most := 0
	var long []float64
	for k := i; k < j; k++ {
		m := &w.moves[k]
		n, level := 0, math.Min(m.Start, m.End)
		long = append(long, math.Abs(m.End-m.Start))
		for o := i; o < j; o++ {
			lo, hi := math.Min(w.moves[o].Start, w.moves[o].End), math.Max(w.moves[o].Start, w.moves[o].End)
			if lo <= level+w.tol && hi >= level-w.tol {
				n++
			}
		}
		most = max(most, n)
	}
	if float64(most) >= passed*float64(j-i) {
		return true
	}
	usual := medianOf(long)
	for n := range long {
		long[n] = math.Abs(long[n] - usual)
	}
	return stats.MADScale*medianOf(long) < even*usual
}

// within tells whether a finding was seen within some stretches of time only.
func within(f *Finding, when []Interval) bool {
	if len(f.Places) == 0 {
		return inOne(when, f.Time.Mid())
	}
	for _, p := range f.Places {
		if !inOne(when, p.Time.Mid()) {
			return false
		}
	}
	return true
}

// inOne tells whether a time lies in one of these stretches.
func inOne(when []Interval, t float64) bool {
	return slices.ContainsFunc(when, func(x Interval) bool { return t >= x.From && t <= x.To })
}

// inLimitCycle tells whether move k is part of a hunting in which all swings are alike.
func (w *work) inLimitCycle(k int) bool {
	for _, f := range w.found {
		if f.Kind == Hunting && f.has(everySwingAlike) && inOne([]Interval{f.Time}, w.moves[k].Time.Mid()) {
			return true
		}
	}
	return false
}

// movesOf gives the moves [i, j) that a hunting consists of.
func (w *work) movesOf(f *Finding) (i, j int) {
	for i < len(w.moves) && w.moves[i].Time.From < f.Time.From {
		i++
	}
	return i, min(len(w.moves), i+len(f.Places))
}

// swingsAlike is how many swings of moves [i, j) are alike and a shaft's, 0 where they are
// not. The first is left out: it comes from elsewhere.
func (w *work) swingsAlike(i, j int) int {
	s, ok := w.layUpon(i+1, j)
	if !ok {
		return 0
	}
	height, rate := 0.0, math.Max(w.rate[0], w.rate[1])
	for _, path := range s.paths {
		lo, hi := slices.Min(path), slices.Max(path)
		height = math.Max(height, hi-lo)
		// No shaft gets on faster than the motor drives it. A step of the converter may
		// fall between two points, and each is uncertain by its mean.
		most := 1.5*rate*s.step + w.quantum + 4*math.Max(s.scatter, w.noise)/math.Sqrt(float64(s.n)/2)
		for p := 1; p < len(path); p++ {
			if math.Abs(path[p]-path[p-1]) > most {
				return 0
			}
		}
	}
	// What goes on as long as it is driven, and waits for the rest of the half cycle, is
	// in the middle of its way after half of the time driven: a quarter of a cycle behind
	// where it is driven all the time, less by that share else.
	usual := math.Pi / 2 * s.driven
	// Later than a motor turns over, by more than the slack of a sound gear train or a
	// link is long: the slack may be what makes it hunt.
	late := (s.lag-usual)/math.Pi*s.half - turningTime
	switch {
	case height < math.Max(w.quantum/2, 4*s.scatter/math.Sqrt(float64(s.n)/2)):
		return 0 // nothing follows
	case s.scatter > math.Max(1.5*w.noise+w.quantum/4, 0.15*height):
		return 0
	case s.lag < 0.8*usual || late*rate > soundSlack*math.Max(w.span.Width(), 0.75*w.usualTravel()):
		return 0
	}
	return s.n
}

// soundSlack is the play of a sound gear train and its link, as a share of the travel
// (common practice, no source).
const soundSlack = 0.025

// layUpon lays the half cycles of moves [i, j) upon one another; false where they are no
// cycle.
func (w *work) layUpon(i, j int) (s swings, ok bool) {
	var halves, starts []float64
	for k := i; k < j; k++ {
		starts = append(starts, w.moves[k].Time.From)
		if k+1 < j {
			halves = append(halves, w.moves[k+1].Time.From-w.moves[k].Time.From)
		}
	}
	if len(halves) < leastAlike || relSpread(starts) > evenTimes {
		return s, false
	}
	s.half = medianOf(halves)
	var kept []int
	driven, shortest := 0.0, math.Inf(1)
	for n, h := range halves {
		if h > s.half/oneTime && h < s.half*oneTime {
			kept = append(kept, i+n)
			driven += w.moves[i+n].Duration() / h
			shortest = math.Min(shortest, h)
		}
	}
	s.n = len(kept)
	points := min(16, w.rows(math.Min(shortest, w.tr.Duration())))
	s.driven = driven / float64(s.n)
	// A control whose dead band is too narrow drives by pulses, and rests no longer than
	// it takes to read that it went too far: twice as many of these swings tell that
	// nobody at a switch makes them.
	rests := s.driven < mostlyDriven && (s.n < 2*leastAlike || w.restful(i, j))
	if s.n < leastAlike || 4*s.n < 3*len(halves) || rests || points < 4 {
		return s, false
	}
	s.step = shortest / float64(points)
	w.foldPaths(&s, kept, points)
	s.lag = w.usualLag(kept, j)
	return s, len(s.paths[0]) > 0 && len(s.paths[1]) > 0
}

// foldPaths gives the median path of the kept moves, by direction, and their scatter.
func (w *work) foldPaths(s *swings, kept []int, points int) {
	var all [2][][]float64
	for _, k := range kept {
		path := make([]float64, points)
		for p := range path {
			path[p] = w.readingAt(w.moves[k].Time.From+(float64(p)+0.5)*s.step, s.step)
		}
		middle := mean(path)
		for p := range path {
			path[p] -= middle
		}
		d := side(w.moves[k].Direction)
		all[d] = append(all[d], path)
	}
	var off []float64
	for d, paths := range all {
		if len(paths) < leastAlike/2 {
			return
		}
		s.paths[d] = make([]float64, points)
		for p := range points {
			at := make([]float64, len(paths))
			for n, path := range paths {
				at[n] = path[p]
			}
			m := medianOf(at)
			s.paths[d][p] = m
			for _, v := range at {
				off = append(off, math.Abs(v-m))
			}
		}
	}
	s.scatter = stats.MADScale * medianOf(off)
}

// usualLag is how far the swings lie behind the drive, by the median of the cycles that
// begin with the kept moves, 0 to 2 pi.
func (w *work) usualLag(kept []int, j int) float64 {
	var with, behind []float64
	for n := 0; n+1 < len(kept); n++ {
		k := kept[n]
		if kept[n+1] != k+1 || k+2 >= j {
			continue
		}
		if x, y, ok := w.cycleSwing(k); ok {
			with, behind = append(with, x), append(behind, y)
		}
	}
	if len(with) < leastAlike/2 {
		return 0
	}
	lag := math.Atan2(medianOf(behind), medianOf(with))
	if lag < -math.Pi/2 {
		lag += 2 * math.Pi
	}
	return lag
}

// readingAt is the reading, V, at a time: the mean of the rows within a step about it, or
// the line between the two rows that enclose it.
func (w *work) readingAt(t, step float64) float64 {
	a, b := sort.SearchFloat64s(w.t, t-step/2), sort.SearchFloat64s(w.t, t+step/2)
	if b-a >= 2 {
		return mean(w.v[a:b])
	}
	n := sort.SearchFloat64s(w.t, t)
	if n == 0 || n >= len(w.t) {
		return w.v[min(n, len(w.v)-1)]
	}
	share := (t - w.t[n-1]) / (w.t[n] - w.t[n-1])
	return w.v[n-1] + share*(w.v[n]-w.v[n-1])
}
