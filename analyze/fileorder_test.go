package analyze

import (
	"math"
	"testing"
	"time"
)

// The verdict does not depend on the order in which the captures of an actuator are
// given, dated or not.
func TestJudgesInAnyOrder(t *testing.T) {
	t.Parallel()
	for name, k := range cases() {
		var c []*Capture
		for seed := range uint64(3) {
			c = append(c, examineWith(t, k.make(seed+1), nil, seed == 2))
			c[seed].Source = string(rune('a' + seed))
		}
		for _, dated := range []bool{false, true} {
			for i := range c {
				if dated {
					c[i].Start = time.Date(2026, 3, 5-i, 9, 0, 0, 0, time.UTC)
				}
			}
			want := Judge(c...)
			for _, o := range [][3]int{{0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} {
				mixed := []*Capture{c[o[0]], c[o[1]], c[o[2]]}
				got := Judge(mixed...)
				if got.Captures[0] != mixed[0] {
					t.Errorf("%s: the captures of the report are not as given", name)
				}
				if dated && (got.Series.Order != "by start time" || got.Series.Files[0] != "c") {
					t.Errorf("%s: not in the order of time: %+v", name, got.Series)
				}
				for f := range Fault(faultCount) {
					if a, b := chanceOf(got, f), chanceOf(want, f); math.Abs(a-b) > 1e-9 {
						t.Errorf("%s, in the order %v: %s %.4f, else %.4f", name, o, f, a, b)
					}
				}
				if got.Verdict.Conclusion != want.Verdict.Conclusion || got.Verdict.Summary != want.Verdict.Summary {
					t.Errorf("%s, in the order %v: %s, %q, else %s, %q", name, o, got.Verdict.Conclusion, got.Verdict.Summary, want.Verdict.Conclusion, want.Verdict.Summary)
				}
			}
		}
	}
}
