package analyze

import (
	"fmt"
	"math"
)

// supplyBySpells is the form of a logged supply that falls for seconds and comes back, at
// moments that are none of the drive's.
const supplyBySpells = "supply, by spells"

// supplySpell is one stretch of time in which the supply lies lower, in V, with how many of
// its two edges are the drive's own.
type supplySpell struct {
	Interval
	level        float64
	edges, drive int
}

// findSupplySpells reports a logged supply that falls again and again to what no sound
// battery shows, whatever the actuator does meanwhile, and takes the motor's volts with it.
// The actuator's own current takes its share at starts and at the ends of drives; an engine
// is cranked once, for a second or two; a generator that comes and goes leaves a battery's
// volts; and a clip that comes off the supply takes nothing from the motor.
func (w *work) findSupplySpells() {
	s := w.tr.Supply
	if s == nil || s.Unit != "V" || !w.driveKnown() || w.has(SupplySag) {
		return
	}
	spells, full := w.supplySpells()
	const cranked = 2.5 // s, longer than an engine is cranked (common practice, no source)
	f := Finding{Kind: SupplySag, Form: supplyBySpells, Tie: TiedToTime, TieP: 1, Event: "supply", Time: noInterval()}
	var level []float64
	all, longest, edges, own := 0.0, 0.0, 0, 0
	for _, p := range spells {
		if p.level > math.Min((1-sagOfDrive)*full, emptyBattery) {
			continue
		}
		level = append(level, p.level)
		all, longest = all+p.Width(), math.Max(longest, p.Width())
		edges, own = edges+p.edges, own+p.drive
		f.Time = f.Time.widen(p.From).widen(p.To)
		f.Places = append(f.Places, Occurrence{Time: p.Interval, Volts: w.span})
	}
	if len(level) < spellsSeen || all < spellsAll || longest < cranked || 2*own > edges || edges-own < spellsSeen {
		return
	}
	at := medianOf(level)
	drop := 1 - at/full
	if !w.driveFallsWith(f.Places, drop) {
		return
	}
	f.Seen, f.Passes, f.Strength = len(level), len(level), 1-math.Exp(-float64(len(level))/2)
	f.Measures = []Measure{{MeasureLevelUnderLoad, at, "V"}, {MeasureDropUnderLoad, 100 * drop, "%"}}
	w.found = append(w.found, f)
}

// supplyLevels are the medians of the logged supply, V, over blocks of n rows, a tenth of a
// second or so, and the rows at which these begin.
func (w *work) supplyLevels() (at []int, level []float64, n int) {
	s := w.tr.Supply
	n = max(3, w.rows(0.1))
	for a := 0; a+n <= len(s.Mean); a += n {
		if x := medianOf32(s.Mean[a : a+n]); !math.IsNaN(x) {
			at, level = append(at, a), append(level, x)
		}
	}
	return at, level, n
}

// supplySpells lists the stretches in which the logged supply lies lower than it mostly does
// by more than half of what a feed may lose, and gives that usual level, in V.
func (w *work) supplySpells() (spells []supplySpell, full float64) {
	at, level, n := w.supplyLevels()
	if len(level) < 20 {
		return nil, 0
	}
	full = quantileOf(level, 0.9)
	low := func(x float64) bool { return x < (1-sagOfDrive/2)*full }
	for i := 0; i < len(level); i++ {
		if !low(level[i]) {
			continue
		}
		j := i
		for j+1 < len(level) && low(level[j+1]) {
			j++
		}
		p := supplySpell{Interval: Interval{w.t[at[i]], endOf(w.t, at[j]+n, w.tr.Step)}, level: medianOf(level[i : j+1])}
		for _, e := range []struct {
			row  int
			seen bool
		}{{at[i], i > 0}, {at[j] + n, j+1 < len(level)}} {
			if e.seen {
				p.edges++
				if w.driveTurns(e.row-n, e.row+n) {
					p.drive++
				}
			}
		}
		spells = append(spells, p)
		i = j
	}
	return spells, full
}

// driveTurns tells whether a drive begins, ends or turns over in the rows [from, to).
func (w *work) driveTurns(from, to int) bool {
	for i := max(1, from); i < min(to, len(w.d.pol)); i++ {
		if w.d.pol[i] != w.d.pol[i-1] {
			return true
		}
	}
	return false
}

// driveFallsWith tells whether in such spells the motor's volts are lower too, by half of the
// share at the least.
func (w *work) driveFallsWith(spells []Occurrence, share float64) bool {
	var in, out []float64
	next := 0
	for i, t := range w.t {
		for next < len(spells) && t > spells[next].Time.To {
			next++
		}
		if w.d.pol[i] == 0 {
			continue
		}
		height := math.Max(math.Abs(float64(w.tr.Drive.Min[i])-w.d.levels.Rest), math.Abs(float64(w.tr.Drive.Max[i])-w.d.levels.Rest))
		if next < len(spells) && t >= spells[next].Time.From {
			in = append(in, height)
		} else {
			out = append(out, height)
		}
	}
	return len(in) > 0 && len(out) > 0 && quantileOf(in, 0.75) < (1-share/2)*quantileOf(out, 0.75)
}

// supplySpellsTitle says how often and how far the supply falls.
func (f *Finding) supplySpellsTitle(level, drop float64) string {
	return fmt.Sprintf("The supply comes and goes: %s it falls to %.1f V, %.0f %% less than the rest of the time, whatever the drive does.", timesText(f.Seen), level, drop)
}
