package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/signal"
)

// CrossTalk is the code of the [DataDoubt] that an input of the instrument took from the
// one read before it.
const CrossTalk = "cross-talk"

const (
	// mostTalk is the largest share of another input's volts that is taken for the
	// instrument's: one that takes more has an input that is open.
	mostTalk = 0.2

	// fewestTalks is how many switchings show it at the least: two for each pole of the
	// drive, of which one pole may show nothing.
	fewestTalks = 4

	// talkLeaves is what the story may leave of the changes that shaft and noise leave: one
	// in seven may be something else, as in [work.findClearShift].
	talkLeaves = 0.15

	// longestTalks is how many switchings are weighed, for the time it takes.
	longestTalks = 2000
)

// A talk is the reading's change over one row in which the drive was switched.
type talk struct {
	by   float64  // V
	free Interval // V that the shaft and noise can have done
	soft float64  // x(1-x) of the place: what the track's resistance there goes by
	rest bool     // to or from rest, where the place is known
	from [2][talkers]float64
}

// beyond is what of a change of so many volts the shaft and noise cannot have done.
func (a *talk) beyond(v float64) float64 {
	return math.Max(0, math.Max(v-a.free.To, a.free.From-v))
}

// talkers is how many things are tried that the reading may go by.
const talkers = 4

// The things themselves: the signed drive, one lead, the other, and the drive without
// its sign, which is what a ground or a supply goes by that the motor's current lifts
// or pulls down.
const (
	bySign = iota
	byLeadA
	byLeadB
	byCurrent
)

// withoutCrossTalk takes off the feedback what an instrument with one converter for all
// inputs leaves on it of the motor's volts: its sampling capacitor brings a share of the
// input read before to one of some kilohms that it is given too little time to settle on.
// The share is the same at every place of the travel, comes and goes with the volts within
// a row, and has their sign. A wire that leaks to a lead pulls on the track's resistance,
// which by Thévenin goes with x(1-x) and is next to nothing at the ends; a ground that the
// current lifts does not know the sign. Where the switchings do not tell these apart,
// nothing is taken off.
func (w *work) withoutCrossTalk(t *signal.Trace) *signal.Trace {
	if t.Feedback.Unit != "V" {
		return t // no share of volts
	}
	x := sourcesOf(t)
	all := talksOf(t, x, w.reference())
	if len(all) < fewestTalks {
		return t
	}
	none := unexplainedBy(all, 0, func(*talk) float64 { return 0 })
	best, share, at, late := math.Inf(1), 0.0, 0, 0
	for lag := range 2 {
		for s := bySign; s <= byLeadB; s++ {
			if k, left := fitTalk(all, func(a *talk) float64 { return a.from[lag][s] }); left < best {
				best, share, at, late = left, k, s, lag
			}
		}
	}
	source := func(a *talk) float64 { return a.from[late][at] }
	if !(best < talkLeaves*none) || madeBy(all, share, source) < fewestTalks || math.Abs(share) > mostTalk*fullDrive(t) || share < 0 && !t.DriveIsPolarity {
		return t
	}
	// Turned over at once, nobody knows where the shaft was.
	rested := slices.DeleteFunc(slices.Clone(all), func(a talk) bool { return !a.rest })
	best = unexplainedBy(rested, share, source)
	for lag := range 2 {
		for _, story := range []func(a *talk) float64{
			func(a *talk) float64 { return a.soft * a.from[lag][at] }, // a leak
			func(a *talk) float64 { return a.from[lag][byCurrent] },   // a ground, or a supply
		} {
			k, left := fitTalk(rested, story)
			against := 0
			for i := range rested {
				if a := &rested[i]; a.beyond(a.by-k*story(a)) > 0 {
					against++
				}
			}
			if 2*best >= left || against < 2 {
				return t
			}
		}
	}
	of := fmt.Sprintf("%.1f %% of them", 100*share)
	if t.DriveIsPolarity {
		of = amount(share, t.Feedback.Unit)
	}
	w.doubt(CrossTalk, fmt.Sprintf("the reading goes with the motor's volts by %s, at once and by as much at every place: no wiper does that, and a leak pulls hardest in mid track. It is cross-talk from one input of the instrument to the next, and was taken off before judging; to be sure, record again with the feedback on an instrument of its own", of))
	return dropTalk(t, x[at], share, late)
}

