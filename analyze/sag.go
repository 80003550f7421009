package analyze

import (
	"math"

	"gonum.org/v1/gonum/stat"
)

// sagAtStops compares the motor's own volts where it stalls with those where
// it runs, each direction with itself. It returns the level under load and the
// share that is lost, 0 when the capture does not show one.
//
// A controller that turns down its duty before a stop, or pulses, looks the
// same but for the moment: a bad contact gives way with the load, at the stop
// and not before, and as much at every stop.
func (w *work) sagAtStops() (level, drop float64) {
	var stalled, running [2][]float64
	var stands [2][]int // rows
	for k := range w.moves {
		m := &w.moves[k]
		d := side(m.Direction)
		for _, g := range m.segs {
			if g.last-g.first < 5 {
				continue
			}
			in := thinned(w.d.mean[g.first+1:g.last-1], 2000)
			x := math.Abs(medianOf(in))
			// A pulsed drive caught by slow sampling has no level.
			if spread := quantileOf(in, 0.9) - quantileOf(in, 0.1); spread > 0.1*w.d.amp || x < 0.3*w.d.amp {
				continue
			}
			switch g.state {
			case track:
				// Time weighs: a short creep into a stop is no running.
				for n := 0; n <= (g.last-g.first)/w.rowsOver(0.5); n++ {
					running[d] = append(running[d], x)
				}
			case still:
				stalled[d] = append(stalled[d], x)
				if g.first-w.rows(0.6) > m.first {
					stands[d] = append(stands[d], g.first)
				}
			}
		}
	}
	if w.turnedDown(running) {
		return w.d.amp, 0
	}
	level = w.d.amp
	n, found := 0, false
	for d := range stalled {
		st, run := stalled[d], running[d]
		if len(st) == 0 || len(run) == 0 {
			continue
		}
		n += len(st)
		early := 0
		for _, i := range stands[d] {
			if w.lowBeforeSlow(i, (medianOf(run)+medianOf(st))/2, w.rate[d]/2) {
				early++
			}
		}
		same := 2*early <= len(stands[d]) && quantileOf(st, 0.9)-quantileOf(st, 0.1) < 0.12*w.d.amp
		even := quantileOf(run, 0.1) > 0.9*quantileOf(run, 0.9)
		if !same || !even {
			return w.d.amp, 0
		}
		// What the feed loses it loses both ways.
		if loss := 1 - medianOf(st)/medianOf(run); !found || loss < drop {
			level, drop, found = medianOf(st), loss, true
		}
	}
	// Two stands, one each way, do where the volts go with the load under way as well.
	if n < 3 && !(n == 2 && level < w.d.amp && w.feedUnderWay(level) == givesUnderWay) {
		return w.d.amp, 0
	}
	return level, drop
}

// lowBeforeSlow tells whether the drive was below so many volts before the shaft stood,
// at that row, while it was faster than so many V/s. Half of what a stall takes of the
// volts, gone with half of the speed left, is a controller's doing. By the motor's
// equations, V = Vs - I*Rs and n = (V - I*R)/Ke, a feed with resistance loses its volts
// in proportion to the speed that the load takes, however slowly a seal or a springy stop
// takes it; turning the drive down by a third leaves half of the speed.
func (w *work) lowBeforeSlow(stand int, volts, speed float64) bool {
	// Of a hard stop's load alone the volts go within a third of a second.
	a := stand - w.rows(0.6)
	b := max(a+1, stand-w.rows(0.35))
	if !(math.Abs(medianOf(w.d.mean[a:b])) < volts) {
		return false
	}
	b = max(b, min(a+3, stand))
	slope, _ := straightLine(w.t[a:b], w.v[a:b])
	return math.Abs(slope) > speed
}

// thinned is every so many of the values, so many at the most: enough for a
// level and its spread.
func thinned(x []float64, most int) []float64 {
	if len(x) <= most {
		return x
	}
	out := make([]float64, 0, most)
	for i := 0; i < most; i++ {
		out = append(out, x[i*len(x)/most])
	}
	return out
}

