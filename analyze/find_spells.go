package analyze

import (
	"fmt"
	"math"
	"slices"
)

// spellsEvent is the event of a signal that goes and comes back with time.
const spellsEvent = "drop-outs"

// readWellHere is the measure of how often the places were read well where the signal was
// lost at other times.
const readWellHere = "the same places read well"

const (
	// atStand is the chance that a bad place of the track lets go, or takes hold again,
	// of a wiper that stands on it: by creep and shaking only (chosen, not derived).
	atStand = 0.05

	// onePlaceMore is the chance that a track that has one bad place has another (chosen,
	// not derived).
	onePlaceMore = 0.1
)

// findSpells reports a signal that was lost three times or more, of which twenty to one
// says that times made it and not places, and seven to one does not say that it keeps to
// the motion of the shaft (both chosen, not derived), or that sets in with the drive. It
// takes the place of what the same losses were taken for.
func (w *work) findSpells() {
	if !(w.span.Width() > 0) || w.covered(DriveShift, None) || w.covered(RefLoss, None) {
		return
	}
	// From rail to rail the reading tells of no place that was read well.
	if slices.ContainsFunc(w.found, func(f Finding) bool { return f.Form == railToRail && f.Strength > 0.5 }) {
		return
	}
	// What scatters wherever it moves leaves the track at every turn: no single losses.
	if s, ok := w.scatter(); ok && w.roughAlong(&s) {
		return
	}
	if w.leapsKeepTime() {
		return
	}
	const most = 100 // what chatters all the time is told elsewhere, and takes long to weigh
	all := w.away.of(w.spells)
	if len(all) < 3 || len(all) > most {
		return
	}
	o := w.weighSpells(all)
	// Losses that set in with the drive come where the shaft happens to stand, as a wiper's
	// that lets go anywhere do, and not when that does.
	atStart, chance := w.setIn(all)
	if chance < 0.01 && o.wiper-o.place > math.Log(20) {
		o.wire, o.starts, o.atStart = o.wiper, chance, atStart
	} else if o.wire-o.place < math.Log(20) || o.wire-o.wiper < -math.Log(7) {
		return
	}
	w.overrule(spellsEvent, DeadSpot, NoisyTrack, AtRail, LastingLeap, EndLoss, Hunting, GearSlip, StickSlip, SlowZone, Jam, Pauses, SpanDrift, BentTrack, BentLine)
	well := Measure{readWellHere, float64(o.clean), "times"}
	spelt := w.spellFinding(all, o, well)
	if k := slices.IndexFunc(w.found, func(g Finding) bool {
		return g.Kind == Dropouts && (g.Form == lossAtRestToo || g.Form == lossNoPlace) && g.value(MeasureAtRest) >= spelt.value(MeasureAtRest)
	}); k >= 0 {
		// It is known already, but may have been joined to what is overruled now.
		g := &w.found[k]
		g.Measures, g.Event, g.Strength = append(g.Measures, well), spellsEvent, 1
		return
	}
	w.found = slices.DeleteFunc(w.found, func(g Finding) bool { return g.Kind == Dropouts })
	w.found = append(w.found, spelt)
}

// spellFinding describes losses that come at times.
func (w *work) spellFinding(all []spell, o spellOdds, well Measure) Finding {
	f := Finding{Kind: Dropouts, Form: lossNoPlace, Tie: TiedToTime, TieP: math.Exp(o.place - o.wire), Event: spellsEvent,
		Strength: 1, Seen: len(all), Time: noInterval(), Volts: noInterval(), ownTie: true,
		tieWord: fmt.Sprintf("goes with time: places where it was lost were read well %d times", o.clean)}
	switch {
	case o.starts > 0:
		f.Form, f.TieP = asDriveStarts, o.starts
		f.tieWord = fmt.Sprintf("sets in with the drive: places where it was lost were read well %d times", o.clean)
	case o.wire-o.wiper > 1:
		f.Form = lossAtRestToo
	}
	rest := 0
	for i := range all {
		s := &all[i]
		if s.rests {
			rest++
		}
		at := Interval{w.t[s.first], w.t[s.last]}
		f.Places = append(f.Places, Occurrence{at, s.volts(), None})
		f.Time = f.Time.widen(at.From).widen(at.To)
		f.Volts = f.Volts.widen(s.from).widen(s.to)
	}
	f.Measures = []Measure{{MeasureAtRest, float64(rest), ""}, {MeasureWhileMoving, float64(len(all) - rest), ""}, well}
	if o.starts > 0 {
		f.Measures = append(f.Measures, Measure{atDriveStart, float64(o.atStart), ""})
	}
	return f
}

// spellOdds are the log probabilities of where and when the spells came, of losses that
// belong to places of the track, of a wiper that lets go anywhere as it moves, and of a
// wire that knows neither; clean is how often the shaft was read where it was lost,
// and atStart how many set in with the drive.
type spellOdds struct {
	place, wiper, wire float64
	starts             float64 // chance that losses at any time set in with the drive so often, 0 if they do not
	clean, atStart     int
}

