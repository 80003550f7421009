package analyze

import (
	"math"
	"testing"
)

// inGround drives from stop to stop and on the way, with a reading that the
// motor's current lifts by stall V where it is blocked or starts, and a fifth
// of it where it runs; give is how far, in V, a stop lets the shaft back within
// a few tens of ms.
func inGround(seed uint64, stall, give float64) *draft {
	d := newDraft(seed)
	d.noise = 0.012
	d.quantum = 5.0 / 255
	back, since, last := 0.0, 0.0, d.x
	d.read = func(d *draft) float64 {
		lift := 0.0
		if d.volts != 0 {
			since += d.dt
			lift = stall * math.Max(0.2, math.Exp(-since/0.03))
			if d.x == last {
				lift = stall
			}
			back = 0
			if d.x == d.lo || d.x == d.hi {
				back = give
			}
		} else {
			since = 0
			back *= math.Exp(-d.dt / 0.03)
		}
		last = d.x
		if d.x == d.lo {
			return d.x - back + lift
		}
		return d.x + back + lift
	}
	d.run(0, 1)
	full := (d.hi-d.lo)/d.rate + 0.8
	for range 3 {
		d.run(12, full).run(0, 0.6).run(-12, 0.4*full).run(0, 0.5).run(-12, full).run(0, 0.6).run(12, 0.4*full).run(0, 0.5)
	}
	return d
}

func TestSmallShift(t *testing.T) {
	t.Parallel()
	for seed := range uint64(4) {
		for _, c := range []struct {
			name        string
			stall, give float64
			found       bool
			bad         bool // more than sound harnesses that share a ground have
		}{
			{"2 % of the reference at stall", 0.1, 0, true, false},
			{"the same with stops that give", 0.1, 0.03, true, false},
			{"5 % of the reference at stall", 0.25, 0, true, true},
			{"the same with stops that give", 0.25, 0.03, true, true},
			{"none", 0, 0, false, false},
			{"stops that give", 0, 0.07, false, false},
		} {
			d := inGround(seed, c.stall, c.give)
			r := judgedDraft(t, d)
			if got := r.Captures[0].shows(DriveShift); got != c.found {
				t.Errorf("seed %d, %s: found %v", seed, c.name, got)
			}
			if want := map[bool]Fault{true: WiringControl, false: NoFault}[c.bad]; r.Verdict.Conclusion != want {
				t.Errorf("seed %d, %s: %s %.2f", seed, c.name, r.Verdict.Conclusion, r.Verdict.Probability)
			}
		}
	}
}

func judgedDraft(t *testing.T, d *draft) *Report {
	t.Helper()
	c, err := Examine(d.trace(), Defaults())
	if err != nil {
		t.Fatal(err)
	}
	return Judge(c)
}
