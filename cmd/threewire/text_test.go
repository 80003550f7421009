package main

import (
	"strings"
	"testing"

	"threewire/analyze"
)

// Nobody looks for evidence for "no fault": what was found is said as what it is.
func TestEvidenceTitles(t *testing.T) {
	for _, c := range []struct {
		fault       analyze.Fault
		pro, contra string
	}{
		{analyze.NoFault, "Found, but a sound actuator can do it too", "Signs of a fault, too weak to call it one"},
		{analyze.Motor, "Evidence for motor", "Evidence against motor"},
	} {
		pro, contra := evidenceTitles(&analyze.Verdict{Conclusion: c.fault, Chances: []analyze.Chance{{Fault: c.fault}}})
		if pro != c.pro || contra != c.contra {
			t.Errorf("%s: %q and %q", c.fault, pro, contra)
		}
	}
}

// Which way is up is told where the sign of the drive says the opposite.
func TestUpIsExplained(t *testing.T) {
	const told = "Up means that the reading rises"
	for path, want := range map[string]bool{
		"rig3-left-temperature-door-dead-spot.csv": true,
		"rig9-intake-door-connector.csv":           false,
	} {
		if _, out, _ := call("", "check", "../../fixtures/captures/"+path); strings.Contains(out, told) != want {
			t.Errorf("%s: %t expected: %s", path, want, out)
		}
	}
}

// Where no test turns the verdict, one is told in full and the others by name; where one
// may, each with what to do.
func TestTestsThatTurnNothingAreShort(t *testing.T) {
	for path, short := range map[string]bool{
		"rig3-left-temperature-door-dead-spot.csv": true,
		"rig9-intake-door-connector.csv":           false,
	} {
		_, out, _ := call("", "check", "../../fixtures/captures/"+path)
		if strings.Contains(out, "  - Or: ") != short || strings.Contains(out, "No likely outcome turns") != short {
			t.Errorf("%s: %t expected: %s", path, short, out)
		}
	}
}
