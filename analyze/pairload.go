package analyze

import (
	"fmt"
	"math"
	"slices"
)

// loadOf says what the load of the door does to a shaft of which nothing is odd by
// itself: how much slower it is than uncoupled, where, and how much more uneven. The
// actuator and the instrument are the same, so neither is theirs.
func loadOf(captures []*Capture) (out []aside) {
	loaded := slowByLoad(captures)
	if longerThanFree(captures) != "" || oddBy(captures, func(f *Finding) bool { return !f.mayStick() && !(loaded && f.slowAgainstUsual()) }) {
		return nil
	}
	if a := unevenCoupled(captures); a != nil {
		out = append(out, *a)
	}
	// What is found by itself is compared as such.
	if oddBy(captures, (*Finding).mayStick) {
		return out
	}
	for _, a := range []*aside{slowedByDoor(captures), pressedAtStop(captures)} {
		if a != nil {
			out = append(out, *a)
		}
	}
	return out
}

// oddBy tells whether any capture shows something of the given sort.
func oddBy(captures []*Capture, sort func(f *Finding) bool) bool {
	return slices.ContainsFunc(captures, func(c *Capture) bool {
		return slices.ContainsFunc(c.Findings, func(f Finding) bool { return f.force() > math.Log(3) && sort(&f) })
	})
}

// mayStick tells whether a finding may be a long rest of friction, or what the control
// makes of one: neither is told from others by itself.
func (f *Finding) mayStick() bool {
	return f.Kind == Pauses && f.Form == "" || f.Kind == Hunting || f.Kind == Jam && f.Form == jamScattered
}

// evenShaft is the share of its speed by which a shaft may swing and still run evenly,
// see findRatchet; nearly so beside the uncoupled one, which shows what its gears do.
const evenShaft = 1.0 / 3

// unevenCoupled compares how evenly the shaft runs with the door and without, over the
// distance at which they differ most. Gears, track, brushes and instrument are those of
// the uncoupled one as well.
func unevenCoupled(captures []*Capture) *aside {
	const more = 3     // times the uncoupled swing: the least that no load makes of a sound gear's
	const least = 0.05 // what the gears of a good actuator do by themselves
	best, with, without := 0.0, 0.0, 0.0
	alike := oneInstrument(captures)
	for i := range rippleCount {
		c, x := ripplesOf(captures, i)
		if !alike {
			c.low = math.Min(c.low, c.holds)
		}
		// Twice the power of the uncoupled one and of the worst at rest is clear of both.
		if !(c.low > 0.75*evenShaft) || !(c.low > more*math.Max(x.high, least)) || !(c.whole > math.Sqrt2*x.over) || !(c.whole > 1.1*c.rest) {
			continue
		}
		if q := c.low / math.Max(x.high, least); q > best {
			best, with, without = q, c.low, x.high
		}
	}
	if best == 0 {
		return nil
	}
	a := newAside(FreeRun, shown{.004, .02, .04, .25, .02}, 0.9,
		fmt.Sprintf("With the door its speed swings by %.0f %% over small distances all along the way, uncoupled by %.0f %%.", 100*with, 100*without),
		"a shaft that runs evenly by itself and in jerks with the door: the door sticks and slips")
	return &a
}

// oneInstrument tells whether captures were logged at one rate, to a tenth of it, and in
// one converter's steps: only then would what the motor does to the reading show in all
// of them alike.
func oneInstrument(captures []*Capture) bool {
	same := func(x, y float64) bool { return math.Abs(x-y) <= 0.1*math.Max(x, y) }
	for _, c := range captures {
		if !same(c.Step, captures[0].Step) || !same(c.Quantum, captures[0].Quantum) {
			return false
		}
	}
	return true
}

// ripplesOf gives the ripple over one distance of the evenest coupled capture and of the
// most uneven uncoupled one.
func ripplesOf(captures []*Capture, i int) (coupled, free ripple) {
	coupled, free = unknownRipple(), unknownRipple()
	for _, c := range captures {
		r := c.ripple[i]
		switch {
		case c.Free && exceeds(r.high, free.high):
			free = r
		case !c.Free && exceeds(-r.low, -coupled.low):
			coupled = r
		}
	}
	return coupled, free
}

// heavyDoor is how many times slower than uncoupled a healthy door seldom makes its
// actuator at 12 V, both ways: a good motor keeps two thirds of its speed on its door
// (common practice, no source).
const heavyDoor = 1.5

// slowerAt12 is how many times slower at 12 V a load makes an actuator that it makes slower
// by a factor at a drive of the given volts: the load asks for one torque, so for as many
// amperes and volts at any supply, and the speed is what is left of them (n = (V - M R/k)/k
// for any brushed motor). Infinite where 12 V would not turn it.
func slowerAt12(factor, volts float64) float64 {
	if volts > mostOf12 {
		volts /= 2 // a 24 V system's
	}
	left := 1 - (1-1/factor)*(volts-startVolts)/(12-startVolts)
	if left <= 0 {
		return math.Inf(1)
	}
	return 1 / left
}

// DragsAllAlong tells whether the door slows its actuator both ways and nothing was found
// that holds it at a place: a dry or dirty pivot does that, an object does not.
func (r *Report) DragsAllAlong() bool {
	for _, c := range r.Captures {
		if c.stands() {
			return false
		}
	}
	return slowedByDoor(r.Captures) != nil
}

// slowing is how many times slower the door makes its actuator, at the same drive.
type slowing struct {
	least, most float64 // of the ways and captures
	at12        float64 // the least, as it would be at 12 V where the volts were logged
	amps        float64 // coupled over uncoupled current, the least; +Inf unknown
	single      bool    // a way was moved once only
}

