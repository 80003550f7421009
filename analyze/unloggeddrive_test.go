package analyze

import (
	"strings"
	"testing"
)

// A shaft that runs on at the motor's pace while the drive reads rest got a drive that is
// not on record, and it is said what to check; coast, play, a door that sinks slowly and a
// contact that leaps at rest are no such thing.
func TestUnloggedDrive(t *testing.T) {
	t.Parallel()
	// hidden moves the shaft without a drive on record.
	hidden := func(d *draft, volts, s float64) *draft {
		from := len(d.drive)
		d.run(volts, s)
		for i := from; i < len(d.drive); i++ {
			d.drive[i] = 0.05 * d.rng.NormFloat64()
		}
		return d
	}
	for _, c := range []struct {
		name string
		make func(d *draft) *draft
		want bool
	}{
		{"two short drives not on record", func(d *draft) *draft {
			d.sweeps(2).run(0, 1).run(12, 2).run(0, 1)
			return hidden(hidden(d, 12, 0.5).run(0, 1), -12, 0.5).run(0, 1).sweeps(1)
		}, true},
		{"a clip that comes off for half a sweep", func(d *draft) *draft {
			d.sweeps(2).run(12, 2)
			return hidden(d, 12, 2).run(12, 2).run(0, 1).run(-12, 6).run(0, 1)
		}, true},
		{"sound", func(d *draft) *draft { return d.sweeps(4) }, false},
		{"coasts", func(d *draft) *draft {
			d.sweeps(2)
			for range 3 {
				hidden(d.run(12, 1.5), 6, 0.1).run(0, 1)
			}
			return d.run(-12, 6).run(0, 1)
		}, false},
		{"a door that sinks slowly", func(d *draft) *draft {
			d.sweeps(2).run(12, 3).run(0, 1)
			return hidden(d, -1, 8).run(0, 1).sweeps(1)
		}, false},
		{"a contact lost at rest", func(d *draft) *draft {
			d.sweeps(2).run(12, 2).run(0, 1)
			from := len(d.feed)
			d.run(0, 1)
			for i := from; i < len(d.feed); i++ {
				d.feed[i] -= 0.9
			}
			return d.run(0, 1).sweeps(1)
		}, false},
	} {
		for seed := range uint64(3) {
			got, v := look(t, c.make(newDraft(seed)))
			told := ""
			for _, b := range got.Blind {
				if b.Kind == SelfMotion {
					told = b.Text
				}
			}
			if (told != "") != c.want || c.want && !strings.Contains(told, "lead") {
				t.Errorf("%s, seed %d: %q, want %v: %s", c.name, seed, told, c.want, say(got, v))
			}
		}
	}
}
