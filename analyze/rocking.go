package analyze

import (
	"math"
	"slices"
)

// A rocking is a stretch of constant polarity in which the reading climbs and
// falls back again and again and gets nowhere: gear teeth that let go at a
// stop, one after the other. The bins are [first, last).
type rocking struct {
	first, last int
	falls       []fall
}

// leastFalls is the fewest falls in a row that are a rocking: one or two are
// the bounce of a stop.
const leastFalls = 3

// findRockings looks for them in the whole capture. Single falls within a few
// bins are [work.falls]; here the falls may take as long as the climbs, as they
// do behind an input filter or with a slow logger. Pulses of one polarity are
// one drive.
func (w *work) findRockings() {
	if w.span.Width() <= 0 {
		return
	}
	height := w.leastSwing()
	var lone []rocking
	for i := 0; i < len(w.moves); {
		j := i + 1
		for j < len(w.moves) && w.moves[j].Polarity == w.moves[i].Polarity && w.moves[j].Time.From-w.moves[j-1].Time.To < 0.3 {
			j++
		}
		if w.moves[i].Direction != None {
			lone = append(lone, w.rockingIn(i, j, height)...)
		}
		i = j
	}
	lone = slices.DeleteFunc(lone, w.onlyNoise)
	w.pool(lone)
	w.findTurnedBack(height)
	if len(w.rockings) > 0 && w.swingsElsewhere(height) {
		w.rockings = nil
	}
	w.findSetbacks()
}

// leastSwing is the least swing, in V, that noise and a converter do not make. The
// extremes of a thousand readings of noise lie 6.5 sigma apart, and rounding moves
// either by half a step. What rounding adds to the measured noise, a twelfth of a step
// squared, is not counted a second time.
func (w *work) leastSwing() float64 {
	noise := math.Max(w.noise, w.pressedNoise())
	noise = math.Sqrt(math.Max(0, noise*noise-w.quantum*w.quantum/12))
	return math.Max(w.tol, 8*noise+2*w.quantum)
}

// onlyNoise tells whether the falls of a rocking are no larger than the extremes of the
// noise about them, which is larger where a motor stalls than where it rests or runs.
// Teeth of few rows each are their own noise and cannot be told so.
func (w *work) onlyNoise(r rocking) bool {
	const rows = 6 // a tooth of as many has a second difference of noise in most of them
	n := r.last - r.first
	if len(r.falls) == 0 || n < rows*len(r.falls) {
		return false
	}
	var size []float64
	for _, f := range r.falls {
		size = append(size, f.size)
	}
	return medianOf(size) < 6.5*w.scatterIn(r.first, r.last)
}

// A swing is one way of a zigzag, from its start to its far end.
type swing struct {
	from, to int     // bins
	rise     float64 // V, signed in the direction of the drive
}

// zigzag lists the swings of v over [a, b), times sign, that are turned back
// by at least height.
func zigzag(v []float64, a, b int, sign, height float64) []swing {
	var out []swing
	top, low := a, a // of the swing that is under way
	up := 0
	from := a
	for i := a; i < b; i++ {
		x := sign * v[i]
		if x > sign*v[top] {
			top = i
		}
		if x < sign*v[low] {
			low = i
		}
		switch {
		case up >= 0 && sign*v[top]-x >= height:
			if up > 0 {
				out = append(out, swing{from, top, sign * (v[top] - v[from])})
			}
			from, up, low = top, -1, i
		case up <= 0 && x-sign*v[low] >= height:
			if up < 0 {
				out = append(out, swing{from, low, sign * (v[low] - v[from])})
			}
			from, up, top = low, 1, i
		}
	}
	return out
}

