package analyze

// A pocket logger has two channels: the feedback takes one, and what drives the motor has
// the other.

// fewestChannels are those without which no capture decides: one for the drive, one for
// the feedback.
const fewestChannels = 2

// Where a clamp goes. A small gear motor stalls below 1 A (common practice, no source).
const currentWhere, currentRange = "current clamp round one motor lead", "-1 to +1 A"

// driveByCurrent tells whether the sign of the motor's current has to tell the drive.
func (s *Situation) driveByCurrent() bool {
	return s.Channels == fewestChannels && !s.Probe && s.Clamp
}

// oneLead tells whether each motor lead has to be recorded in turn.
func (s *Situation) oneLead() bool {
	return s.Channels == fewestChannels && !s.Probe && !s.Clamp
}

// TakesLeadsInTurn tells whether the plan is of two records, one with each motor lead.
func (p *CapturePlan) TakesLeadsInTurn() bool { return p.Situation.oneLead() }

func (p *CapturePlan) twoChannelSteps(s *Situation) {
	if s.oneLead() {
		p.Steps = append(p.Steps, "Then put channel 1 on motor lead B and record the same once more, as a file of its own: each record shows fully only the way that its own lead drives.")
	}
}

func (p *CapturePlan) twoChannelHides(s *Situation) {
	switch {
	case s.driveByCurrent():
		p.Hides = append(p.Hides, "a drive that no current follows: an open motor circuit looks like a control that does not drive (the sign of the current is all that tells the drive)",
			"the volts of the drive, and with them a supply that gives way")
	case s.oneLead():
		p.Hides = append(p.Hides, "in one record alone: a stall, a pause or a drive in vain on the way that the other lead drives (that way is known only while the reading moves)",
			"the volts across the motor: a lead that stays up where it should go down")
	}
}

// twoChannelRaise says what another channel is worth.
func (p *CapturePlan) twoChannelRaise(s *Situation) {
	if s.driveByCurrent() || s.oneLead() {
		p.Raise = append(p.Raise, Improved{"with a third channel, or a differential probe across the motor leads (--probe)", "both ways of the drive, with its volts, in one record", p.Prospect})
	}
}
