package analyze

import (
	"fmt"
	"math"

	"threewire/analyze/stats"
)

// paceChange looks for an actuator that runs slower in the last capture than in the first,
// at the same drive, by more than three deviations of what drives, loads and the warmth of
// the room make ([farOff]; grease that is cold adds to these, so two are no sign here). It
// leaves alone what the last capture shows by itself. The captures are in order.
func (s *Series) paceChange(captures []*Capture) {
	list := alikeDriven(captures)
	if len(list) < 2 {
		return
	}
	a, b := list[0], list[len(list)-1]
	speed, band, ok := sweepSpeeds([]*Capture{a, b})
	z := deviationsOf(speed, band)
	// Slower this time and as fast before is an event; slower and slower is no cold morning.
	steadily, all := everSlower(list)
	limit := float64(farOff)
	if steadily && len(list) >= fewestOfTrend {
		limit = trendOff
	}
	if !ok || z > -limit || b.slowed(3) {
		return
	}
	text := fmt.Sprintf("In %s it runs at %.0f %% of the speed that it had in %s, at the same drive (good ones: %.0f to %.0f %%).",
		b.Source, 100*speed, a.Source, 100*band.From, 100*band.To)
	switch n := len(list); {
	case all:
		text += fmt.Sprintf(" Each of %d captures is slower than the one before.", n)
	case steadily:
		text += fmt.Sprintf(" Over %d captures it has become slower and slower.", n)
	}
	p, because := slowerThanOnce(a, b, speed, z, steadily)
	if q, why, ok := freeNow(a, captures, speed); ok {
		q[NoFault] = math.Min(q[NoFault], p[NoFault])
		p, because = q, why
	}
	s.asides = append(s.asides, newAside(WeakDrive, p, strengthOf(z), text, because))
	s.Text += " " + text
}

// alikeDriven lists the coupled captures with whole sweeps that are driven as the last of them
// is, in pulses or not: what pulses do to the mean volts, and to a motor that coasts between
// them, they do to all alike, and their mean must be in volts then.
func alikeDriven(captures []*Capture) (list []*Capture) {
	var swept []*Capture
	for _, c := range captures {
		if !c.Free && c.Unit == captures[0].Unit && sweepsOf(steadyOf(c)) > 0 {
			swept = append(swept, c)
		}
	}
	for _, c := range swept {
		if last := swept[len(swept)-1]; c.Pulsed == last.Pulsed && (!c.Pulsed || c.driveKnown()) {
			list = append(list, c)
		}
	}
	return list
}

// coldMorning is the chance that a sound actuator runs so much slower once: its grease is
// colder than the band allows, or the supply was lower where no volts were logged: at
// [farOff] deviations, and e times less with each further one (chosen, not derived; a
// quarter of it where each capture is slower than the one before).
const coldMorning = 0.12

const (
	// fewestOfTrend is the number of captures of which chance orders all by their speed once
	// in 120 (1/5!): with fewer there is no trend to test.
	fewestOfTrend = 5

	// trendOff is how many deviations such a trend has to come to: less than what no good
	// actuator does is a sign then (chosen, not derived).
	trendOff = 2.0
)

// everSlower tells whether captures, in order, become slower: all each than the one before, three
// of them at least, or, of five and more, by the test of Mann and Kendall.
func everSlower(list []*Capture) (steadily, all bool) {
	speeds := []float64{1}
	all = len(list) > 2
	for i := 1; i < len(list); i++ {
		v, _, ok := sweepSpeeds([]*Capture{list[0], list[i]})
		if !ok {
			return false, false
		}
		all = all && v < speeds[i-1]
		speeds = append(speeds, v)
	}
	trend := stats.MannKendall(speeds)
	return all || len(list) >= fewestOfTrend && trend.S < 0 && trend.P < 0.01, all
}

// freeNow is what the last uncoupled capture says about an actuator that runs coupled at a
// share of the speed that it had: off its door an actuator is at least as fast as on it. As
// fast as it once was on the door, its motor and gears are what they were, and the door drags;
// nearer to the slow speed than to that one, they are not. In between both may have a share.
func freeNow(a *Capture, captures []*Capture, speed float64) (shown, string, bool) {
	for i := len(captures) - 1; i >= 0; i-- {
		c := captures[i]
		if !c.Free {
			continue
		}
		r, _, ok := sweepSpeeds([]*Capture{a, c})
		switch {
		case !ok:
			continue
		case r >= 1:
			return shown{.01, .01, .03, .4, .02}, fmt.Sprintf("off the door it runs at %.0f %% of the speed that it had on the door then: motor and gears are what they were, the door drags", 100*r), true
		case r < (1+speed)/2:
			return shown{.01, .01, .4, .04, .06}, fmt.Sprintf("off the door, too, it reaches only %.0f %% of the speed that it had on the door then: the motor or its gears have become slow", 100*r), true
		}
		return shown{}, "", false
	}
	return shown{}, "", false
}

// slowerThanOnce is what bears on each fault of an actuator that runs at a share of the
// speed that it had, z deviations off, by n = n0 (1 - I/Is): a load raises what it draws
// to run, I, and leaves what it draws when it is held, Is, alone; brushes and windings lower
// that.
func slowerThanOnce(a, b *Capture, speed, z float64, steadily bool) (shown, string) {
	open := shown{coldMorning * math.Exp(z+farOff), .03, .35, .25, .06}
	if steadily && z < -farOff {
		open[NoFault] /= 4
	}
	if !a.driveKnown() || !b.driveKnown() {
		return open, "slower than it was: a tired motor, a door that drags, or a supply that gives less; the drive's volts were not logged"
	}
	if p, because, ok := slowerByCurrent(a, b, speed, "it drew"); ok {
		return p, because
	}
	return open, "slower than it was: a tired motor, a door that drags, or gears that do"
}

// slowerByCurrent is what two motor currents bear on each fault of b, which runs at a share of
// the speed of a; than says in words what a's current is. It is not ok where they settle
// nothing.
func slowerByCurrent(a, b *Capture, speed float64, than string) (shown, string, bool) {
	volts := b.fullDrive() / a.fullDrive()
	was, is := a.runAmps-a.idleAmps, b.runAmps-b.idleAmps
	most := a.heldAmps - a.idleAmps
	held, run := (b.heldAmps-b.idleAmps)/most/volts, is/was
	due := speedsByCurrent(is/volts, most, was, most) // times as slow, by load alone
	switch {
	case held < heldLess:
		return shown{.01, .01, .4, .03, .08}, fmt.Sprintf("held at a stop it draws %.0f %% of what %s at the same volts: its brushes or windings let less through, no load does that", 100*held, than), true
	case run > 1 && due > 1+(1/speed-1)/2:
		return shown{.01, .01, .2, .3, .01}, fmt.Sprintf("it draws %.0f %% of the current to run that %s: more load, of the door or of its own gears", 100*run, than), true
	}
	return shown{}, "", false
}
