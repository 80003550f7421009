package analyze

import (
	"slices"
	"strings"
	"testing"
)

// "No fault" of a part of the way says what would make it surer; of the whole way, again
// and again, there is nothing to say, nor where something was found.
func TestSurerOfAPartOnly(t *testing.T) {
	t.Parallel()
	whole, _ := look(t, newDraft(1).sweeps(4))
	rep := Judge(whole)
	if rep.Verdict.Conclusion != NoFault || len(rep.Surer()) != 0 {
		t.Errorf("the whole way: %q of %s", rep.Surer(), rep.Verdict.Conclusion)
	}
	few, _ := look(t, newDraft(2).sweeps(1))
	rep = Judge(few)
	few.Stops = few.Stops[:1] // the other one was not reached
	rep.Verdict.Conclusion, rep.Verdict.Probability = NoFault, 0.93
	text := strings.Join(rep.Surer(), "; ")
	for _, want := range []string{"what fails at that end was not seen", "three full sweeps", "motor current"} {
		if !strings.Contains(text, want) {
			t.Errorf("no word of %q: %q", want, text)
		}
	}
	for _, c := range []Fault{CannotTell, Motor} {
		if rep.Verdict.Conclusion = c; len(rep.Surer()) != 0 {
			t.Errorf("%s: %q", c, rep.Surer())
		}
	}
	rep.Verdict.Conclusion, rep.Verdict.Probability = NoFault, 0.8
	if len(rep.Surer()) != 0 {
		t.Errorf("beside next tests: %q", rep.Surer())
	}
}

// What runs to both stops uncoupled was not driven there with the door: a coupled capture
// of the middle of the way asks for its ends, and says what was not tried; one of the
// whole way asks for nothing.
func TestSurerOfThePartWithTheDoor(t *testing.T) {
	t.Parallel()
	free := examineWith(t, newDraft(3).sweeps(3), nil, true)
	mid := newDraft(4)
	mid.run(0, 0.5).run(12, 2).run(0, 0.5) // away from the low stop
	for range 4 {
		mid.run(-12, 1).run(0, 0.5).run(12, 1).run(0, 0.5)
	}
	part, _ := look(t, mid)
	whole, _ := look(t, newDraft(5).sweeps(4))
	part.Stops = nil // what the file began at is not seen
	for _, c := range []struct {
		coupled *Capture
		asks    bool
	}{{part, true}, {whole, false}} {
		rep := Judge(c.coupled, free)
		rep.Verdict.Conclusion, rep.Verdict.Probability = NoFault, 0.93
		text := strings.Join(rep.Surer(), "; ")
		if strings.Contains(text, "with the door on to both stops") != c.asks || strings.Contains(text, "never tried with the door") != c.asks {
			t.Errorf("asks %v: %q", c.asks, text)
		}
		if like, _ := alikeUnfound(rep.Captures, false); slices.Contains(like, "a stop that comes early") != c.asks {
			t.Errorf("asks %v: can look like %q", c.asks, like)
		}
	}
}
