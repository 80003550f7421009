package analyze

import (
	"math"
	"slices"

	"threewire/analyze/stats"
)

// stickCells is the number of stretches of the travel in which sticking is
// looked for: enough to tell "everywhere" from "at a place".
const stickCells = 10

// increments are the moments of the reading's steps over one lag, in the
// direction of drive.
type increments struct {
	n             int
	sum, two, tri float64
}

func (a *increments) add(d float64) {
	a.n++
	a.sum += d
	a.two += d * d
	a.tri += d * d * d
}

// moments are the standard deviation and the skewness.
func (a *increments) moments() (sd, skew float64) {
	n := float64(a.n)
	if a.n < 3 {
		return 0, 0
	}
	m := a.sum / n
	v := a.two/n - m*m
	if v <= 0 {
		return 0, 0
	}
	third := a.tri/n - 3*m*a.two/n + 2*m*m*m
	return math.Sqrt(v), third / (v * math.Sqrt(v))
}

// findRatchet looks for sticking too fine to show as single stands: along the
// whole way the reading moves in little jumps forward with rests between.
// Noise and hum scatter the steps evenly to both sides; jumps forward alone
// skew them; with its interference left in, for what is put in its place steps by
// itself. The scatter must exceed what noise at rest and the converter
// explain.
func (w *work) findRatchet() {
	span := w.span.Width()
	r := math.Max(w.rate[0], w.rate[1])
	if w.covered(StickSlip, None) || w.looseAtRest() || !(span > 0) || r == 0 {
		return
	}
	best, bestShare, bestMade, lags := 0.0, 0.0, 0, 0
	var dirs [2]int
	// Lags up to half of the longest stand that still is one of many.
	for lag := 1; lag == 1 || float64(lag)*w.tr.Step <= 0.25; lag *= 2 {
		var cell [2][stickCells]increments
		for k := range w.moves {
			m := &w.moves[k]
			// A pulse hardly longer than the start of the motor is all start.
			if m.Direction == None || m.Moving < 0.3 {
				continue
			}
			d := side(m.Direction)
			for i, s := range m.segs {
				a, b := s.first, s.last
				if i == 0 {
					a += w.rows(w.lim.Bridge)
				}
				if s.state == still && (i == 0 || i == len(m.segs)-1) {
					continue
				}
				for j := a; j+lag < b; j += lag {
					c := int((w.smooth[j] - w.span.From) / span * stickCells)
					// Drive that changes by itself moves the shaft in steps.
					if c < 0 || c >= stickCells || math.Abs(w.gain(m, j)-w.gain(m, j+lag)) > 0.1 {
						continue
					}
					// Rows that come late, or not at all, show more of the way.
					late := w.t[j+lag] - w.t[j] - float64(lag)*w.tr.Step
					if math.Abs(late) > 0.5*float64(lag)*w.tr.Step {
						continue
					}
					cell[d][c].add(float64(m.Direction)*(w.raw[j+lag]-w.raw[j]) - w.rate[d]*late)
				}
			}
		}
		lags++
		base := math.Sqrt2*w.noise + w.quantum/2
		var seen [2]int
		made, hit, ratio, skews, spread := 0, 0, 0.0, 0.0, 0.0
		for d := range cell {
			for c := 1; c+1 < stickCells; c++ {
				a := &cell[d][c]
				if a.n < 20 {
					continue
				}
				made++
				sd, skew := a.moments()
				n := float64(a.n)
				// Of n even steps the deviation has the relative error
				// 1/sqrt(2n), the skewness the error sqrt(6/n); the noise at
				// rest is known to a tenth. A shaft that runs evenly to a
				// third of its speed does not stick.
				uneven := math.Sqrt(math.Max(0, sd*sd-base*base)) * n / math.Max(a.sum, 1e-300)
				if sd > (1.1+2/math.Sqrt(2*n))*base && uneven > 1.0/3 && skew > 2*math.Sqrt(6/n) {
					hit++
					seen[d]++
					ratio += sd / base
					skews += skew
					spread += 6 / n
				}
			}
		}
		// All stretches together must be clear of chance.
		if made < stickCells/2 || hit == 0 || skews < 6*math.Sqrt(spread) || skews < 0.25*float64(hit) {
			continue
		}
		if share := float64(hit) / float64(made); share > bestShare {
			best, bestShare, bestMade, dirs = ratio/float64(hit), share, made, seen
		}
	}
	if bestShare < 0.6 || w.textured() || w.heldByClock() {
		return
	}
	// Stands strewn along a way that sticks everywhere are the longer rests of
	// the same friction.
	w.found = slices.DeleteFunc(w.found, func(f Finding) bool { return f.Kind == Pauses && f.Form == "" })
	n := dirs[0] + dirs[1]
	w.found = append(w.found, Finding{Kind: StickSlip, Form: "fine jumps along the way", Volts: w.span, Time: w.drivenTime(),
		Seen: n, Passes: bestMade, Direction: oneDirection(dirs), Tie: TieUnknown, TieP: 1, Event: "stick",
		Strength: math.Min(1, (bestShare-0.4)/0.4), Measures: []Measure{{MeasureScatterOfSteps, best, "times"}, {MeasureNoiseChance, noiseStepsSo(n, bestMade, lags), ""}}})
}

// noiseStepsSo is at most the chance that noise alone, which scatters evenly to both sides,
// skews its steps forward beyond two standard errors in so many of the stretches made, at
// any of so many lags (binomial tail, times the lags: Bonferroni).
func noiseStepsSo(hit, made, lags int) float64 {
	beyond := math.Erfc(math.Sqrt2) / 2 // of a Gaussian: 2.3 %
	return math.Min(1, float64(lags)*stats.BinomialTail(hit, made, beyond))
}

// heldByClock tells whether the reading jumps at every so many rows, by one clock
// from the first move to the last: a converter that is slower than the logger
// gives each of its readings several times over. Friction keeps no clock.
func (w *work) heldByClock() bool { return w.byClock.of(w.measureClock) }

func (w *work) measureClock() bool {
	const mostRows = 20
	total := 0.0
	var by [mostRows + 1][mostRows]float64 // travel, by period and phase in rows
	for k := range w.moves {
		m := &w.moves[k]
		for i := max(1, m.first); i < m.last; i++ {
			dv := float64(m.Direction) * (w.v[i] - w.v[i-1])
			total += dv
			for n := 2; n <= mostRows; n++ {
				by[n][i%n] += dv
			}
		}
	}
	for n := 2; n <= mostRows; n++ {
		if slices.Max(by[n][:n]) > 0.8*total && total > 0 {
			return true
		}
	}
	return false
}

// joinFriction makes one event of sticking and of what the same friction does
// besides: stalls and failed starts at places that do not repeat.
func (w *work) joinFriction() {
	event := ""
	for _, f := range w.found {
		if f.Kind == StickSlip {
			event = f.Event
		}
	}
	if event == "" {
		return
	}
	// Where the shaft holds and springs on all along the way, doing so at one
	// place is no place.
	w.found = slices.DeleteFunc(w.found, func(f Finding) bool { return f.Kind == DeadSpot && f.Form == heldAndJumped })
	for i := range w.found {
		if f := &w.found[i]; f.Kind == Pauses || f.Kind == Jam && f.Form == jamScattered {
			f.Event = event
		}
	}
}