// slowingOf compares the speeds with the door and without; not ok where a way cannot be
// compared.
func slowingOf(captures []*Capture) (s slowing, ok bool) {
	s = slowing{least: math.Inf(1), at12: math.Inf(1), amps: math.Inf(1)}
	for _, c := range captures {
		for _, x := range captures {
			if c.Free || !x.Free || c.Pulsed || x.Pulsed {
				continue
			}
			k, known := levelScale(x, c)
			if !known {
				return s, false
			}
			if q := c.runAmps / x.runAmps; !math.IsInf(q, 0) { // NaN stays NaN
				s.amps = min(s.amps, q)
			}
			for _, d := range []Direction{Down, Up} {
				a, na := c.pace(d)
				b, nb := x.pace(d)
				if na < 1 || nb < 1 {
					return s, false
				}
				s.single = s.single || na < 2 || nb < 2
				q := k * b / a
				at12 := q
				// The speed goes with the volts above those that only turn it.
				if va, vb := c.fullDrive(), x.fullDrive(); c.driveKnown() && x.driveKnown() && va > 2*startVolts && vb > 2*startVolts {
					q *= (va - startVolts) / (vb - startVolts)
					at12 = slowerAt12(q, va)
				}
				s.least, s.most = math.Min(s.least, q), math.Max(s.most, q)
				s.at12, ok = math.Min(s.at12, at12), true
			}
		}
	}
	return s, ok
}

// halved is how many times slower no good door makes its actuator at 12 V, see unlikeFree.
const halved = 2

// slowByLoad tells whether it is the load of the door, measured beside the uncoupled
// actuator at the same drive, that makes a travel longer than is usual: where uncoupled it
// is no longer than that, and the load costs more than half of the speed, both ways alike as
// friction does. A motor turns at n0 (1 - M/Ms): one so weak that a good door costs it as
// much has little left for its own gears, so that it is slow uncoupled as a rule, and what
// the loads of the two ways differ by costs it as many times more as well.
func slowByLoad(captures []*Capture) bool {
	_, free := travelTimes(captures)
	s, ok := slowingOf(captures)
	return ok && s.at12 >= halved && free.at12 > 0 && free.asSlow >= 1 && 1/s.least-1/s.most < 2*unevenLoad
}

// leaveSlowToDoor lets the door explain a long travel time as well as a weak motor does,
// where what the door costs is measured, see [slowByLoad].
func (u *uncoupling) leaveSlowToDoor() {
	for _, c := range u.captures {
		for i := range c.Findings {
			if f := &c.Findings[i]; !c.Free && f.slowAgainstUsual() {
				u.loadSlows = true
				u.own[DoorMechanism] += math.Max(0, f.Weights[Motor]-f.Weights[DoorMechanism])
			}
		}
	}
}

// slowAgainstUsual tells whether a finding rests on what travel times are usual.
func (f *Finding) slowAgainstUsual() bool { return f.Kind == WeakDrive && f.Form == againstUsual }

// slowedByDoor weighs how much slower the actuator is with the door than without.
func slowedByDoor(captures []*Capture) *aside {
	// One move each way may be slow by chance, by as much: the two vouch for each other
	// where they are alike, or where even so much less would be a heavy door; and so does
	// the current, which goes with the torque.
	const alike = 1.3
	s, ok := slowingOf(captures)
	if !ok || !(s.at12 >= heavyDoor) || s.single && s.most > alike*s.least && s.at12 < alike*heavyDoor && !(s.amps >= heavyDoor*heavyDoor) {
		return nil
	}
	// From heavy to halved it grows from a third to fully sure.
	strength := math.Min(1, 0.35+(s.at12-heavyDoor)/(halved-heavyDoor)*0.65)
	a := newAside(FreeRun, shown{.008, .015, .05, .2, .03}, strength,
		fmt.Sprintf("With the door it is %.1f to %.1f times slower than uncoupled, at the same drive.", s.least, s.most),
		"a good motor keeps two thirds of its speed on a good door at 12 V. What leaves with the door is the door's, as a rule; a motor with little strength left turns its own gears slowly as well, and a supply through a bad contact sags under load")
	if s.amps >= heavyDoor && !math.IsInf(s.amps, 0) {
		a.because = fmt.Sprintf("it draws %.1f times the current with the door, so the door loads it; %s", s.amps, a.because)
	}
	if s.most/s.least < 1.05 {
		a.text = fmt.Sprintf("With the door it is %.1f times slower than uncoupled both ways, at the same drive.", s.least)
	}
	return &a
}

// startVolts is the fifth of 12 V below which a loaded gear motor does not start, see
// acrossTravel.
const startVolts = 2.4

// pace is the usual speed of a capture in a direction at its full and steady drive, in the unit of its
// readings a second, and of how many moves.
func (c *Capture) pace(d Direction) (float64, int) {
	var r []float64
	for k := range c.Moves {
		if m := &c.Moves[k]; m.Direction == d && c.tellsPace(m) {
			r = append(r, m.Rate)
		}
	}
	return medianOf(r), len(r)
}

// tellsPace tells whether a move is long enough, and driven fully, to tell the pace.
func (c *Capture) tellsPace(m *Move) bool {
	return m.Moving > 0.5 && m.Rate > 0 && math.Abs(m.DriveMean) > fullyDriven*c.fullDrive() && m.Travel() > 0.15*c.Span.Width()
}
