package signal

import (
	"fmt"
	"strings"
	"testing"
)

// placed writes a table of right-aligned cells under a line of names.
func placed(head string, widths ...int) string {
	var b strings.Builder
	b.WriteString(head + "\n")
	for i := range 200 {
		v := []float64{0.02 * float64(i), 13.1, 13 * float64(i/40%2), 1 + 0.01*float64(i)}
		if len(widths) == 3 {
			v = []float64{v[0], v[2], v[3]}
		}
		for j, w := range widths {
			fmt.Fprintf(&b, "%*.2f", w, v[j])
		}
		b.WriteByte('\n')
	}
	return b.String()
}

func TestNamesByPlace(t *testing.T) {
	for _, c := range []struct {
		text string
		want string
	}{
		// Wide gaps.
		{placed("      Time   Battery V     Motor     Wiper", 10, 12, 10, 10), "Time|Battery|Motor|Wiper"},
		{placed("    Time (s)   Bat (V)   Motor (V)   Wiper (V)", 12, 10, 12, 12), "Time|Bat|Motor|Wiper"},
		{placed("Elapsed time  Bat volts   Motor drive  Door wiper", 10, 14, 14, 14), "Elapsed time|Bat|Motor drive|Door wiper"},
		{placed("% Time (s)   Bat (V)   Motor (V)   Wiper (V)", 10, 10, 12, 12), "Time|Bat|Motor|Wiper"},
		// One blank between names: by the columns below.
		{placed("      Time  Battery V Motor side Wiper side", 10, 11, 11, 11), "Time|Battery|Motor side|Wiper side"},
		// No places kept: behind the units.
		{"Time (s) Bat (V) Motor drive (V) Wiper (V)\n" + strings.Join(strings.Fields(placed("", 10, 10, 10, 10)), " "), ""},
		// As before: a word a column.
		{placed("Time Battery Motor Wiper", 10, 10, 10, 10), "Time|Battery|Motor|Wiper"},
		{placed("t_s motor_V fb_V", 10, 10, 10), "t|motor|fb"},
	} {
		text := c.text
		if c.want == "" {
			text, c.want = "Time (s) Bat (V) Motor drive (V) Wiper (V)\n"+strings.ReplaceAll(placed("", 9, 9, 9, 9)[1:], "     ", " "), "Time|Bat|Motor drive|Wiper"
			text = strings.ReplaceAll(text, "   ", " ")
		}
		l, err := Inspect(strings.NewReader(text), Options{})
		if err != nil {
			t.Fatalf("%.50q: %v", text, err)
		}
		var names []string
		for _, c := range l.Columns {
			names = append(names, c.Name)
		}
		if got := strings.Join(names, "|"); got != c.want {
			t.Errorf("%.60q: columns %s, want %s", text, got, c.want)
		}
		if l.Problem != "" {
			t.Errorf("%.60q: %s", text, l.Problem)
		}
	}
}
