package analyze

import "testing"

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
	for _, c := range PriceRepairs(judged(p...), mustPrices(t, "labour rate: 80\nactuator price: 60\nactuator hours: 1.5\nair case price: 200\nair case hours: 6\nwiring price: 5\nwiring hours: 1\n")).Choices[1:] {
		if c.Offered && idle(c.set, p) {
			t.Errorf("offered: %s", c.Do)
		}
	}
}
