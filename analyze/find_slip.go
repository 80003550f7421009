package analyze

import (
	"math"
	"slices"

	"threewire/analyze/stats"
)

// fall is one fall back of the reading at constant polarity.
type fall struct {
	move, bin int
	size      float64 // V
}

// falls lists steps against the drive, complete within two bins or 30 ms,
// that are not the way back from a glitch nor followed by one: a gear tooth
// lets go, and the shaft then climbs again at the motor's own speed.
func (w *work) falls() []fall {
	// Two readings differ by more than one strays.
	least := math.Sqrt2*w.lim.NoiseSigmas*w.pressedNoise() + w.quantum
	// An instrument that wanders differs by more over as many rows.
	return w.fallsOver(math.Max(least, w.lim.NoiseSigmas*w.stepScale(w.fallRows())))
}

// fallRows is the rows that a fall takes at most.
func (w *work) fallRows() int { return min(max(1, w.rowsOver(0.03)), 200) }

// fallsOver lists those of at least a size, V.
func (w *work) fallsOver(least float64) []fall {
	var out []fall
	span := w.fallRows()
	for k := range w.moves {
		m := &w.moves[k]
		sign := float64(m.Direction)
		// A reversed motor coasts on for some mechanical time constants; what
		// the reading does then, and in strokes hardly longer, is no tooth.
		first := m.first + 2
		for first < m.last && lapse(w.t[first], w.t[m.first]) < w.lim.StallSeconds {
			first++
		}
		if m.Direction == None || m.last-m.first < 4*span || m.Duration() < 4*w.lim.StallSeconds {
			continue
		}
		// As the drive ends the shaft springs back, and channels that are read one after the
		// other, or filtered, show that up to a tenth of a second early.
		last := m.last - 1
		for last > first && lapse(w.t[min(m.last, len(w.t)-1)], w.t[last]) < 0.1 {
			last--
		}
		r := math.Max(w.rate[side(m.Direction)], 1e-9)
		reach := w.tol + 3*r*w.tr.Step*float64(span)
		for i := first; i+span < last; i++ {
			drop := sign * (w.v[i] - w.v[i+span])
			if drop < least {
				continue
			}
			// A window that falls further from its next row on cuts the fall short: what comes
			// after it is the rest of the fall, and no open wire that discharges.
			if next := i + 1; next+span < last && sign*(w.v[next]-w.v[next+span]) > drop {
				continue
			}
			// The level before must have been climbed to, the level after be
			// climbed from: no jump of that size on either side.
			a, b := max(m.first, i-2*span), min(m.last-1, i+3*span)
			before := sign * (w.v[i] - w.v[a])
			after := sign * (w.v[b] - w.v[i+span])
			if before > 0.6*drop && before > reach || after > 0.6*drop && after > reach {
				i += span
				continue
			}
			// A reading that falls on and on is an open wire that discharges.
			if before < -0.7*drop || after < -0.7*drop {
				i += span
				continue
			}
			// What was lost stays lost: a spike comes back to its line.
			was := medianOf(w.v[max(m.first, i-3*span) : i+1])
			is := medianOf(w.v[i+span : min(m.last, i+5*span)])
			if went := r * 4 * float64(span) * w.tr.Step; sign*(was-is)+went < 0.5*drop {
				i += span
				continue
			}
			out = append(out, fall{k, i, drop})
			i += 2 * span
		}
	}
	return out
}

// stepScale is the robust standard deviation, in V, of what the reading changes
// by over so many bins while it follows the drive.
func (w *work) stepScale(bins int) float64 {
	var d []float64
	for k := range w.moves {
		for _, g := range w.moves[k].segs {
			if g.state != track {
				continue
			}
			for i := g.first; i+bins < min(g.last, len(w.v)); i += bins {
				d = append(d, w.v[i+bins]-w.v[i])
			}
		}
	}
	if len(d) < 20 {
		return 0
	}
	// Up and down have steps of their own: about the median size of each.
	var up, down []float64
	for _, x := range d {
		if x > 0 {
			up = append(up, x)
		} else {
			down = append(down, x)
		}
	}
	var dev []float64
	for _, side := range [][]float64{up, down} {
		if len(side) == 0 {
			continue
		}
		m := medianOf(side)
		for _, x := range side {
			dev = append(dev, math.Abs(x-m))
		}
	}
	return stats.MADScale * medianOf(dev)
}

