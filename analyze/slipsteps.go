package analyze

import (
	"math"
	"sort"

	"threewire/analyze/stats"
)

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

// straighter is what the line must get to scatter by where the reading has crept to it, as a
// share of what it scattered by: half of the squares.
const straighter = 0.7

// settledStep measures the step between two bins, and where the reading creeps to its
// new line, by the line after that.
func (w *work) settledStep(k, j int) (offset, bool) {
	before := w.lineBefore(k)
	s, ok := w.stepFrom(before, j)
	if !ok || !w.straightens(j, straighter*s.after) {
		return s, ok
	}
	var later []offset
	straight := math.Inf(1)
	for e := j + 1; e < len(w.t) && lapse(w.t[e], w.t[j]) <= settling; e++ {
		if l, ok := w.stepFrom(before, e); ok && l.size*s.size > 0 && math.Abs(l.size) > math.Abs(s.size) {
			later = append(later, l)
			straight = math.Min(straight, l.after)
		}
	}
	if straight > straighter*s.after {
		return s, true
	}
	for _, l := range later {
		if l.after <= 1.5*straight {
			return l, true
		}
	}
	return s, true
}

// straightens tells whether one of the lines that begin while a filter settles after bin j
// may scatter by no more than the given V. Lines that begin near one another have most of
// their rows in common, and none of them comes nearer to these than their own line does: a
// few fits tell that of nearly every step that is noise.
func (w *work) straightens(j int, most float64) bool {
	const pieces = 4 // of the begins: each leaves five sixths of besideStep in common
	last := j + sort.Search(len(w.t)-j-1, func(i int) bool { return lapse(w.t[j+1+i], w.t[j]) > settling })
	for a := j + 1; a <= last; {
		b := min(a+(last-j-1)/pieces, last)
		from, to := b, w.lineAfter(a)
		if to-from < 3 {
			return true
		}
		l, ok := stats.FitLine(w.t[from:to+1], w.v[from:to+1])
		longest := float64(w.lineAfter(b) - a + 1)
		if !ok || l.Residual*math.Sqrt(float64(l.N-2)/(longest-2)) <= most {
			return true
		}
		a = b + 1
	}
	return false
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

// lineAfter is the last bin of the line that begins in bin j.
func (w *work) lineAfter(j int) int {
	later := w.t[j+1:]
	return j + sort.Search(len(later), func(i int) bool { return lapse(later[i], w.t[j]) >= besideStep })
}

// stepFrom measures the step from the end of a line to bin j.
func (w *work) stepFrom(before leadLine, j int) (s offset, ok bool) {
	b := w.lineAfter(j)
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
