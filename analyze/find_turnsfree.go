package analyze

import (
	"math"
	"slices"
	"sort"
)

// turnsAndGoesOn is the form of a gear slip in which the shaft waits at a place while
// the motor turns, and goes on from there: teeth are missing there.
const turnsAndGoesOn = "motor turns, then the shaft goes on"

// joinTurnsFree looks at the current of the places at which the shaft seems to stand, or
// hardly gets on. A door that binds or catches takes more torque, and the current is in
// proportion to it: a motor that comes down to a share f of its speed at the same volts,
// having run at a share s of its stall torque, draws (1-f(1-s))/s times as much, twice and
// more for half of the speed. Where it draws less than beside that place nothing hangs on
// it there: teeth are missing. Where it draws the same it turns as before, with the same
// load, and what does not get on is the reading. Where the volts were not logged, a control
// that turns its drive down there does the same to a speed; to a stand only one that turned
// it down, pass after pass, to the very share that lets a held motor draw its running current.
func (w *work) joinTurnsFree() {
	if w.tr.Current == nil {
		return
	}
	var untold []int // places whose current does not show
	for i := range w.found {
		f := &w.found[i]
		if f.Kind != SlowZone || f.Form == intoOneStop {
			continue
		}
		if w.d.pulsed {
			w.turnsFreePulsed(f)
			continue
		}
		const less, asBeside = 0.85, 1.3 // a load differs from place to place, by a tenth or two near by
		there, beside := w.currentOfPlaces(f)
		ratio := there / beside
		switch due := w.bindingCurrent(f, beside); {
		case ratio < noneOfRunning: // no motor turns on so little
		case !w.driveKnown() && f.Form == "":
			// The drive may have been turned down there, but no load draws so little.
			if due > 1.5 && ratio < math.Min(asBeside, 1+(due-1)/4) {
				f.Measures = append(f.Measures, Measure{unloadedThere, ratio, ""})
			} else if math.IsNaN(ratio) {
				untold = append(untold, i)
			}
		case !w.driveKnown() && (ratio < less || f.Form != standsAndGoes): // the drive may have been turned down there
		case due > 1.5 && ratio < math.Min(asBeside, 1+(due-1)/4) && w.letsGoOneWay(f):
			f.Kind, f.Form = GearSlip, turnsAndGoesOn
			f.Measures = append(f.Measures, Measure{currentBeside, ratio, ""})
			w.oneWithSlip(f)
		case ratio < less:
			f.Kind, f.Form = GearSlip, turnsAndGoesOn
			f.Measures = append(f.Measures, Measure{currentBeside, ratio, ""})
		case due > 1.5 && ratio < math.Min(asBeside, 1+(due-1)/4):
			f.Measures = append(f.Measures, Measure{currentBeside, ratio, ""})
			w.oneWithBand(f)
		}
	}
	w.markOnlySlowPlace()
	// What slows the shaft at one place without a load may be what does so at another.
	if slices.ContainsFunc(w.found, func(f Finding) bool { return f.has(unloadedThere) }) {
		for _, i := range untold {
			w.found[i].Measures = append(w.found[i].Measures, Measure{unloadedElsewhere, 1, ""})
		}
	}
}

// unloadedThere is the measure of the current at a slow place over that beside it, where
// it does not rise as it would for a door and the drive's volts are unknown;
// unloadedElsewhere marks a place whose current does not show, beside such a one.
const (
	unloadedThere     = "current there over current beside, volts unknown"
	unloadedElsewhere = "another slow place does not load the motor"
)

// onlySlowPlace marks a place without a load, volts unknown, beside which none is slow: what a
// channel or a control does to the reading or the drive it does to more places than one.
const onlySlowPlace = "no other place is slow"

// markOnlySlowPlace marks it.
func (w *work) markOnlySlowPlace() {
	only := -1
	for i := range w.found {
		switch {
		case w.found[i].Kind != SlowZone:
		case only >= 0:
			return
		default:
			only = i
		}
	}
	if only >= 0 && w.found[only].has(unloadedThere) {
		w.found[only].Measures = append(w.found[only].Measures, Measure{onlySlowPlace, 1, ""})
	}
}

// letsGoOneWay tells whether a place at which the shaft stands, while its motor draws what
// it draws beside it, is one of the gears and not of the track: the other way the reading
// gets over it without a stand, pass after pass. A piece of track that tells nothing tells
// nothing either way; teeth that are worn on one flank let go one way.
func (w *work) letsGoOneWay(f *Finding) bool {
	const crossed = 2 // passes the other way
	if f.Form != standsAndGoes || f.Direction == None {
		return false
	}
	_, made := w.passes(cluster{volts: f.Volts})
	return made[side(-f.Direction)] >= crossed
}

