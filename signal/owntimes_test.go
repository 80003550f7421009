package signal

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// drawnAt is a drawn capture: a motor switched every two seconds, and a wiper that only
// rises, so that its reading tells the time at which it was taken.
func drawnAt(t float64) (drive, wiper float64) {
	if t < 0 {
		return 0, 0.5
	}
	return 13 * float64(int(t/2)%2), 0.5 + 0.2*t
}

// pairs writes n rows of "time, motor, time, feedback", the times of row i given by
// motor and wiper; NaN leaves a pair empty.
func pairs(head string, n int, motor, wiper func(i int) float64, stamp func(t float64) string) string {
	var b strings.Builder
	b.WriteString(head + "\n")
	for i := range n {
		t, u := motor(i), wiper(i)
		d, _ := drawnAt(t)
		_, w := drawnAt(u)
		if t == t {
			fmt.Fprintf(&b, "%s,%.2f,", stamp(t), d)
		} else {
			b.WriteString(",,")
		}
		if u == u {
			fmt.Fprintf(&b, "%s,%.4f\n", stamp(u), w)
		} else {
			b.WriteString(",\n")
		}
	}
	return b.String()
}

func TestOwnTimes(t *testing.T) {
	sec := func(t float64) string { return fmt.Sprintf("%.4f", t) }
	clock := func(t float64) string { return epoch0.Add(stampOf(t).Sub(epoch0)).Format("15:04:05.000") }
	ended := func(step float64, n int) func(int) float64 {
		return func(i int) float64 {
			if i >= n {
				return math.NaN()
			}
			return step * float64(i)
		}
	}
	even := func(step, from float64) func(int) float64 {
		return func(i int) float64 { return from + step*float64(i) }
	}
	const head = "Time 1 (s),Motor (V),Time 2 (s),Feedback (V)"
	for _, c := range []struct {
		name, text string
		said       bool
	}{
		{"feedback at half rate", pairs(head, 1000, even(0.02, 0), ended(0.04, 500), sec), true},
		{"motor at half rate", pairs(head, 1000, ended(0.04, 500), even(0.02, 0), sec), true},
		{"as many rows at half rate", pairs(head, 1000, even(0.02, 0), even(0.04, 0), sec), true},
		{"begun three seconds later", pairs(head, 1000, even(0.02, 0), even(0.02, 3), sec), true},
		{"clocks over midnight", pairs("Time 1,Motor (V),Time 2,Feedback (V)", 1000, even(0.02, 0), ended(0.04, 500), clock), true},
		{"bins of many rows", pairs(head, 40000, even(0.0002, 0), ended(0.0004, 20000), sec), true},
		{"the same times", pairs(head, 1000, even(0.02, 0), even(0.02, 0), sec), false},
		{"a part of a row later", pairs(head, 1000, even(0.02, 0), even(0.02, 0.007), sec), false},
	} {
		tr, err := Read(strings.NewReader(c.text), Options{})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		said := false
		for _, n := range tr.Notes {
			said = said || n.Code == "own-times"
		}
		if said != c.said {
			t.Errorf("%s: told of own times: %v, want %v", c.name, said, c.said)
		}
		valid := 0
		for i, x := range tr.Time {
			d, w := drawnAt(x)
			if near, _ := drawnAt(x + 0.05); near == d && x > 0.1 {
				if back, _ := drawnAt(x - 0.05); back == d && math.Abs(float64(tr.Drive.Mean[i])-d) > 0.01 {
					t.Errorf("%s: drive at %g s is %g, want %g", c.name, x, tr.Drive.Mean[i], d)
					break
				}
			}
			if f := float64(tr.Feedback.Mean[i]); f == f {
				valid++
				if math.Abs(f-w) > 0.0041 {
					t.Errorf("%s: feedback at %g s is %g, want %g", c.name, x, f, w)
					break
				}
			}
		}
		if valid < len(tr.Time)*3/4 {
			t.Errorf("%s: the feedback covers %d of %d bins", c.name, valid, len(tr.Time))
		}
	}
}

// Two clocks side by side, or a time behind all channels, time the same row.
func TestOwnTimesLeavesSecondClocksAlone(t *testing.T) {
	for _, head := range []string{"Logged (s),Elapsed (s),Motor (V),Feedback (V)", "Motor (V),Time (s),Feedback (V),Elapsed (s)", "Elapsed (s),Motor (V),Feedback (V),Age (s)"} {
		var b strings.Builder
		b.WriteString(head + "\n")
		names := strings.Split(head, ",")
		for i := range 500 {
			x := 0.02 * float64(i)
			d, w := drawnAt(x)
			for j, n := range names {
				v := map[string]float64{"Motor (V)": d, "Feedback (V)": w, "Elapsed (s)": x, "Time (s)": x, "Logged (s)": 2 * x, "Age (s)": 3 * x}[n]
				fmt.Fprintf(&b, "%.4f", v)
				b.WriteByte(",\n"[min(1, j/(len(names)-1))])
			}
		}
		tr, err := Read(strings.NewReader(b.String()), Options{})
		if err != nil {
			t.Errorf("%s: %v", head, err)
			continue
		}
		for _, n := range tr.Notes {
			if n.Code == "own-times" {
				t.Errorf("%s: %s", head, n.Text)
			}
		}
	}
}
