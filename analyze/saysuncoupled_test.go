package analyze

import "testing"

func TestCouplingInRemarks(t *testing.T) {
	for want, remarks := range map[coupling][]string{
		saysUncoupled: {
			"arm pulled off door here", "Lever unclipped", "pulled the arm off", "actuator taken off the door", "linkage disconnected", "uncoupled",
			"Decoupled now", "free run", "free running from here", "unhooked the link", "took door arm off", "actuator removed from the case, runs free", "arm off here",
			"crank detached by hand", "arm off the door", "actuator arm pulled off", "pulled actuator arm off", "took actuator off the door", "door actuator pulled off the door", "motor off the flap", "ok, lever pulled off", "door uncoupled", "actuator off door", "arm is off now", "removed arm", "shaft removed", "pulled off the door lever", "actuator pulled off door",
		},
		saysCoupled: {
			"refitted", "arm refitted", "hooked on again", "coupled again", "back on", "arm back on", "lever clipped on again", "actuator back on door", "recoupled", "arm reconnected", "door coupled again",
		},
		saysNothing: {
			"connector pulled off here", "plug pulled off, arm still on", "fuse removed", "sensor lead off", "wiggled plug", "door held by hand", "let go", "switch to warm",
			"arm not pulled off", "before arm pulled off", "arm will be pulled off next", "arm pulled off?", "glove box door removed", "removed leaf from door", "removed a pen from the flap",
			"door off", "flap turned off", "air off door", "motor off", "switched off", "power back on", "ignition back on", "ac off", "actuator removed", "probe off the lever", "door opened", "door shut",
			"arm moved by hand", "door actuator disconnected", "disconnected the door motor", "removed actuator", "lever popped off", "arm fell off door", "arm pulled off the stop", "flap lifted off its seat", "lever off", "link off", "trigger arm off", "motor removed", "door off now", "arm came off door", "could not get arm off", "try with lever unclipped", "pulled door by hand", "took reading at door", "off", "", "refitted plug", "uncoupled, then coupled again", "drive off", "arm slipped", "lever connected",
		},
	} {
		for _, r := range remarks {
			if got := couplingIn(r); got != want {
				t.Errorf("%q: %d, want %d", r, got, want)
			}
		}
	}
}
