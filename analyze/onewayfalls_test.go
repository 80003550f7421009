package analyze

import "testing"

// A shaft that falls back once a pass going up and climbs on from there is a gear's that
// lets go: at one place twice, or anywhere three times. A step of the track is there both
// ways, a reading that is back on its line never went, and a load that throws the shaft
// about by the play does not reach beyond it. (Drawn.)
func TestTeethThatLetGoOneWay(t *testing.T) {
	t.Parallel()
	// back makes the shaft fall over some rows at the level of each pass upwards, once a pass.
	back := func(size float64, levels ...float64) func(d *draft) {
		return func(d *draft) {
			pass, left := -1, 0.0
			armed := false
			d.speed = func(d *draft, dir float64) float64 {
				if dir > 0 && d.x < d.lo+0.1 && !armed {
					pass, armed = pass+1, true
				}
				if armed && dir > 0 && d.x >= levels[pass%len(levels)] {
					left, armed = size, false
				}
				if left > 0 {
					left -= size / 5
					d.x -= size / 5
					return 0
				}
				return 1
			}
		}
	}
	for _, c := range []struct {
		name   string
		sweeps int
		draw   func(d *draft)
		slips  int
		want   Fault // CannotTell: whatever it may be
	}{
		{"at one place, three times", 3, back(0.12, 2.6), 1, Motor},
		{"at one place, twice", 2, back(0.2, 2.6), 1, Motor},
		{"anywhere, three times", 3, back(0.2, 1.4, 3.1, 2.2), 1, Motor},
		{"anywhere, twice", 2, back(0.2, 1.4, 3.1), 0, CannotTell},
		{"a track that steps back, either way", 3, func(d *draft) {
			d.read = func(d *draft) float64 {
				if d.x > 2.6 {
					return d.x - 0.12
				}
				return d.x
			}
		}, 0, CannotTell},
		{"a reading that dips and is back on its line", 3, func(d *draft) {
			d.read = func(d *draft) float64 {
				if d.volts > 0 && d.x > 2.6 && d.x < 2.75 {
					return d.x - 0.12
				}
				return d.x
			}
		}, 0, CannotTell},
		{"a sound one", 3, func(*draft) {}, 0, NoFault},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			c.draw(d)
			got := examined(t, d.sweeps(c.sweeps), false)
			if slips(got) != c.slips {
				t.Errorf("%s, seed %d: %d findings of slipping gears, expected %d: %v", c.name, seed, slips(got), c.slips, got.Findings)
			}
			if r := Judge(got); c.want != CannotTell && r.Verdict.Conclusion != c.want {
				t.Errorf("%s, seed %d: %s", c.name, seed, r.Verdict.Summary)
			}
		}
	}
}
