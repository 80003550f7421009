package main

import (
	"bytes"
	"strings"
	"testing"

	"threewire/analyze"
)

// verdictRow is a row of one actuator with one verdict.
func verdictRow(name, conclusion string, sure float64) *batchRow {
	return &batchRow{Set: name, Path: name + ".csv", Actuator: name, SHA256: name,
		Result: &batchResult{batchVerdict: batchVerdict{Conclusion: conclusion, Part: "motor", Probability: sure}}}
}

// tableText is the table of rows, of at most so many actuators.
func tableText(t *testing.T, rows []*batchRow, limit int) string {
	t.Helper()
	var b bytes.Buffer
	if err := writeTable(&b, rows, limit); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// Of actuators as often faulty the surest come first, and what the table has no room
// for is not passed over as if it were sound.
func TestBatchTableSurestFirst(t *testing.T) {
	motor, open := analyze.Motor.String(), analyze.CannotTell.String()
	rows := []*batchRow{verdictRow("a", motor, 0.6), verdictRow("b", analyze.NoFault.String(), 0.99),
		verdictRow("c", motor, 0.97), verdictRow("d", open, 0.98), verdictRow("e", motor, 0.8)}
	at := -1
	text := tableText(t, rows, 0)
	for _, line := range []string{"\n  c ", "\n  e ", "\n  a ", "\n  d ", "\n  b "} {
		if i := strings.Index(text, line); i <= at {
			t.Errorf("%q stands at %d, after what should follow it:\n%s", line, i, text)
		} else {
			at = i
		}
	}
	for limit, want := range map[int]string{
		1: "and 4 more, 2 of them with a fault, 1 undecided (--actuators 0 shows all)",
		3: "and 2 more, 1 undecided (--actuators 0 shows all)",
		4: "and 1 more (--actuators 0 shows all)",
	} {
		if text := tableText(t, rows, limit); !strings.Contains(text, want) {
			t.Errorf("at most %d: nothing says %q:\n%s", limit, want, text)
		}
	}
}
