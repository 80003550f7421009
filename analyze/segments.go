package analyze

import (
	"math"
)

// missingRows is how many usual intervals long one is in which rows are missing:
// as the reader's own gaps (signal.Trace.Gaps).
const missingRows = 3

// segmentMove labels every bin of a move with what the feedback does, by its
// local rate, and stores the runs. Single steps too large for the motor cut
// the regression, so that a jump does not smear into its surroundings.
func (w *work) segmentMove(m *Move) {
	n := m.last - m.first
	r := w.rate[side(m.Direction)]
	if n < 2 || r == 0 {
		m.segs = []segment{{m.first, m.last, still}}
		return
	}
	w.findGain(m)
	if n < w.window {
		// A pulse shorter than the rate can be measured in: it moved or it
		// did not.
		after := w.v[min(m.last, len(w.v)-1)]
		state := still
		if float64(m.Direction)*(after-w.v[m.first]) > 3*w.noise+w.quantum {
			state = track
		}
		m.segs = []segment{{m.first, m.last, state}}
		return
	}
	l := w.labeller(m, r)
	cut, missing := l.cuts()
	label := make([]state, n)
	f := w.fit(m)
	m.fitted = nil // the last use
	for c := 0; c+1 < len(cut); c++ {
		a, b := cut[c], cut[c+1]
		l.piece(label, f, a, b)
		if c == 0 || missing[a] {
			continue
		}
		w.smooth[m.first+a] = l.v[a]
		// The bin that arrived by a jump carries the jump's sign.
		if (l.v[a]-l.v[a-1])*l.sign > 0 {
			label[a] = fast
		} else {
			label[a] = back
		}
	}
	m.segs = w.tidy(m, label, cut)
	for i := range m.segs {
		if w.slowWay(m, m.segs[i]) {
			m.segs[i].state = track
		}
	}
}

// labeller is what it takes to label the bins of one move.
type labeller struct {
	w       *work
	m       *Move
	v, t    []float64 // V and s, of the move's bins
	rate    float64   // V/s, of a running shaft
	sign    float64   // of the move's direction
	pressed float64   // V rms, noise of a motor that stalls
	strays  float64   // V by which noise strays there
	wide    int       // bins in which a running shaft gets clear of strays
	tells   bool      // whether a stall can be told by its noise
}

// labeller prepares the labelling of a move whose shaft runs at rate r, V/s.
func (w *work) labeller(m *Move, r float64) *labeller {
	// longestStand is over how long, in s, a stand may be looked at: shorter ones matter.
	const longestStand = 0.5
	l := &labeller{w: w, m: m, v: w.v[m.first:m.last], t: w.t[m.first:m.last], rate: r, sign: float64(m.Direction), pressed: w.pressedNoise()}
	l.strays = w.lim.NoiseSigmas * math.Sqrt2 * l.pressed
	l.wide = max(w.window/2, int(0.75*l.strays/(r*w.tr.Step))+1)
	l.tells = l.pressed > w.moving() && 2*float64(l.wide)*w.tr.Step < longestStand
	return l
}

// standing tells the bins about which the reading does not get on: there the noise
// is that of a motor that stalls.
func (l *labeller) standing(i int) bool {
	if !l.tells {
		return false
	}
	a, b := max(0, i-l.wide), min(len(l.v)-1, i+l.wide)
	return math.Abs(l.v[b]-l.v[a]) < 0.3*l.rate*(l.t[b]-l.t[a])+l.strays
}

// cuts are the bins at which the regression is cut, with both ends, at steps beyond
// noise, that of a running motor, and beyond what the motor can turn; missing are
// those of them before which rows are missing.
func (l *labeller) cuts() (cut []int, missing map[int]bool) {
	w, n := l.w, len(l.v)
	tol := math.Max(w.tol, w.lim.NoiseSigmas*w.moving()+w.quantum)
	cut, missing = []int{0}, map[int]bool{}
	longest := math.Max(missingRows, float64(w.window)/4) * w.tr.Step
	for i := 1; i < n; i++ {
		// No line is laid over missing rows: nothing is known of them. What is shorter than a
		// part of its length a line would not show with all rows either.
		if l.t[i]-l.t[i-1] > longest {
			cut, missing[i] = append(cut, i), true
			continue
		}
		// Forward a step may hold the motor's own travel; backward none.
		dv := (l.v[i] - l.v[i-1]) * l.sign
		if math.Abs(dv) < w.lim.NoiseSigmas*l.pressed+w.quantum && l.standing(i) {
			continue
		}
		if dv > tol+1.5*w.lim.Fast*l.rate*(l.t[i]-l.t[i-1]) || dv < -tol {
			cut = append(cut, i)
		}
	}
	return append(cut, n), missing
}