// oneWithSlip takes falls back of the reading at the same place for the same event: in one
// pass the teeth that let go show one by one, in another as a stand.
func (w *work) oneWithSlip(f *Finding) {
	around := f.Volts.widen(f.Volts.From - w.resolution()).widen(f.Volts.To + w.resolution())
	for i := range w.found {
		if g := &w.found[i]; g != f && g.Kind == GearSlip && g.Form != motorTurns && g.Volts.Overlaps(around) {
			g.Event = f.Event
		}
	}
}

// oneWithBand takes stands in a band that is slow without a load for the band: where the track
// tells little of the way, a drive that begins there seems to start late, and one that passes
// to stand.
func (w *work) oneWithBand(f *Finding) {
	around := f.Volts.widen(f.Volts.From - w.resolution()).widen(f.Volts.To + w.resolution())
	for i := range w.found {
		if g := &w.found[i]; g.Kind == Pauses && around.From <= g.Volts.From && g.Volts.To <= around.To {
			g.Event, g.Strength = f.Event, 0.3*g.Strength
		}
	}
}

// currentBeside is the measure of the current at a place over that on either side of it,
// where it does not rise as it would for a door.
const currentBeside = "current there over current beside"

// bindingCurrent is how many times as much a motor would draw at a place if it was a load
// that slowed it there as far as the reading is; NaN where its current while it is held
// was not seen.
func (w *work) bindingCurrent(f *Finding, beside float64) float64 {
	speed, _ := f.Measure(MeasureSpeedThere) // a stand has none
	share := beside / (w.blockedCurrent(nil) - w.idleCurrent())
	return (1 - speed*(1-share)) / share
}

// currentOfPlaces gives the usual current, above what flows at rest, while the shaft gets
// over the places of a finding, and while it runs: just before and after, or on the whole
// where that is less; NaN where fewer than two places are long enough to show it.
func (w *work) currentOfPlaces(f *Finding) (there, beside float64) {
	in, out := w.currentsAbout(f, func(Interval) func(from, to float64) float64 { return w.currentWithin })
	if len(in) < 2 {
		return math.NaN(), math.NaN()
	}
	idle := w.idleCurrent()
	return medianOf(in) - idle, math.Min(medianOf(out), w.runningCurrent()) - idle
}

// currentsAbout gives the current at each place of a finding that is long enough, and the
// less of that just before and just after, by the meter that is made for a place: of one
// from and to some time.
func (w *work) currentsAbout(f *Finding, meter func(place Interval) func(from, to float64) float64) (in, out []float64) {
	const about = 0.6 // s before and after
	for _, o := range f.Places {
		k := w.driveAt(o.Time.Mid())
		if k < 0 {
			continue
		}
		m := &w.moves[k]
		up := m.Time.From + 2*w.lim.StallSeconds // up to speed
		from, to := w.slowWithin(o, f)
		if from = math.Max(from, up); to-from < math.Max(0.1, 6*w.tr.Step) {
			continue
		}
		current := meter(Interval{from, to})
		// Teeth that meet again, and the winding, take some hundredths of a second.
		x := current(from+(to-from)/4, to-(to-from)/8)
		y := current(math.Max(up, from-about), from-w.lim.StallSeconds/2)
		if z := current(to+w.lim.StallSeconds, math.Min(m.Time.To, to+about)); !(y < z) {
			y = z
		}
		if !math.IsNaN(x) && !math.IsNaN(y) {
			in, out = append(in, x), append(out, y)
		}
	}
	return in, out
}

// slowWithin is the stretch of an occurrence in which the shaft is slow: all of a band,
// or the stand about a place that tells only its first and last reading.
func (w *work) slowWithin(o Occurrence, f *Finding) (from, to float64) {
	if f.Form != standsAndGoes && f.Form != turnsAndGoesOn && f.Form != waitsAlike {
		return o.Time.From, o.Time.To
	}
	return w.standWithin(o)
}

// standWithin gives the stretch about an occurrence in which the reading hardly moves.
func (w *work) standWithin(o Occurrence) (from, to float64) {
	n := max(2, w.rows(0.06))
	rate := w.rate[side(o.Direction)]
	best, run := Interval{}, Interval{}
	const pad = 0.15 // s
	still := func(i int) bool {
		return math.Abs(w.smooth[i+n]-w.smooth[i]) < 0.35*rate*(w.t[i+n]-w.t[i])
	}
	for i := indexAt(w.t, o.Time.From-pad); i+n < len(w.t) && w.t[i] < o.Time.To+pad; i++ {
		if !still(i) {
			run = Interval{}
			continue
		}
		if run == (Interval{}) {
			run.From = w.t[i]
		}
		run.To = w.t[i+n]
		if run.Width() > best.Width() {
			best = run
		}
	}
	return best.From, best.To
}

// driveAt is the move that drives at a time, -1 for none.
func (w *work) driveAt(t float64) int {
	k := sort.Search(len(w.moves), func(k int) bool { return w.moves[k].Time.To > t })
	if k < len(w.moves) && w.moves[k].Time.From <= t {
		return k
	}
	return -1
}