// rockingIn adds the rockings of the drive over moves [i, j), and returns the
// lone falls.
func (w *work) rockingIn(i, j int, height float64) (lone []rocking) {
	a, b := w.moves[i].first, w.moves[j-1].last
	sign := float64(w.moves[i].Direction)
	r := w.rate[side(w.moves[i].Direction)]
	if r <= 0 || b-a < 4*leastFalls {
		return nil
	}
	s := zigzag(w.v, a, b, sign, height)
	// The climbs between falls are of one size with them and no faster than the
	// motor; the falls are not slower than the motor would have climbed: teeth
	// snap back.
	falls := func(k int) bool {
		if k < 0 || k >= len(s) || s[k].rise >= 0 {
			return false
		}
		return lapse(w.t[s[k].to], w.t[s[k].from]) <= 1.5*-s[k].rise/r+2*w.tr.Step
	}
	climbs := func(k int) bool {
		fall, up := -s[k-1].rise, w.t[s[k].to]-w.t[s[k].from]
		return s[k].rise > 0.5*fall && s[k].rise < 2*fall && s[k].rise <= w.lim.Fast*r*(up+w.tr.Step)
	}
	for k := 0; k < len(s); k++ {
		if !falls(k) {
			continue
		}
		n := k // the last fall
		for n+2 < len(s) && climbs(n+1) && falls(n+2) {
			n += 2
		}
		var size []float64
		for q := k; q <= n; q += 2 {
			size = append(size, -s[q].rise)
		}
		got := len(size)
		whole := math.Abs(w.v[s[n].to] - w.v[s[k].from])
		// One tooth takes as long as the next; chatter does not.
		var gaps []float64
		for q := k + 2; q <= n; q += 2 {
			gaps = append(gaps, w.t[s[q].from]-w.t[s[q-2].from])
		}
		// Nor does the motor climb back more in all than it can turn.
		climbed := 0.0
		for q := k + 1; q < n; q += 2 {
			climbed += s[q].rise
		}
		if got > 4 && quantileOf(gaps, 0.75) > 2*quantileOf(gaps, 0.25)+w.tr.Step || got >= leastFalls && climbed > 1.2*r*(w.t[s[n].from]-w.t[s[k].to]) {
			k = n
			continue
		}
		if got >= leastFalls && quantileOf(size, 0.75) < 2.5*quantileOf(size, 0.25) && whole < 0.5*float64(got)*medianOf(size) {
			x := rocking{first: s[k].from, last: s[n].to + 1}
			// A stop pushes back after each pulse that presses against it.
			if pulses := w.moveAt(s[n].to, i, j) - w.moveAt(s[k].from, i, j) + 1; pulses >= leastFalls && 2*got > pulses {
				k = n
				continue
			}
			for q := k; q <= n; q += 2 {
				x.falls = append(x.falls, fall{w.moveAt(s[q].from, i, j), s[q].from, -s[q].rise})
			}
			w.rockings = append(w.rockings, x)
		} else if got < leastFalls && k > 0 && s[k-1].rise > -s[k].rise && w.climbedTo(s[k].from, a, sign, -s[k].rise, r) && w.climbsOn(s[k].to, b, sign, -s[k].rise, r) {
			x := rocking{first: s[k].from, last: s[n].to + 1}
			for q := k; q <= n; q += 2 {
				x.falls = append(x.falls, fall{w.moveAt(s[q].from, i, j), s[q].from, -s[q].rise})
			}
			lone = append(lone, x)
		}
		k = n
	}
	return lone
}

// climbsOn tells whether after a fall that ends at a bin the reading climbs
// again as the motor runs: by a quarter of the fall at least while the drive
// lasts, to bin b. An open wire that discharges does not.
func (w *work) climbsOn(bin, b int, sign, size, rate float64) bool {
	for i := bin + 1; i < b; i++ {
		up := sign * (w.v[i] - w.v[bin])
		if up < size/4 {
			continue
		}
		took := w.t[i] - w.t[bin]
		return i > bin+2 && up < w.lim.Fast*rate*took && up > rate*took/w.lim.Fast
	}
	return false
}

// climbedTo tells whether the motor climbed to the bin from which a fall of
// the given size begins, not before bin a: half of the time that the size
// takes earlier the reading was less than the size below. Where a wire opens
// and the reading leaps away it was not.
func (w *work) climbedTo(bin, a int, sign, size, rate float64) bool {
	i := bin
	for i > a && lapse(w.t[bin], w.t[i]) < size/rate/2 {
		i--
	}
	return sign*(w.v[bin]-w.v[i]) < 0.8*size
}

