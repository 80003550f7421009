package signal

import (
	"fmt"
	"strings"
	"testing"
)

// roleTable writes a wiper that goes to and fro with a motor, beside further columns
// whose values follow from the wiper's and the row.
func roleTable(head string, more ...func(i int, v float64) float64) string {
	var b strings.Builder
	b.WriteString(head + "\n")
	v := 0.5
	for i := range 800 {
		d := 0.0
		switch i % 400 / 100 {
		case 1:
			d, v = 12, v+0.035
		case 3:
			d, v = -12, v-0.035
		}
		fmt.Fprintf(&b, "%.2f,%.2f,%.3f", float64(i)*0.02, d, v)
		for _, f := range more {
			fmt.Fprintf(&b, ",%.3f", f(i, v))
		}
		b.WriteString("\n")
	}
	return b.String()
}

func TestReferencesThatMove(t *testing.T) {
	steady := func(int, float64) float64 { return 5 }
	goal := func(i int, _ float64) float64 {
		if i%400 < 200 {
			return 4
		}
		return 0.5
	}
	failing := func(i int, _ float64) float64 {
		if i%40 < 12 {
			return 0.02
		}
		return 5
	}
	ratio := func(_ int, v float64) float64 { return v / 5 }
	less := func(_ int, v float64) float64 { return v - 5 }
	for _, tt := range []struct {
		head string
		more []func(int, float64) float64
		want int // the column of the reference, 0 none
	}{
		{"Time (s),Motor (V),Wiper (V),Wiper/Reference", []func(int, float64) float64{ratio}, 0},
		{"Time (s),Motor (V),Wiper (V),Reference (V),Math2: Wiper/Reference", []func(int, float64) float64{steady, ratio}, 4},
		{"Time (s),Motor (V),Wiper (V),Reference (V),Wiper - Reference (V)", []func(int, float64) float64{steady, less}, 4},
		{"Time (s),Motor (V),Position actual (V),Position reference (V)", []func(int, float64) float64{goal}, 0},
		{"Time (s),Motor (V),Position actual (V),Ref. position (V)", []func(int, float64) float64{goal}, 0},
		{"Time (s),Motor (V),Sensor 5 V (V)", nil, 0},
		// what must stay a reference
		{"Time (s),Motor (V),Position (V),Position reference (V)", []func(int, float64) float64{steady}, 4},
		{"Time (s),Motor (V),Position (V),Position reference (V)", []func(int, float64) float64{failing}, 4},
		{"Time (s),Motor (V),Wiper (V),Sensor reference (V)", []func(int, float64) float64{failing}, 4},
		{"Time (s),Motor (V),Wiper (V),Sensor 5V (V)", []func(int, float64) float64{failing}, 4},
		{"Time (s),Motor (V),Wiper (V),Sensor reference (V)", []func(int, float64) float64{ratio}, 4},
	} {
		tr, err := Read(strings.NewReader(roleTable(tt.head, tt.more...)), Options{})
		if err != nil {
			t.Errorf("%s: %v", tt.head, err)
			continue
		}
		got := 0
		for _, c := range tr.Columns {
			switch {
			case c.Role == Reference:
				got = c.Number
			case c.Role == Feedback && c.Number != 3:
				t.Errorf("%s: column %d is the feedback", tt.head, c.Number)
			}
		}
		if got != tt.want {
			t.Errorf("%s: the reference is column %d, want %d", tt.head, got, tt.want)
		}
	}
}

func TestLampIsNoFeedback(t *testing.T) {
	lamp := func(i int, _ float64) float64 { return 12 * float64(i/150%2) }
	text := roleTable("Time (s),Motor (V),Wiper (°C),Door lamp (V)", lamp)
	if _, err := Read(strings.NewReader(text), Options{}); err == nil {
		t.Error("a lamp was taken for the feedback")
	}
	text = roleTable("Time (s),Motor (V),Wiper (°C),Aux (V)", func(i int, v float64) float64 { return 4 * float64(i/150%2) })
	if _, err := Read(strings.NewReader(text), Options{}); err != nil {
		t.Errorf("a wiper that jumps between its ends: %v", err)
	}
}
