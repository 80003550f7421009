package analyze

import (
	"math"
	"slices"
)

// comesAndGoes is the form of a sag in which the drive's volts are at a lower level for
// seconds and come back while it is driven.
const comesAndGoes = "drive, by spells"

// A spell of few volts is none of the control's own doing where it ends while the drive goes
// on: who slows down before a target stays slow up to it, and who starts gently does so by
// his clock. An engine is cranked for a second or two and once.
const (
	spellFall  = 0.25 // of the drive: another load on the supply takes less (common practice, no source)
	spellLeast = 0.6  // s
	spellsAll  = 3.0  // s of all spells together
	spellsSeen = 3
)

// feedSpell is one stretch of driven time at few volts.
type feedSpell struct {
	Interval
	volts []float64 // of each window of it
	drive float64   // s driven
	still int       // windows in which the shaft stood
	since float64   // s from the start of the move to the end of the spell, NaN where the drive ended
	under bool      // it begins under way
	alone bool      // it begins and ends under way, where another pass of the same way had the full drive
	eased bool      // the volts went down to it by and by
}

// findComesAndGoes reports volts that come and go under one drive. Of pulses it takes the
// height: the rows show them from nothing to the full drive, so a lower level between them is
// no share of time.
func (w *work) findComesAndGoes() {
	if !w.driveKnown() || w.sure(SupplySag) {
		return
	}
	spells, full := w.feedSpells()
	f := Finding{Kind: SupplySag, Form: comesAndGoes, Tie: TiedToTime, TieP: 1, Event: "supply", Time: noInterval()}
	var level []float64
	all, least, most, back, alone, starving := 0.0, math.Inf(1), 0.0, 0, 0, 0
	keeps := w.keepsVoltsHeld(full)
	for _, s := range spells {
		starved := keeps && w.starves(s, full)
		if !w.counts(s) && !starved {
			continue
		}
		if starved {
			starving++
		}
		level = append(level, medianOf(s.volts))
		f.Time = f.Time.widen(s.From).widen(s.To)
		f.Places = append(f.Places, Occurrence{Time: s.Interval, Volts: w.span})
		all += s.drive
		if s.alone {
			alone++
		}
		if !math.IsNaN(s.since) {
			back++
			least, most = math.Min(least, s.since), math.Max(most, s.since)
		}
	}
	if len(level) < spellsSeen || all < spellsAll && starving < spellsSeen {
		return
	}
	// It comes back at any time. Where it came back but once, a control's habits are left.
	often := back >= 2 && most >= 1.5*least && most-least >= spellLeast
	if !often && !w.noHabit(spells) {
		return
	}
	// It falls to one level again and again; or, as a loose contact has no one resistance,
	// to any, but then under way and at no place that loads the shaft.
	if lo, hi := extremes(level); hi-lo > 0.1*full && alone < spellsSeen {
		return
	}
	at := medianOf(level)
	f.Seen, f.Passes, f.Strength = len(level), len(level), 1-math.Exp(-float64(len(level))/2)
	if !often {
		f.Strength = math.Min(0.6, f.Strength) // a control that was told so could do it
	}
	f.Measures = []Measure{{MeasureLevelUnderLoad, at, "V"}, {MeasureDropUnderLoad, 100 * (1 - at/full), "%"}}
	w.found = append(w.found, f)
}

// counts tells whether a spell is long enough, as far as the capture shows it, and none that a
// stop makes, which loads the drive, or a control that eases off towards its target: a contact
// lets go or gives way at once.
func (w *work) counts(s feedSpell) bool {
	cutOff := s.To > w.t[len(w.t)-1]-spellLeast && len(s.volts) >= 2
	return !s.eased && (s.drive >= spellLeast || cutOff) && 3*s.still <= len(s.volts)
}

// starves tells whether a spell begins and ends under way, lasts long enough by its rows (its
// windows hold only what is low all through), and has the shaft go less than half as far as
// it does with all volts: a control that holds its speed turns down where a load helps it.
func (w *work) starves(s feedSpell, full float64) bool {
	if !s.under || math.IsNaN(s.since) {
		return false
	}
	a, b := indexAt(w.t, s.From), indexAt(w.t, s.To)
	low := func(i int) bool { return math.Abs(w.d.mean[i]) < (1-spellFall)*full && w.d.pol[i] == w.d.pol[a] }
	for a > 0 && low(a-1) {
		a--
	}
	for b+1 < len(w.t) && low(b) {
		b++
	}
	took := lapse(w.t[b], w.t[a])
	return took >= spellLeast && math.Abs(w.v[b]-w.v[a]) < math.Min(w.rate[0], w.rate[1])*took/2
}

// keepsVoltsHeld tells whether the drive, full in V, is there against the stops as under way.
// Then a shaft that stands amid its way does so for want of volts, and takes none.
func (w *work) keepsVoltsHeld(full float64) bool {
	var held []float64
	near := w.lim.EndZone * w.span.Width()
	for _, s := range w.stallsOf() {
		if s.level > w.span.From+near && s.level < w.span.To-near {
			continue
		}
		if a, b := indexAt(w.t, s.at), indexAt(w.t, s.at+s.seconds); b > a {
			held = append(held, math.Abs(medianOf(w.d.mean[a:b])))
		}
	}
	return len(held) > 1 && medianOf(held) > (1-spellFall/2)*full
}

