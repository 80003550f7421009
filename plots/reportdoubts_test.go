package plots

import (
	"strings"
	"testing"

	"threewire/analyze"
	"threewire/signal"
)

// A customer is told in plain words what the result hangs on, each kind once and two at
// most, and nothing where it hangs on nothing.
func TestDoubtWords(t *testing.T) {
	rep := func(codes ...string) *analyze.Report {
		c := &analyze.Capture{}
		for _, code := range codes {
			c.Doubts = append(c.Doubts, analyze.DataDoubt{Code: code, Text: "give --scale feedback=10?"})
		}
		return &analyze.Report{Captures: []*analyze.Capture{c}}
	}
	for _, c := range []struct {
		rep  *analyze.Report
		said int
		want string
	}{
		{rep(), 0, ""},
		{rep("probe-asked", "low-drive"), 1, "setting of the measuring probe"},
		{rep(signal.ClockRestarted, "probe-asked", "earlier-table"), 2, "begun anew"},
		{rep(analyze.CrossTalk, analyze.CrossTalk), 1, "channels disturb one another"},
		{rep(analyze.ACCoupled), 1, "made again"},
		{rep("some-other"), 1, "one point of how the recording was read"},
	} {
		got := doubtWords(c.rep)
		if strings.Count(got, "In doubt:") != c.said || !strings.Contains(got, c.want) || strings.ContainsAny(got, "?-") {
			t.Errorf("%v: %q", c.rep.Captures[0].Doubts, got)
		}
	}
}
