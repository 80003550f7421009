package analyze

import "math"

// sagAtStops compares the motor's own volts where it stalls with those where
// it runs, each direction with itself. It returns the level under load and the
// share that is lost, 0 when the capture does not show one.
//
// A controller that turns down its duty before a stop, or pulses, looks the
// same but for the moment: a bad contact gives way with the load, at the stop
// and not before, and as much at every stop.
func (w *work) sagAtStops() (level, drop float64) {
	var stalled, running [2][]float64
	var before [2][]float64 // the drive half a second before the stands
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
				running[d] = append(running[d], x)
			case still:
				stalled[d] = append(stalled[d], x)
				// Against seals and a springy stop the load rises for a third of
				// a second.
				if a := g.first - int(0.6/w.tr.Step); a > m.first {
					b := max(a+1, g.first-int(0.35/w.tr.Step))
					before[d] = append(before[d], math.Abs(medianOf(w.d.mean[a:b])))
				}
			}
		}
	}
	if w.turnedDown(running) {
		return w.d.amp, 0
	}
	level = w.d.amp
	stands, found := 0, false
	for d := range stalled {
		st, run := stalled[d], running[d]
		if len(st) == 0 || len(run) == 0 {
			continue
		}
		stands += len(st)
		// Half of the loss before the stop is the controller's doing.
		early := len(before[d]) > 0 && medianOf(before[d]) < (medianOf(run)+medianOf(st))/2
		same := !early && quantileOf(st, 0.9)-quantileOf(st, 0.1) < 0.12*w.d.amp
		even := quantileOf(run, 0.1) > 0.9*quantileOf(run, 0.9)
		if !same || !even {
			return w.d.amp, 0
		}
		// What the feed loses it loses both ways.
		if loss := 1 - medianOf(st)/medianOf(run); !found || loss < drop {
			level, drop, found = medianOf(st), loss, true
		}
	}
	if stands < 3 {
		return w.d.amp, 0
	}
	return level, drop
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
				if w.t[i]-m.Time.From < 0.3 || w.t[g.last-1]-w.t[i] < 0.35 {
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
