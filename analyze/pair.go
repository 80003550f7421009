package analyze

import (
	"fmt"
	"math"
	"slices"
)

// Comparison is what the uncoupled capture says about the coupled one's
// findings.
type Comparison struct {
	Gone    []Kind    `json:"gone"`  // found coupled, not found free
	Stays   []Kind    `json:"stays"` // found coupled and free
	Short   float64   `json:"short"` // share of the free travel that the coupled actuator stalls short of, 0 if none
	Text    string    `json:"text"`
	Weights []float64 `json:"log_likelihood"` // in the order of Faults

	// Left are those of Gone that load on the shaft makes, where others stay: then
	// there may be two faults, one of them in the door.
	Left []Kind `json:"left_with_the_door,omitempty"`

	early Direction // of the stop that comes early
}

// Early is the direction of the stop that comes early, None where none does.
func (r *Comparison) Early() Direction {
	if r.Short == 0 {
		return None
	}
	return r.early
}

// compareFree compares the findings of coupled and free captures. It returns
// nil when there are not both, when the coupled ones show nothing, or when the
// free one shows too little of the travel to miss anything.
//
// A symptom that leaves with the door belongs to the door (common practice,
// no source); but an unloaded weak motor runs well too, so a clean free run
// speaks for the motor as well, only less.
func compareFree(captures []*Capture) *Comparison {
	u := &uncoupling{captures: captures, coupled: map[Kind]bool{}, free: map[Kind]bool{}, own: make([]float64, faultCount), instead: map[*Finding][]float64{}}
	u.foundFree()
	u.takeBackSpots()
	u.takeBackSupply()
	u.takeBackStands()
	u.foundCoupled()
	u.takeBackPlay()
	seen, uncoupled := 0.0, false
	for _, c := range captures {
		if c.Free {
			seen, uncoupled = math.Max(seen, c.seen), true
		}
	}
	if !uncoupled || longerThanFree(captures) != "" {
		return nil
	}
	if r := blockedUncoupled(captures); r != nil {
		return r
	}
	if r := shortOfFree(captures); r != nil && obstacleOver(r.Short) >= newsOfObstacle {
		r.pressedOn(captures)
		return r
	}
	if seen < 0.5 {
		return nil
	}
	if r := heldByDoor(captures); r != nil {
		return r
	}
	// The track is in the actuator: what failed in pass after pass would again.
	if u.trackGone {
		u.own[FeedbackSensor] += math.Log(1. / 3)
	}
	stillSlow := false
	if u.slow {
		still, known := slowUncoupled(captures, u.own)
		switch stillSlow = still; {
		case slowByLoad(captures):
			u.leaveSlowToDoor()
		case known && !still:
			u.order = append(u.order, WeakDrive)
		}
	}
	if u.coupled[GearTurn] && !u.free[GearTurn] {
		u.leftWithDoor()
	}
	if len(u.order) == 0 {
		return u.nothingNew(stillSlow)
	}
	return u.compared()
}

// uncoupling is what captures of an actuator on its door and off it show, as far as
// they can be compared.
type uncoupling struct {
	captures      []*Capture
	coupled, free map[Kind]bool
	order         []Kind    // of coupled, as found
	own           []float64 // what is taken back of the coupled captures' evidence, by fault

	instead map[*Finding][]float64 // what findings are worth by the comparison, see [uncoupling.worth]

	slow      bool   // coupled, against usual travel times
	loadSlows bool   // by what the door costs, which is measured
	trackGone bool   // a place of the track that showed coupled, in pass after pass
	oneSupply bool   // the reference sinks on the door and off it
	deadEnds  bool   // what looks like play uncoupled is the track's ends
	hunts     string // what the uncoupled travel shows of hunting

	further float64 // Capture.Unit, by how much it goes past a stop that is its own, at most
	ends    string  // where it ends then, if that is not the same place
}

// worth has a finding weigh w. What the others of its kind count for goes by the strongest of
// them, so that only all of them together tell what that changes.
func (u *uncoupling) worth(f *Finding, w []float64) {
	was := evidence(u.captures, u.instead)
	u.instead[f] = w
	for k, x := range evidence(u.captures, u.instead) {
		u.own[k] += x - was[k]
	}
}

// takeBack takes a finding's evidence back.
func (u *uncoupling) takeBack(f *Finding) { u.worth(f, make([]float64, faultCount)) }

// foundFree lists what the uncoupled captures show.
func (u *uncoupling) foundFree() {
	for _, c := range u.captures {
		for i := range c.Findings {
			if f := &c.Findings[i]; c.Free && (f.force() > math.Log(2) || f.Form == roughEverywhere) {
				u.free[f.Kind] = true
				// Fewer passes of one mark may pass for a lesser one.
				switch f.Kind {
				case SlowZone, BentTrack, BentLine:
					u.free[SlowZone], u.free[BentTrack], u.free[BentLine] = true, true, true
				}
			}
		}
	}
}

