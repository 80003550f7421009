package analyze

import "math"

// rippleShares are the distances, as shares of a usual travel, over which a shaft's
// speed is compared with its speed just after: from what a fast logger resolves to
// what is still shorter than the bands in which a door is heavier.
func rippleShares() [rippleCount]float64 {
	return [rippleCount]float64{0.0025, 0.005, 0.01, 0.02, 0.04, 0.08}
}

const (
	// rippleCount is the number of [rippleShares].
	rippleCount = 6

	// rippleCells is the number of stretches of the travel that are asked one by one:
	// what sticks does so all along the way, a band or a place only in some.
	rippleCells = 10

	// leastRipple is how many pairs of distances tell a stretch: of n differences the
	// standard deviation is known to one in sqrt(2n), a fifth of it here.
	leastRipple = 12

	// fullyDriven is the share of the full drive that a move of steady drive has on the
	// average: less is pulsed, or turned down.
	fullyDriven = 0.9

	// stepsBack is the share of the way that a sticking shaft may seem to go back, by
	// readings far out of the noise: friction holds and lets go, it never turns.
	stepsBack = 0.02
)

// ripple is how unevenly the shaft runs over one distance: the rms difference of its
// ways over two neighbouring stretches, over the way of one.
type ripple struct {
	low, high   float64 // in all but three of ten cells more than low, less than high; NaN where not known
	whole, over float64 // the same of low and high with the noise at rest left in
	rest        float64 // the most that the reading at rest would make of it
	holds       float64 // low, without what a quarter of the distance shows of it
}

// rippleSums are those of one stretch of the travel.
type rippleSums struct {
	n                  int
	swing, noise, ways float64 // squared and added up
	quarter            float64 // the swing over a quarter of the distance
}

// ripples measures it over all distances; unknown where the reading is loose or keeps
// a clock.
func (w *work) ripples() (out [rippleCount]ripple) {
	clock, asked := false, false
	for i, share := range rippleShares() {
		out[i] = w.rippleOver(share)
		if out[i].low > evenShaft {
			if !asked {
				clock, asked = w.heldByClock(), true
			}
			if clock {
				out[i] = unknownRipple()
			}
		}
	}
	return out
}

func unknownRipple() ripple {
	n := math.NaN()
	return ripple{n, n, n, n, n, n}
}

func (w *work) rippleOver(share float64) ripple {
	span := w.span.Width()
	if w.sense == 0 || w.noPolarity != "" || !(span > 0) || w.looseAtRest() {
		return unknownRipple()
	}
	var cell [rippleCells]rippleSums
	var all rippleSums
	back, on := 0.0, 0.0
	for k := range w.moves {
		m := &w.moves[k]
		r := w.rate[side(m.Direction)]
		// Drive that is switched shakes the shaft by itself.
		if m.Direction == None || m.Moving < 0.5 || r == 0 || math.Abs(m.DriveMean) < fullyDriven*w.d.amp {
			continue
		}
		lag := int(share*w.usualTravel()/(r*w.tr.Step) + 0.5)
		if lag < 1 {
			continue
		}
		few := max(1, lag/4)
		way := r * float64(lag) * w.tr.Step
		from, to := m.way()
		// Neither the start nor the arrival at a stop is even.
		from += lag + w.rows(w.lim.StallSeconds)
		to -= lag + w.rows(w.lim.StallSeconds) + w.window
		for j := from; j < to; j += max(1, lag/2) {
			c := int((w.smooth[j] - w.span.From) / span * rippleCells)
			if c < 0 || c >= rippleCells || math.Abs(w.gain(m, j-lag)-w.gain(m, j+lag)) > 0.1 || lapse(w.t[j+lag], w.t[j-lag]) > 3*float64(lag)*w.tr.Step {
				continue
			}
			d, near := w.v[j+lag]-2*w.v[j]+w.v[j-lag], w.raw[j+few]-2*w.raw[j]+w.raw[j-few]
			for _, a := range []*rippleSums{&cell[c], &all} {
				a.n++
				a.swing += d * d
				// A second difference holds six times the noise of one reading, and
				// the twelfth of a converter's step squared as often.
				a.noise += 6*w.noise*w.noise + w.quantum*w.quantum/2
				a.quarter += near * near
				a.ways += way * way
			}
			on += way
			if b := float64(m.Direction) * (w.v[j] - w.v[j+lag]); b > 4*math.Sqrt2*w.noise+w.quantum {
				back += b
			}
		}
	}
	if back > stepsBack*on {
		return unknownRipple()
	}
	return rippleOf(cell[:], &all, w.noise, w.quantum)
}

// rippleOf takes the stretches together; as one where they are few. Brushes and a poor
// contact scatter each reading for itself while the motor runs, over a quarter of a
// distance as much as over all of it: holds is without that, as it was before it was
// smoothed as interference. A shaft that sticks keeps its place meanwhile, and loses a
// quarter of its power by it, where the rows resolve its steps.
func rippleOf(cell []rippleSums, all *rippleSums, noise, quantum float64) ripple {
	var net, holds, gross []float64
	for i := range cell {
		if a := &cell[i]; a.n >= leastRipple {
			net = append(net, math.Sqrt(math.Max(0, a.swing-a.noise)/a.ways))
			// Either sum of n squares is known to one in sqrt(n/2); twice that is allowed for.
			sure := 1 + 2*math.Sqrt(2/float64(a.n))
			holds = append(holds, math.Sqrt(math.Max(0, a.swing-math.Max(a.noise, sure*a.quarter))/a.ways))
			gross = append(gross, math.Sqrt(a.swing/a.ways))
		}
	}
	out := unknownRipple()
	if len(net) >= rippleCells/2 {
		out.low, out.high, out.holds = quantileOf(net, 0.3), quantileOf(net, 0.7), quantileOf(holds, 0.3)
		out.whole, out.over = quantileOf(gross, 0.3), quantileOf(gross, 0.7)
	} else if all.n >= 2*leastRipple {
		out.high, out.over = math.Sqrt(math.Max(0, all.swing-all.noise)/all.ways), math.Sqrt(all.swing/all.ways)
	}
	if all.n > 0 {
		// Hum at its worst distance differs by twice its height, 16 times its power;
		// a converter's steps by one and a half of them, as a rule.
		out.rest = math.Sqrt((16*noise*noise + 2.25*quantum*quantum) / (all.ways / float64(all.n)))
	}
	return out
}

// way is the first and the last bin of what a move tracked.
func (m *Move) way() (from, to int) {
	for _, s := range m.segs {
		if s.state == track {
			if to == 0 {
				from = s.first
			}
			to = s.last
		}
	}
	return from, to
}
