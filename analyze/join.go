package analyze

import (
	"math"
	"slices"
)

// What follows from a cause that was seen is no further evidence: the joins
// here give such findings the event of their cause, and an event counts once.

// joinSlip joins to slipping gears what they do besides: the shaft is slow or
// stands where the teeth let go, the reading is rough there, and the control
// hunts.
func (w *work) joinSlip() {
	for i := range w.found {
		slip := &w.found[i]
		if slip.Kind != GearSlip || slip.Seen < 5 && slip.Form != motorTurns {
			continue
		}
		near := 0.1 * w.span.Width()
		for k := range w.found {
			switch f := &w.found[k]; f.Kind {
			case BentLine:
				// Climbs between falls are slower than a travel.
				if slip.Form != motorTurns && f.Volts.From < slip.Volts.To+near && f.Volts.To > slip.Volts.From-near {
					f.Event = slip.Event
				}
			case SlowZone, Jam, Pauses, NoisyTrack, StickSlip:
				if f.Volts.From < slip.Volts.To+near && f.Volts.To > slip.Volts.From-near {
					f.Event = slip.Event
				}
			case Hunting, WeakDrive, OneWay:
				f.Event = slip.Event
			}
		}
		return
	}
}

// joinRipple joins to a door that binds, both ways, the uneven motion within the
// stretch: rubbing parts hold and let go. It is the track's own where no shaft could
// change its speed as much.
func (w *work) joinRipple() {
	for i := range w.found {
		slow := &w.found[i]
		if slow.Kind != SlowZone || slow.Direction != None {
			continue
		}
		for k := range w.found {
			f := &w.found[k]
			change, ok := f.Measure(scatterAsSpeed)
			if f.Kind != NoisyTrack || !ok || change > w.lim.Fast {
				continue
			}
			both := f.Volts.inCommon(slow.Volts)
			if both > 0.5*f.Volts.Width() {
				f.Event = slow.Event
				f.Strength *= 0.2
			}
		}
	}
}

// joinLost joins to a door that came off the ends that lie further out since
// then, and takes the stands at its stops of before for what they were.
func (w *work) joinLost() {
	w.standsAtLostStops()
	for i := range w.found {
		lost := &w.found[i]
		if lost.Kind != LoadLost || lost.Form == "" {
			continue
		}
		for k := range w.found {
			if f := &w.found[k]; f.Kind == SpanDrift || f.Kind == TravelChange || f.Kind == Jam && f.Form == jamStopLost {
				f.Event = lost.Event
			}
		}
	}
}

// joinDrift leaves out a track lost at an end that drifts to the rail: what lies beyond
// the rail is not read, and the shaft comes back from there unseen for as long. That is
// the drift once more.
func (w *work) joinDrift() {
	rail := w.opt.RailBand * w.ref
	for _, drift := range slices.Clone(w.found) {
		if drift.Kind != SpanDrift || drift.Strength < 0.5 {
			continue
		}
		low, high := drift.value(MeasureLowEndDrift), drift.value(MeasureHighEndDrift)
		w.found = slices.DeleteFunc(w.found, func(f Finding) bool {
			down := f.Direction == Down && low < -w.tol && f.Volts.Mid() < rail
			up := f.Direction == Up && high > w.tol && f.Volts.Mid() > w.ref-rail
			return f.Kind == EndLoss && (down || up)
		})
	}
}

// joinLoose joins to a contact that opens at rest, again and again, the rails
// it goes to, the noise it makes while it moves, and a control that answers.
func (w *work) joinLoose() {
	for i := range w.found {
		loose := &w.found[i]
		n, _ := loose.Measure(MeasureAtRest)
		if loose.Kind != Dropouts || n < 3 {
			continue
		}
		for k := range w.found {
			switch f := &w.found[k]; f.Kind {
			case AtRail:
				// The rail is where the losses go: it does not know better than
				// they do where the contact is.
				f.Event = loose.Event
				f.Strength *= 0.2
			case Hunting, SelfMotion, GearSlip, SlowZone, Jam, EndLoss, WeakDrive, SpanDrift, TravelChange:
				f.Event = loose.Event
			case NoisyTrack:
				if f.Seen < 5 {
					f.Event = loose.Event
				}
			}
		}
	}
}

// joinOneSided joins to a drive that comes in one polarity only the stop it
// runs into again and again, and the reversals that are none; and to one that
// moves nothing one way the end at which it rests: the stop, which gives way a little
// and springs back, and into which it is driven anew where no motor takes it away.
func (w *work) joinOneSided() {
	for i := range w.found {
		f := &w.found[i]
		if f.Kind != OneWay || !f.has(restsAtOtherEnd) {
			continue
		}
		end := w.span.From
		if f.Direction == Down {
			end = w.span.To
		}
		near := mostPlay * math.Max(w.likelyTravel().Width(), w.leastTravel())
		for k := range w.found {
			if z := &w.found[k]; (z.Kind == SlowZone || z.Kind == Jam && f.has(onlySprings)) && math.Abs(z.Volts.Mid()-end) < near {
				z.Event, z.Strength = f.Event, 0.3*z.Strength
			}
		}
	}
	for i := range w.found {
		if w.found[i].Kind != HalfDrive {
			continue
		}
		for k := range w.found {
			f := &w.found[k]
			if w.found[i].Form == oneWaySince && !f.Time.Overlaps(w.found[i].Time) {
				continue
			}
			switch f.Kind {
			case Jam, Hunting, OneWay, Pauses:
				f.Event = w.found[i].Event
			case SlowZone:
				// Pressed against one stop for good, the last of the way is that stop.
				if near := mostPlay * w.span.Width(); f.Volts.Mid() < w.span.From+near || f.Volts.Mid() > w.span.To-near {
					f.Event, f.Strength = w.found[i].Event, 0.3*f.Strength
				}
			}
		}
	}
}