// weighSpells gives them. A place lets go again at an unknown rate, anything from never
// to always being as likely: n losses in n + c visits have the chance B(n, c + 1), the
// first having shown the place. For the others a loss comes where the shaft happens to
// be, so that one more at the same place has the chance of the time spent there; and one
// while the shaft stands that of the time it stands.
func (w *work) weighSpells(all []spell) (o spellOdds) {
	share := w.standShare()
	for i := range all {
		if all[i].rests {
			o.place += math.Log(atStand)
			o.wiper += math.Log(atStand)
			o.wire += math.Log(share)
		} else {
			o.wire += math.Log(1 - share)
		}
	}
	for i, p := range w.badPlaces(all) {
		n, c := float64(len(p.spells)), w.cleanOver(p.at)+w.cleanStands(p.at, all)
		o.clean += c
		o.wire += (n - 1) * math.Log(p.share)
		o.wiper += (n - 1) * math.Log(p.share)
		o.place += logGamma(n) + logGamma(float64(c)+1) - logGamma(n+float64(c)+1)
		if i > 0 {
			o.place += math.Log(onePlaceMore)
		}
	}
	return o
}

// standShare is the share of the capture in which the shaft stands, kept off the ends.
func (w *work) standShare() float64 {
	stand := 0.0
	for i := 1; i < len(w.t); i++ {
		if !w.mayMove(i) {
			stand += w.t[i] - w.t[i-1]
		}
	}
	for k := range w.moves {
		stand += math.Max(0, w.moves[k].Stalled-restAfter)
	}
	return math.Min(0.95, math.Max(0.05, stand/math.Max(w.tr.Duration(), 1e-9)))
}

// cleanOver counts the ways that read the middle of a stretch of track without a break.
func (w *work) cleanOver(at float64) (n int) {
	near := w.resolution()
	for _, r := range w.ways() {
		if r.From < at-near && r.To > at+near {
			n++
		}
	}
	return n
}

// cleanStands counts the moves that end standing near a level and in which no spell lies.
func (w *work) cleanStands(at float64, all []spell) (n int) {
	near := 2 * w.resolution()
	for k := range w.moves {
		m := &w.moves[k]
		if m.Stalled < w.lim.StallSeconds || math.Abs(m.End-at) > near {
			continue
		}
		hit := false
		for i := range all {
			hit = hit || all[i].last > m.first && all[i].first < m.last
		}
		if !hit {
			n++
		}
	}
	return n
}

// badPlace is a place that could have made some of the spells.
type badPlace struct {
	at     float64 // V
	spells []int
	share  float64 // of the readings that lie as near to it as the spells may
}

// badPlaces gives the fewest places that could have made all spells.
func (w *work) badPlaces(all []spell) []badPlace {
	near := math.Max(0.04*w.span.Width(), w.resolution())
	left := make([]int, len(all))
	for i := range all {
		left[i] = i
	}
	covers := func(at float64, k int) bool {
		v := all[k].volts()
		return at > v.From-near && at < v.To+near
	}
	told := w.couldLose(all)
	var out []badPlace
	for len(left) > 0 {
		var best badPlace
		for _, k := range left {
			v := all[k].volts()
			for _, at := range []float64{v.From, v.Mid(), v.To} {
				p := badPlace{at: at}
				for _, j := range left {
					if covers(at, j) {
						p.spells = append(p.spells, j)
					}
				}
				if len(p.spells) > len(best.spells) || len(p.spells) == len(best.spells) && w.cleanOver(at) < w.cleanOver(best.at) {
					best = p
				}
			}
		}
		var widths []float64
		for _, k := range best.spells {
			widths = append(widths, all[k].volts().Width())
		}
		reach, in := near+medianOf(widths)/2, 0
		for _, v := range told {
			if math.Abs(v-best.at) < reach {
				in++
			}
		}
		best.share = math.Min(1, float64(in+1)/float64(len(told)+1))
		out = append(out, best)
		left = slices.DeleteFunc(left, func(k int) bool { return slices.Contains(best.spells, k) })
	}
	return out
}

// couldLose gives the readings at which a spell would have shown. Where all spells go to one
// level, as an open wire's do, they are those of no spell and clear of that level; else, as
// of a track that scatters, all readings.
func (w *work) couldLose(all []spell) (out []float64) {
	at, one := w.oneLevel(all)
	if !one {
		return w.v
	}
	least, k := w.leastSpell(), 0
	for i, v := range w.v {
		for k < len(all) && all[k].last <= i {
			k++
		}
		if k < len(all) && i >= all[k].first || math.Abs(v-at) < least {
			continue
		}
		out = append(out, v)
	}
	return out
}

// logGamma is the logarithm of the gamma function of a positive number.
func logGamma(x float64) float64 {
	y, _ := math.Lgamma(x)
	return y
}
