package analyze

import (
	"fmt"
	"math"
)

// slower weighs a side that runs slower than the other by more than two doors differ, and why
// the currents say that it does.
func (r *SideBySide) slower(good, bad *Capture, speed, zv float64) {
	at := "at"
	if r.atMost {
		at = "at less than"
	}
	text := fmt.Sprintf("It runs %s %.0f %% of the good side's speed at the same drive (healthy pairs: %.0f to %.0f %%).", at, 100*speed, 100*r.SpeedGood.From, 100*r.SpeedGood.To)
	p := shown{builtUnlike(zv), .03, .35, .25, .06}
	because := "slower than the same actuator on the other side: a tired motor, a door that drags, or doors that are not built alike"
	if q, why, ok := slowerByCurrent(good, bad, speed, "the good side draws"); ok && good.driveKnown() && bad.driveKnown() {
		q[NoFault] = builtUnlike(zv)
		p, because = q, "slower than the same actuator on the other side: "+why
	}
	r.add(p, strengthOf(zv), text, because)
}

// heldOnLess tells of a motor that draws far less when it is held than the one on the other
// side, where its speed by itself says nothing yet. It must be less of what it draws to run as
// well, so that it hangs on no clamp's factor: warmth and make change a resistance by a fifth
// at most, see [heldLess].
func (r *SideBySide) heldOnLess(good, bad *Capture) {
	volts := bad.fullDrive() / good.fullDrive()
	held := (bad.heldAmps - bad.idleAmps) / (good.heldAmps - good.idleAmps) / volts
	run := (bad.runAmps - bad.idleAmps) / (good.runAmps - good.idleAmps)
	if !good.driveKnown() || !bad.driveKnown() || !(held > 0) || !(run > 0) || held >= heldLess*math.Min(1, run) {
		return
	}
	r.add(shown{.03, .02, .35, .03, .1}, 0.9,
		fmt.Sprintf("Held at a stop it draws %.0f %% of the good side's current at the same volts, and %.0f %% of it to run.", 100*held, 100*run),
		"its brushes or windings let less through than the other side's: no load does that, nor another clamp")
}
