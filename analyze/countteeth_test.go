package analyze

import (
	"math"
	"testing"
)

// Teeth that let go at either stop are noise to a measure of noise: single ones hardly stand
// out by it. All of them are counted, with the pace of either end, and a move that stops
// before an end is no pass over it.
func TestTeethAreAllCounted(t *testing.T) {
	const size = 0.06
	draw := func(hz func(up bool) float64) (*draft, int) {
		d := newDraft(3)
		d.dt, d.noise, d.quantum, d.x = 0.01, 0.0035, 0.0057, 2
		n, phase := 0, 0.0
		d.read = func(d *draft) float64 {
			up := d.volts > 0
			if hz(up) == 0 || d.volts == 0 || d.x < d.hi && up || d.x > d.lo && !up {
				phase = 0
				return d.x
			}
			sign := 1.0
			if !up {
				sign = -1
			}
			was := math.Floor(phase)
			phase += d.dt * hz(up)
			if math.Floor(phase) > was {
				n++
			}
			return d.x - sign*size*(1-math.Mod(phase, 1))
		}
		d.run(0, 1).run(-12, 9).run(12, 12).run(-12, 12).run(12, 12).run(-12, 2).run(0, 1)
		return d, n
	}
	d, n := draw(func(up bool) float64 {
		if up {
			return 4
		}
		return 5
	})
	c, err := Examine(d.trace(), Defaults())
	if err != nil {
		t.Fatal(err)
	}
	f := finding(c, GearSlip)
	if f == nil {
		t.Fatalf("no slip found: %+v", c.Findings)
	}
	if math.Abs(float64(f.Seen-n)) > 0.05*float64(n) {
		t.Errorf("counted %d of %d teeth", f.Seen, n)
	}
	if up, down := f.value(MeasureSlipRateUp), f.value(MeasureSlipRateDown); math.Abs(up-4) > 0.2 || math.Abs(down-5) > 0.25 {
		t.Errorf("%.2f a second going up, %.2f going down, want 4 and 5", up, down)
	}
	if made := f.value(MeasurePassesDown); made != 2 {
		t.Errorf("%v passes down, want 2: the last stops before the end", made)
	}
	d, _ = draw(func(bool) float64 { return 0 })
	if c, err = Examine(d.trace(), Defaults()); err != nil {
		t.Fatal(err)
	}
	if f := finding(c, GearSlip); f != nil {
		t.Errorf("no teeth drawn, found %s", f.Title)
	}
}
