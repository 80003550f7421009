package cost

import (
	"strings"
	"testing"
)

// A test after whose every outcome the same comes first saves nothing, however the order
// of what follows changes. And an actuator that was left in place is in the dearest way,
// which the assumptions say.
func TestWhatChangesNothingIsWorthNothing(t *testing.T) {
	t.Parallel()
	// 200 for the actuator, 800 for the air case, 200 for the wiring, and nothing is
	// broken with nine tenths: to wait comes first, whatever the connector shows.
	more := "comeback price: 40\nopened for: actuator\nhorizon: 24 months\nold actuator fails: 20 %\n"
	rc := Repairs(judged(.9, .04, .02, .02, .02), hand(t, more))
	found := false
	for _, w := range rc.Tests {
		same := true
		for _, o := range w.Then {
			same = same && o.Do == w.Then[0].Do
		}
		if same && w.Worth != 0 {
			t.Errorf("%s is worth %v, and changes nothing: %+v", w.Name, w.Worth, w.Then)
		}
		found = found || same
	}
	if !found {
		t.Error("every test changes what to do")
	}
	// Nothing broken: at worst the old actuator fails, for its 200.
	sound := choiceOf(t, Repairs(judged(1, 0, 0, 0, 0), hand(t, more)), "leave it and wait")
	near(t, "dearest", *sound.Most, 200)
	near(t, "in all", *sound.Expected, 40)
	if s := strings.Join(rc.Assumed, "; "); !strings.Contains(s, "fails within 24 months with a chance of 20 %, and costs 200 then") {
		t.Errorf("assumed: %s", s)
	}
}
