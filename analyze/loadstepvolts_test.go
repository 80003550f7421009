package analyze

import "testing"

// A motor that spends a third of its volts on friction and is fed with more volts from some
// moment on gains more speed than volts: nothing fell off its door. At the same volts it did.
func TestFasterAtOtherVolts(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		less float64 // V, the drive up at first
		off  bool    // the load leaves
		want bool
	}{
		{"more volts", 8.5, false, false},
		{"the same volts, a load lost", 12, true, true},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.noise, d.quantum, d.signOnly = 0.003, 0.0024, false
			gain := 1.0
			d.rate = 0.6
			volts := c.less
			d.speed = func(d *draft, dir float64) float64 {
				if dir < 0 {
					return 1
				}
				return gain * (volts - 4) / 8
			}
			for range 3 {
				d.run(volts, 14).run(0, 0.5).run(-12, 10).run(0, 0.5)
			}
			volts = 12
			if c.off {
				gain = 1.4
			}
			for range 3 {
				d.run(volts, 14).run(0, 0.5).run(-12, 10).run(0, 0.5)
			}
			got, v := look(t, d)
			if f := finding(got, LoadLost); (f != nil) != c.want {
				t.Errorf("%s, seed %d: %v; %s", c.name, seed, f, say(got, v))
			}
		}
	}
}