// takeBackSpots takes losses of the uncoupled actuator for the coupled one's dead spot,
// where they lie there.
func (u *uncoupling) takeBackSpots() {
	for _, f := range spotsUncoupled(u.captures) {
		u.free[DeadSpot], u.free[NoisyTrack] = true, true
		u.takeBack(f)
	}
}

// takeBackStands takes an uncoupled actuator's stands for those of the wiper that slips
// coupled: it slips as well without the door.
func (u *uncoupling) takeBackStands() {
	slips := func(c *Capture) bool {
		return !c.Free && slices.ContainsFunc(c.Findings, func(f Finding) bool { return f.Kind == LastingLeap && f.Form == leapStood })
	}
	if !slices.ContainsFunc(u.captures, slips) {
		return
	}
	for _, c := range u.captures {
		for i := range c.Findings {
			if f := &c.Findings[i]; c.Free && f.Kind == Pauses {
				u.takeBack(f)
			}
		}
	}
}

// takeBackSupply takes a reference that sinks coupled and uncoupled for one sign: it is
// one supply, and there is one cause of it.
func (u *uncoupling) takeBackSupply() {
	if !slices.ContainsFunc(u.captures, func(c *Capture) bool { return !c.Free && c.showsForm(RefLoss, sinks) }) {
		return
	}
	for _, c := range u.captures {
		for i := range c.Findings {
			if f := &c.Findings[i]; c.Free && f.Kind == RefLoss && f.Form == sinks {
				u.oneSupply = true
				u.takeBack(f)
			}
		}
	}
}

// foundCoupled lists what the coupled captures show that uncoupled ones would.
func (u *uncoupling) foundCoupled() {
	for _, c := range u.captures {
		if c.Free {
			continue
		}
		for i := range c.Findings {
			f := &c.Findings[i]
			if !u.free[SlowZone] && asSlowUncoupled(u.captures, c, f) {
				u.free[SlowZone] = true
			}
			u.leaveToTrack(c, f)
			switch {
			case u.ownStop(c, f):
				u.takeBack(f)
			case u.notToCompare(f), !u.free[GearSlip] && c.withFalls(f):
			case f.Kind == Hunting && !u.free[Hunting] && !couldHunt(u.captures, c, f):
				// Nothing was there that could have hunted, see huntNotCompared.
				if by, text := huntByUncoupled(u.captures, c, f); by != nil {
					u.hunts = text
					u.worth(f, by)
				}
			case f.slowAgainstUsual():
				u.slow = true
			case f.Form == madeInSteps: // a track made so shows it coupled or not
			case f.force() > math.Log(3) && !u.coupled[f.Kind]:
				u.coupled[f.Kind] = true
				u.order = append(u.order, f.Kind)
				if f.ofTrack() && f.Seen >= 3 && !u.free[f.Kind] {
					u.trackGone = true
				}
			}
		}
	}
}

// notToCompare tells whether it says nothing that a coupled capture's finding is there
// uncoupled, or is not.
func (u *uncoupling) notToCompare(f *Finding) bool {
	switch {
	case f.electrical() && (!u.free[f.Kind] || f.Form == wanders || f.Form == sinks):
		// Whether it came back uncoupled is chance; no door makes it.
	case f.Kind == Play && !u.free[Play] && !uncoupledTurns(u.captures):
		// Play shows after reversals, and there were too few.
	case f.takesTime() && !u.free[f.Kind] && tooShort(u.captures):
		// It had no time to come back.
	default:
		return false
	}
	return true
}

// nothingNew is the comparison where nothing was found coupled that is there uncoupled,
// or gone: what is taken back, if anything is.
func (u *uncoupling) nothingNew(stillSlow bool) *Comparison {
	r := &Comparison{Weights: u.own, Gone: []Kind{}, Stays: []Kind{}}
	switch {
	case stillSlow:
		r.Stays = append(r.Stays, WeakDrive)
		r.Text = "Uncoupled from the door, it is slow as well: it is not the door that slows it."
		if s, ok := slowingOf(u.captures); ok && s.at12 >= heavyDoor {
			r.Text = "Uncoupled from the door, it is slow as well, though less so: it is not the door alone that slows it."
		}
	case slices.Min(u.own) == 0 && slices.Max(u.own) == 0:
		return nil
	case u.loadSlows:
		r.Gone = append(r.Gone, WeakDrive)
		r.Text = "Uncoupled from the door, it is as fast as such actuators usually are: it is the load of the door that slows it."
	case u.oneSupply:
		r.Stays = append(r.Stays, RefLoss)
		r.Text = "Uncoupled from the door, the sensor's supply sinks as well: that is one sign, not two."
	case u.deadEnds:
		r.Text = endsUncoupled
	case u.hunts != "":
		r.Text = u.hunts
	default:
		r.Stays = append(r.Stays, Jam)
		r.Text = "Uncoupled from the door, it ends at the same stop: the actuator's own."
		if u.ends != "" {
			r.Text = "Uncoupled from the door, " + u.ends + "."
		}
	}
	return r
}

