package analyze

import (
	"math"
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
	moved := newDraft(1)
	moved.rate *= doorDrag
	coupled := judgedDraft(t, moved.sweeps(4)).Captures[0]
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

// TestNoCurrentOnce weighs a drive that moved nothing and drew no current: once it may be
// a brush or a lead, and never the door; at stall current it stays what it was.
func TestNoCurrentOnce(t *testing.T) {
	t.Parallel()
	at := func(seen int, measures ...Measure) shown {
		p, _ := pausesLikelihood(&Finding{Kind: Pauses, Form: doesNotStart, Seen: seen, Measures: measures})
		return p
	}
	none := Measure{drawsNothing, 1, ""}
	once, thrice := at(1, none), at(3, none)
	if math.Abs(math.Log(once[Motor]/once[WiringControl])) > math.Log(1.5) || thrice[Motor] < 1.5*thrice[WiringControl] {
		t.Errorf("once %v, three times %v", once, thrice)
	}
	if held := at(1, Measure{heldAtStall, 1, ""}); once[DoorMechanism] >= at(1)[DoorMechanism] || held[DoorMechanism] < 10*once[DoorMechanism] {
		t.Errorf("no current speaks for a door: %v", once)
	}
}