// pool keeps the lone falls that drive after drive come at one place and are
// of one size: a tooth that is worn lets go there each time. What a stop
// bounces by is a few percent of the travel at most (common practice, no
// source).
func (w *work) pool(lone []rocking) {
	for _, dir := range []Direction{Down, Up} {
		var sizes, at []float64
		var kept []rocking
		drives := 0
		for _, x := range lone {
			f := x.falls[0]
			if w.moves[f.move].Direction != dir || f.size < w.lim.EndZone*w.span.Width() {
				continue
			}
			kept = append(kept, x)
			drives++
			for _, f := range x.falls {
				sizes, at = append(sizes, f.size), append(at, w.v[f.bin])
			}
		}
		if drives < 2 || len(sizes) < leastFalls {
			continue
		}
		lo, hi := extremes(at)
		small, large := extremes(sizes)
		if hi-lo < medianOf(sizes) && large < 1.5*small {
			w.rockings = append(w.rockings, kept...)
		}
	}
}

// moveAt is the move of [i, j) that a bin lies in, or the last before it.
func (w *work) moveAt(bin, i, j int) int {
	k := i
	for k+1 < j && w.moves[k+1].first <= bin {
		k++
	}
	return k
}

// swingsElsewhere tells whether the reading swings as far and a quarter as
// often where no tooth can be the reason, while nothing drives or while the
// shaft runs: then it is interference. So it is where the swings are no larger
// than what a reading that wanders as it does there shows now and then: a fall
// is the difference of two readings, and three and a half deviations of that
// come once in 4,000. A running shaft's own way, the mean over two swings, is
// taken out first.
func (w *work) swingsElsewhere(height float64) bool {
	driven, falls := 0.0, 0
	var takes, sizes []float64
	for _, x := range w.rockings {
		for _, f := range x.falls {
			sizes = append(sizes, f.size)
		}
		driven += w.t[x.last-1] - w.t[x.first]
		falls += len(x.falls)
		takes = append(takes, (w.t[x.last-1]-w.t[x.first])/float64(len(x.falls)))
	}
	half := max(1, w.rows(medianOf(takes)))
	elsewhere, n, sum := 0.0, 0, 0.0
	count := func(a, b int, level bool) {
		if b-a <= 4 {
			return
		}
		y, from, to := w.v, a, b
		if !level {
			if b-a < 4*half {
				return
			}
			y = w.aboutMean(a, b, half)
			from, to = 0, len(y)
		}
		elsewhere += float64(to-from) * w.tr.Step
		n += len(zigzag(y, from, to, 1, height)) / 2
		mean := 0.0
		for i := from; i < to && level; i++ {
			mean += y[i] / float64(to-from)
		}
		for i := from; i < to; i++ {
			sum += (y[i] - mean) * (y[i] - mean) * w.tr.Step
		}
	}
	for i := 0; i < len(w.t); {
		if w.d.pol[i] != 0 {
			i++
			continue
		}
		j := i
		for j < len(w.t) && w.d.pol[j] == 0 {
			j++
		}
		// The shaft coasts first.
		a := i
		for a < j && i > 0 && lapse(w.t[a], w.t[i]) < restForPower {
			a++
		}
		count(a, j, true)
		i = j
	}
	for k := range w.moves {
		for _, g := range w.moves[k].segs {
			if g.state == track && !w.rocks(g.first, g.last) {
				count(g.first, min(g.last, len(w.v)), false)
			}
		}
	}
	return elsewhere > 0.5 && (float64(n)/elsewhere > 0.25*float64(falls)/driven || medianOf(sizes) < 3.5*math.Sqrt(2*sum/elsewhere))
}

// aboutMean is the reading of bins [a, b) less its mean over half bins to
// either side, without the ends where that mean is not whole.
func (w *work) aboutMean(a, b, half int) []float64 {
	if b-a <= 2*half {
		return nil
	}
	sum := 0.0
	for i := a; i < a+2*half; i++ {
		sum += w.v[i]
	}
	y := make([]float64, 0, b-a-2*half)
	for i := a + half; i+half < b; i++ {
		sum += w.v[i+half]
		y = append(y, w.v[i]-sum/float64(2*half+1))
		sum -= w.v[i-half]
	}
	return y
}

// rocks tells whether more than half of bins [a, b) lie in a rocking.
func (w *work) rocks(a, b int) bool {
	n := 0
	for _, x := range w.rockings {
		n += max(0, min(b, x.last)-max(a, x.first))
	}
	return b > a && 2*n > b-a
}
