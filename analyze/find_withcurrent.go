package analyze

import (
	"math"

	"threewire/analyze/stats"
)

// withCurrent is the form of a shift that goes with the motor's logged current: as it
// comes when a shaft is blocked, and as it goes once a motor has started or the drive
// turns over. The reading need not be at rest before or after.
const withCurrent = "with the motor's current"

// A currentStep is a moment at which the motor's current steps, and what the reading
// does at it.
type currentStep struct {
	bin   int
	amps  float64 // A, of the unsigned current
	volts float64 // V, of the reading
	may   float64 // V, what a shaft or the noise can have done meanwhile
	level float64 // V, the reading beside it with the smaller current
	shows float64 // the share of what the current lifts that the reading shows there
	way   Direction
}

func (s *currentStep) ohms() float64 { return s.volts / (s.amps * s.shows) }

// clear tells whether neither shaft nor noise can have done it.
func (s *currentStep) clear() bool { return math.Abs(s.volts) > s.may }

// findWithCurrent reports a reading that rises and falls with the unsigned current, at
// places far apart: Ohm's law, V = V0 + R |I|, with one R for a ground that sensor and
// motor share. A stop that gives lets the shaft on and back with the current as well, but
// downwards at the lower one, and a track that is open beyond a place has no ohms that
// other places agree on. The current tells the moments, so that no rest is needed beside
// them, and a shaft that is blocked tells as well as one that is let go.
func (w *work) findWithCurrent() {
	if c := w.tr.Current; c == nil || c.Unit != "A" || len(c.Mean) != len(w.t) || w.has(DriveShift) {
		return
	}
	steps, most := w.currentSteps()
	levels := noInterval()
	for i := range steps {
		levels = levels.widen(steps[i].level)
	}
	if len(steps) == 0 || levels.Width() < w.span.Width()/4 {
		return
	}
	w.shareOfLift(steps, levels)
	var come, place [2][]float64 // ohms of what is clear: current gone and come; lower and upper half
	var all, size []float64
	f := Finding{Kind: DriveShift, Form: withCurrent, Passes: len(steps), Tie: TieUnknown, TieP: 1, Event: "shift", Time: noInterval(), Volts: noInterval()}
	for i := range steps {
		s := &steps[i]
		if !s.clear() || s.ohms() < 0 {
			continue
		}
		k, half := 0, 0
		if s.amps > 0 {
			k = 1
		}
		if s.level > levels.From+levels.Width()/2 {
			half = 1
		}
		come[k], place[half] = append(come[k], s.ohms()), append(place[half], s.ohms())
		all, size = append(all, s.ohms()), append(size, math.Abs(s.volts))
		v := Interval{s.level, s.level + math.Abs(s.volts)}
		f.Time, f.Volts = f.Time.widen(w.t[s.bin]), f.Volts.widen(v.From).widen(v.To)
		if len(f.Places) < 200 {
			f.Places = append(f.Places, Occurrence{Interval{w.t[s.bin], w.t[min(len(w.t)-1, s.bin+2)]}, v, s.way})
		}
	}
	if len(all) == 0 {
		return
	}
	ohms := medianOf(all)
	if !oneResistance(come, ohms) || !oneResistance(place, ohms) || contradicted(steps, ohms, len(all)) {
		return
	}
	// What the current of a blocked motor makes of it is what counts as a fault.
	f.Seen = len(all)
	f.Strength = w.tooMuchShift(ohms*most) * (1 - math.Exp(-float64(f.Seen)/2))
	f.Measures = []Measure{{MeasureStep, medianOf(size), w.unit()}, {stepAtStall, ohms * most, w.unit()}, {perAmpere, ohms, w.unit() + "/A"}}
	w.found = append(w.found, f)
}

// perAmpere is the measure of how far the reading goes per ampere of the motor's current.
const perAmpere = "reading per ampere"

