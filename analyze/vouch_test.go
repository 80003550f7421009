package analyze

import (
	"strings"
	"testing"
	"time"
)

// What an earlier capture saw vouches for then: it does not clear a capture with a sign of a
// fault that shows little by itself, and one of another day clears nothing; captures of one
// visit complete one another. (Drawn.)
func TestEarlierVouchesForThen(t *testing.T) {
	t.Parallel()
	first := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	sound := examined(t, newDraft(1).sweeps(3), false)
	little := examined(t, newDraft(2).run(0, 1).run(12, 0.6).run(0, 1).run(-12, 0.6).run(0, 1), false)
	sound.Start = first
	for _, c := range []struct {
		name  string
		after time.Duration // the little one
		sign  bool
		clear bool
	}{
		{"the same visit", time.Hour, false, true},
		{"another day", 72 * time.Hour, false, false},
		{"a sign, and driven fully later", -time.Hour, true, true},
		{"a sign since", time.Hour, true, false},
	} {
		x := *little
		x.Start = first.Add(c.after)
		if c.sign {
			x.Checks = []PositionCheck{{Outcome: CheckGivenUp, Retries: 5, Text: "Drives in vain."}}
		}
		r := Judge(sound, &x)
		if got := r.Verdict.Conclusion == NoFault; got != c.clear {
			t.Errorf("%s: %s %.2f, %v", c.name, r.Verdict.Conclusion, r.Verdict.Probability, r.Verdict.Unknown)
		}
		if said := strings.Contains(strings.Join(r.Verdict.Unknown, "; "), "at another time"); said != (c.sign && !c.clear) {
			t.Errorf("%s: %v", c.name, r.Verdict.Unknown)
		}
	}
}
