package analyze

import (
	"fmt"
	"math"
	"slices"
)

// FreeRun is the kind of the evidence that comparing a coupled with an
// uncoupled capture of one actuator gives.
const FreeRun Kind = "free run"

// Comparison is what the uncoupled capture says about the coupled one's
// findings.
type Comparison struct {
	Gone    []Kind    `json:"gone"`  // found coupled, not found free
	Stays   []Kind    `json:"stays"` // found coupled and free
	Short   float64   `json:"short"` // share of the free travel that the coupled actuator stalls short of, 0 if none
	Text    string    `json:"text"`
	Weights []float64 `json:"log_likelihood"` // in the order of Faults
}

// compareFree compares the findings of coupled and free captures. It returns
// nil when there are not both, when the coupled ones show nothing, or when the
// free one shows too little of the travel to miss anything.
//
// A symptom that leaves with the door belongs to the door (common practice,
// no source); but an unloaded weak motor runs well too, so a clean free run
// speaks for the motor as well, only less.
func compareFree(captures []*Capture) *Comparison {
	coupled, free := map[Kind]bool{}, map[Kind]bool{}
	own := make([]float64, faultCount) // what is taken back
	var order []Kind
	n, seen, slow, stillSlow, gone := 0, 0.0, false, false, false
	for _, c := range captures {
		for i := range c.Findings {
			if f := &c.Findings[i]; c.Free && f.force() > math.Log(2) {
				free[f.Kind] = true
				// Fewer passes of one mark may pass for a lesser one.
				switch f.Kind {
				case SlowZone, BentTrack, BentLine:
					free[SlowZone], free[BentTrack], free[BentLine] = true, true, true
				}
			}
		}
	}
	for _, c := range captures {
		for i := range c.Findings {
			f := &c.Findings[i]
			switch {
			case c.Free:
			case !c.Free && ownStop(c, f, captures):
				for k, x := range f.Weights {
					own[k] -= x
				}
			case !c.Free && f.electrical() && (!free[f.Kind] || f.Form == wanders):
				// Whether it came back uncoupled is chance; no door makes it.
			case !c.Free && f.Kind == Play && !free[Play] && !uncoupledTurns(captures):
				// Play shows after reversals, and there were too few.
			case !c.Free && f.takesTime() && !free[f.Kind] && tooShort(captures):
				// It had no time to come back.
			case f.Kind == WeakDrive && f.Form == againstUsual:
				slow = true
			case !c.Free && f.force() > math.Log(3) && !coupled[f.Kind]:
				coupled[f.Kind] = true
				order = append(order, f.Kind)
				if f.ofTrack() && f.Seen >= 3 && !free[f.Kind] {
					gone = true
				}
			}
		}
		if c.Free {
			n++
			seen = math.Max(seen, c.seen)
		}
	}
	if n == 0 || seen < 0.5 || longerThanFree(captures) != "" {
		return nil
	}
	if r := shortOfFree(captures); r != nil && obstacleOver(r.Short) >= newsOfObstacle {
		return r
	}
	// The track is in the actuator: what failed in pass after pass would again.
	if gone {
		own[FeedbackSensor] += math.Log(1. / 3)
	}
	if slow {
		if stillSlow = slowUncoupled(captures, own); !stillSlow {
			order = append(order, WeakDrive)
		}
	}
	if coupled[GearTurn] && !free[GearTurn] {
		leftWithDoor(captures, own)
	}
	r := &Comparison{Weights: own, Gone: []Kind{}, Stays: []Kind{}}
	if len(order) == 0 {
		switch {
		case stillSlow:
			r.Stays = append(r.Stays, WeakDrive)
			r.Text = "Uncoupled from the door, it is slow as well: it is not the door that slows it."
			return r
		case slices.Min(own) == 0 && slices.Max(own) == 0:
			return nil
		}
		r.Stays = append(r.Stays, Jam)
		r.Text = "Uncoupled from the door, it ends at the same stop: the actuator's own."
		return r
	}
	for _, k := range order {
		if free[k] {
			r.Stays = append(r.Stays, k)
		} else {
			r.Gone = append(r.Gone, k)
		}
	}
	outcomes := catalogue()[0].outcomes // the free run: clean, or the same
	o := outcomes[0]
	r.Text = fmt.Sprintf("Uncoupled from the door, it is gone: %s.", joinKinds(r.Gone))
	if len(r.Stays) > 0 {
		o = outcomes[1]
		r.Text = fmt.Sprintf("Uncoupled from the door, it stays: %s.", joinKinds(r.Stays))
	}
	for i, p := range o.p {
		r.Weights[i] += math.Log(p)
	}
	return r
}

