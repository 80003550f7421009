package analyze

import (
	"fmt"
	"math"
	"slices"
)

// onePolarity is the form of a supply that gives one polarity fewer volts than the other.
const onePolarity = "one polarity"

// findUnevenWays looks for a shaft that runs slower one way than the other, over all
// of the travel alike, and for a drive that gives one way fewer volts.
//
// A door's weight, its springs and the air slow one way and help the other. With the
// speed 1 - load/stall and gears that take a sixth of the stall torque, one way at half
// the speed of the other needs a weight of 0.28 of the stall torque: a motor that is
// to start cold at a low supply is not loaded so (common practice, no source). The same
// weight is more of what fewer volts leave ([work.soundUneven]). Where the
// current shows that no load makes it so, less tells (notByLoad). Nothing but the motor itself loads an uncoupled shaft; its brushes, set for one sense, cost a
// few percent.
func (w *work) findUnevenWays() {
	if w.sense == 0 {
		return
	}
	w.findOnePolarity()
	if w.d.pulsed {
		return
	}
	ratio, dir, n, ok := w.waysRatio()
	if !ok {
		return
	}
	sound := w.soundUneven()
	least := sound
	form, told := w.notByLoad(dir, ratio, n)
	switch {
	case form == heldOnLess:
		least = heldUneven
	case form == noLoadMore:
		least = unloadedUneven
	case w.opt.Free:
		least, form = mostUnevenFree, "uncoupled"
	}
	// One run each way is little; three times as slow takes more load than 0.4 of the stall
	// torque, which nothing sound has. Where the current shows that it is no load, what no
	// sound load makes does (notByLoad).
	if single := n == 1 && !w.opt.Free && form != noLoadMore; ratio < least || single && ratio < 1.5*sound {
		return
	}
	// A sound one has come near to twice as slow: there it is open what it is.
	strength := 0.65 + (ratio/least-1)/0.3
	if form != "" {
		if n == 1 && form == noLoadMore {
			least = sound
		}
		strength = 0.5 + (ratio/least-1)/0.3
	}
	f := Finding{Kind: UnevenWays, Form: form, Direction: dir, Tie: TiedToDirection, TieP: math.Pow(0.5, float64(n-1)), Volts: w.span, Time: w.drivenTime(),
		Seen: n, Passes: n, Event: "uneven ways", Strength: math.Min(1, strength),
		Measures: append([]Measure{{MeasureSlowerThatWay, ratio, "times"}}, told...)}
	if w.driveKnown() {
		f.Measures = append(f.Measures, Measure{atSameVolts, 1, ""})
	}
	w.found = append(w.found, f)
}

// soundUneven is how many times as long one way may take, by the weight that makes it twice
// as long at 12 V: with the speed v - load/stall at v of 12 V, gears g and weight z give
// (v - g + z)/(v - g - z).
func (w *work) soundUneven() float64 {
	const gears = 1.0 / 6
	if !w.driveKnown() || !(w.d.amp < 12) {
		return mostUneven
	}
	weight := (1 - gears) * (mostUneven - 1) / (mostUneven + 1)
	left := w.d.amp/12 - gears
	if left <= 1.1*weight { // it hardly lifts it
		return math.Inf(1)
	}
	return (left + weight) / (left - weight)
}

const (
	mostUneven     = 2.0 // see findUnevenWays
	mostUnevenFree = 1.25
)

// waysRatio compares the speeds of the two directions at the same drive, place by
// place: by how much one is slower, which, and in how many moves. ok is false where
// too little of the travel was run both ways, or not all of it is slower.
func (w *work) waysRatio() (ratio float64, slow Direction, moves int, ok bool) {
	const fewCells = 4
	width := w.span.Width() / paceCells
	if !(width > 0) {
		return 0, None, 0, false
	}
	var by [2]map[int][]float64
	var runs [2]int
	for d := range by {
		by[d] = map[int][]float64{}
	}
	for k := range w.moves {
		m := &w.moves[k]
		c := w.crossings(m, width)
		if len(c) < 2 {
			continue
		}
		d := side(m.Direction)
		runs[d]++
		for _, x := range c {
			by[d][x.cell] = append(by[d][x.cell], x.speed)
		}
	}
	var diff []float64
	for c := range by[0] {
		if len(by[1][c]) > 0 {
			diff = append(diff, medianOf(by[1][c])-medianOf(by[0][c]))
		}
	}
	fewest := min(runs[0], runs[1])
	if len(diff) < fewCells || fewest == 0 {
		return 0, None, 0, false
	}
	slices.Sort(diff)
	m := medianOf(diff)
	// Uncoupled, one run each way tells only what is plain: grease that is still cold in the
	// first of them, and brushes set for one sense, both at their most.
	if fewest == 1 && w.opt.Free && runs[0]+runs[1] < 3 && math.Abs(m) < 2*math.Log(mostUnevenFree) {
		return 0, None, 0, false
	}
	slow, moves = Down, runs[0]
	if m < 0 {
		slow, moves = Up, runs[1]
	}
	// One band alone is another finding.
	least, most := quantileOf(diff, 0.1), quantileOf(diff, 0.9)
	return math.Exp(math.Abs(m)), slow, moves, m*least > 0 && m*most > 0 && math.Min(math.Abs(least), math.Abs(most)) > math.Abs(m)/2
}

