package analyze

import (
	"cmp"
	"math"
	"slices"

	"threewire/analyze/stats"
)

// state is what the feedback does under drive, relative to the nominal rate.
type state uint8

const (
	track state = iota // follows the drive
	still              // stands
	fast               // leads faster than the motor can turn
	back               // goes against the drive
)

// segment is a run of bins of one state inside a move.
type segment struct {
	first, last int // bins [first, last)
	state       state
}

// A senseVote is what a stroke, or pulses of one polarity together, say of the sense.
type senseVote struct {
	first    int     // row
	polarity int8    // of the drive
	dv       float64 // Capture.Unit, the way of the reading
	leapt    bool    // it leapt more than there and back, or dv is less than half of its range
}

// votes lists the strokes that moved the reading, and no faster than a shaft goes.
func (w *work) votes() (list []senseVote) {
	const ends = 5 // rows of a median at either end of a stroke with leaps
	leaps := w.listLeaps()
	for i := 0; i < len(w.moves); {
		// Pulses of one polarity count together: alone they may be too short to
		// show.
		j, driven := i, 0.0
		for j < len(w.moves) && w.moves[j].Polarity == w.moves[i].Polarity {
			driven += w.moves[j].Duration()
			j++
		}
		first, last := w.moves[i].first, w.moves[j-1].last
		one := i == j-1
		polarity := w.moves[i].Polarity
		i = j
		// Net change in the inner part of the stroke, from medians of its
		// quarters, so that one wild reading at an end does not vote; of pulses,
		// from before the first to after the last.
		q := max(1, (last-first)/4)
		dv := medianOf(w.v[last-q:last]) - medianOf(w.v[first:first+q])
		if !one {
			about := max(1, w.rows(0.1))
			dv = medianOf(w.v[last-1:min(len(w.v), last+about)]) - medianOf(w.v[max(0, first-about):first+1])
		}
		// What is faster than any actuator is a leap of the reading and says
		// nothing about the sense: what it did between them does. Leaps that add up to
		// twice the whole range of the reading there are not all of them: of a loss that came
		// and went, some of the ways back were slower.
		lo, hi := extremes(w.v[first:last])
		leapt, n := leapsIn(leaps, w.t[first], w.t[min(last, len(w.t)-1)])
		if n > 0 && math.Abs(leapt) < 2*(hi-lo) {
			if last-first >= 2*ends {
				// One among the last rows is not in their median, one among the first is.
				leapt, _ = leapsIn(leaps, w.t[first+ends/2], w.t[last-1-ends/2])
			}
			dv = medianSmall(w.v[max(first, last-ends):last]) - medianSmall(w.v[first:min(last, first+ends)]) - leapt
		}
		if math.Abs(dv) < w.tol || math.Abs(dv) > 0.75*driven*w.ref/fastestTransit {
			continue
		}
		list = append(list, senseVote{first, polarity, dv, n > 2 || n > 0 && 2*math.Abs(dv) < hi-lo})
	}
	return list
}

// senseOf finds which way positive drive moves the feedback, by the
// travel-weighted vote of the moves. It returns 0 when nothing moved, and the
// share of travel that agrees.
func (w *work) senseOf() (int, float64) {
	plus, minus := 0.0, 0.0
	for _, v := range w.votes() {
		if v.dv*float64(v.polarity) > 0 {
			plus += math.Abs(v.dv)
		} else {
			minus += math.Abs(v.dv)
		}
	}
	switch {
	case plus == 0 && minus == 0:
		return 0, 0
	case plus >= minus:
		return 1, plus / (plus + minus)
	}
	return -1, minus / (plus + minus)
}

// leapsIn adds up the leaps between two times, and counts them.
func leapsIn(all []leap, from, to float64) (sum float64, n int) {
	for _, l := range all {
		if l.at > from && l.at <= to {
			sum += l.after - l.before
			n++
		}
	}
	return sum, n
}

// fastestTransit is less time, in s, than any door actuator needs for the whole
// range of its sensor (common practice, no source: 3 to 15 s): what is faster
// is a jump of the reading.
const fastestTransit = 1.0

// A rateVote is what one move or window of it says of the usual rate, V/s, and how much
// that counts.
type rateVote struct{ rate, weight float64 }

// quantileOfVotes is the rate up to which the share q of all weight lies; 0 of none. It
// leaves the votes in another order.
func quantileOfVotes(votes []rateVote, q float64) float64 {
	slices.SortFunc(votes, func(a, b rateVote) int { return cmp.Compare(a.rate, b.rate) })
	total, sum := 0.0, 0.0
	for _, x := range votes {
		total += x.weight
	}
	for _, x := range votes {
		if sum += x.weight; sum >= total*q {
			return x.rate
		}
	}
	return 0
}

