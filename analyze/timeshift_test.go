package analyze

import (
	"math"
	"slices"
	"testing"

	"threewire/signal"
)

// When a recording's clock began tells nothing: the findings are the same whatever is
// added to all times, and however that falls on the last bits of their differences.
func TestClockMayBeginAnywhere(t *testing.T) {
	t.Parallel()
	for name, k := range cases() {
		d := k.make(3)
		for i := range d.time {
			d.time[i] = float64(i) * d.dt
		}
		want := examineWith(t, d, nil, false)
		for _, by := range []float64{100, 1234.5671, 1. / 3} {
			moved := *d
			moved.time = slices.Clone(d.time)
			for i := range moved.time {
				moved.time[i] += by
			}
			got := examineWith(t, &moved, nil, false)
			if len(got.Findings) != len(want.Findings) {
				t.Errorf("%s, %v s later: %d findings, else %d", name, by, len(got.Findings), len(want.Findings))
				continue
			}
			for i := range want.Findings {
				a, b := &want.Findings[i], &got.Findings[i]
				if a.Kind != b.Kind || a.Form != b.Form || a.Seen != b.Seen || a.Passes != b.Passes || math.Abs(a.Strength-b.Strength) > 1e-3 {
					t.Errorf("%s, %v s later: %s %s, %d of %d, strength %.4f, else %s %s, %d of %d, strength %.4f", name, by,
						b.Kind, b.Form, b.Seen, b.Passes, b.Strength, a.Kind, a.Form, a.Seen, a.Passes, a.Strength)
				}
			}
		}
	}
}

// A number of rows does not hang on the last bit of a quotient.
func TestRowsOfSeconds(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		seconds, step         float64
		nearest, within, over int
	}{{0.3, 0.1, 3, 3, 3}, {0.3, 0.09999999999999964, 3, 3, 3}, {0.3, 0.10000000000000053, 3, 3, 3}, {0.03, 0.004, 8, 7, 8}, {0.03, 0.02, 2, 1, 2}, {0.03, 0.05, 1, 0, 1}} {
		w := &work{tr: &signal.Trace{Step: c.step}}
		if a, b, o := w.rowsNear(c.seconds), w.rows(c.seconds), w.rowsOver(c.seconds); a != c.nearest || b != c.within || o != c.over {
			t.Errorf("%v s in rows of %v s: %d, %d and %d", c.seconds, c.step, a, b, o)
		}
	}
}