// findSlip reports falls back at constant polarity: the gear train lets go
// under load, tooth after tooth. Where single falls do not tell, as the noise of a
// stalled motor steps both ways as far as they do, the line of many still may.
func (w *work) findSlip() {
	if f, told := w.slipOf(w.slips()); told {
		w.found = append(w.found, f)
		return
	}
	w.findSaw()
}

// slips lists the falls back that may be teeth, in order, and the sizes of those
// that came alone: falls within a few bins cut long ones short.
func (w *work) slips() (ev []fall, alone []float64) {
	for _, x := range w.rockings {
		ev = append(ev, x.falls...)
	}
	for _, x := range w.falls() {
		end := w.v[x.bin] - x.size*float64(w.moves[x.move].Direction)
		if !w.onTrackFault(w.v[x.bin]) && !w.onTrackFault(end) && !w.rocks(x.bin, x.bin+1) {
			ev = append(ev, x)
			alone = append(alone, x.size)
		}
	}
	slices.SortFunc(ev, func(a, b fall) int { return a.bin - b.bin })
	return ev, alone
}

// slipOf is what falls tell of the gears, and whether they are teeth.
func (w *work) slipOf(ev []fall, alone []float64) (f Finding, told bool) {
	// Two do where they come from one place, see fallOneWay.
	if len(ev) < leastFalls && (len(ev) < fewestFrom || len(w.rockings) < len(ev)) {
		return f, false
	}
	f = Finding{Kind: GearSlip, Seen: len(ev), Tie: TieUnknown, TieP: 1, Event: "slip"}
	f.Time = noInterval()
	f.Volts = f.Time
	var size []float64
	moves := map[int]bool{}
	up := [2]int{}
	for _, e := range ev {
		o := w.placeOf(e)
		f.Time = f.Time.widen(o.Time.From).widen(o.Time.To)
		f.Volts = f.Volts.widen(o.Volts.From).widen(o.Volts.To)
		if len(f.Places) < mostTeethPlaced {
			f.Places = append(f.Places, o)
		}
		size = append(size, e.size)
		moves[e.move] = true
		up[side(w.moves[e.move].Direction)]++
	}
	// A worn track throws the reading both ways; a tooth that lets go throws it
	// back, and then the motor climbs at its own speed.
	if w.leaps(moves, medianOf(size)/2) > len(ev)/2 {
		return f, false
	}
	if w.bothWays(ev, medianOf(size)/2) {
		return f, false
	}
	// Teeth are of one size: falls of very different sizes are something else.
	if len(alone) > 0 && quantileOf(alone, 0.75) > 3*quantileOf(alone, 0.25) {
		return f, false
	}
	f.Direction = oneDirection(up)
	f.Passes = len(moves)
	ev = w.countTeeth(&f, ev, medianOf(size))
	f.Strength = 1 - math.Exp(-float64(len(ev))/2)
	f.Measures = []Measure{{"slips", float64(f.Seen), ""}, {MeasureSize, medianOf(size), w.unit()}}
	f.Measures = append(f.Measures, w.slipRates(ev)...)
	f.Form = w.huntPlace(f)
	return f, true
}

// countTeeth counts the falls of a finding again, once teeth are told: the noise of a
// motor that stalls, by which the first falls had to stand out, is made of teeth itself. What
// falls by half of their median size in the same moves, beyond the noise of a running motor,
// is one of them. Only the count, the places and the pace are taken from here. It returns all.
func (w *work) countTeeth(f *Finding, ev []fall, size float64) []fall {
	least := math.Max(size/2, math.Sqrt2*w.lim.NoiseSigmas*w.moving()+w.quantum)
	in := map[int]bool{}
	for _, e := range ev {
		in[e.move] = true
	}
	all, apart := slices.Clone(ev), 2*w.fallRows()
	for _, x := range w.fallsOver(least) {
		known := slices.ContainsFunc(ev, func(e fall) bool { return e.bin-x.bin <= apart && x.bin-e.bin <= apart })
		end := w.v[x.bin] - x.size*float64(w.moves[x.move].Direction)
		if in[x.move] && !known && x.size < 2*size && !w.rocks(x.bin, x.bin+1) && !w.onTrackFault(w.v[x.bin]) && !w.onTrackFault(end) {
			all = append(all, x)
		}
	}
	slices.SortFunc(all, func(a, b fall) int { return a.bin - b.bin })
	f.Seen, f.Places = len(all), nil
	for _, e := range all[:min(len(all), mostTeethPlaced)] {
		o := w.placeOf(e)
		f.Places = append(f.Places, o)
		f.Time = f.Time.widen(o.Time.From).widen(o.Time.To)
		f.Volts = f.Volts.widen(o.Volts.From).widen(o.Volts.To)
	}
	return all
}

