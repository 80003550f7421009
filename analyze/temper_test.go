package analyze

import (
	"math"
	"testing"
)

// What is tempered stays a distribution, keeps its order, and grows with what it is made
// of without a leap, also where a conclusion begins to be stated.
func TestTemperedWithoutLeaps(t *testing.T) {
	t.Parallel()
	for _, best := range Faults() {
		last, told := 0.0, false
		for k := 25; k <= 999; k++ {
			x := (float64(k) + 0.5) / 1000
			p := make([]float64, faultCount)
			for i := range p {
				p[i] = (1 - x) / float64(faultCount-1)
			}
			p[best] = x
			q := tempered(p)
			sum := 0.0
			for i := range q {
				sum += q[i]
				if x > p[i] && q[i] >= q[best] && Fault(i) != best {
					t.Fatalf("%s %.3f: %v overtakes it", best, x, q)
				}
			}
			if math.Abs(sum-1) > 1e-12 {
				t.Fatalf("%s %.3f: sum %g", best, x, sum)
			}
			if x <= 1/float64(faultCount) {
				continue
			}
			if y := q[best]; last > 0 && (y < last || y > last+0.01) {
				t.Fatalf("%s: %.3f becomes %.3f after %.3f", best, x, y, last)
			}
			last = q[best]
			if now := last >= stated(best); now != (x >= decide) {
				t.Fatalf("%s: %.3f is stated: %v", best, x, now)
			} else if now && !told {
				told = true
				if math.Abs(last-0.75) > 0.02 {
					t.Errorf("%s: stated from %.3f on, want about three in four", best, last)
				}
			}
		}
	}
}
