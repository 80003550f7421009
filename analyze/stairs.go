package analyze

import (
	"math"
	"slices"
)

// leastStairs is how many stands one behind the other make a staircase: a worn
// place holds the reading once, or twice where the wiper finds contact between.
const leastStairs = 3

// springsOn is the form of friction that holds the shaft and lets it go again.
const springsOn = "holds and springs on"

// stairs splits an event in which the reading went down a staircase into its
// stands, or returns nil. A place where the track is lost holds the last reading
// until contact comes back, and takes the way in one leap; friction lets the
// shaft go again and again, and it goes further by as much as it had missed.
func (w *work) stairs(e *event) []*event {
	way := e.to - e.from
	if e.out() > 2*w.tol || math.Abs(way) < 4*w.tol || !w.onLine(e) {
		return nil
	}
	var out []*event
	last := e.from
	for a := e.first; a < e.last; {
		// A stand: readings that stay within the noise of where they began.
		b, lo, hi := a, w.v[a], w.v[a]
		for b < e.last && math.Max(hi, w.v[b])-math.Min(lo, w.v[b]) <= 2*w.tol {
			lo, hi = math.Min(lo, w.v[b]), math.Max(hi, w.v[b])
			b++
		}
		level := (lo + hi) / 2
		due := w.rate[side(w.moves[e.move].Direction)] * (w.t[min(b, len(w.t)-1)] - w.t[a])
		// It missed more than its own width, and stands apart from the last.
		if b-a >= 3 && due > 2*(hi-lo+w.tol) && (len(out) == 0 || math.Abs(level-last) > 2*w.tol) {
			s := *e
			s.first, s.last, s.from, s.to, s.seconds, s.expected = a, b, level, level, w.t[b-1]-w.t[a], due
			out = append(out, &s)
			last = level
		}
		a = max(b, a+1)
	}
	if len(out) < leastStairs {
		return nil
	}
	return out
}

// findStairs reports friction that lets the shaft go in steps over a stretch of
// its way, and returns the losses that are none of these.
func (w *work) findStairs(lost []*event) []*event {
	var steps, rest []*event
	var places []Occurrence
	passes := 0
	for _, e := range lost {
		if s := w.stairs(e); s != nil {
			steps = append(steps, s...)
			places = append(places, Occurrence{e.time(w.t), e.volts(), w.moves[e.move].Direction})
			passes++
		} else {
			rest = append(rest, e)
		}
	}
	// One staircase may be a track with crumbs on it.
	if passes < 2 {
		return lost
	}
	// Where others go down stairs, a hold that is caught up is one more step.
	band := noInterval()
	for _, e := range steps {
		band = band.widen(e.from)
	}
	rest = slices.DeleteFunc(rest, func(e *event) bool {
		step := e.out() <= 2*w.tol && e.volts().Overlaps(band)
		if step {
			steps = append(steps, e)
			places = append(places, Occurrence{e.time(w.t), e.volts(), w.moves[e.move].Direction})
		}
		return step
	})
	f := w.standFinding(StickSlip, steps)
	f.Form, f.Places = springsOn, places
	f.Strength = 1 - math.Exp(-float64(passes)/2)
	w.found = append(w.found, f)
	return rest
}
