package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/signal"
)

// dropProbes takes out of the logged reference and supply the stretches in
// which the instrument's own clip had come off: the channel falls to nothing
// and the actuator goes on as if it had not. What a wiper gives is a share of
// its reference, so a reading that stays above the reference, or does not fall
// with it, has not lost it; and no motor runs from a supply that is not there.
func (w *work) dropProbes() {
	t := *w.tr
	if r := t.Reference; r != nil && r.Unit == t.Feedback.Unit {
		t.Reference = w.withoutSlips(r, "reference", w.wiperHasReference)
	}
	if s := t.Supply; s != nil {
		t.Supply = w.withoutSlips(s, "supply", w.motorHasSupply)
	}
	w.tr = &t
	w.refLevel, w.refLost = memo[float64]{}, memo[bool]{} // of a channel with other rows
}

// withoutSlips gives the channel without the stretches below half its median in
// which what it feeds goes on; the channel itself where there are none, nil
// where no more than a tenth of it is left.
func (w *work) withoutSlips(s *signal.Series, name string, goesOn func(from, to int, usual float64) bool) *signal.Series {
	usual := medianOf(upper(s.Mean))
	if !(usual > 0) {
		return s
	}
	out := *s
	cut := 0
	var when Interval
	for i := 0; i < len(s.Mean); {
		if !(float64(s.Mean[i]) < 0.5*usual) {
			i++
			continue
		}
		j := i
		low := math.Inf(1)
		for j < len(s.Mean) && !(float64(s.Mean[j]) >= 0.5*usual) {
			low = math.Min(low, float64(s.Mean[j]))
			j++
		}
		// A clip that is off reads nothing; what is left of a supply is a fault.
		if low < 0.1*usual && goesOn(i, j, usual) {
			if cut == 0 {
				out.Mean, out.Min, out.Max = slices.Clone(s.Mean), slices.Clone(s.Min), slices.Clone(s.Max)
				when = Interval{w.t[i], w.t[j-1]}
			}
			when = when.widen(w.t[j-1])
			for k := i; k < j; k++ {
				nan := float32(math.NaN())
				out.Mean[k], out.Min[k], out.Max[k] = nan, nan, nan
			}
			cut += j - i
		}
		i = j
	}
	if cut == 0 {
		return s
	}
	w.notes = append(w.notes, fmt.Sprintf("the %s channel reads nothing from %.1f to %.1f s while the actuator goes on: its clip came off, and what it shows there was left out", name, when.From, when.To))
	if 10*(len(s.Mean)-cut) < len(s.Mean) {
		return nil
	}
	return &out
}

// upper is the upper half of the numbers of a channel.
func upper(x []float32) []float64 {
	var s []float64
	for i := 0; i < len(x); i += max(1, len(x)/20000) {
		if f := float64(x[i]); !math.IsNaN(f) {
			s = append(s, f)
		}
	}
	slices.Sort(s)
	return s[len(s)/2:]
}

// wiperHasReference tells whether the reading over bins [from, to) says that
// the sensor has its reference although the channel shows none: it stays above
// what is shown, or does not fall when that does.
func (w *work) wiperHasReference(from, to int, usual float64) bool {
	v := w.tr.Feedback.Mean
	above := 0
	for i := from; i < to; i++ {
		if float64(v[i]) > 0.5*usual {
			above++
		}
	}
	if 2*above > to-from {
		return true
	}
	// At the moment it goes, or comes back.
	stays := func(a, b int) bool { // bins before and after
		x, y := float64(v[a]), float64(v[b])
		return x > 0.05*usual && math.Abs(y-x) < 0.2*x
	}
	held, edges := 0, 0
	if from > 0 && to-from > 2 {
		edges++
		if stays(from-1, min(to-1, from+3)) {
			held++
		}
	}
	if to < len(v) && to-from > 2 {
		edges++
		if stays(to, max(from, to-3)) {
			held++
		}
	}
	return edges > 0 && held == edges
}

