package analyze

import (
	"slices"

	"threewire/signal"
)

// Settle plans for what a verdict on earlier captures left open: the channels that its
// next tests ask for come first.
func (s *Situation) Settle(v *Verdict) {
	for _, t := range v.Next {
		switch t.Name {
		case logCurrent, logSlowing:
			s.wants = append(s.wants, signal.Current)
		case logReference:
			s.wants = append(s.wants, signal.Reference)
		case fullSweeps:
			s.Sweeps = max(s.Sweeps, 3)
		}
	}
}

// Records tells whether the test is made by recording another capture: the others are
// made by hand or with a meter.
func (t *NextTest) Records() bool {
	return slices.Contains([]string{runItFree, logCurrent, logReference, fullSweeps, logGoodSide, wiggle, logLeadVolts, logSlowing, letCool, logBothLeads().Name, checkClips().Name, "Move the instrument's ground"}, t.Name)
}

// NeedsClamp tells whether the test is made with a current clamp.
func (t *NextTest) NeedsClamp() bool { return t.Name == logCurrent || t.Name == logSlowing }
