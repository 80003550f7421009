package main

import (
	"strings"
	"testing"
)

// Every result has the same fields, for programs that make a table of them: what is not
// known is null.
func TestRowHasNullForWhatIsNotKnown(t *testing.T) {
	r := &batchRow{Result: &batchResult{}, Joined: &batchVerdict{}}
	b, err := r.line()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"next_test", "span_low", "span_high", "stop_low", "stop_high", "noise_rms"} {
		if !strings.Contains(string(b), `"`+name+`":null`) {
			t.Errorf("no null %s: %s", name, b)
		}
	}
	if n := strings.Count(string(b), `"next_test":null`); n != 2 {
		t.Errorf("%d times next_test, want one of the result and one of the joined verdict: %s", n, b)
	}
}
