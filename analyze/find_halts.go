package analyze

import (
	"math"
	"slices"

	"threewire/analyze/stats"
)

// haltsMidway is the form of [Pauses] in which a shaft that runs at its full pace stands at
// once, anywhere, and goes on at its full pace.
const haltsMidway = "halts in mid-run"

// leastHalts is the number from which halts are told: three lie at one place by chance only.
const leastHalts = 3

// shortestHalt is the least travel lost, s: a motor that is cut off, or that starts, takes
// some hundredths of a second over it, and what noise takes for a moment is shorter still.
const shortestHalt = 0.12

// halt is one stand in the midst of an even run.
type halt struct {
	move        int
	first, last int // bins
	at          float64
	lost        float64 // s of travel that was not made up
}

// findHalts reports a shaft that, running evenly, stands for moments and goes on, in places
// that other passes run through. Of a brush a motor that turns is carried on to the next bar;
// an object and a gap in the teeth keep their place; a shaft that sticks slows down before it
// and springs on after it. What is left is a lead that opens. Stands that are shorter than the
// window of the rates are found here, by means over blocks as short as noise allows.
func (w *work) findHalts() {
	// A current or the volts say more than the travel does.
	if w.tr.Current != nil || w.sure(StickSlip) || w.sure(Broken) || w.sure(GearTurn) || w.span.Width() <= 0 {
		return
	}
	halts, springs := w.halts()
	// Noise gives as much as it takes, and so does a shaft that is wound up; a halt only takes.
	if len(halts) < leastHalts || 2*springs > len(halts) || w.haltsRepeat(halts) || w.heldInHalts(halts) {
		return
	}
	f := Finding{Kind: Pauses, Form: haltsMidway, Seen: len(halts), Tie: TiedToTime, TieP: 1, Event: "halts", Time: noInterval(), Volts: noInterval()}
	var when []Interval
	moves := map[int]bool{}
	longest := 0.0
	for _, h := range halts {
		o := Occurrence{Time: Interval{w.t[h.first], w.t[h.last]}, Volts: Interval{h.at, h.at}, Direction: w.moves[h.move].Direction}
		f.Places, when = append(f.Places, o), append(when, o.Time)
		f.Time = f.Time.widen(o.Time.From).widen(o.Time.To)
		f.Volts = f.Volts.widen(h.at)
		longest = math.Max(longest, h.lost)
		moves[h.move] = true
	}
	f.Passes = len(moves)
	f.Strength = 1 - math.Exp(-float64(len(halts)-1))
	f.Measures = []Measure{{"longest stand", longest, "s"}, {"stands", float64(len(halts)), ""}}
	w.found = slices.DeleteFunc(w.found, func(g Finding) bool { return g.Kind == Pauses && g.Form == "" })
	for i := range w.found {
		g := &w.found[i]
		if (g.Kind == Jam || g.Kind == SlowZone) && within(g, when) {
			g.Event, g.Strength = f.Event, 0.3*g.Strength
		}
	}
	w.found = append(w.found, f)
}

// halts lists the stands in the midst of an even run, of drives that hold still, and counts
// the blocks that are too fast by as much.
func (w *work) halts() (out []halt, springs int) {
	noise := math.Max(w.noise, w.moving())
	for k := range w.moves {
		m := &w.moves[k]
		r := w.rate[side(m.Direction)]
		if m.Direction == None || r <= 0 || w.madeUp(m) || w.generated(m) {
			continue
		}
		// The step from one mean to the next is known to an eighth.
		n := 2
		for float64(n)*w.tr.Step < 0.05 || r*float64(n)*w.tr.Step < 8*noise*math.Sqrt(2/float64(n)) {
			n++
		}
		if float64(n)*w.tr.Step > 0.2 {
			continue
		}
		found, fast := w.haltsIn(k, n, r)
		out, springs = append(out, found...), springs+fast
	}
	return out, springs
}

