package analyze

import (
	"slices"
	"testing"
)

// In a noisy channel the level of a stand is told by many rows: a stall in mid travel stays one,
// where no single reading would tell it from the end that the drive set out from. (Drawn.)
func TestJamInNoise(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		until float64 // s; to then an object lies in the way
		first float64 // s, of the first two drives down
		jam   bool
	}{
		{"an object that gives way", 17, 4, true},
		{"sound", 0, 8, false},
		{"driven half the way at first", 0, 2.6, false},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.rate, d.lo, d.hi, d.x, d.noise, d.quantum = 0.3, 0.9, 2.9, 2.9, 0.045, 0.02
			d.block = func(d *draft, dir float64) bool { return dir < 0 && d.t < c.until && d.x <= 2.05 }
			d.run(0, 0.5)
			for range 2 {
				d.run(-13, c.first).run(0, 0.4).run(13, c.first+0.4).run(0, 0.4)
			}
			for range 2 {
				d.run(-13, 8.2).run(0, 0.4).run(13, 8.2).run(0, 0.4)
			}
			got, v := lookAt(t, d.trace())
			jam := slices.ContainsFunc(got.Findings, func(f Finding) bool { return f.Kind == Jam && f.Direction == Down })
			if jam != c.jam || (v.Conclusion == DoorMechanism) != c.jam {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