// compared is the comparison of what is there uncoupled and what is gone.
func (u *uncoupling) compared() *Comparison {
	r := &Comparison{Weights: u.own, Gone: []Kind{}, Stays: []Kind{}}
	for _, k := range u.order {
		if u.free[k] {
			r.Stays = append(r.Stays, k)
		} else {
			r.Gone = append(r.Gone, k)
		}
	}
	clean, same := freeOutcomes()
	o := clean
	r.Text = fmt.Sprintf("What shows with the door on (%s) does not show with the door off.", joinKinds(r.Gone))
	if slices.Equal(r.Gone, []Kind{LoadLost}) {
		r.Text = "Coupled the load came off; uncoupled from the door there is none that could."
	}
	if len(r.Stays) > 0 {
		o = same
		r.Text = fmt.Sprintf("What shows with the door on (%s) shows with the door off too.", joinKinds(r.Stays))
		if len(r.Gone) > 0 {
			r.Text = fmt.Sprintf("With the door off this shows as well: %s; this shows no longer: %s.", joinKinds(r.Stays), joinKinds(r.Gone))
		}
		r.Left = leftWith(u.captures, r)
	}
	for i, p := range o.p {
		if len(r.Left) > 0 {
			// Of two faults each explains its own part, and none explains neither.
			if p = math.Max(p, clean.p[i]); Fault(i) == NoFault {
				p = math.Min(o.p[i], clean.p[i])
			}
		}
		r.Weights[i] += math.Log(p)
	}
	return r
}

// leftWith lists what is gone that speaks for the door, and is no other look of what
// stays.
func leftWith(captures []*Capture, r *Comparison) (left []Kind) {
	for _, c := range captures {
		for i := range c.Findings {
			f := &c.Findings[i]
			if c.Free || !slices.Contains(r.Gone, f.Kind) || slices.Contains(left, f.Kind) || f.lead() != DoorMechanism || f.Strength < 0.5 || f.force() <= math.Log(3) {
				continue
			}
			if !slices.ContainsFunc(c.Findings, func(g Finding) bool {
				return slices.Contains(r.Stays, g.Kind) && (f.Event != "" && g.Event == f.Event || g.placed() && f.placed() && g.Volts.Overlaps(f.Volts))
			}) {
				left = append(left, f.Kind)
			}
		}
	}
	return left
}

// Second says what of the comparison the conclusion leaves unexplained, or "".
func (r *Comparison) Second(conclusion Fault) string {
	switch {
	case len(r.Left) == 0 || conclusion <= NoFault:
		return ""
	case conclusion == DoorMechanism:
		return fmt.Sprintf("What stays without the door may be a second fault, in the actuator or its wiring: %s.", joinKinds(r.Stays))
	}
	return fmt.Sprintf("What left with the door may be a second fault, in the door: %s.", joinKinds(r.Left))
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

// leftWithDoor takes back what a swing of the speed said about gears where it
// left with the door, and says what it is then: a gear turns uncoupled as well,
// and friction slows a door at even distances from where it set out.
func (u *uncoupling) leftWithDoor() {
	for _, c := range u.captures {
		for i := range c.Findings {
			f := &c.Findings[i]
			if c.Free || f.Kind != GearTurn {
				continue
			}
			g := *f
			g.Kind, g.Form = StickSlip, ""
			friction, _ := weights(&g)
			u.worth(f, friction)
		}
	}
}

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
	if len(r.Gone)+len(r.Stays) == 0 {
		because = "the uncoupled actuator runs from stop to stop, so how far it goes is known"
	}
	if len(r.Stays) > 0 {
		because = "what stays without the door is in the actuator or its wiring"
		if len(r.Left) > 0 {
			because += fmt.Sprintf(", and what left with it (%s) in the door: there may be two faults", joinKinds(r.Left))
		}
	}
	if best == NoFault && len(r.Stays) == 0 && len(r.Gone) > 0 {
		because = "a fault of the actuator would stay; what shows once only, and not without the door, may be chance, or a faint sign of the door"
	}
	return Evidence{Finding: FreeRun, Text: r.Text, Because: because, Ratio: math.Exp(r.Weights[best]) / math.Max(sum/rest, 1e-9)}
}