// oneResistance tells whether both groups of steps, of at least two each, tell the same
// ohms: within the three standard errors of each middle, with which one in 400 misses
// (normal law), and never more than half of it off.
func oneResistance(groups [2][]float64, ohms float64) bool {
	for _, x := range groups {
		if len(x) < 2 {
			return false
		}
		// A median of few scatters by 1.25 sigma / sqrt(n); a tenth is what the
		// current changes within the window.
		se := 1.25 * math.Max(stats.MAD(x), 0.1*ohms) / math.Sqrt(float64(len(x)))
		if math.Abs(medianOf(x)-ohms) > math.Min(3*se, 0.5*ohms) {
			return false
		}
	}
	return true
}

// contradicted tells whether more than one in seven of the steps of current say
// something else, as for steps with the drive: the reading does not go as far with it
// as so many ohms would have made it, and clearly so.
func contradicted(steps []currentStep, ohms float64, fit int) bool {
	sure := fit
	for i := range steps {
		s := &steps[i]
		if off := math.Abs(s.volts - ohms*s.amps*s.shows); off > s.may && off > 0.5*ohms*math.Abs(s.amps)*s.shows {
			sure++
		}
	}
	return float64(fit) < 0.85*float64(sure)
}

// currentSteps finds the moments at which the unsigned current changes by a third of
// its largest or more from one tenth of a second to the next, and by what no scatter
// of it makes, and gives that largest one in A, the idle one left out. A motor held draws
// at least three times what it draws running.
func (w *work) currentSteps() (out []currentStep, most float64) {
	n, late := w.nextToEdge(0.1)
	amps := make([]float64, len(w.t))
	for i, x := range w.tr.Current.Mean {
		amps[i] = math.Abs(float64(x))
	}
	i, v := sumsOf(amps), sumsOf(w.v)
	var level []float64
	for k := n; k < len(w.t); k += n {
		if x := i.mean(k-n, k); x == x {
			level = append(level, x)
		}
	}
	if len(level) < 8 {
		return nil, 0
	}
	most = quantileOf(level, 0.95) - w.idleCurrent()
	least := most / stallOverRunning
	change := func(k int) float64 { return i.mean(k+late, k+late+n) - i.mean(k-late-n+1, k-late+1) }
	for k := late + n; k+late+n < len(w.t); k++ {
		if !(math.Abs(change(k)) >= least) || !(least > 0) {
			continue
		}
		best, e := k, k
		for ; e+late+n < len(w.t) && math.Abs(change(e)) >= least && change(e)*change(k) > 0; e++ {
			if math.Abs(change(e)) > math.Abs(change(best)) {
				best = e
			}
		}
		k = e
		a, b, c, d := best-late-n+1, best-late+1, best+late, best+late+n
		s := currentStep{bin: best, amps: change(best), volts: v.mean(c, d) - v.mean(a, b), shows: 1}
		held := (a + b) / 2 // while the larger current flows
		s.level = v.mean(c, d)
		if s.amps > 0 {
			held, s.level = (c+d)/2, v.mean(a, b)
		}
		s.way = Direction(w.d.pol[held])
		if s.way == None || s.volts != s.volts {
			continue
		}
		s.may = w.lim.Fast*math.Max(w.rate[0], w.rate[1])*(w.t[(c+d-1)/2]-w.t[(a+b-1)/2]) +
			w.lim.NoiseSigmas*math.Max(w.noise, w.moving())*math.Sqrt(2/float64(n))
		out = append(out, s)
	}
	return out, most
}

// runningSums gives means of stretches of readings, missing ones left out.
type runningSums struct {
	sum []float64 // of those before
	n   []int
}

func sumsOf(x []float64) runningSums {
	s := runningSums{make([]float64, len(x)+1), make([]int, len(x)+1)}
	for i, v := range x {
		s.sum[i+1], s.n[i+1] = s.sum[i], s.n[i]
		if v == v {
			s.sum[i+1] += v
			s.n[i+1]++
		}
	}
	return s
}

// mean is that from a up to, not including, b; NaN where nothing was read.
func (s *runningSums) mean(a, b int) float64 {
	return (s.sum[b] - s.sum[a]) / float64(s.n[b]-s.n[a])
}