// turnedDown tells whether the drive is lowered while the shaft runs, well after
// its start and before a stop can load it: what does that is a controller that
// slows down, and it does so at a stop as well.
func (w *work) turnedDown(running [2][]float64) bool {
	var most [2]float64
	for d, run := range running {
		if len(run) > 0 {
			most[d] = quantileOf(run, 0.9)
		}
	}
	low, n := 0, 0
	for k := range w.moves {
		m := &w.moves[k]
		full := most[side(m.Direction)]
		if full == 0 {
			continue
		}
		for _, g := range m.segs {
			if g.state != track {
				continue
			}
			for i := g.first; i < g.last; i++ {
				if lapse(w.t[i], m.Time.From) < 0.3 || lapse(w.t[g.last-1], w.t[i]) < 0.35 {
					continue
				}
				n++
				if math.Abs(w.d.mean[i]) < 0.85*full {
					low++
				}
			}
		}
	}
	return n > 0 && 33*low > n
}

// How the feed's volts go with the load while the shaft runs, see [work.feedUnderWay].
const (
	givesUnderWay = "gives way under way as well"
	holdsUnderWay = "holds under way, however loaded"
)

// feedUnderWay tells a feed with resistance from one with a current limit, which at
// the stops look alike: level is the drive there, in V. A feed with resistance gives
// way in proportion to the current, and the speed falls with both in one straight
// line down to the stop, of which it is a point; a bench supply below its limit holds
// its volts whatever the load. The door's weight loads the two directions
// differently. "" where it does not by enough.
//
// By the motor's equations V = Vs - I*Rs and n = (V - I*R)/Ke the line from the
// point under way to the one at the stop has the slope of every load between.
func (w *work) feedUnderWay(level float64) MeasureName {
	const uneven = 0.03 // least difference of the two speeds
	volts, speed := w.underWay()
	if len(volts[0]) < 5 || len(volts[1]) < 5 {
		return ""
	}
	run := (mean(volts[0]) + mean(volts[1])) / 2
	slower := (mean(speed[1]) - mean(speed[0])) / (mean(speed[0]) + mean(speed[1])) * 2
	lower := mean(volts[1]) - mean(volts[0])
	due := (run - level) * slower
	err := math.Hypot(stat.StdErr(stat.StdDev(volts[0], nil), float64(len(volts[0]))), stat.StdErr(stat.StdDev(volts[1], nil), float64(len(volts[1]))))
	if math.Abs(slower) < uneven || !(err < math.Abs(due)/4) {
		return ""
	}
	switch share := lower / due; {
	case share > 0.5 && share < 1.8:
		return givesUnderWay
	case math.Abs(share) < 0.2:
		return holdsUnderWay
	}
	return ""
}

// underWay lists, each direction by itself, the unsigned drive, in V, and the speed, in V/s,
// of pieces of the even run.
func (w *work) underWay() (volts, speed [2][]float64) {
	w.piecesUnderWay(func(m *Move, a, b int) {
		d := side(m.Direction)
		slope, _ := straightLine(w.t[a:b], w.v[a:b])
		volts[d] = append(volts[d], math.Abs(mean(w.d.mean[a:b])))
		speed[d] = append(speed[d], math.Abs(slope))
	})
	return volts, speed
}

// piecesUnderWay calls take with the bins of each piece of 0.4 s of the even run.
func (w *work) piecesUnderWay(take func(m *Move, a, b int)) {
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction == None {
			continue
		}
		n, edge := max(5, w.rows(0.4)), w.rows(w.lim.StallSeconds)
		for _, g := range m.segs {
			if g.state != track {
				continue
			}
			for a := g.first + edge; a+n < g.last-edge; a += n {
				take(m, a, a+n)
			}
		}
	}
}
