package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/analyze/stats"
)

// freedPlace is the share of its usual speed from which an uncoupled shaft runs through a
// place as it does elsewhere: more than the tenth that tracks and gears make it swing.
const freedPlace = 0.85

// slowPlaceUncoupled looks for a slow place of a coupled capture, too faint or too seldom
// passed to say much by itself, that the uncoupled shaft runs through as fast as through
// the rest: track, gears and instrument are the same, so the load there is the door's.
// Of stops it says nothing: foam lies there on every door, see pressedAtStop.
func slowPlaceUncoupled(captures []*Capture) *aside {
	var best *Finding
	through, unit := 0.0, ""
	for _, c := range captures {
		if c.Free {
			continue
		}
		for i := range c.Findings {
			f := &c.Findings[i]
			if f.Kind != SlowZone || f.Form == intoOneStop || f.Form == clingsAtStop || !(f.force() > 0) || best != nil && f.Strength <= best.Strength || c.withFalls(f) {
				continue
			}
			if share, ok := throughUncoupled(captures, c, f); ok && share >= freedPlace {
				best, through, unit = f, share, c.Unit
			}
		}
	}
	if best == nil {
		return nil
	}
	a := newAside(FreeRun, shown{.02, .02, .04, .3, .02}, best.Strength,
		fmt.Sprintf("Uncoupled, it runs from %.2f to %.2f %s at %.0f %% of its speed elsewhere: what slows it there is the door.", best.Volts.From, best.Volts.To, unit, 100*through),
		"track, gears and instrument are the same with the door and without: the load that is gone is the door's, though so few passes may be chance")
	return &a
}

// asSlowUncoupled tells whether the uncoupled shaft, too, is slower in a slow place of a
// coupled one, by more than half as much: a door takes all of it along, and what stays
// is the track's or the gears'. No slow place need have been found there, where another
// finding of the uncoupled capture says what the place is.
func asSlowUncoupled(captures []*Capture, c *Capture, f *Finding) bool {
	slow, known := f.Measure(MeasureSpeedThere)
	if f.Kind != SlowZone || !known || f.Form == intoOneStop || f.Form == clingsAtStop {
		return false
	}
	all := sharesUncoupled(captures, c, f, func(q ProfilePoint) float64 { return q.Rate })
	if len(all) == 0 {
		return false
	}
	share := slices.Max(all)
	return share < freedPlace && 1-share > (1-slow)/2
}

// leaveToTrack weighs a slow place by what of it is the door's: of the coupled speed there
// that which the uncoupled shaft has, both over the usual one, is the track's and the gears',
// so that their quotient is what the load left (n = n0 (1 - M/Ms), place by place).
func (u *uncoupling) leaveToTrack(c *Capture, f *Finding) {
	slow, known := f.Measure(MeasureSpeedThere)
	if f.Kind != SlowZone || !known || f.Form != "" || f.has(builtLaw) || c.withFalls(f) {
		return
	}
	all := sharesUncoupled(u.captures, c, f, func(q ProfilePoint) float64 { return q.Rate })
	if len(all) == 0 || slices.Max(all) >= 1 {
		return
	}
	g := *f
	g.Measures = slices.Clone(f.Measures)
	for i := range g.Measures {
		if m := &g.Measures[i]; m.Name == MeasureSpeedThere {
			m.Value = math.Min(1, slow/slices.Max(all))
		}
	}
	doors, _ := weights(&g)
	u.worth(f, doors)
}

// throughUncoupled is the speed of the uncoupled shaft in a slow place of a coupled one
// that is slow one way, over its usual speed that way; false where most of the place was
// not passed.
func throughUncoupled(captures []*Capture, c *Capture, f *Finding) (share float64, ok bool) {
	all := sharesUncoupled(captures, c, f, func(q ProfilePoint) float64 { return q.Slowest })
	if len(all) == 0 || f.Direction == None {
		return 0, false
	}
	return slices.Min(all), true
}

// sharesUncoupled lists such speeds, of each uncoupled capture that passed most of the
// place, by one speed of each cell.
func sharesUncoupled(captures []*Capture, c *Capture, f *Finding, of func(ProfilePoint) float64) (shares []float64) {
	for _, x := range captures {
		if !x.Free {
			continue
		}
		k, known := levelScale(x, c)
		if !known {
			return nil
		}
		for i := range x.Profiles {
			p := &x.Profiles[i]
			if f.Direction != None && p.Direction != f.Direction || len(p.Points) < 5 {
				continue
			}
			cell := math.Inf(1)
			var all, in []float64
			for j, q := range p.Points {
				all = append(all, q.Rate)
				if j > 0 {
					cell = math.Min(cell, k*(q.Position-p.Points[j-1].Position))
				}
				if at := k * q.Position; at >= f.Volts.From && at <= f.Volts.To {
					in = append(in, of(q))
				}
			}
			if usual := stats.Median(all); usual > 0 && float64(len(in))*cell > 0.7*f.Volts.Width() {
				shares = append(shares, stats.Median(in)/usual)
			}
		}
	}
	return shares
}

// spotsUncoupled lists losses of an uncoupled capture, called a loose contact's by
// itself, of which two and most of all lie where the coupled one has a dead spot: a
// contact knows nothing of that place.
func spotsUncoupled(captures []*Capture) (out []*Finding) {
	for _, c := range captures {
		for i := range c.Findings {
			spot := &c.Findings[i]
			if c.Free || spot.Kind != DeadSpot || spot.Tie != TiedToPosition || spot.Volts.Width() > 0.2*c.Span.Width() {
				continue
			}
			near := math.Max(spot.Volts.Width()/2, 0.02*c.Span.Width())
			for _, o := range captures {
				for k := range o.Findings {
					f := &o.Findings[k]
					if !o.Free || f.Kind != Dropouts || len(f.Places) == 0 || slices.Contains(out, f) {
						continue
					}
					n := 0
					for _, p := range f.Places {
						// It was left or come back to there, wherever the wire went meanwhile.
						if around := (Interval{spot.Volts.From - near, spot.Volts.To + near}); around.Has(p.Volts.From) || around.Has(p.Volts.To) {
							n++
						}
					}
					if n >= 2 && 3*n >= 2*len(f.Places) {
						out = append(out, f)
					}
				}
			}
		}
	}
	return out
}

// withFalls tells whether a finding is of teeth that let go on the way, or of what they do
// besides: they let go under the load of the door, which pushes the shaft back, and that
// they keep without it is no news of who is at fault. At a stop the motor loads them by
// itself, and a gap in which the shaft only waits is there uncoupled too.
func (c *Capture) withFalls(f *Finding) bool {
	return slices.ContainsFunc(c.Findings, func(slip Finding) bool {
		return slip.Event == f.Event && slip.Kind == GearSlip && !slip.gapOnly() && c.underWay(slip.Places)
	})
}

// gapOnly tells whether a gear slip is one in which the reading does not fall back.
func (f *Finding) gapOnly() bool {
	return f.Form == motorTurns || f.Form == turnsAndGoesOn || f.Form == waitsAlike
}

// underWay tells whether most of the places at which a reading fell lie clear of the stops.
func (c *Capture) underWay(places []Occurrence) bool {
	pressed := 0
	for _, o := range places {
		if slices.ContainsFunc(c.Stops, func(s Stop) bool {
			return math.Abs(o.Volts.Mid()-s.Level) < o.Volts.Width()+mostPlay*c.Span.Width()
		}) {
			pressed++
		}
	}
	return 2*pressed < len(places)
}