// travelTimes gives the slowest coupled and the slowest uncoupled one.
func travelTimes(captures []*Capture) (coupled, free travelTime) {
	for _, c := range captures {
		p := &coupled
		if c.Free {
			p = &free
		}
		if c.travel.at12 > p.at12 {
			*p = c.travel
		}
	}
	return coupled, free
}

// slowUncoupled weighs the slowness of an actuator on its door by its travel time
// off it. Whether weak or of a slow make, it is slow there as well; a door
// that drags leaves a good actuator, and a good door leaves its motor half of
// its speed (common practice, no source).
func slowUncoupled(captures []*Capture, own []float64) (still bool) {
	coupled, free := travelTimes(captures)
	if free.at12 == 0 {
		return false
	}
	own[DoorMechanism] += math.Max(-3, math.Min(math.Log(free.asSlow), 2))
	if coupled.at12 > 2*free.at12 {
		own[NoFault] += math.Log(0.1)
	}
	return free.asSlow < 1
}

// ofTrack tells whether a finding is of a place on the sensor's track.
func (f *Finding) ofTrack() bool {
	return f.Tie == TiedToPosition && (f.Kind == NoisyTrack || f.Kind == BentTrack || f.Kind == DeadSpot && f.Form == heldAndJumped)
}

// electrical tells whether a finding is of wires, supplies or the control, which
// hang on no door.
func (f *Finding) electrical() bool {
	switch f.Kind {
	case AtRail, Dropouts, RefLoss, LastingLeap, DriveShift, SupplySag, NoDrive, HalfDrive, Ignored, Broken, NotAPot:
		return true
	}
	return false
}

// takesTime tells whether a finding shows only from sweep to sweep.
func (f *Finding) takesTime() bool {
	return f.Kind == SpanDrift || f.Kind == TravelChange || f.Kind == Heating
}

// uncoupledTurns tells whether an uncoupled capture reverses often enough, not out of
// stops that push the shaft off, for play to show.
func uncoupledTurns(captures []*Capture) bool {
	for _, c := range captures {
		turns := 0
		for k := 1; k < len(c.Moves); k++ {
			if m, n := &c.Moves[k-1], &c.Moves[k]; c.Free && m.Direction == -n.Direction && n.Direction != None && m.Stalled == 0 {
				turns++
			}
		}
		if turns >= 4 {
			return true
		}
	}
	return false
}

// tooShort tells whether no uncoupled capture is long enough for what shows only
// from sweep to sweep.
func tooShort(captures []*Capture) bool {
	return !slices.ContainsFunc(captures, func(c *Capture) bool { return c.Free && !c.lacks(SpanDrift, "") })
}

// longerThanFree says that a coupled capture goes further than an uncoupled one
// that was driven into both of its stops, or "": no door lengthens the way of its
// actuator, so they are hardly of one. Nor are they where one reads what the
// other's sensor is not supplied with.
func longerThanFree(captures []*Capture) string {
	for _, x := range captures {
		for _, c := range captures {
			if c.Free != x.Free && c.Unit == x.Unit && c.shareKnown && x.Span.To > 1.08*c.Reference {
				return fmt.Sprintf("%s reads up to %.2f %s, and the sensor of %s is supplied with %.2f: are they of one actuator? They were not compared", x.Source, x.Span.To, x.Unit, c.Source, c.Reference)
			}
		}
	}
	for _, x := range captures {
		if !x.Free || !bothEnds(x.Stops) {
			continue
		}
		for _, c := range captures {
			k, ok := levelScale(x, c)
			if c.Free || !ok {
				continue
			}
			if free := k * x.Span.Width(); c.Span.Width() > 1.05*free+4*c.Noise+2*c.Quantum {
				return fmt.Sprintf("coupled it goes over %.2f %s, uncoupled from stop to stop only over %.2f: are %s and %s of one actuator? They were not compared", c.Span.Width(), c.Unit, free, c.Source, x.Source)
			}
		}
	}
	return ""
}

// leftWithDoor takes back what a swing of the speed said about gears where it
// left with the door, and says what it is then: a gear turns uncoupled as well,
// and friction slows a door at even distances from where it set out.
func leftWithDoor(captures []*Capture, own []float64) {
	for _, c := range captures {
		for i := range c.Findings {
			f := &c.Findings[i]
			if c.Free || f.Kind != GearTurn {
				continue
			}
			g := *f
			g.Kind, g.Form = StickSlip, ""
			friction, _ := weights(&g)
			for k, x := range f.Weights {
				own[k] += friction[k] - x
			}
		}
	}
}