// noHabit tells whether the volts came back in the midst of one drive and fell in the midst of
// another for the rest of it, while two drives or more kept theirs from end to end: who starts
// gently, or slows down before a target, does either and does it each time.
func (w *work) noHabit(spells []feedSpell) bool {
	const drives = 2
	up, down := false, false
	for _, s := range spells {
		if w.counts(s) {
			up = up || !s.under && !math.IsNaN(s.since)
			down = down || s.under && math.IsNaN(s.since)
		}
	}
	if !up || !down {
		return false
	}
	whole := 0
	for k := range w.moves {
		m := &w.moves[k]
		if m.Moving >= spellLeast && !slices.ContainsFunc(spells, func(s feedSpell) bool { return s.From < m.Time.To && s.To > m.Time.From }) {
			whole++
		}
	}
	return whole >= drives
}

// A driveWindow is a fifth of a second of a move, and the height of its drive, V.
type driveWindow struct {
	move, first, last int
	volts             float64
}

// easesOff tells whether the drive went down by and by, from full to the least of the spell
// that the windows first to last are: over three windows or more, with no step between two of
// them that is half of the way.
func easesOff(at []driveWindow, first, last int, full float64) bool {
	from := first
	for from > 0 && at[from-1].move == at[first].move && at[from].volts < 0.95*full {
		from--
	}
	least, to := at[first].volts, first
	for j := first; j <= last && at[j].move == at[first].move; j++ {
		if at[j].volts < least {
			least, to = at[j].volts, j
		}
	}
	step := 0.0
	for j := from; j < to; j++ {
		step = math.Max(step, at[j].volts-at[j+1].volts)
	}
	return to-from >= 3 && step < (at[from].volts-least)/2
}

// feedSpells lists the stretches of driven time in which the drive, or the height of its
// pulses, lies a quarter below what it is else, and gives that full drive in V. A stretch
// goes on over a rest between two drives.
func (w *work) feedSpells() (spells []feedSpell, full float64) {
	n := max(3, w.rows(0.2)) // longer than pulses take to come round
	var at []driveWindow
	var levels []float64
	for k := range w.moves {
		m := &w.moves[k]
		for a := m.first + 1; a+n < m.last; a += n {
			height := 0.0
			for i := a; i < a+n; i++ {
				height = math.Max(height, math.Max(math.Abs(float64(w.tr.Drive.Min[i])-w.d.levels.Rest), math.Abs(float64(w.tr.Drive.Max[i])-w.d.levels.Rest)))
			}
			at = append(at, driveWindow{k, a, a + n, height})
			levels = append(levels, height)
		}
	}
	if len(levels) < 20 {
		return nil, 0
	}
	full = quantileOf(levels, 0.9)
	open, first := false, 0
	for j, q := range at {
		// Back are volts that went more than half of the way, as of any switch with hysteresis:
		// one level near the limit comes and goes with its noise alone.
		if q.volts > (1-spellFall/2)*full || q.volts > (1-spellFall)*full && !open {
			if open && at[j-1].move == q.move {
				s := &spells[len(spells)-1]
				s.since = w.t[q.first] - w.moves[q.move].Time.From
				s.alone = s.under && w.fullElsewhere(s.Interval, q.move, full)
			}
			open = false
			continue
		}
		if q.volts > (1-spellFall)*full {
			continue
		}
		if !open {
			spells = append(spells, feedSpell{Interval: Interval{w.t[q.first], w.t[q.first]}, since: math.NaN(), under: j > 0 && at[j-1].move == q.move})
			open = true
			first = j
		}
		s := &spells[len(spells)-1]
		s.To = w.t[q.last]
		s.volts, s.drive = append(s.volts, q.volts), s.drive+w.t[q.last]-w.t[q.first]
		s.eased = s.under && easesOff(at, first, j, full)
		if w.stoodIn(q.move, q.first, q.last) {
			s.still++
		}
	}
	return spells, full
}

// fullElsewhere tells whether in another move of the same direction the shaft was driven
// with most of the full drive, in V, over the reading midway in a spell of a move: then no
// load at that place takes the volts.
func (w *work) fullElsewhere(spell Interval, move int, full float64) bool {
	v := w.v[indexAt(w.t, (spell.From+spell.To)/2)]
	n := max(1, w.rows(0.1))
	for k := range w.moves {
		m := &w.moves[k]
		if k == move || m.Direction != w.moves[move].Direction {
			continue
		}
		for _, g := range m.segs {
			for i := g.first + n; g.state == track && i+n < g.last; i++ {
				if (w.v[i]-v)*(w.v[i+1]-v) <= 0 && math.Abs(mean(w.d.mean[i-n:i+n])) > (1-spellFall/2)*full {
					return true
				}
			}
		}
	}
	return false
}

// stoodIn tells whether the shaft stood anywhere in the bins [from, to) of a move.
func (w *work) stoodIn(move, from, to int) bool {
	for _, g := range w.moves[move].segs {
		if g.state == still && g.first < to && g.last > from {
			return true
		}
	}
	return false
}
