package analyze

import (
	"fmt"
	"math"
)

// paceChange looks for an actuator that runs slower in the last capture than in the first,
// at the same drive, by more than three deviations of what drives, loads and the warmth of
// the room make ([farOff]; grease that is cold adds to these, so two are no sign here). It
// leaves alone what the last capture shows by itself. The captures are in order.
func (s *Series) paceChange(captures []*Capture) {
	var list []*Capture
	for _, c := range captures {
		if !c.Free && !c.Pulsed && c.Unit == captures[0].Unit && sweepsOf(steadyOf(c)) > 0 {
			list = append(list, c)
		}
	}
	if len(list) < 2 {
		return
	}
	a, b := list[0], list[len(list)-1]
	speed, band, ok := sweepSpeeds([]*Capture{a, b})
	z := deviationsOf(speed, band)
	if !ok || z > -farOff || b.slowed(3) {
		return
	}
	// Slower this time and as fast before is an event; slower each time is no cold morning.
	each := 0
	for i := 1; i < len(list); i++ {
		if v, _, ok := sweepSpeeds(list[i-1 : i+1]); ok && v < 1 {
			each++
		}
	}
	text := fmt.Sprintf("In %s it runs at %.0f %% of the speed that it had in %s, at the same drive (good ones: %.0f to %.0f %%).",
		b.Source, 100*speed, a.Source, 100*band.From, 100*band.To)
	steadily := len(list) > 2 && each == len(list)-1
	if n := len(list); steadily {
		text += fmt.Sprintf(" Each of %d captures is slower than the one before.", n)
	}
	p, because := slowerThanOnce(a, b, speed, z, steadily)
	s.asides = append(s.asides, newAside(WeakDrive, p, strengthOf(z), text, because))
	s.Text += " " + text
}

// coldMorning is the chance that a sound actuator runs so much slower once: its grease is
// colder than the band allows, or the supply was lower where no volts were logged: at
// [farOff] deviations, and e times less with each further one (chosen, not derived; a
// quarter of it where each capture is slower than the one before).
const coldMorning = 0.12

// slowerThanOnce is what bears on each fault of an actuator that runs at a share of the
// speed that it had, z deviations off, by n = n0 (1 - I/Is): a load raises what it draws
// to run, I, and leaves what it draws when it is held, Is, alone; brushes and windings lower
// that.
func slowerThanOnce(a, b *Capture, speed, z float64, steadily bool) (shown, string) {
	open := shown{coldMorning * math.Exp(z+farOff), .03, .35, .25, .06}
	if steadily {
		open[NoFault] /= 4
	}
	if !a.driveKnown() || !b.driveKnown() {
		return open, "slower than it was: a tired motor, a door that drags, or a supply that gives less; the drive's volts were not logged"
	}
	volts := b.fullDrive() / a.fullDrive()
	was, is := a.runAmps-a.idleAmps, b.runAmps-b.idleAmps
	most := a.heldAmps - a.idleAmps
	held, run := (b.heldAmps-b.idleAmps)/most/volts, is/was
	due := speedsByCurrent(is/volts, most, was, most) // times as slow, by load alone
	switch {
	case held < heldLess:
		return shown{.01, .01, .4, .03, .08}, fmt.Sprintf("held at a stop it draws %.0f %% of what it drew at the same volts: its brushes or windings let less through, no load does that", 100*held)
	case run > 1 && due > 1+(1/speed-1)/2:
		return shown{.01, .01, .2, .3, .01}, fmt.Sprintf("it draws %.0f %% of the current to run that it drew: more load, of the door or of its own gears", 100*run)
	}
	return open, "slower than it was: a tired motor, a door that drags, or gears that do"
}
