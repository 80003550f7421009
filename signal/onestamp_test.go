package signal

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
)

// A first block of one stamp: rows so fast that the clock's last digit does not move on
// within it. The rows are spread over the line through all stamps, and a bound of the
// memory that they reach ends no reading. A clock that never moves on tells no times.
func TestFirstBlockOfOneStamp(t *testing.T) {
	const rate = 20000.0
	text := func(stamp func(s int) string, seconds float64) string {
		var b strings.Builder
		b.WriteString("time,drive,feedback\n")
		for i := range int(seconds * rate) {
			at := float64(i) / rate
			fmt.Fprintf(&b, "%s,%d,%.4f\n", stamp(int(at)), 12*(int(at)%2), 1+at/seconds)
		}
		return b.String()
	}
	clock := func(s int) string { return fmt.Sprintf("12:00:%02d", s) }
	number := func(s int) string { return fmt.Sprint(s) }
	for _, c := range []struct {
		name  string
		stamp func(int) string
		most  int
	}{{"clock", clock, 0}, {"seconds", number, 0}, {"clock, memory bounded", clock, 6000}, {"seconds, memory bounded", number, 6000}} {
		t.Run(c.name, func(t *testing.T) {
			tr := readSoon(t, text(c.stamp, 6), Options{MaxBins: c.most})
			if step := 1 / rate; math.Abs(tr.RowStep/step-1) > 0.02 {
				t.Errorf("rows %.4g s apart, made %.4g s apart", step, tr.RowStep)
			}
			n := len(tr.Time)
			if n < 100 {
				t.Fatalf("%d bins of 6 s", n)
			}
			// The feedback tells the time of each row.
			for _, i := range []int{n / 7, n / 2, 6 * n / 7} {
				if want := 6 * (float64(tr.Feedback.Mean[i]) - 1); math.Abs(tr.Time[i]-want) > 0.05 {
					t.Errorf("bin %d at %.3f s, made at %.3f s", i, want, tr.Time[i])
				}
			}
		})
	}
	tr := readSoon(t, text(func(int) string { return "0" }, 3), Options{})
	if s := noteTexts(tr); !strings.Contains(s, "--rate HZ") {
		t.Errorf("a time that never moves on, noted as %q", s)
	}
}

// Steps that grow from picoseconds to thousands of years are no endless merging either.
func TestStepsThatGrow(t *testing.T) {
	var b strings.Builder
	b.WriteString("time,drive,feedback\n")
	at := 0.0
	for i := range 4000 {
		at += math.Pow(10, -12+23*float64(i)/4000)
		fmt.Fprintf(&b, "%.17g,%d,%d.5\n", at, i%2, i%4)
	}
	readSoon(t, b.String(), Options{MaxBins: 1000})
}

// readSoon reads a text and fails where that has no end.
func readSoon(t *testing.T, text string, o Options) *Trace {
	t.Helper()
	type result struct {
		tr  *Trace
		err error
	}
	done := make(chan result, 1)
	go func() {
		tr, err := Read(strings.NewReader(text), o)
		done <- result{tr, err}
	}()
	select {
	case r := <-done:
		if r.err != nil {
			t.Fatal(r.err)
		}
		return r.tr
	case <-time.After(2 * time.Minute):
		t.Fatal("no end of reading")
		return nil
	}
}

func noteTexts(tr *Trace) string {
	var all []string
	for _, n := range tr.Notes {
		all = append(all, n.Text)
	}
	return strings.Join(all, "; ")
}