// fullDrive is what one volt of a drive is in the unit of the drive's column.
func fullDrive(t *signal.Trace) float64 {
	if t.DriveIsPolarity {
		return usualSystem
	}
	return 1
}

// usualSystem is what a 12 V system with its engine running has, V.
const usualSystem = 13.5

// sourcesOf are the things the reading may go by, bin by bin.
func sourcesOf(t *signal.Trace) (x [talkers][]float64) {
	d := filled(t.Drive.Mean)
	var both []float64
	if t.Both != nil {
		both = filled(t.Both.Mean)
	}
	for s := range x {
		x[s] = make([]float64, len(d))
	}
	for i, v := range d {
		low := 0.0
		if both != nil {
			low = both[i]
		}
		x[bySign][i], x[byLeadA][i], x[byLeadB][i], x[byCurrent][i] = v, math.Max(v, 0)+low, math.Max(-v, 0)+low, math.Abs(v)
	}
	return x
}

// talksOf lists the switchings of the drive, with what the reading did in the row of each
// and in the next, of a sensor that is fed with full.
func talksOf(t *signal.Trace, x [talkers][]float64, full float64) []talk {
	usual := 0.0
	for _, v := range x[byCurrent] {
		usual = math.Max(usual, v)
	}
	if !(usual > 0) {
		return nil
	}
	v := t.Feedback.Mean
	// undriven is the reading about a bin without what is put on it, where the drive rests
	// before or after.
	undriven := func(i int) (u float64, rest bool) {
		switch {
		case x[byCurrent][i-2] < 0.4*usual:
			return float64(v[i-2]), true
		case x[byCurrent][i] < 0.4*usual:
			return float64(v[i]), true
		}
		return 0, false
	}
	top := full
	for i := range v {
		if u := float64(v[i]); x[byCurrent][i] < 0.4*usual && u > top {
			top = u
		}
	}
	switched := func(i int) bool { return math.Abs(x[bySign][i]-x[bySign][i-1]) > 0.4*usual }
	var quiet, rest []float64
	var rows []int
	along := 0.0 // V of travel, with the sign that the drive has
	for i := 2; i < len(v); i++ {
		switch step := math.Abs(float64(v[i] - v[i-1])); {
		case math.IsNaN(step) || lapse(t.Time[i], t.Time[i-2]) > 5*t.Step || atRailOf(t, i) || atRailOf(t, i-1):
		case switched(i) || switched(i-1):
			rows = append(rows, i)
		default:
			quiet = append(quiet, step)
			if x[byCurrent][i] < 0.4*usual {
				rest = append(rest, step)
			}
			along += float64(v[i]-v[i-1]) * x[bySign][i]
		}
	}
	if len(rows) > longestTalks || len(quiet) < 4*len(rows) || len(rest) == 0 {
		return nil // pulses
	}
	spread := t.Feedback.Stats.Max - t.Feedback.Stats.Min
	moves, noise := quantileOf(quiet, 0.99), quantileOf(rest, 0.95)+t.Feedback.Stats.Quantum
	sense := math.Copysign(1, along)
	out := make([]talk, 0, len(rows))
	for _, i := range rows {
		a := talk{by: float64(v[i] - v[i-1]), free: Interval{-noise, noise}}
		lo, hi := outer(v[max(0, i-4):i], 1)
		held := x[byCurrent][i] < 0.4*usual && hi-lo < noise // and let go
		for j := max(0, i-3); j <= i; j++ {
			switch d := sense * x[bySign][j]; {
			case math.Abs(d) < 0.4*usual:
			case held && d > 0: // it may come back from a stop that gives
				a.free.From = -noise - springBack*spread
			case held:
				a.free.To = noise + springBack*spread
			case d > 0: // it goes as it is or was driven
				a.free.To = moves
			default:
				a.free.From = -moves
			}
		}
		u, rest := undriven(i)
		r := math.Min(1, math.Max(0, u/top))
		a.soft, a.rest = r*(1-r), rest
		for lag := range a.from {
			for s := range x {
				a.from[lag][s] = x[s][i-lag] - x[s][i-lag-1]
			}
		}
		out = append(out, a)
	}
	return out
}

