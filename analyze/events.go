package analyze

import (
	"math"
)

// place tells where in its move an event lies.
type place uint8

const (
	middle  place = iota // the feedback tracks before and after
	atStart              // before the first motion
	atEnd                // after the last motion
	whole                // the move never tracked
)

// event is a stretch of a move in which the feedback did not follow the
// drive.
type event struct {
	move        int
	first, last int // bins [first, last)
	place       place

	from, to  float64 // V, readings just before and just after
	seconds   float64
	moved     float64 // V, to - from in the direction of drive
	expected  float64 // V, travel of the shaft in that time, had it gone on
	spread    float64 // V, standard error of moved
	low, high float64 // V, extremes inside
	inside    float64 // V, median inside
	jump      float64 // V, largest single step inside, signed in drive direction
	jumpTime  float64 // s that the largest change took

	// shift is log P(seen | shaft moved on) - log P(seen | shaft stood).
	shift float64
}

func (e *event) time(t []float64) Interval {
	return Interval{t[max(0, e.first-1)], t[min(e.last, len(t)-1)]}
}

// volts is the stretch of track the event covers.
func (e *event) volts() Interval {
	return Interval{math.Min(e.from, e.to), math.Max(e.from, e.to)}
}

// out is how far the readings inside leave the stretch between from and to.
func (e *event) out() float64 {
	r := e.volts()
	return math.Max(0, math.Max(r.From-e.low, e.high-r.To))
}

// collect finds the events of move k from its segments.
func (w *work) collect(k int) {
	m := &w.moves[k]
	segs := w.rejoin(m, w.absorb(m))
	r := w.rate[side(m.Direction)] * math.Max(math.Abs(m.DriveMean)/w.d.amp, 0.1)
	for i := 0; i < len(segs); i++ {
		s := segs[i]
		if s.state == track {
			continue
		}
		if w.rocks(s.first, s.last) {
			continue
		}
		e := event{move: k, first: s.first, last: s.last}
		before, after := i > 0, i+1 < len(segs)
		switch {
		case before && after:
			e.place = middle
		case before:
			e.place = atEnd
		case after:
			e.place = atStart
		default:
			e.place = whole
		}
		rate := r
		if before {
			v, q := w.edgeReading(segs[i-1], true)
			e.from = v
			rate = q
		} else {
			e.from = medianOf(w.v[s.first:min(s.last, s.first+max(1, w.window/2))])
		}
		if after {
			v, q := w.edgeReading(segs[i+1], false)
			e.to = v
			if before {
				rate = (rate + q) / 2
			} else {
				rate = q
			}
		} else {
			e.to = medianOf(w.v[max(s.first, s.last-max(1, w.window/2)):s.last])
		}
		// The neighbouring rates are the best guess of how fast the shaft went
		// meanwhile, but only within what the motor usually does.
		rate = math.Min(math.Max(rate, 0.4*r), 1.6*r)
		t0, t1 := w.t[max(s.first-1, m.first)], w.t[min(s.last, len(w.t)-1)]
		if !before {
			t0 = w.t[s.first]
		}
		e.seconds = lapse(t1, t0)
		e.moved = float64(m.Direction) * (e.to - e.from)
		e.expected = rate * e.seconds
		if e.place == middle && w.onlyUnseen(&e) {
			continue
		}
		e.inspect(w, m)
		if w.atClip(e.inside) {
			continue // the channel stands there, whatever the shaft does
		}
		e.weigh(w, rate)
		w.events = append(w.events, e)
	}
}

// onlyUnseen tells whether all that is odd about an event is that rows are missing in
// it: the shaft came as far as it should have meanwhile, and the rows that are there
// lie on its way.
func (w *work) onlyUnseen(e *event) bool {
	a, b := max(0, e.first-1), min(e.last, len(w.t)-1)
	missing := false
	for i := a + 1; i <= b; i++ {
		missing = missing || w.t[i]-w.t[i-1] > missingRows*w.tr.Step
	}
	// Speeds differ from place to place by half.
	if !missing || math.Abs(e.moved-e.expected) > 0.5*e.expected+2*w.tol {
		return false
	}
	for i := e.first; i < e.last; i++ {
		on := e.from + (e.to-e.from)*(w.t[i]-w.t[a])/(w.t[b]-w.t[a])
		if math.Abs(w.v[i]-on) > 2*w.tol+0.25*math.Abs(e.to-e.from) {
			return false
		}
	}
	return true
}