// motorHasSupply tells whether the motor is fed over bins [from, to) although
// the supply's channel shows none: the drive is there, or, where it was logged
// as a direction only, the reading goes on moving with it.
func (w *work) motorHasSupply(from, to int, usual float64) bool {
	driven, moved := 0, 0.0
	for i := from; i < to; i++ {
		switch {
		case w.d.pol[i] == 0:
		case !w.tr.DriveIsPolarity && math.Abs(w.d.mean[i]) > 0.5*usual:
			driven++
		}
	}
	if w.tr.DriveIsPolarity {
		for a := from; a < to; {
			if w.d.pol[a] == 0 {
				a++
				continue
			}
			b := a
			for b < to && w.d.pol[b] == w.d.pol[a] {
				b++
			}
			moved = math.Max(moved, math.Abs(float64(w.tr.Feedback.Mean[b-1])-float64(w.tr.Feedback.Mean[a])))
			a = b
		}
		return moved > 0.05*w.reference()
	}
	return float64(driven)*w.tr.Step > 0.1
}

// clipOff is the bin at which the feedback's clip was taken off, or the ignition
// switched off, before the recording was stopped, the number of bins where it was not: after the last
// drive the reading falls to nothing at once and stays there, for a moment of
// the whole. Nothing is driven any more, so nothing tells what else it could be.
func (w *work) clipOff() int {
	const runDown = 3.0 // s
	v, n := w.tr.Feedback.Mean, w.tr.Len()
	ref := w.reference()
	nothing := func(x float32) bool { return math.Abs(float64(x)) < wiperMargin*ref || math.IsNaN(float64(x)) } // as in unfed
	e := n
	for e > 0 && nothing(v[e-1]) && w.d.pol[e-1] == 0 {
		e--
	}
	if e == n || e < 8 || lapse(w.t[n-1], w.t[e]) > math.Max(5, 0.1*w.tr.Duration()) {
		return n
	}
	// A filter at the input lets it down over some rows, the capacitors of a control
	// that is switched off over a second or two: all the way down, without a drive.
	fell := w.t[e]
	for e > 8 && w.d.pol[e-1] == 0 && fell-w.t[e-1] < runDown {
		a := max(4, min(e-3, indexAt(w.t, w.t[e-1]-0.1)))
		if float64(v[e-1]) > 0.9*medianSmall(filled(v[max(0, a-4):a+1])) {
			break
		}
		e--
	}
	// From a level that was one.
	if before := medianSmall(filled(v[max(0, e-5):e])); before < aboveNothing*ref {
		return n
	}
	return e
}

// unfed is the first bin at which the sensor has its supply and the instrument
// the sensor, 0 where they have from the start: a recording begins before the
// ignition is switched on, before the plug is pushed home or before the clip sits.
// Up to there nothing was driven and the reading lies at a rail, where no wiper
// is, then it goes to its place and stays. A plug that is pushed home chatters
// for a moment.
func (w *work) unfed() int {
	const settling = 0.3 // s, of a filter at the input or of a meter that averages
	const chatter = 1.0  // s
	v, n := w.tr.Feedback.Mean, w.tr.Len()
	ref := w.reference()
	// Below and above where wipers are; one that does rest up there leaves it by a
	// drive.
	top := slices.ContainsFunc(v[:min(n, 8)], func(x float32) bool { return float64(x) > (1-wiperMargin)*ref })
	nothing := func(i int) bool {
		x := math.Abs(float64(v[i]))
		return math.IsNaN(x) || top && x > (1-wiperMargin)*ref || !top && x < wiperMargin*ref
	}
	b := 0
	for b < n && w.d.pol[b] == 0 && nothing(b) {
		b++
	}
	if b == 0 || b > n-8 || w.d.pol[b] != 0 {
		return 0
	}
	for i := b; i < n-8 && lapse(w.t[i], w.t[b]) < chatter && w.d.pol[i] == 0; i++ {
		if nothing(i) {
			b = i + 1
		}
	}
	if w.d.pol[b] != 0 {
		return 0
	}
	at := w.t[b]
	for b < n-8 && lapse(w.t[b], at) < settling && w.d.pol[b] == 0 {
		level := medianSmall(filled(v[b : b+3]))
		if math.Abs(medianSmall(filled(v[b+3:b+8]))-level) < 0.02*ref && !nothing(b) {
			break
		}
		b++
	}
	// Whatever came up in the first moment of a row was on its way still.
	b = min(b+1, n-8)
	stays := 0
	for i := b; i < n && lapse(w.t[i], at) < 1; i++ {
		switch {
		case math.IsNaN(float64(v[i])): // an empty cell
		case nothing(i):
			return 0
		default:
			stays++
		}
	}
	if stays < 2 {
		return 0
	}
	return b
}
