package analyze

import (
	"slices"
	"testing"
)

// namesOf lists the names of the next tests of a verdict.
func namesOf(v Verdict) []string {
	var out []string
	for _, n := range v.Next {
		out = append(out, n.Name)
	}
	return out
}

// Driven without an answer, the motor's current tells most: it must be offered.
func TestStuckAsksForCurrent(t *testing.T) {
	d := newDraft(1)
	d.block = func(*draft, float64) bool { return true }
	d.x = 2.1
	c, v := look(t, d.sweeps(2))
	if v.Conclusion != CannotTell || !slices.Contains(namesOf(v), logCurrent) {
		t.Errorf("next tests %q of %s", namesOf(v), say(c, v))
	}
	if !slices.ContainsFunc(v.Unknown, func(s string) bool { return contains(s, "no motor current") }) {
		t.Errorf("the current is not missed: %q", v.Unknown)
	}
}