// joinNoStart joins to drives that moved nothing the hunting in which they
// fall: a control whose motor does not answer reverses as well.
func (w *work) joinNoStart() {
	for i := range w.found {
		p := &w.found[i]
		if p.Kind != Pauses || p.Seen < 3 {
			continue
		}
		for k := range w.found {
			f := &w.found[k]
			if f.Kind != Hunting {
				continue
			}
			n := 0
			for _, o := range p.Places {
				if o.Time.Overlaps(f.Time) {
					n++
				}
			}
			if n >= 2 {
				f.Event = p.Event
			}
		}
	}
}

// joinScattered makes one finding of stands at three places or more: a single
// object stands in one, whichever side it is met from.
func (w *work) joinScattered() {
	stands := func(f *Finding) bool {
		if f.Kind == Pauses {
			return true
		}
		// A place that stopped it three times is a place.
		return f.Kind == Jam && f.Seen <= 2 && (f.Form == jamOnce || f.Form == jamOnePlace || f.Form == jamScattered || f.Form == jamPassed)
	}
	var levels []float64
	all := Finding{Kind: Pauses, Tie: TieUnknown, TieP: 1, Event: "no start", Time: noInterval(), Volts: noInterval()}
	jams, longest := 0, 0.0
	for i := range w.found {
		f := &w.found[i]
		if !stands(f) {
			continue
		}
		if f.Kind == Jam {
			jams++
		}
		for _, o := range f.Places {
			levels = append(levels, o.Volts.Mid())
			longest = math.Max(longest, o.Time.Width())
		}
		all.Places = append(all.Places, f.Places...)
		all.Time = all.Time.widen(f.Time.From).widen(f.Time.To)
		all.Volts = all.Volts.widen(f.Volts.From).widen(f.Volts.To)
		all.Strength = math.Max(all.Strength, f.Strength)
	}
	if jams == 0 {
		return
	}
	slices.Sort(levels)
	places := 0
	for i, x := range levels {
		if i == 0 || x-levels[i-1] > 0.1*w.span.Width() {
			places++
		}
	}
	if places < 3 {
		return
	}
	w.found = slices.DeleteFunc(w.found, func(f Finding) bool { return stands(&f) })
	all.Seen, all.Passes = len(all.Places), len(all.Places)
	all.Measures = []Measure{{MeasureLongestStand, longest, "s"}, {"stands", float64(all.Seen), ""}}
	w.found = append(w.found, all)
}

// joinStopped joins to a jam the stands at its place, in its direction, that
// the shaft got over: the same obstacle, which gave way.
func (w *work) joinStopped() {
	near := w.stallsApart()
	for i := range w.found {
		p := &w.found[i]
		if p.Kind != Pauses || p.Form != "" {
			continue
		}
		for k := range w.found {
			jam := &w.found[k]
			if jam.Kind != Jam || jam.Form != jamOnePlace {
				continue
			}
			at := 0
			for _, o := range p.Places {
				if o.Direction == jam.Direction && o.Volts.To > jam.Volts.From-near && o.Volts.From < jam.Volts.To+near {
					at++
				}
			}
			if at == len(p.Places) {
				p.Event = jam.Event
			}
		}
	}
}

// joinPassed makes one event of a stall that was passed later and of drives
// that did not start elsewhere: then it was the motor both times.
func (w *work) joinPassed() {
	n := 0
	for _, f := range w.found {
		if f.Kind == Pauses {
			n += f.Seen
		}
	}
	if n < 2 {
		return
	}
	for i := range w.found {
		if f := &w.found[i]; f.Kind == Jam && f.Form == jamPassed {
			f.Kind, f.Form, f.Event = Pauses, "", "no start"
			longest := 0.0
			for _, o := range f.Places {
				longest = math.Max(longest, o.Time.Width())
			}
			f.Measures = []Measure{{MeasureLongestStand, longest, "s"}, {"stands", float64(f.Seen), ""}}
		}
	}
}

// overrule joins to an event the findings of some kinds that a reading which
// cannot be trusted only seems to show.
func (w *work) overrule(event string, kinds ...Kind) {
	for i := range w.found {
		if f := &w.found[i]; slices.Contains(kinds, f.Kind) {
			f.Event, f.Strength = event, 0.3*f.Strength
		}
	}
}