// nominalRates finds the usual driven rate in each direction: over the travel,
// the 65 % quantile of the local rate at full drive, in windows in which the feedback
// clearly follows the drive. A direction without travel
// takes the other's rate.
func (w *work) nominalRates() {
	// First guess: the median of the moves' net rates, weighted by time, so
	// that many short strokes do not outvote the sweeps.
	var net []rateVote
	for _, m := range w.moves {
		if d := m.Duration(); d > 0 && m.last-m.first >= 3 {
			lo, hi := extremes(w.v[m.first:m.last])
			if dv := math.Min(math.Abs(w.v[m.last-1]-w.v[m.first]), hi-lo); dv > 2*w.tol && dv < d*w.ref/fastestTransit {
				net = append(net, rateVote{dv / d, d})
			}
		}
	}
	guess := quantileOfVotes(net, 0.5)
	if guess == 0 {
		return
	}
	blur := w.slopeBlur()
	for range 2 { // the second round uses a window that fits the found rate
		votes := w.localRates(guess, blur)
		for i := range votes {
			// Two thirds of the way: a door that binds over half of the travel
			// must not set the pace.
			w.rate[i] = quantileOfVotes(votes[i], 0.65)
		}
		guess = math.Max(w.rate[0], w.rate[1])
		if guess == 0 {
			return
		}
	}
	for i := range w.rate {
		if w.rate[i] == 0 {
			w.rate[i] = w.rate[1-i]
		}
	}
	w.window = w.rateWindow(guess)
	w.sway = w.restSlope(w.window)
}

// localRates are the votes, by side, of the windows of all moves, about a guess of the
// rate in V/s; blur is the standard error of a slope over so many bins.
func (w *work) localRates(guess float64, blur func(bins int) float64) [2][]rateVote {
	var votes, blurred [2][]rateVote
	n := w.rateWindow(guess)
	for i := range w.moves {
		m := &w.moves[i]
		if m.last-m.first < 3 || m.DriveMean == 0 {
			continue
		}
		f := w.fit(m)
		size, gain := m.last-m.first, math.Abs(m.DriveMean)/w.d.amp
		k := min(n, size)
		for a := 0; a+k <= size; a += max(1, k/2) {
			slope, _, _ := f.line(a, a+k)
			r := slope * float64(m.Direction) / gain
			// A window holds two steps of the converter; in one that a short move cuts
			// off, a single step looks like a speed, and a high one.
			if k < n && r*gain*w.tr.Step*float64(k) < 2*w.quantum || !(r > 0.25*guess && r*gain < w.ref/fastestTransit) {
				continue
			}
			// The travel counts, not the time: a place where the door
			// binds takes long, and the motor's own pace is what it
			// does elsewhere. A jump, however high, is few votes.
			vote := rateVote{r, math.Min(r, 4*guess)}
			// In a window that a short move cuts off, noise or hum alone may
			// pass for a vote, and for a high one.
			if d := side(m.Direction); k < n && blur(k) > 0.25*guess*gain {
				blurred[d] = append(blurred[d], vote)
			} else {
				votes[d] = append(votes[d], vote)
			}
		}
	}
	if len(votes[0])+len(votes[1]) == 0 {
		return blurred
	}
	return votes
}

// slopeNoise is the standard error, in V/s, of the slope of a least-squares line through n
// readings, step s apart, of independent noise, V.
func slopeNoise(noise float64, n int, step float64) float64 {
	k := float64(n)
	return noise * math.Sqrt(12/(k*k*k)) / step
}

// slopeBlur gives the standard error of the slope, in V/s, over so many bins: that of
// independent noise, or how steep the reading gets by itself at rest, by the middle of
// the windows there: a leap in a few of them is no hum.
func (w *work) slopeBlur() func(bins int) float64 {
	known := map[int]float64{}
	return func(bins int) float64 {
		b, ok := known[bins]
		if !ok {
			b = slopeNoise(w.moving(), bins, w.tr.Step)
			if steep := w.restSlopes(bins); len(steep) >= 5 {
				for i := range steep {
					steep[i] = math.Abs(steep[i])
				}
				b = math.Max(b, stats.MADScale*medianIn(steep))
			}
			known[bins] = b
		}
		return b
	}
}

