package cost

import (
	"slices"
	"testing"

	"threewire/analyze"
)

// A repair of what is hardly ever broken is not offered beside one of what may be.
func TestNoUnlikelySecondRepair(t *testing.T) {
	const prices = "labour rate: 80\nopening hours: 1.5 h\nopened for: actuator, air case\nactuator price: 60\nactuator hours: 0.4 h\n" +
		"air case price: 310\nair case hours: 5.5 h\nwiring price: 15\nwiring hours: 1 h\ncomeback price: 30\ncomeback hours: 0.5 h\n"
	p := make([]float64, len(analyze.Faults()))
	p[analyze.NoFault], p[analyze.FeedbackSensor], p[analyze.Motor], p[analyze.DoorMechanism], p[analyze.WiringControl] = .02, .26, .39, .327, .003
	if !idle(1<<actuator|1<<wiring, p) {
		t.Error("offers to repair the wiring too, at under one in a hundred")
	}
	if idle(1<<actuator|1<<airCase, p) || idle(1<<actuator, p) {
		t.Error("does not offer the two that may be broken")
	}
	for _, c := range Repairs(judged(p...), mustPrices(t, prices)).Choices[1:] {
		var set repairSet
		for r := range repairCount {
			if slices.Contains(c.Parts, r.part()) {
				set |= 1 << r
			}
		}
		if c.Offered && idle(set, p) {
			t.Errorf("offered: %s", c.Do)
		}
	}
}
