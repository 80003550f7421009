package signal

import (
	"fmt"
	"strings"
	"testing"
)

// A drive in words that are no direction, and a table that lies on its side, are said as
// what they are.
func TestSaysWhatIsThere(t *testing.T) {
	words := "Time (s),Motor,Feedback (V)\n"
	relays := "Time (s),Relais auf,Relais zu,Poti (V)\n"
	var line [3]string
	for i := range 1100 {
		at := float64(i) / 50
		d, v := shuttle(at)
		word, yes := "", [2]string{"nein", "nein"}
		switch {
		case d > 0:
			word, yes[0] = "left one", "ja"
		case d < 0:
			word, yes[1] = "right one", "ja"
		}
		words += fmt.Sprintf("%.2f,%s,%.3f\n", at, word, v)
		relays += fmt.Sprintf("%.2f,%s,%s,%.3f\n", at, yes[0], yes[1], v)
		for k, x := range []float64{at, d, v} {
			line[k] += fmt.Sprintf(",%.3f", x)
		}
	}
	for text, want := range map[string]string{
		words: `"Motor" is named as the drive, but line`,
		"Time (s)" + line[0] + "\nMotor (V)" + line[1] + "\nFeedback (V)" + line[2] + "\n": "turn the table round",
	} {
		if _, err := Read(strings.NewReader(text), Options{}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
	if tr := mustRead(t, relays, Options{}); tr.Columns[1].Role != LeadA || tr.Columns[2].Role != LeadB {
		t.Errorf("read as %v and %v", tr.Columns[1].Role, tr.Columns[2].Role)
	}
}
