package main

import (
	"bytes"
	"fmt"
	"slices"
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

// Unless a limit was given, every actuator that is out of the ordinary has its line.
func TestBatchTableHasAllOddOnes(t *testing.T) {
	motor, sound := analyze.Motor.String(), analyze.NoFault.String()
	var rows []*batchRow
	for i := range 50 {
		rows = append(rows, verdictRow(fmt.Sprintf("bad%02d", i), motor, 0.9), verdictRow(fmt.Sprintf("good%02d", i), sound, 0.9))
	}
	if n := odd(actuators(rows)); n != 50 {
		t.Errorf("%d of 50 actuators with a fault are odd", n)
	}
}

// driftingRows are dated captures of an actuator whose low stop moves by step volts a month.
func driftingRows(name, conclusion string, step float64) []*batchRow {
	var rows []*batchRow
	for i := range 6 {
		r := verdictRow(name, conclusion, 0.85)
		low, high := 0.5+step*float64(i), 4.5
		r.Path, r.SHA256 = fmt.Sprintf("%s-2026-0%d-01.csv", name, 3+i), fmt.Sprint(name, i)
		r.When = fmt.Sprintf("2026-0%d-01", 3+i)
		r.Result.Unit, r.Result.StopLow, r.Result.StopHigh = "V", &low, &high
		rows = append(rows, r)
	}
	return rows
}

// A drift is said by the month in mV, in the actuator's line too where the last capture says
// otherwise; one too small to matter is called that.
func TestBatchTableTellsDrift(t *testing.T) {
	door := analyze.DoorMechanism.String()
	text := plainSpace(tableText(t, driftingRows("left", door, 0.04), 0))
	for _, want := range []string{"door mechanism (85 %); but over 6 captures its low end drifts, which points to the feedback sensor", "left: low end moves +39", "mV per month", "of trends as clear as this in a table like this, under 1 % are chance."} {
		if !strings.Contains(text, want) {
			t.Errorf("the table lacks %q:\n%s", want, text)
		}
	}
	if strings.Contains(text, "p =") || strings.Contains(text, "V per day") {
		t.Errorf("the table is not for a workshop:\n%s", text)
	}
	small := plainSpace(tableText(t, driftingRows("left", door, 0.002), 0))
	if strings.Contains(small, "points to") || !strings.Contains(small, "too little to matter") {
		t.Errorf("a hair's drift:\n%s", small)
	}
	if still := plainSpace(tableText(t, driftingRows("left", door, 0), 0)); strings.Contains(still, "drifts") {
		t.Errorf("no drift:\n%s", still)
	}
}

// The column counted of a table adds up to the table by fault; its note says of the other
// rows where they are counted.
func TestBatchCSVAddsUp(t *testing.T) {
	motor, sound := analyze.Motor.String(), analyze.NoFault.String()
	a, b, c, d := verdictRow("a", motor, 0.9), verdictRow("b", sound, 0.9), verdictRow("b", motor, 0.9), verdictRow("c", sound, 0.9)
	a2 := *a
	a2.Path, a2.Set = "a-copy.csv", "a"
	joined := &batchVerdict{Conclusion: analyze.DoorMechanism.String(), Part: "air case", Probability: 0.9}
	b.Joined, c.Joined, c.Path, c.SHA256, c.Free = joined, joined, "b-free.csv", "b-free", true
	d.Result, d.Error = nil, "empty"
	rows := []*batchRow{a, &a2, b, c, d}
	var out bytes.Buffer
	if err := writeBatchCSV(&out, rows); err != nil {
		t.Fatal(err)
	}
	table := readTable(t, out.String())
	if want := []string{motor, "", joined.Conclusion, "", ""}; !slices.Equal(table["counted"], want) {
		t.Errorf("counted are %q, want %q", table["counted"], want)
	}
	if want := []string{"", "copy of a.csv", "coupled and free judged together", "counted with b.csv", "not read"}; !slices.Equal(table["counted_note"], want) {
		t.Errorf("the notes are %q, want %q", table["counted_note"], want)
	}
}

// A repair that comes out otherwise than the verdicts before and after is told why.
func TestBatchTableTellsWhyRepair(t *testing.T) {
	rows := func(before, result string) []*batchRow {
		b, a := verdictRow("left", before, 0.8), verdictRow("left", analyze.NoFault.String(), 0.9)
		b.Phase, a.Phase, a.Path, a.SHA256 = "before", "after", "left-after.csv", "after"
		a.Repair = &batchRepair{Result: result, Text: "The reason."}
		return []*batchRow{b, a}
	}
	proven := string(analyze.RepairProven)
	if text := tableText(t, rows(analyze.CannotTell.String(), proven), 0); !strings.Contains(text, "something was plainly wrong, though not which part it was. The reason.") {
		t.Errorf("nothing says why:\n%s", text)
	}
	if text := tableText(t, rows(analyze.Motor.String(), proven), 0); strings.Contains(text, "The reason.") {
		t.Errorf("what follows from the verdicts is explained:\n%s", text)
	}
}
