package signal

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// stepOf reads a capture of 100 rows, the time of row i written by row, and gives the
// step of its time in s.
func stepOf(t *testing.T, name string, row func(i int) string, o Options) (step float64, notes []Note) {
	t.Helper()
	var b strings.Builder
	b.WriteString(name + ",Motor (V),Feedback (V)\n")
	for i := range 100 {
		fmt.Fprintf(&b, "%s,%.2f,%.3f\n", row(i), 13*float64(i/20%2), 1+0.01*float64(i))
	}
	l, err := Inspect(strings.NewReader(b.String()), o)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return l.Time.Step, l.Notes
}

func count(by int) func(int) string { return func(i int) string { return fmt.Sprint(i * by) } }

func TestSteppedTime(t *testing.T) {
	for _, c := range []struct {
		name string
		row  func(int) string
		want float64
	}{
		{"Time (0.1 ms)", count(200), 0.02},
		{`"Time (0,1 ms)"`, count(200), 0.02},
		{"Time (1/50 s)", count(1), 0.02},
		{"Ticks (10 ms)", count(2), 0.02},
		{"Ticks (1/100 s)", count(2), 0.02},
		{"Time (x10 ms)", count(2), 0.02},
		{"Time [10ms/LSB]", count(2), 0.02},
		{"Time (1 tick = 10 ms)", count(2), 0.02},
		{"Timer ticks (10 ms per count)", count(2), 0.02},
		{"Time (100 us)", count(200), 0.02},
		{"Time (ms/10)", count(200), 0.02},
		{"Time (cs)", count(2), 0.02},
		// What must stay as it is.
		{"Time (ms)", count(20), 0.02},
		{"Time (s)", func(i int) string { return fmt.Sprintf("%.2f", 0.02*float64(i)) }, 0.02},
		{"Time (1 ms)", count(20), 0.02},
		// The factor is how far apart the numbers are.
		{"Time (20 ms)", count(20), 0.02},
		{"Time (20 ms)", func(i int) string { return fmt.Sprintf("%.2f", 0.02*float64(i)) }, 0.02},
		{"Time (0.02 s)", func(i int) string { return fmt.Sprintf("%.2f", 0.02*float64(i)) }, 0.02},
	} {
		if got, _ := stepOf(t, c.name, c.row, Options{}); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: a row every %g s, want %g", c.name, got, c.want)
		}
	}
}

// Numbers that rise by the factor itself may be read both ways: the reader says which it
// took, and the flag that it names takes the other.
func TestSteppedTimeAsksWhichWay(t *testing.T) {
	_, notes := stepOf(t, "Time (20 ms)", count(20), Options{})
	said := false
	for _, n := range notes {
		said = said || n.Code == "time-unit" && strings.Contains(n.Text, "--scale time=0.02 ")
	}
	if !said {
		t.Errorf("notes %v do not name --scale time=0.02", notes)
	}
	got, _ := stepOf(t, "Time (20 ms)", count(20), Options{Scale: map[Role]float64{TimeRole: 0.02}})
	if math.Abs(got-0.4) > 1e-9 {
		t.Errorf("with the flag a row comes every %g s, want 0.4", got)
	}
}

// The stretch that a channel is averaged over is no unit of a time.
func TestSteppedTimeLeavesChannelsAlone(t *testing.T) {
	for _, s := range []string{"Motor mean (10 ms)", "Feedback (10 mV)", "Time (24 h)", "Elapsed (1 s)", "Time (s/div)"} {
		if name, unit, _, _, ok := steppedTime(s); ok {
			t.Errorf("%q was read as %q in %q", s, name, unit)
		}
	}
}
