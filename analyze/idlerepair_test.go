package analyze

import "testing"

// A repair of what is hardly ever broken is not offered beside one of what may be.
func TestNoUnlikelySecondRepair(t *testing.T) {
	const prices = "labour rate: 80\nopening hours: 1.5 h\nopened for: actuator, air case\nactuator price: 60\nactuator hours: 0.4 h\n" +
		"air case price: 310\nair case hours: 5.5 h\nwiring price: 15\nwiring hours: 1 h\ncomeback price: 30\ncomeback hours: 0.5 h\n"
	p := make([]float64, faultCount)
	p[NoFault], p[FeedbackSensor], p[Motor], p[DoorMechanism], p[WiringControl] = .02, .26, .39, .327, .003
	if !idle(1<<actuator|1<<wiring, p) {
		t.Error("offers to repair the wiring too, at under one in a hundred")
	}
	if idle(1<<actuator|1<<airCase, p) || idle(1<<actuator, p) {
		t.Error("does not offer the two that may be broken")
	}
	for _, c := range PriceRepairs(judged(p...), mustPrices(t, prices)).Choices[1:] {
		if c.Offered && idle(c.set, p) {
			t.Errorf("offered: %s", c.Do)
		}
	}
}