// voltsByMove are the volts of each move that runs for at least so many seconds, or for half
// of them and is held for the rest (a quick actuator is at its stop by then), by polarity:
// running, and stalled where it stalls. With them the ratio of each turn,
// positive over negative, and the number of runs of moves of one polarity.
func (w *work) voltsByMove(least float64) (by, stall [2][]float64, ratios []float64, turns int) {
	last := -1
	for k := range w.moves {
		m := &w.moves[k]
		if m.Moving < least/2 || m.Moving+m.Stalled < least {
			continue
		}
		run, stood := w.voltsOf(m)
		if len(run) < 5 || w.d.pulsed && !flatTops(run) {
			continue
		}
		p := 0
		if m.Polarity > 0 {
			p = 1
		}
		volts := medianIn(run)
		if p != last {
			if last >= 0 {
				ratios = append(ratios, volts/by[last][len(by[last])-1])
				if p == 1 {
					ratios[len(ratios)-1] = 1 / ratios[len(ratios)-1]
				}
			}
			turns, last = turns+1, p
		}
		by[p] = append(by[p], volts)
		if len(stood) >= 5 {
			stall[p] = append(stall[p], medianIn(stood))
		}
	}
	return by, stall, ratios, turns
}

// findOnePolarity looks for one polarity that gets clearly fewer volts than the other
// in every move, turn by turn: each direction by its own level. A controller that
// sets its volts sets them by the move.
func (w *work) findOnePolarity() {
	const (
		least  = 0.5  // s of running that tell a move's volts
		same   = 0.15 // of the volts, within one polarity
		fewer  = 0.15 // of the volts; the two switches of a bridge differ by a twentieth
		alike  = 0.93 // more is a lead that carries less current one way
		fewRun = 2
	)
	if !w.driveKnown() {
		return
	}
	by, stall, ratios, turns := w.voltsByMove(least)
	if len(by[0]) < fewRun || len(by[1]) < fewRun || turns < 4 {
		return
	}
	lo := 0
	if medianOf(by[1]) < medianOf(by[0]) {
		lo = 1
	}
	from, to := extremes(by[lo])
	hf, ht := extremes(by[1-lo])
	// A supply that goes up or down meanwhile takes both ways with it: then what each
	// turn loses against the one before stays the same.
	steady := to-from <= same*to && ht-hf <= same*ht && to <= (1-fewer)*hf
	// What a resistance loses goes with the load; no two sound switches lose as much.
	apart := ht-hf <= same*ht && hf-to > 2*mostSwitchLoses
	if !apart && (w.d.pulsed || !steady && !(to < hf && alikeBelow(ratios, lo, 1-fewer, same))) {
		return
	}
	low, high := medianOf(by[lo]), medianOf(by[1-lo])
	dir := Direction(2*lo-1) * Direction(w.sense)
	f := Finding{Kind: SupplySag, Form: onePolarity, Direction: dir, Tie: TiedToDirection, TieP: math.Pow(0.5, float64(turns-1)), Volts: w.span, Time: w.drivenTime(),
		Seen: len(by[lo]), Passes: len(by[lo]), Event: "uneven ways", Strength: math.Min(1, (1-low/high)/0.2),
		Measures: []Measure{{MeasureLevelThatWay, low, "V"}, {MeasureLevelOtherWay, high, "V"}}}
	if len(stall[lo]) > 0 && len(stall[1-lo]) > 0 && medianOf(stall[lo])/low < alike*medianOf(stall[1-lo])/high {
		f.Measures = append(f.Measures, Measure{fallsUnderLoad, 100 * (1 - medianOf(stall[lo])/low), "%"})
	}
	if low < mostSetLower*high || high-low > 2*mostSwitchLoses {
		f.Measures = append(f.Measures, Measure{farFewerVolts, 100 * (1 - low/high), "%"})
	}
	w.found = append(w.found, f)
	w.slowOnFewVolts(dir, low/high)
}

