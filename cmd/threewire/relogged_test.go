package main

import (
	"compress/gzip"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threewire/analyze"
	"threewire/signal"
)

// A logged row of a capture that is written anew.
type logged struct {
	t    float64
	vals []float64 // drive, feedback, and what else there is
}

// loggers write the rows of a capture as other instruments would; same tells that nothing is
// lost by it, so that the conclusion must stay.
func loggers() map[string]struct {
	same  bool
	write func(rng *rand.Rand, step float64, rows []logged) []logged
} {
	type rows = []logged
	pick := func(keep func(rng *rand.Rand, i int) bool) func(*rand.Rand, float64, rows) rows {
		return func(rng *rand.Rand, _ float64, in rows) (out rows) {
			for i, r := range in {
				if keep(rng, i) {
					out = append(out, r)
				}
			}
			return out
		}
	}
	each := func(change func(rng *rand.Rand, step float64, r *logged)) func(*rand.Rand, float64, rows) rows {
		return func(rng *rand.Rand, step float64, in rows) (out rows) {
			for _, r := range in {
				r.vals = append([]float64(nil), r.vals...)
				change(rng, step, &r)
				out = append(out, r)
			}
			return out
		}
	}
	return map[string]struct {
		same  bool
		write func(rng *rand.Rand, step float64, rows []logged) []logged
	}{
		"as it is":            {true, pick(func(*rand.Rand, int) bool { return true })},
		"clock begun at noon": {true, each(func(_ *rand.Rand, _ float64, r *logged) { r.t += 43200 })},
		"leads exchanged":     {true, each(func(_ *rand.Rand, _ float64, r *logged) { r.vals[0] = -r.vals[0] })},
		"clock that jitters":  {false, each(func(rng *rand.Rand, step float64, r *logged) { r.t += 0.4 * step * (rng.Float64() - 0.5) })},
		"a row in seven lost": {false, pick(func(rng *rand.Rand, _ int) bool { return rng.Float64() > 1.0/7 })},
		"every second row":    {false, pick(func(_ *rand.Rand, i int) bool { return i%2 == 0 })},
		"bursts of two rows":  {false, pick(func(_ *rand.Rand, i int) bool { return i%6 < 2 })},
		"changes, and one row so often": {false, func(_ *rand.Rand, step float64, in rows) (out rows) {
			last := -1
			for i, r := range in {
				if last >= 0 && math.Abs(r.vals[1]-in[last].vals[1]) < 0.01 && math.Abs(r.vals[0]-in[last].vals[0]) < 0.5 && r.t-in[last].t < 0.25 {
					continue
				}
				if last >= 0 && last < i-1 {
					out = append(out, in[i-1])
				}
				out, last = append(out, r), i
			}
			return out
		}},
	}
}

// What is concluded of a demonstration capture stays what it is, or becomes "cannot tell",
// when another logger writes the same voltages. (Demonstration captures are invented.)
func TestSameThroughOtherLoggers(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../../fixtures/captures/*.csv*")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			t.Parallel()
			tr := traceOf(t, file)
			if tr.RowsPerBin != 1 || tr.Feedback.Unit != "V" {
				return // not all rows are at hand in volts
			}
			want := concluded(t, tr)
			for name, l := range loggers() {
				if strings.Contains(file, "stick-slip") && (strings.HasPrefix(name, "bursts") || strings.HasPrefix(name, "changes")) {
					continue // its jumps of some rows lie between those that are left
				}
				rng := rand.New(rand.NewPCG(1, uint64(len(name))))
				again, err := signal.Read(strings.NewReader(writtenBy(tr, rng, l.write)), signal.Options{})
				if err != nil {
					t.Errorf("%s: %v", name, err)
					continue
				}
				if got := concluded(t, again); got != want && (l.same || got != analyze.CannotTell) {
					t.Errorf("%s: %v, was %v", name, got, want)
				}
			}
		})
	}
}

func traceOf(t *testing.T, file string) *signal.Trace {
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var r io.Reader = f
	if strings.HasSuffix(file, ".gz") {
		if r, err = gzip.NewReader(f); err != nil {
			t.Fatal(err)
		}
	}
	tr, err := signal.Read(r, signal.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return tr
}

func concluded(t *testing.T, tr *signal.Trace) analyze.Fault {
	c, err := analyze.Examine(tr, analyze.Defaults())
	if err != nil {
		t.Fatal(err)
	}
	return analyze.Judge(c).Verdict.Conclusion
}

// writtenBy is a capture as a logger writes it.
func writtenBy(tr *signal.Trace, rng *rand.Rand, write func(*rand.Rand, float64, []logged) []logged) string {
	var b strings.Builder
	b.WriteString("time (s),drive")
	if !tr.DriveIsPolarity {
		b.WriteString(" (V)")
	}
	b.WriteString(",feedback (V)")
	series := []*signal.Series{&tr.Drive, &tr.Feedback}
	for _, s := range []struct {
		head string
		of   *signal.Series
	}{{"reference (V)", tr.Reference}, {"supply (V)", tr.Supply}, {"current (A)", tr.Current}} {
		if s.of != nil {
			b.WriteString("," + s.head)
			series = append(series, s.of)
		}
	}
	b.WriteByte('\n')
	rows := make([]logged, tr.Len())
	for i, x := range tr.Time {
		rows[i].t = x
		for _, s := range series {
			rows[i].vals = append(rows[i].vals, float64(s.Mean[i]))
		}
	}
	for _, r := range write(rng, tr.Step, rows) {
		fmt.Fprintf(&b, "%.5f", r.t)
		for _, v := range r.vals {
			if math.IsNaN(v) {
				b.WriteByte(',')
			} else {
				fmt.Fprintf(&b, ",%.5g", v)
			}
		}
		b.WriteByte('\n')
	}
	return b.String()
}