// mostTeethPlaced is how many falls of one finding are kept with their places.
const mostTeethPlaced = 200

// placeOf is when and where the reading fell.
func (w *work) placeOf(e fall) Occurrence {
	dir := w.moves[e.move].Direction
	a := w.v[e.bin]
	b := a - e.size*float64(dir)
	return Occurrence{Interval{w.t[e.bin], w.t[min(len(w.t)-1, e.bin+1)]}, Interval{math.Min(a, b), math.Max(a, b)}, dir}
}

// slipRates is how many teeth let go in a second while they follow one another in one
// drive, by the median of the times between them: over both directions, and of either
// where both have three, as the shaft is not pressed alike both ways.
func (w *work) slipRates(ev []fall) []Measure {
	var gaps [2][]float64
	for i := 1; i < len(ev); i++ {
		if a, b := ev[i-1], ev[i]; a.move == b.move {
			d := side(w.moves[b.move].Direction)
			gaps[d] = append(gaps[d], w.t[b.bin]-w.t[a.bin])
		}
	}
	both := slices.Concat(gaps[0], gaps[1])
	if len(both) == 0 {
		return nil
	}
	out := []Measure{{MeasureSlipRate, 1 / medianOf(both), "Hz"}}
	if len(gaps[0]) >= 3 && len(gaps[1]) >= 3 {
		out = append(out, Measure{MeasureSlipRateDown, 1 / medianOf(gaps[0]), "Hz"}, Measure{MeasureSlipRateUp, 1 / medianOf(gaps[1]), "Hz"})
	}
	return out
}

// fallsIn counts the falls of one move.
func (w *work) fallsIn(move int) int {
	n := 0
	for _, f := range w.falls() {
		if f.move == move {
			n++
		}
	}
	return n
}

// leaps counts, in the given moves, single steps forward beyond twice what the
// motor can turn, beyond noise at rest and beyond a size: the noise under drive,
// which brushes and pulses make larger, is no leap beside a tooth.
func (w *work) leaps(moves map[int]bool, size float64) int {
	n := 0
	// Where a wound-up door lets go it swings on for a moment: a third is no leap either.
	least := math.Max(w.tol, math.Min(size, math.Max(math.Sqrt2*w.lim.NoiseSigmas*w.moving(), size/3)))
	for k := range moves {
		m := &w.moves[k]
		r := w.rate[side(m.Direction)]
		for i := m.first + 1; i < m.last; i++ {
			if (w.v[i]-w.v[i-1])*float64(m.Direction) > least+1.5*w.lim.Fast*r*(w.t[i]-w.t[i-1]) {
				n++
			}
		}
	}
	return n
}

// bothWays tells whether single readings about the falls of a finding step forward by half
// of their size nearly as often as back: that is noise, which a motor that stalls sends
// into the wires. After a tooth the motor climbs at its own speed, by far less from one
// row to the next; where it does not, the rows are too few to tell. Noise that makes a fall
// makes it in one step: where most falls take several rows, a few such steps say nothing.
func (w *work) bothWays(ev []fall, half float64) bool {
	const beside = 0.5 // s
	on, back, upTo := 0, 0, 0
	for _, e := range ev {
		m := &w.moves[e.move]
		climb := w.lim.Fast * w.rate[side(m.Direction)] * w.tr.Step
		if climb > half {
			return false
		}
		a, b := max(m.first+1, upTo, indexAt(w.t, w.t[e.bin]-beside)), min(m.last, indexAt(w.t, w.t[e.bin]+beside)+1)
		for i := a; i < b; i++ {
			switch d := (w.v[i] - w.v[i-1]) * float64(m.Direction); {
			case d > half:
				on++
			case d < -half:
				back++
			}
		}
		upTo = max(upTo, b)
	}
	return 2*on > back && 2*back > len(ev)
}

// onTrackFault tells whether a reading lies on a piece of track already found
// faulty: what it does there says nothing about the gears.
func (w *work) onTrackFault(v float64) bool {
	margin := w.resolution()
	for _, f := range w.found {
		if (f.Kind == DeadSpot || f.Kind == NoisyTrack) && v > f.Volts.From-margin && v < f.Volts.To+margin || f.Kind == Dropouts {
			return true
		}
	}
	return false
}