// ownStop tells whether a finding blames a stop for lying far inside the
// supply where the uncoupled actuator, which no door can stop, runs no further
// than linkage and stops give.
func ownStop(coupled *Capture, f *Finding, captures []*Capture) bool {
	if !f.blamesStop() {
		return false
	}
	for _, c := range captures {
		if !c.Free {
			continue
		}
		k, ok := levelScale(c, coupled)
		if !ok {
			continue
		}
		for _, s := range c.Stops {
			if s.Extreme && s.Direction == f.Direction && float64(f.Direction)*(k*s.Level-f.Volts.Mid()) < freePlay*k*c.Span.Width() {
				return true
			}
		}
	}
	return false
}

// freePlay is the share of the travel that an uncoupled actuator may run
// further than its door lets it, by linkage and stops that give.
const freePlay = 1.0 / 12

// shortOfFree compares the travel: an actuator that stalls coupled where it
// runs on uncoupled is stopped by what hangs on it, an obstacle or the door's
// own stops. It returns nil where the difference is none to speak of.
func shortOfFree(captures []*Capture) *Comparison {
	worst, at, beyond, dir := 0.0, 0.0, 0.0, None
	for _, c := range captures {
		if c.Free || c.Span.Width() <= 0 {
			continue
		}
		var free Interval // the widest, in the unit of c
		for _, x := range captures {
			if k, ok := levelScale(x, c); ok && x.Free && k*x.Span.Width() > free.Width() {
				free = Interval{k * x.Span.From, k * x.Span.To}
			}
		}
		if free.Width() <= 0 || c.Span.Width() > free.Width() {
			continue
		}
		for _, s := range c.Stops {
			if !s.Extreme {
				continue
			}
			gap, end := free.To-s.Level, free.To
			if s.Direction == Down {
				gap, end = s.Level-free.From, free.From
			}
			if q := gap / free.Width(); q > worst {
				worst, at, beyond, dir = q, s.Level, end, s.Direction
			}
		}
	}
	if worst < freePlay {
		return nil
	}
	r := &Comparison{Short: worst, Gone: []Kind{Jam}, Stays: []Kind{}, Weights: make([]float64, faultCount)}
	r.Text = fmt.Sprintf("Coupled it stalls at %.2f going %s, uncoupled it runs on to %.2f: what hangs on it stops it %.0f %% of the travel early.", at, dir, beyond, 100*worst)
	obstacle := obstacleOver(worst)
	for i := range r.Weights {
		p := 0.9 / obstacle
		switch Fault(i) {
		case DoorMechanism:
			p = 0.9
		case Motor: // a weak one may not press a seal home
			p = math.Max(p, 0.08)
		}
		r.Weights[i] = math.Log(p)
	}
	return r
}

// obstacleOver is how many times likelier an obstacle is than a healthy door to
// stop the actuator the given share of its free travel early; at least 1.
//
// An obstacle may lie anywhere on the travel. The stops of a healthy door lie
// inside those of its actuator, or the door would not press its seals: by 4 %
// of the travel on the average, seldom by much more, and in one of twenty cases
// anywhere, for a door that needs but a part of its actuator's travel (common
// practice, no source).
func obstacleOver(short float64) float64 {
	const mean, strange, obstacle = 0.04, 0.05, 0.8
	own := (1-strange)/mean*math.Exp(-short/mean) + strange
	return math.Max(1, obstacle/own)
}

// newsOfObstacle is the ratio from which a stop that comes early is evidence
// and not the door's own.
const newsOfObstacle = 3

func joinKinds(k []Kind) string {
	s := ""
	for i, x := range k {
		if i > 0 {
			s += ", "
		}
		s += string(x)
	}
	return s
}

// evidence says the comparison as evidence on a fault, against the other
// faults in proportion to their probabilities p. That nothing may be wrong is
// left out where a part is blamed: a free run asks which part, and a clean one
// fits a sound actuator as well as a faulty door.
func (r *Comparison) evidence(best Fault, p []float64) Evidence {
	sum, rest := 0.0, 1e-300
	for k, x := range r.Weights {
		if Fault(k) != best && Fault(k) != NoFault {
			sum += p[k] * math.Exp(x)
			rest += p[k]
		}
	}
	if r.Short > 0 {
		return Evidence{Finding: FreeRun, Text: r.Text, Because: "an obstacle or a binding door stops it there, or the door's own stops do: compare with the good side, or move the door by hand", Ratio: math.Exp(r.Weights[best]) / math.Max(sum/rest, 1e-9)}
	}
	because := "what leaves with the door belongs to the door, or to a motor that only tires under its load"
	if len(r.Stays) > 0 {
		because = "what stays without the door is in the actuator or its wiring"
	}
	return Evidence{Finding: FreeRun, Text: r.Text, Because: because, Ratio: math.Exp(r.Weights[best]) / math.Max(sum/rest, 1e-9)}
}