// unexplainedBy is what a story leaves of the changes beyond what shaft and noise can have done.
func unexplainedBy(all []talk, k float64, source func(*talk) float64) (left float64) {
	for i := range all {
		a := &all[i]
		left += a.beyond(a.by - k*source(a))
	}
	return left
}

// fitTalk is the share of a source that leaves least of the changes, and what it leaves:
// the sum is convex in the share, so cutting it finds both ends of the shares that leave as
// little. The middle of these is the least biased, for shaft and noise may have done anything
// that they can.
func fitTalk(all []talk, source func(*talk) float64) (k, left float64) {
	const cuts = 60
	most := 0.0
	for i := range all {
		if x := math.Abs(source(&all[i])); x > 0 {
			most = math.Max(most, math.Abs(all[i].by)/x)
		}
	}
	end := func(higher bool) float64 {
		lo, hi := -most, most
		for range cuts {
			a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
			if by := unexplainedBy(all, a, source) - unexplainedBy(all, b, source); by < 0 || by == 0 && !higher {
				hi = b
			} else {
				lo = a
			}
		}
		return (lo + hi) / 2
	}
	k = (end(false) + end(true)) / 2
	return k, unexplainedBy(all, k, source)
}

// madeBy counts the changes that nothing but the source can have made.
func madeBy(all []talk, k float64, source func(*talk) float64) (n int) {
	for i := range all {
		if a := &all[i]; a.beyond(k*source(a)) > 0 && a.beyond(a.by) > 0 {
			n++
		}
	}
	return n
}

// atRailOf tells whether the reading lies at the end of its channel in a bin, as in the
// bins about it: there it does not show what is put on it.
func atRailOf(t *signal.Trace, i int) bool {
	v, st := t.Feedback.Mean, &t.Feedback.Stats
	if v[i] != float32(st.Min) && v[i] != float32(st.Max) {
		return false
	}
	return i > 1 && v[i-1] == v[i] && v[i-2] == v[i] || i+2 < len(v) && v[i+1] == v[i] && v[i+2] == v[i] || i > 0 && i+1 < len(v) && v[i-1] == v[i] && v[i+1] == v[i]
}

// dropTalk gives the trace without a share of a source on its feedback, in bins of which
// so many are late. What the source holds at the end of the channel is not known: the shaft
// is taken to have gone evenly meanwhile.
func dropTalk(t *signal.Trace, source []float64, share float64, late int) *signal.Trace {
	out := *t
	f := &out.Feedback
	f.Mean, f.Min, f.Max = slices.Clone(f.Mean), slices.Clone(f.Min), slices.Clone(f.Max)
	known := -1
	for i := range f.Mean {
		x := share * source[max(0, i-late)]
		if atRailOf(t, i) && (x < 0) == (t.Feedback.Mean[i] == float32(f.Stats.Min)) && math.Abs(x) > f.Stats.Quantum {
			continue
		}
		for _, v := range [][]float32{f.Mean, f.Min, f.Max} {
			v[i] -= float32(x)
			for j := known + 1; j < i; j++ {
				v[j] = v[i]
				if known >= 0 {
					v[j] = v[known] + (v[i]-v[known])*float32(t.Time[j]-t.Time[known])/float32(t.Time[i]-t.Time[known])
				}
			}
		}
		known = i
	}
	for i := known + 1; i < len(f.Mean) && known >= 0; i++ {
		f.Mean[i], f.Min[i], f.Max[i] = f.Mean[known], f.Min[known], f.Max[known]
	}
	return &out
}
