package signal

import (
	"fmt"
	"strings"
	"testing"
)

// numberedFile writes a time, two leads and a wiper under the lines given.
func numberedFile(head string) string {
	var b strings.Builder
	b.WriteString(head + "\n")
	strokes(func(i int, d, v float64) {
		fmt.Fprintf(&b, "%.2f,%.2f,%.2f,%.3f\n", float64(i)*0.05, 12*max(d, 0), 12*max(-d, 0), v)
	})
	return b.String()
}

// Numbers of channels above the data are names, and the lines above tell whose.
func TestNumbersAsNames(t *testing.T) {
	for _, head := range []string{
		"Channel,1,2,3\nRange,20,20,10\nOffset,0,0,0\nLabel,Lead A,Lead B,Wiper\n\nSeconds,1,2,3",
		"101,Lead A\n102,Lead B\n103,Wiper\n\nTime,101 (V),102 (V),103 (V)",
	} {
		tr := mustRead(t, numberedFile(head), Options{})
		c := tr.Columns
		if tr.Rows != 800 || c[1].Role != LeadA || c[2].Role != LeadB || c[3].Role != Feedback || c[3].Name != "Wiper" {
			t.Errorf("%q: %d rows, %v %v %v %q", head, tr.Rows, c[1].Role, c[2].Role, c[3].Role, c[3].Name)
		}
	}
	// A mark of the instrument in the first cell of a row is no name.
	if tr := mustRead(t, numberedFile("t,a,b,c\nOL,0,0,0.5"), Options{}); tr.Columns[1].Name != "a" {
		t.Errorf("the name is %q", tr.Columns[1].Name)
	}
}

// A row of units may hold a unit with a factor.
func TestMultipleInUnitsRow(t *testing.T) {
	text := numberedFile("Time,Lead A,Lead B,Wiper\ns,10mV,10mV,V")
	text = strings.ReplaceAll(text, ",12.00", ",1200")
	if tr := mustRead(t, text, Options{}); tr.Drive.Mean[150] != 12 {
		t.Errorf("drive %v", tr.Drive.Mean[150])
	}
}