// haltsIn lists the halts of one move by its pace from block to block of n bins, and counts the
// blocks that are too fast by as much.
func (w *work) haltsIn(k, n int, r float64) (out []halt, fast int) {
	const (
		stands, runs, springs = 0.25, 0.6, 1.5 // of the usual pace
		beside                = 0.15           // s of running on either side, two blocks at least
		between               = 2              // blocks that are part running, part standing
	)
	m := &w.moves[k]
	var at, level []float64
	for a := m.first; a+n <= m.last-int(m.Stalled/w.tr.Step); a += n {
		t, v := 0.0, 0.0
		for i := a; i < a+n; i++ {
			t, v = t+w.t[i]/float64(n), v+w.v[i]/float64(n)
		}
		at, level = append(at, t), append(level, v)
	}
	pace := make([]float64, max(0, len(at)-1))
	for i := range pace {
		pace[i] = float64(m.Direction) * (level[i+1] - level[i]) / (r * (at[i+1] - at[i]))
	}
	need := max(2, int(math.Ceil(beside/(float64(n)*w.tr.Step))))
	even := func(from int) bool { // runs evenly over paces [from, from+need)
		if from < 0 || from+need > len(pace) {
			return false
		}
		for _, p := range pace[from : from+need] {
			if p < runs || p > springs {
				return false
			}
		}
		return true
	}
	least := math.Max(shortestHalt, 2*float64(n)*w.tr.Step)
	for i := 0; i < len(pace); i++ {
		if pace[i] > 2-stands {
			fast++
		}
		if pace[i] >= stands {
			continue
		}
		j := i
		for j < len(pace) && pace[j] < stands {
			j++
		}
		before, after := -1, -1
		for b := 0; b <= between && before < 0; b++ {
			if even(i - b - need) {
				before = i - b
			}
		}
		for a := 0; a <= between && after < 0; a++ {
			if even(j + a) {
				after = j + a
			}
		}
		if before >= 0 && after >= 0 && w.steadyBetween(m, m.first+n*before, m.first+n*(after+1)) {
			took := at[after] - at[before]
			lost := took - float64(m.Direction)*(level[after]-level[before])/r
			stood := at[j] - at[i]
			mid := (level[i] + level[min(j, len(level)-1)]) / 2
			if lost > math.Max(least, 0.6*stood) && !w.nearEnd(mid) {
				out = append(out, halt{move: k, first: m.first + n*i, last: min(m.first+n*(j+1), len(w.t)-1), at: mid, lost: lost})
			}
		}
		i = j
	}
	return out, fast
}

// nearEnd tells whether a reading lies where seals, play and a control's slowing down are.
func (w *work) nearEnd(v float64) bool {
	zone := w.lim.EndZone * w.span.Width()
	return v < w.span.From+zone || v > w.span.To-zone
}

// steadyBetween tells whether the drive holds still over bins of a move and no rows are
// missing there.
func (w *work) steadyBetween(m *Move, from, to int) bool {
	to = min(to, m.last)
	for i := from; i < to; i++ {
		if math.Abs(m.gain[i-m.first]) < 0.8 || i > from && w.t[i]-w.t[i-1] > 4*w.tr.Step {
			return false
		}
	}
	return true
}

// haltsRepeat tells whether the halts keep to places: of the other passes that way over the
// places of halts more than a third halt there as well, and more than chance puts there; or
// too few were made to know.
func (w *work) haltsRepeat(halts []halt) bool {
	near := math.Max(0.02*w.span.Width(), 3*w.tol) // blocks, play and noise
	if w.haltsTogether(halts, near) {
		return true
	}
	made, hit, chance := 0, 0, 0.0
	for _, h := range halts {
		for k := range w.moves {
			m := &w.moves[k]
			lo, hi := math.Min(m.Start, m.End), math.Max(m.Start, m.End)
			if k == h.move || m.Direction != w.moves[h.move].Direction || h.at < lo+near || h.at > hi-near {
				continue
			}
			made++
			there, here := 0, false
			for _, o := range halts {
				if o.move == k {
					there++
					here = here || math.Abs(o.at-h.at) < near
				}
			}
			if here {
				hit++
			}
			chance += math.Min(1, float64(there)*2*near/(hi-lo))
		}
	}
	const asChance = 0.3 // to be called a place it need not be proven one
	return made < 2 || 3*hit > made && stats.BinomialTail(hit, made, chance/float64(made)) < asChance
}

// haltsTogether tells whether more halts of different moves, whichever way they went, lie at
// one place than chance puts there.
func (w *work) haltsTogether(halts []halt, near float64) bool {
	pairs, close := 0, 0
	for i, h := range halts {
		for _, o := range halts[:i] {
			if o.move == h.move {
				continue
			}
			pairs++
			if math.Abs(o.at-h.at) < near {
				close++
			}
		}
	}
	return close > 0 && stats.BinomialTail(close, pairs, math.Min(1, 2*near/w.span.Width())) < w.lim.Significance
}

// heldInHalts tells whether the volts of the drive fall in the halts, as they do where a
// motor is held and not open.
func (w *work) heldInHalts(halts []halt) bool {
	if !w.driveKnown() {
		return false
	}
	fall, noise := w.fallAtStops(), w.voltsNoise()
	if math.IsNaN(noise) || fall < 3*noise {
		return false
	}
	var over []float64
	for _, h := range halts {
		in, n := w.meanVolts(h.first, h.last)
		ran, k := w.meanVolts(max(w.moves[h.move].first, h.first-4*(h.last-h.first)), h.first)
		if n >= 3 && k >= 3 {
			over = append(over, in-ran)
		}
	}
	return len(over) > 0 && medianOf(over) < -0.3*fall
}
