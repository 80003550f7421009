package analyze

import (
	"math"
	"testing"
)

// A stall's place is what the reading says once the drive is off, where the motor's
// current has held it back from the stop: seals and springs push a shaft back, nothing
// draws it on. (Drawn.)
func TestStallLetGo(t *testing.T) {
	t.Parallel()
	jammed := func(d *draft, dir float64) bool { return dir < 0 && d.x <= 2 }
	for _, c := range []struct {
		name  string
		ohms  float64 // lifts the reading's ground, V at a stall
		block func(d *draft, dir float64) bool
		rests func(x float64) float64 // reading of a shaft at rest
		jam   bool
	}{
		{"a bad ground lifts the low end", 2, nil, nil, false},
		{"a jam", 0, jammed, nil, true},
		{"a jam that lets the shaft back", 0, jammed, func(x float64) float64 { return x + 0.15 }, true},
	} {
		d := newDraft(4)
		d.block = c.block
		last := d.x
		d.read = func(d *draft) float64 {
			lift := 0.0
			if d.volts != 0 {
				lift = 0.27 * c.ohms
				if d.x == last {
					lift = c.ohms
				}
			}
			last = d.x
			if d.volts == 0 && c.rests != nil && d.x < 2.1 {
				return c.rests(d.x)
			}
			return d.x + lift*(1-d.x/5)
		}
		d.run(0, 1).run(12, 7)
		for range 3 {
			d.run(0, 1).run(-12, 2.5).run(0, 1).run(-12, 5).run(0, 1).run(12, 3).run(0, 1).run(12, 5)
		}
		got, v := lookAt(t, d.trace())
		jam := false
		for i := range got.Findings {
			f := &got.Findings[i]
			jam = jam || f.Kind == Jam && f.Direction == Down && f.Strength > 0.5 && math.Abs(f.Volts.From-2) < 0.6
		}
		if jam != c.jam || (v.Conclusion == WiringControl) != (c.ohms > 0) {
			t.Errorf("%s: jam %v: %s", c.name, jam, say(got, v))
		}
	}
}