// slowOnFewVolts takes back slow places of the way that gets a share of the other's volts:
// a load takes speed off in proportion to the stall torque, so at those volts 1/share times
// of what it takes at all of them (n/n0 = 1 - M/Ms).
func (w *work) slowOnFewVolts(dir Direction, share float64) {
	w.found = slices.DeleteFunc(w.found, func(f Finding) bool {
		slow, known := f.Measure(MeasureSpeedThere)
		return f.Kind == SlowZone && f.Direction == dir && known && 1-(1-slow)*share > w.lim.Slow
	})
}

// voltsOf is the drive of a move, without what pulses take of it, over the bins in which
// the shaft ran and in which it stood, in V.
func (w *work) voltsOf(m *Move) (run, stood []float64) {
	for _, s := range m.segs {
		for i := s.first; i < s.last; i++ {
			v := w.unduty(i)
			switch {
			case math.IsNaN(v):
			case s.state == track:
				run = append(run, v)
			case s.state == still:
				stood = append(stood, v)
			}
		}
	}
	return run, stood
}

// unduty is the unsigned drive of a bin without what pulses take of it: their height, NaN
// between two of them. A control sets the share of time, and the height is what reaches it.
func (w *work) unduty(bin int) float64 {
	if !w.d.pulsed {
		return math.Abs(w.d.mean[bin])
	}
	rest := w.d.levels.Rest
	h := math.Max(float64(w.tr.Drive.Max[bin])-rest, rest-float64(w.tr.Drive.Min[bin]))
	if h < math.Abs(w.d.mean[bin]) {
		return math.NaN()
	}
	return h
}

// flatTops tells whether pulses are seen up to their full: one is then as high as the next.
// An instrument that takes means, or is slower than they are, shows any height.
func flatTops(heights []float64) bool {
	const alike = 0.05 // of the height, what the load does not change from one row to the next
	var d []float64
	for i := 1; i < len(heights); i++ {
		d = append(d, math.Abs(heights[i]-heights[i-1]))
	}
	return quantileOf(d, 0.75) <= alike*medianOf(heights)
}

// mostSetLower is how many volts a control may mean to give one way, over those of the
// other: of the torque and of the speed it gives away a third (chosen, not derived). Who
// wants less than that pulses the drive.
const mostSetLower = 0.64

// mostSwitchLoses is what one switch of a bridge loses at most, in V: 0.2 V with field
// effect transistors, 1.5 V with Darlington pairs (common practice, no source). Two of
// them lie in either way, so two ways through sound ones differ by less than two such.
const mostSwitchLoses = 1.5

// alikeBelow tells whether the ratios of the negative to the positive polarity's volts
// put polarity lo below so much of the other in every turn, and alike within a share in
// all but a few: those about the moment in which the supply goes up or down.
func alikeBelow(ratios []float64, lo int, below, same float64) bool {
	r := slices.Clone(ratios)
	for i := range r {
		if lo == 1 {
			r[i] = 1 / r[i]
		}
	}
	if len(r) < 3 {
		return false
	}
	usual, alike := medianOf(r), 0
	for _, x := range r {
		if x > below {
			return false
		}
		if math.Abs(x-usual) <= same/2*usual {
			alike++
		}
	}
	return 3*alike >= 2*len(r)
}

// farFewerVolts is the name of a measure: fewer volts one way than are set so.
const farFewerVolts = "volts lost that way"

// unevenTitle says which way is slower, or gets fewer volts.
func (f *Finding) unevenTitle() string {
	if f.Kind == SupplySag {
		low, _ := f.Measure(MeasureLevelThatWay)
		high, _ := f.Measure(MeasureLevelOtherWay)
		s := fmt.Sprintf("%s %s the motor gets %.1f V, the other way %.1f V", f.sinceThen(), f.Direction, low, high)
		if v, ok := f.Measure(fallsUnderLoad); ok {
			s += fmt.Sprintf("; at the stop it falls by another %.0f %%", v)
		}
		return s + "."
	}
	r, _ := f.Measure(MeasureSlowerThatWay)
	s := fmt.Sprintf("Going %s it takes %.1f times as long as the other way, all along the travel", f.Direction, r)
	if f.has(atSameVolts) {
		s += ", at the same volts"
	}
	return s + f.notByLoadTitle() + "."
}
