package analyze

import (
	"math"

	"threewire/analyze/stats"
)

// A stepGroup is the switchings of one sort, with their middle step in the
// direction of a shared ground and its standard error.
type stepGroup struct {
	steps    []driveStep
	size, se float64 // V
}

// findSmallShift reports steps with the drive that are too small, one by one,
// against what a shaft may do meanwhile. A stop that gives lets the shaft back
// when the drive goes, never further in: where the reading goes on into the
// stop, at each letting go, no shaft did it. The other stop, where giving way
// and step add up, and the switchings on, of both directions together so that
// the first motion falls out, must say the same: a current makes its step at
// every switching.
func (w *work) findSmallShift(all []driveStep) bool {
	for _, sign := range []float64{1, -1} {
		var into, back, up, down []driveStep
		for _, s := range all {
			switch {
			case s.on && s.dir == Up:
				up = append(up, s)
			case s.on:
				down = append(down, s)
			case !s.stalled:
			case sign*float64(s.dir) < 0:
				into = append(into, w.averaged(s))
			default:
				back = append(back, w.averaged(s))
			}
		}
		a, b := w.groupOf(into, -sign), w.groupOf(back, -sign)
		c, d := w.groupOf(up, sign), w.groupOf(down, sign)
		on := (c.size + d.size) / 2
		if len(into) < 2 || len(back) < 1 || len(up) < 2 || len(down) < 2 {
			continue
		}
		least := leastShift * w.ref
		// Four standard errors for what decides, as for a reading that is not
		// noise; two, each, for what confirms.
		if a.size < math.Max(least, 4*a.se) || b.size < math.Max(least, 2*b.se) || on < 2*math.Hypot(c.se, d.se)/2 || !alike(into, -sign) {
			continue
		}
		f := w.smallShift(sign, all, (a.size+b.size)/2, into, back, up, down)
		f.Measures = append(f.Measures, Measure{stepAtStall, (a.size + b.size) / 2, w.unit()})
		w.found = append(w.found, f)
		return true
	}
	return false
}

// findCommonShift reports steps with the drive that hide in the motion, where the
// shaft is switched on and off on its way: what both directions have in common is
// no motion, which goes with the direction. A door's weight makes one direction
// start and coast a little further than the other: what is common has to exceed
// half of what is not, and be there when switched on as when switched off; and a motor
// that is let go at the stops must not speak against it.
func (w *work) findCommonShift(all []driveStep) {
	var by [2][2][]driveStep    // off and on; down and up
	var released [2][]driveStep // from a stall; down and up
	for _, s := range all {
		if s.stalled {
			released[side(s.dir)] = append(released[side(s.dir)], w.averaged(s))
			continue
		}
		on := 0
		if s.on {
			on = 1
		}
		by[on][side(s.dir)] = append(by[on][side(s.dir)], s)
	}
	for _, sign := range []float64{1, -1} {
		var common [2]float64
		ok := true
		for on := range by {
			want := sign
			if on == 0 {
				want = -sign
			}
			down, up := w.groupOf(by[on][0], want), w.groupOf(by[on][1], want)
			if len(down.steps) < 4 || len(up.steps) < 4 {
				return
			}
			common[on] = (down.size + up.size) / 2
			motion := math.Abs(up.size-down.size) / 2
			ok = ok && common[on] >= math.Max(0.5*motion, 4*math.Hypot(down.se, up.se)/2)
		}
		// A motor starts with several times the current that it runs with.
		if least := math.Min(common[0], common[1]); ok && least >= leastShift*w.ref {
			if w.letsGoQuietly(released, sign, least) {
				return
			}
			f := w.smallShift(sign, all, least, by[0][0], by[0][1], by[1][0], by[1][1])
			f.Measures = append(f.Measures, Measure{stepAtStall, stallOverRunning * least, w.unit()})
			w.found = append(w.found, f)
			return
		}
	}
}

// letsGoQuietly tells whether motors let go at both stops, by direction, make no step of
// so many volts with the drive, by two standard errors. A stalled motor draws more than a
// running one, so that what its current does to the reading shows there first; that
// stops give way, one up and one down, falls out of their mean. Steps that come under way
// alone belong to where the shaft is then: a wiper without contact picks up the drive.
func (w *work) letsGoQuietly(released [2][]driveStep, sign, least float64) bool {
	down, up := w.groupOf(released[0], -sign), w.groupOf(released[1], -sign)
	if len(down.steps) == 0 || len(up.steps) == 0 {
		return false
	}
	return (down.size+up.size)/2+2*math.Hypot(down.se, up.se)/2 < least
}

// averaged measures a letting go of a stop anew, by the means of a tenth of a
// second before and after: the shaft stands before, and what it may do after
// takes from a step into the stop. Means of many rows are finer than the steps
// of the converter, where the noise spreads them.
func (w *work) averaged(s driveStep) driveStep {
	n, late := w.nextToEdge(0.1)
	a, b := max(0, s.bin-late-n+1), s.bin-late+1
	c, d := s.bin+late, min(len(w.v), s.bin+late+n)
	if b > a && d > c {
		s.level = mean(w.v[a:b])
		s.size = mean(w.v[c:d]) - s.level
	}
	return s
}

// alike tells whether all steps of a group have the sign.
func alike(steps []driveStep, sign float64) bool {
	for _, s := range steps {
		if s.size*sign <= 0 {
			return false
		}
	}
	return true
}

// groupOf measures a group: its middle step times the sign, and the larger of
// the errors that the noise of the rows and that the scatter of the steps give.
func (w *work) groupOf(steps []driveStep, sign float64) stepGroup {
	g := stepGroup{steps: steps}
	n := float64(len(steps))
	if n == 0 {
		return g
	}
	var x []float64
	for _, s := range steps {
		x = append(x, sign*s.size)
	}
	g.size = medianOf(x)
	rows := float64(max(1, w.rowsNear(0.02))) // at least, as in driveSteps
	row := math.Hypot(w.moving(), w.quantum/math.Sqrt(12))
	g.se = math.Max(row*math.Sqrt(2/rows), 1.25*stats.MAD(x)) / math.Sqrt(n) // that of a median is 1.25 sigma / sqrt(n)
	return g
}

func (w *work) smallShift(sign float64, all []driveStep, size float64, groups ...[]driveStep) Finding {
	f := Finding{Kind: DriveShift, Form: alikeBothWays, Passes: len(all), Tie: TieUnknown, TieP: 1, Event: "shift", Time: noInterval(), Volts: noInterval()}
	var by [2]int // off and on
	for _, g := range groups {
		for _, s := range g {
			i, want := 0, -sign
			if s.on {
				i, want = 1, sign
			}
			if s.size*want <= 0 {
				continue
			}
			by[i]++
			at := Interval{s.level, s.level}.widen(s.level + s.size)
			f.Time, f.Volts = f.Time.widen(s.at), f.Volts.widen(at.From).widen(at.To)
			f.Places = append(f.Places, Occurrence{Interval{s.at, w.t[min(len(w.t)-1, s.bin+2)]}, at, s.dir})
		}
	}
	f.Seen = by[0] + by[1]
	f.Strength = math.Min(1, size/(2*leastShift*w.ref)) * (1 - math.Exp(-float64(f.Seen)/2))
	f.Measures = []Measure{{MeasureStep, size, w.unit()}, {"steps when switched on", float64(by[1]), ""}, {"steps when switched off", float64(by[0]), ""}}
	return f
}
