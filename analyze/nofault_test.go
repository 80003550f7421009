package analyze

import (
	"strings"
	"testing"
)

func titlesOf(c *Capture) (out []string) {
	for _, f := range c.Findings {
		out = append(out, f.Title)
	}
	return out
}

// TestNoFaultSummary holds the first line of "no fault" to what stands below it.
func TestNoFaultSummary(t *testing.T) {
	t.Parallel()
	sound := judgedDraft(t, newDraft(1).sweeps(4)).Verdict
	for _, like := range []string{"Nothing wrong", "a stop that comes early", "a door broken off", "a motor slow from the start"} {
		if !strings.Contains(sound.Summary, like) {
			t.Errorf("sound: no %q in %q", like, sound.Summary)
		}
	}

	// A stop far inside the sensor's range at one end only.
	short := newDraft(1)
	short.lo, short.x = 1.9, 1.9
	v := judgedDraft(t, short.sweeps(4)).Verdict
	if v.Conclusion != NoFault || !v.Doubted() {
		t.Fatalf("short travel: %s, %v", v.Conclusion, v.Against)
	}
	if strings.Contains(v.Summary, "Nothing wrong") || !strings.Contains(v.Summary, "sign of a fault") {
		t.Errorf("a sign of a fault stands below %q", v.Summary)
	}

	// Coupled and uncoupled: how far it should go is known.
	opt := Defaults()
	opt.Free = true
	free, err := Examine(newDraft(2).sweeps(4).trace(), opt)
	if err != nil {
		t.Fatal(err)
	}
	coupled := judgedDraft(t, newDraft(1).sweeps(4)).Captures[0]
	pair := Judge(coupled, free).Verdict
	if pair.Conclusion != NoFault || strings.Contains(pair.Summary, "early") || !strings.Contains(pair.Summary, "a door broken off") {
		t.Errorf("pair: %s %q", pair.Conclusion, pair.Summary)
	}
	// Uncoupled alone tells nothing of the door.
	off := Judge(free).Verdict
	if off.Conclusion != NoFault || strings.Contains(off.Summary, "broken off") || !strings.Contains(off.Summary, "of the door") {
		t.Errorf("uncoupled: %s %q", off.Conclusion, off.Summary)
	}
}
