package analyze

import (
	"slices"
	"strings"
)

// stands tells whether any finding has the reading stand under drive: only
// then does the current decide.
func (c *Capture) stands() bool {
	for i := range c.Findings {
		switch c.Findings[i].Kind {
		case DeadSpot, EndLoss, Jam, NoMotion, OneWay, Pauses, StickSlip, Hunting, SlowZone:
			return true
		}
	}
	return false
}

// doubtsDrive tells whether it is open if the drive reaches the motor both ways: none
// was seen, or none or fewer volts one way, or one that does not let go, or only its
// sign was logged and nothing answers.
func (c *Capture) doubtsDrive() bool {
	return slices.ContainsFunc(c.Findings, func(f Finding) bool {
		switch f.Kind {
		case NoDrive, HalfDrive, Ignored, StaysOn:
			return true
		case SupplySag:
			return f.Form == onePolarity || f.Form == hardlyAnyLeft
		case UnevenWays:
			return !f.has(atSameVolts)
		case OneWay, NoMotion:
			return f.Form == fewVolts || f.Form == feebleDrive || f.has(onlyPolarity) || f.has(noCurrentThatWay)
		}
		return false
	})
}

// doubtsMotor tells whether the current says that the motor's circuit is open or shorted.
func (c *Capture) doubtsMotor() bool {
	return slices.ContainsFunc(c.Findings, func(f Finding) bool {
		return f.Kind == NoMotion && strings.HasPrefix(f.Form, noCurrentFlows) || f.Kind == SupplySag && f.Form == shorted || f.Kind == Broken && (f.Form == brokenNoCurrent || f.Form == brokenNoStart)
	})
}

// deadDrive tells whether it is the drive that is not there, or no current for it.
func (c *Capture) deadDrive() bool {
	return c.shows(NoDrive) || c.showsForm(SupplySag, shorted) || c.showsForm(NoMotion, noSupply) || slices.ContainsFunc(c.Findings, func(f Finding) bool {
		return f.Kind == NoMotion && strings.HasPrefix(f.Form, noCurrentFlows) || f.Kind == Ignored && f.Form != nowAndThen
	})
}

// shows tells whether there is a finding of the kind.
func (c *Capture) shows(k Kind) bool {
	return slices.ContainsFunc(c.Findings, func(f Finding) bool { return f.Kind == k })
}

// showsForm tells whether the capture has a finding of that kind and form.
func (c *Capture) showsForm(k Kind, form string) bool {
	return slices.ContainsFunc(c.Findings, func(f Finding) bool { return f.Kind == k && f.Form == form })
}

// showsMeasure tells whether the capture has a finding of that kind with the measure.
func (c *Capture) showsMeasure(k Kind, name MeasureName) bool {
	return slices.ContainsFunc(c.Findings, func(f Finding) bool { return f.Kind == k && f.has(name) })
}

// pinned tells whether the reading lies at a rail all the time, whatever is driven.
func (c *Capture) pinned() bool {
	return slices.ContainsFunc(c.Findings, func(f Finding) bool {
		return f.Kind == AtRail && (f.Form == crushed || strings.HasSuffix(f.Form, allTheTime))
	})
}

// Stands are the places of a finding at which the shaft stood under drive short of where it
// was driven to: jams, pauses, catches, sticking, a motor without current, a tooth that is
// gone. nil of all other findings: what is slow still moves, and what the track does not
// tell may have moved. Volts are in Capture.Unit.
func (f *Finding) Stands() []Occurrence {
	switch {
	case f.Kind == Jam, f.Kind == Pauses,
		f.Kind == StickSlip,
		f.Kind == SlowZone && f.Form == standsAndGoes,
		f.Kind == GearSlip && f.Form == waitsAlike,
		f.Kind == Broken && f.Form == brokenNoCurrent:
		return f.Places
	}
	return nil
}