// absorb merges neighbouring non-track segments, and the short islands of
// track between them, into one stretch.
func (w *work) absorb(m *Move) []segment {
	var out []segment
	for i, s := range m.segs {
		n := len(out)
		if s.state != track {
			if n > 0 && out[n-1].state != track {
				out[n-1].last = s.last
				continue
			}
			s.state = still
			out = append(out, s)
			continue
		}
		island := s.last-s.first < max(3, w.window) && n > 0 && out[n-1].state != track && i+1 < len(m.segs)
		// A run of track between two jumps is an island only if it is short
		// against the motion the window can resolve.
		if island {
			out[n-1].last = s.last
			continue
		}
		out = append(out, s)
	}
	return out
}

// edgeReading is the smoothed reading at the last (or first) bin of a track
// segment, and the rate, V/s unsigned, a little way inside it: next to a stand
// the regression window already holds part of the stand.
func (w *work) edgeReading(s segment, end bool) (v, rate float64) {
	n := s.last - s.first
	skip := min(w.window/2, n/3)
	k := min(n-skip, max(3, 2*w.window))
	a, b := s.first+skip, s.first+skip+k
	v = w.smooth[s.first]
	if end {
		a, b = s.last-skip-k, s.last-skip
		v = w.smooth[s.last-1]
	}
	f := newFitter(w.t[a:b], w.v[a:b])
	slope, _, _ := f.line(0, b-a)
	return v, math.Abs(slope)
}

// inspect measures what the readings do inside the event.
func (e *event) inspect(w *work, m *Move) {
	in := w.v[e.first:e.last]
	e.low, e.high = extremes(in)
	if lo := w.tr.Feedback.Min; len(lo) > 0 && w.tr.RowsPerBin > 1 {
		// Single rows scatter more than the means of bins: only what exceeds
		// their usual excursion left the track.
		usual := w.rawPeak()
		for i := e.first; i < e.last; i++ {
			e.low = math.Min(e.low, float64(lo[i])+usual)
			e.high = math.Max(e.high, float64(w.tr.Feedback.Max[i])-usual)
		}
	}
	e.inside = medianOf(in)
	for i := max(e.first, m.first+1); i < min(e.last+1, m.last); i++ {
		if dv := (w.v[i] - w.v[i-1]) * float64(m.Direction); math.Abs(dv) > math.Abs(e.jump) {
			e.jump, e.jumpTime = dv, w.t[i]-w.t[i-1]
		}
	}
}

// weigh compares the two stories about the shaft. If it moved on unseen, the
// readings differ by the expected travel, known to about a fifth (load
// changes the speed); if it stood, they do not differ at all.
func (e *event) weigh(w *work, rate float64) {
	bins := math.Max(1, math.Min(float64(w.window), float64(e.last-e.first)))
	e.spread = math.Sqrt(2)*w.moving()/math.Sqrt(bins) + w.quantum/2 + 0.5*rate*w.tr.Step
	moveSD := math.Hypot(0.2*e.expected, e.spread)
	zMove := (e.moved - e.expected) / moveSD
	zStay := e.moved / e.spread
	// Both densities get a floor: neither story is ever impossible (a slip
	// inside a dead spot, a stand that ends with a click).
	logp := func(z, sd float64) float64 {
		return math.Log(0.98*math.Exp(-z*z/2)/(sd*math.Sqrt(2*math.Pi)) + 0.02/math.Max(w.ref, 1e-9))
	}
	e.shift = logp(zMove, moveSD) - logp(zStay, e.spread)
}
