package analyze

import "math"

// goesOnAsleep tells whether what move k does goes on in the rest after it, or went on in
// the rest before, although no drive is seen there: the motor's current stays as it is, or
// the shaft gets on as fast. Then the leads are driven in pulses of which the rows meet
// the same part each time, and what they show, all of the volts for a while and none for
// another, is the beat of the two. Such a drive is far below what it looks like, and a
// shaft that creeps on it does what it is told.
func (w *work) goesOnAsleep(k int) bool {
	if w.tr.DriveIsPolarity {
		return false
	}
	m := &w.moves[k]
	// Let go, a motor runs out and its current dies away within two mechanical time
	// constants, see turningTime.
	before, after := Interval{math.Inf(-1), m.Time.From - w.tr.Step}, Interval{m.Time.To + turningTime, math.Inf(1)}
	if k > 0 {
		before.From = w.moves[k-1].Time.To + turningTime
	} else {
		before.From = w.t[0]
	}
	if k+1 < len(w.moves) {
		after.To = w.moves[k+1].Time.From - w.tr.Step
	} else {
		after.To = w.t[len(w.t)-1]
	}
	draws := w.drawnIn(m)
	for _, rest := range []Interval{before, after} {
		if w.drawsAsleep(draws, rest) || w.travelsAsleep(m, rest) {
			return true
		}
	}
	return false
}

// anyAsleep tells whether that is so of any move.
func (w *work) anyAsleep() bool {
	for k := range w.moves {
		if w.goesOnAsleep(k) {
			return true
		}
	}
	return false
}

// drawsAsleep tells whether the motor draws at a rest three quarters at least of what it
// draws in a move, in A, the same way where the current has a sign.
func (w *work) drawsAsleep(draws float64, rest Interval) bool {
	if math.IsNaN(draws) {
		return false
	}
	idle := w.idleCurrent()
	// What it draws must stand clear of what the channel shows at rest.
	if math.Abs(draws) <= 3*idle {
		return false
	}
	asleep := w.currentsIn(rest)
	return len(asleep) >= 10 && math.Abs(draws)-idle > 4*deviation(asleep) && medianIn(asleep)/draws > 0.75
}

// drawnIn is the current of a move once it is under way, A; NaN where too little tells.
func (w *work) drawnIn(m *Move) float64 {
	if w.tr.Current == nil {
		return math.NaN()
	}
	amps := w.currentsIn(Interval{m.Time.From + turningTime, m.Time.To})
	if len(amps) < 10 {
		return math.NaN()
	}
	return medianIn(amps)
}

// currentsIn lists what the motor drew in a stretch of time, signed as logged, in A.
func (w *work) currentsIn(when Interval) []float64 {
	first := indexAt(w.t, when.From)
	out := make([]float64, 0, max(0, indexAt(w.t, when.To)+1-first))
	for i := first; i < len(w.t) && w.t[i] < when.To; i++ {
		if x := float64(w.tr.Current.Mean[i]); !math.IsNaN(x) {
			out = append(out, x)
		}
	}
	return out
}

// travelsAsleep tells whether the reading gets on in a rest the way that move m drives it,
// at half the pace it has there at least, by the lines through both.
func (w *work) travelsAsleep(m *Move, rest Interval) bool {
	inMove, _, ok := w.slopeIn(Interval{m.Time.From, m.Time.To})
	asleep, off, ok2 := w.slopeIn(rest)
	if !ok || !ok2 {
		return false
	}
	dir := float64(m.Direction)
	// Where it creeps a step of the converter may fall into either.
	step := w.quantum / m.Duration()
	return dir*asleep > 4*off && dir*asleep > (dir*inMove-step)/2
}

// slopeIn is the slope of the reading, V/s, over a stretch of time and its standard
// error; a step of the converter counts as noise. False where it is too short.
func (w *work) slopeIn(when Interval) (slope, off float64, ok bool) {
	a, b := indexAt(w.t, when.From), min(len(w.t), indexAt(w.t, when.To))
	if b-a < 10 {
		return 0, 0, false
	}
	tm, vm := mean(w.t[a:b]), mean(w.v[a:b])
	var tt, tv float64
	for i := a; i < b; i++ {
		tt += (w.t[i] - tm) * (w.t[i] - tm)
		tv += (w.t[i] - tm) * (w.v[i] - vm)
	}
	if tt == 0 {
		return 0, 0, false
	}
	return tv / tt, math.Hypot(w.noise, w.quantum/math.Sqrt(12)) / math.Sqrt(tt), true
}
