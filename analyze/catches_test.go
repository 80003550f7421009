package analyze

import (
	"math"
	"slices"
	"testing"
)

// A place narrower than what a speed is measured over, slow in each pass of both ways,
// is one at which the shaft catches, now longer, now shorter; a knock in one pass there is
// not. (Held as long each time it would be the gears' own, see TestMissingToothFewPasses.)
func TestCatchesBothWays(t *testing.T) {
	draw := func(catches func(pass int) bool) *Capture {
		d := newDraft(11)
		d.dt, d.noise, d.rate = 0.05, 0.01, 0.3
		pass, came, held := 0, 0.0, 0
		d.block = func(d *draft, dir float64) bool {
			if dir != came {
				came, held = dir, 0
				pass++
			}
			if math.Abs(d.x-2.05) < 0.02 && held < 5+pass*5%9 && catches(pass) {
				held++
				return true
			}
			return false
		}
		c, err := Examine(d.sweeps(3).trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	if r := Judge(draw(func(int) bool { return true })); r.Verdict.Conclusion != DoorMechanism {
		t.Errorf("each pass: %v, %v", r.Verdict.Conclusion, r.Captures[0].Findings)
	}
	for name, catches := range map[string]func(int) bool{
		"one pass": func(pass int) bool { return pass == 3 },
		"never":    func(int) bool { return false },
	} {
		if c := draw(catches); slices.ContainsFunc(c.Findings, func(f Finding) bool { return f.Kind == SlowZone && f.Strength > 0.3 }) {
			t.Errorf("%s: %v", name, c.Findings)
		}
	}
}
