package main

import (
	"regexp"
	"strings"
	"testing"

	"threewire/fixtures"
	"threewire/signal"
)

// A logger of two channels gets a plan too: one lead in turn, or the current's sign, beside
// the feedback. What it cannot show is said, and the command at its end is one that check
// takes, and that finds a dead spot.
func TestPlanForTwoChannels(t *testing.T) {
	c, err := fixtures.Make(fixtures.Spec{Fault: fixtures.DeadSpot, Severity: 0.6, Instrument: "deep-scope", Controller: "bench-hand", Channels: "current", Seed: 3, Duration: 40})
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	clamp := rewritten(c, []signal.Role{signal.Current, signal.Feedback}, 100, 0)
	put(t, "coupled.csv", clamp)
	put(t, "coupled-a.csv", rewritten(c, []signal.Role{signal.LeadA, signal.Feedback}, 100, 0))
	put(t, "coupled-b.csv", rewritten(c, []signal.Role{signal.LeadB, signal.Feedback}, 100, 0))
	for _, p := range []struct{ args, hides, once string }{
		{"", "on the way that the other lead drives", "motor lead B and record the same once more"},
		{"--clamp", "A drive that no current follows", ""},
	} {
		code, out, errs := call("", append([]string{"plan", "--channels", "2", "--coupled"}, strings.Fields(p.args)...)...)
		text := strings.Join(strings.Fields(out), " ")
		if code != 0 || errs != "" || !strings.Contains(text, p.hides) || !strings.Contains(text, p.once) || strings.Contains(text, "Channel 3") {
			t.Errorf("%q: %d, %s%s", p.args, code, errs, out)
		}
		m := regexp.MustCompile(`threewire (check coupled.*)`).FindStringSubmatch(out)
		if m == nil {
			t.Fatalf("%q: no command in %s", p.args, out)
		}
		// A clamp of the fixtures gives A.
		code, said, errs := call("", append(strings.Fields(strings.ReplaceAll(m[1], "current=10", "current=1")), "--brief")...)
		if code != exitFault || errs != "" || !strings.HasPrefix(said, "FEEDBACK SENSOR") {
			t.Errorf("%q: %d, %s%s", m[1], code, errs, said)
		}
	}
}
