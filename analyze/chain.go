package analyze

import "fmt"

// chainOf names the order of two faults of one actuator of which the first
// leads to the second: a motor that is slow or heats and a worn track, or gear
// teeth that let go and a control that hunts. Both ends must have been found,
// as events of their own; "" otherwise.
func chainOf(captures []*Capture, conclusion Fault) string {
	if conclusion == NoFault || conclusion == WiringControl {
		return ""
	}
	var all []*Finding
	for _, c := range captures {
		lead := map[string]Fault{}
		for i := range c.Findings { // strongest first
			f := &c.Findings[i]
			if _, ok := lead[f.Event]; f.Event != "" && !ok {
				lead[f.Event] = f.lead()
			}
			// What a stronger finding of the same event explains otherwise is no
			// fault of its own; hunting is none anyway.
			if f.Kind != Hunting && f.Event != "" && lead[f.Event] != f.lead() {
				continue
			}
			// Below an even chance of being real, nothing is built on it.
			if f.Strength >= 0.5 {
				all = append(all, f)
			}
		}
	}
	if s := wornChain(all); s != "" {
		return s
	}
	return slipChain(all)
}

// wornChain looks for a motor that labours and a track that is worn.
func wornChain(all []*Finding) string {
	for _, m := range all {
		if m.Kind != Heating && m.Kind != WeakDrive || m.lead() != Motor {
			continue
		}
		var best *Finding
		hunted := false
		for _, x := range all {
			if !x.worn() || x.Event != "" && x.Event == m.Event {
				continue
			}
			h := huntsAt(all, x)
			if best == nil || h && !hunted {
				best, hunted = x, hunted || h
			}
		}
		if best == nil {
			continue
		}
		motor := "the motor tired and ran slow"
		if m.Kind == Heating {
			motor = "the motor tired and ran hot"
		}
		s := fmt.Sprintf("Possible order: %s, then the track wore %s", motor, best.where())
		if hunted {
			s = fmt.Sprintf("Likely order: %s, then the track wore %s, where it hunted", motor, best.where())
		}
		s += "; renew the actuator, not the sensor alone, and "
		if d := dragging(all); d != nil {
			return s + fmt.Sprintf("free the door first (%s), or the new motor works as hard.", dragWords(d))
		}
		return s + "ask why the motor worked so hard (a binding door?)."
	}
	return ""
}

// slipChain looks for teeth that let go and hunting where they do.
func slipChain(all []*Finding) string {
	for _, g := range all {
		if g.Kind != GearSlip || g.lead() != Motor {
			continue
		}
		for _, h := range all {
			near := 0.1 * g.span
			if h.Kind != Hunting || h.Volts.From > g.Volts.To+near || h.Volts.To < g.Volts.From-near {
				continue
			}
			s := "Likely order: the gears lost their teeth, then the control hunted because the shaft slipped back; renew the actuator, and "
			if d := dragging(all); d != nil {
				return s + fmt.Sprintf("free the door first (%s), or the new gears break as well.", dragWords(d))
			}
			return s + "move the door by hand: what broke the teeth may be there."
		}
	}
	return ""
}

// worn tells whether the finding is a worn or wiped place of the track.
func (f *Finding) worn() bool {
	switch f.Kind {
	case DeadSpot, NoisyTrack, BentTrack, EndLoss:
		return f.lead() == FeedbackSensor
	}
	return false
}

// huntsAt tells whether the control hunts within a tenth of the span of a
// place.
func huntsAt(all []*Finding, at *Finding) bool {
	near := 0.1 * at.span
	for _, h := range all {
		if h.Kind == Hunting && h.Volts.From < at.Volts.To+near && h.Volts.To > at.Volts.From-near {
			return true
		}
	}
	return false
}

// where says on which part of the travel a worn place lies: the outer fifths
// are the ends, as for hunting.
func (f *Finding) where() string {
	switch mid := f.Percent.Mid(); {
	case mid >= 80:
		return "near the high end"
	case mid <= 20:
		return "near the low end"
	}
	return "in mid travel"
}

// dragging is a sign that the door drags: it is slow or sticks on its way.
func dragging(all []*Finding) *Finding {
	for _, f := range all {
		switch f.Kind {
		case SlowZone, StickSlip, Jam:
			if f.lead() == DoorMechanism {
				return f
			}
		}
	}
	return nil
}

// dragWords says in two words what the door does.
func dragWords(f *Finding) string {
	switch f.Kind {
	case Jam:
		return "it is stopped on its way"
	case StickSlip:
		return "it sticks on its way"
	}
	return "it binds on its way"
}
