package analyze

import (
	"math"
	"testing"
)

// What an uncoupled run takes back of one sign, seen in each of several coupled captures, is
// what it counted for in all of them together, and no more. (Drawn: stops far inside the
// supply, which are the actuator's own.)
func TestTakenBackOnce(t *testing.T) {
	t.Parallel()
	side := func(seed uint64, free bool) *Capture {
		d := newDraft(seed)
		d.lo, d.hi, d.x = 0.3, 3.1, 0.3
		return examineWith(t, d.sweeps(3), nil, free)
	}
	list := []*Capture{side(9, true)}
	for n := range 5 {
		c := side(uint64(n+1), false)
		if f := kinded(c, Jam); f == nil || !f.blamesStop() {
			t.Fatal("no stop is blamed")
		}
		list = append(list, c)
		r := compareFree(list)
		if r == nil {
			t.Fatal("nothing compared")
		}
		sum := evidence(list[1:], nil)
		for k := range sum {
			sum[k] += r.Weights[k]
		}
		if off := sum[DoorMechanism] - sum[NoFault]; math.Abs(off) > 0.01 {
			t.Errorf("%d coupled: log odds of the door %.2f", n+1, off)
		}
	}
}
