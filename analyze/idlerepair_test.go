package analyze

import (
	"testing"

	"threewire/fixtures"
)

// A repair of what is hardly ever broken is not offered beside one of what may be.
func TestNoUnlikelySecondRepair(t *testing.T) {
	p := make([]float64, faultCount)
	p[NoFault], p[FeedbackSensor], p[Motor], p[DoorMechanism], p[WiringControl] = .02, .26, .39, .327, .003
	if !idle(1<<actuator|1<<wiring, p) {
		t.Error("offers to repair the wiring too, at under one in a hundred")
	}
	if idle(1<<actuator|1<<airCase, p) || idle(1<<actuator, p) {
		t.Error("does not offer the two that may be broken")
	}
	for _, c := range PriceRepairs(judged(p...), mustPrices(t, fixtures.ShopPrices())).Choices[1:] {
		if c.Offered && idle(c.set, p) {
			t.Errorf("offered: %s", c.Do)
		}
	}
}