// rateWindow is the number of bins (odd) of the regression that measures a
// local rate. The slope of n readings of scatter s spaced h has the standard
// error s*sqrt(12/n^3)/h; the window is as short as keeps that below 4 % of
// the nominal rate, a quarter of what counts as standing, and holds two converter steps, but
// never longer than 6 % of the visible range, so that places stay apart, or than those two
// steps where they are wider: in less, a staircase of even steps stands and leaps.
func (w *work) rateWindow(rate float64) int {
	lo, hi := outer(w.tr.Feedback.Mean, 3)
	n, most := windowRows(w.moving(), w.quantum, rate, w.tr.Step, hi-lo)
	// Hum and wander are no independent readings: what counts is how steep the
	// reading gets by itself while nothing drives.
	for w.restSlope(max(3, int(math.Ceil(n))|1)) > 0.04*rate && n < most {
		n = math.Min(1.25*n+1, most)
	}
	return max(3, int(math.Ceil(n))|1)
}

// restSlope is the rms slope of the reading in windows of n bins at rest, in
// V/s; 0 when fewer than five such windows were found.
func (w *work) restSlope(n int) float64 {
	slopes := w.restSlopes(n)
	if len(slopes) < 5 {
		return 0
	}
	sum := 0.0
	for _, x := range slopes {
		sum += x * x
	}
	return math.Sqrt(sum / float64(len(slopes)))
}

// restSlopes lists the slopes, in V/s, in windows of n bins at rest, of at most 400.
func (w *work) restSlopes(n int) []float64 {
	var slopes []float64
	settle := w.rows(restAfter) + 1
	quiet := 0 // bins since the drive, settling time taken off
	next := 0
	for i, p := range w.d.pol {
		if p != 0 {
			quiet = -settle
			continue
		}
		if quiet++; quiet < n || i < next {
			continue
		}
		next = i + max(1, n/2)
		slope, _ := straightLine(w.t[i-n+1:i+1], w.v[i-n+1:i+1])
		if slopes = append(slopes, slope); len(slopes) >= 400 {
			break
		}
	}
	return slopes
}

// fit is the move's fitter, made once.
func (w *work) fit(m *Move) *fitter {
	if m.fitted == nil {
		m.fitted = newFitter(w.t[m.first:m.last], w.v[m.first:m.last])
	}
	return m.fitted
}

// visible is the least travel, in V, that a run of readings shows: noise
// averaged over a rate window, and one converter step.
func (w *work) visible() float64 {
	return 3*w.noise/math.Sqrt(math.Max(1, float64(w.window)/4)) + 1.01*w.quantum
}

// settle takes back a run of track too small to be motion: less than noise
// and one converter step allow. It joins the stand beside it, and so does what a
// stop, or what lies in the way, pushes the shaft back by as the drive dies away.
func (w *work) settle(segs []segment) []segment {
	least := w.visible()
	var out []segment
	for i, s := range segs {
		limit := least
		if i > 0 && i == len(segs)-1 {
			// After a long stall the chance of one stray window is not small:
			// the last word of a move must be as clear as a single reading.
			limit = math.Max(least, w.tol)
		}
		if (s.state == track || s.state == back && i == len(segs)-1) && len(segs) > 1 && math.Abs(w.smooth[s.last-1]-w.smooth[s.first]) < limit &&
			(i > 0 && segs[i-1].state == still || i+1 < len(segs) && segs[i+1].state == still) {
			s.state = still
		}
		if n := len(out); n > 0 && out[n-1].state == s.state {
			out[n-1].last = s.last
			continue
		}
		out = append(out, s)
	}
	return out
}

// measure fills in the move's own numbers from its segments.
func (w *work) measure(m *Move) {
	edge := max(1, min(w.window/2, (m.last-m.first)/4))
	m.Start = medianOf(w.v[m.first : m.first+edge])
	m.End = medianOf(w.v[m.last-edge : m.last])
	dur := func(s segment) float64 {
		return lapse(endOf(w.t, s.last, w.tr.Step), w.t[s.first])
	}
	travel := 0.0
	for i, s := range m.segs {
		switch s.state {
		case track:
			m.Moving += dur(s)
			travel += math.Abs(w.v[s.last-1] - w.v[s.first])
		case still:
			if i == 0 && len(m.segs) > 1 {
				m.Delay = dur(s)
			}
			if i == len(m.segs)-1 {
				m.Stalled = dur(s)
			}
		}
	}
	if m.Moving > 0 {
		m.Rate = travel / m.Moving
	}
	// Coast: what the feedback still does in the 0.3 s after the drive.
	end := m.last
	for end < len(w.t) && w.d.pol[end] == 0 && lapse(w.t[end], w.t[m.last-1]) < 0.3 {
		end++
	}
	if end-m.last >= 3 {
		m.Coast = float64(m.Direction) * (medianOf(w.v[end-min(edge, end-m.last):end]) - m.End)
	}
}