// piece labels the bins from a to before b, between two cuts, by the lines of f.
func (l *labeller) piece(label []state, f *fitter, a, b int) {
	w, m, h := l.w, l.m, l.w.window/2
	for i := a; i < b; i++ {
		// At an edge the window stays whole and moves inward: a short one
		// would take noise for motion.
		lo := max(a, min(i-h, b-w.window))
		hi := min(b, max(i+h+1, a+w.window))
		if hi-lo < min(3, w.window) {
			// Too short a piece between two jumps to have a rate.
			if a > 0 || b < len(label) {
				label[i] = back
			} else {
				label[i] = still
			}
			continue
		}
		slope, mid, _ := f.line(lo, hi)
		w.smooth[m.first+i] = mid + slope*(l.t[i]-(l.t[lo]+l.t[hi-1])/2)
		// A window cut short at an edge has a larger error; ask more of it.
		k := float64(hi - lo)
		dt := (l.t[hi-1] - l.t[lo]) / (k - 1)
		noise, stands := w.moving(), l.standing(i)
		if stands {
			noise = l.pressed
		}
		se := math.Max(slopeNoise(noise, hi-lo, dt), w.sway*math.Pow(float64(w.window)/k, 1.5))
		rho := slope * l.sign / (l.rate * w.gain(m, m.first+i))
		slack := math.Max(0, 3*se/l.rate-w.lim.Still)
		switch {
		case rho < -w.lim.Still-slack:
			label[i] = back
		case rho < w.lim.Still || stands && rho < 3*se/l.rate:
			label[i] = still
		case rho > w.lim.Fast+slack:
			label[i] = fast
		default:
			label[i] = track
		}
	}
}

// findGain stores the local drive of a move over full drive, averaged over the
// rate window: the motor's speed follows it.
func (w *work) findGain(m *Move) {
	n := m.last - m.first
	abs := make([]float64, n)
	for i := range abs {
		abs[i] = math.Abs(w.d.mean[m.first+i])
	}
	m.gain = movingMean(abs, w.window|1)
	for i := range m.gain {
		// Near its start-up voltage the motor's speed is no longer in
		// proportion to the drive.
		m.gain[i] = math.Max(m.gain[i]/w.d.amp, w.lim.DriveOn)
	}
}

// gain is the drive over full drive at a bin of a move.
func (w *work) gain(m *Move, bin int) float64 {
	if i := bin - m.first; i >= 0 && i < len(m.gain) {
		return m.gain[i]
	}
	return 1
}

// tidy turns labels into segments and drops islands shorter than the rate can
// be known for: a run of track or still shorter than half a window, away from
// jumps, takes the state before it.
func (w *work) tidy(m *Move, label []state, cut []int) []segment {
	label = majority(label, cut, max(2, w.window/2))
	jump := make(map[int]bool, len(cut))
	for _, c := range cut[1 : len(cut)-1] {
		jump[c] = true
	}
	short := max(2, w.window/2)
	var segs []segment
	for i := 0; i < len(label); {
		j := i + 1
		for j < len(label) && label[j] == label[i] {
			j++
		}
		s := segment{m.first + i, m.first + j, label[i]}
		island := j-i < short && !jump[i] && i > 0 && j < len(label)
		switch {
		case len(segs) > 0 && (segs[len(segs)-1].state == s.state || island):
			segs[len(segs)-1].last = s.last
		default:
			segs = append(segs, s)
		}
		i = j
	}
	return w.settle(segs)
}

// majority gives each label the commonest one within half a width of it, so
// that a stand whose slope hum throws to and fro does not fall to pieces. Bins
// that arrived by a jump keep theirs, and none looks across a jump.
func majority(label []state, cut []int, width int) []state {
	out := make([]state, len(label))
	half := width / 2
	for c := 0; c+1 < len(cut); c++ {
		a, b := cut[c], cut[c+1]
		if c > 0 {
			out[a] = label[a]
			a++
		}
		var count [back + 1]int
		lo, hi := a, a
		for i := a; i < b; i++ {
			for hi < min(b, i+half+1) {
				count[label[hi]]++
				hi++
			}
			for lo < i-half {
				count[label[lo]]--
				lo++
			}
			best := label[i]
			for s, n := range count {
				if n > count[best] {
					best = state(s)
				}
			}
			out[i] = best
		}
	}
	return out
}
