package analyze

import (
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
