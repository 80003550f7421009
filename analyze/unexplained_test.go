package analyze

import "testing"

// What no finder knows and no sound actuator does clears nobody; what sound ones do does.
func TestUnexplained(t *testing.T) {
	t.Parallel()
	sweeps := func(d *draft) *draft { return d.sweeps(3) }
	for _, c := range []struct {
		name string
		draw func(d *draft) *draft
		form string // "" for a sound one
	}{
		{"a slow pass between quick ones", func(d *draft) *draft {
			d.speed = func(d *draft, dir float64) float64 {
				if d.t > 15 && d.t < 21 {
					return 0.55
				}
				return 1
			}
			return d.run(0, 1).sweeps(4)
		}, paceFalls},
		{"grease that warms", func(d *draft) *draft {
			d.speed = func(d *draft, dir float64) float64 { return min(1, 0.6+d.t/30) }
			return d.run(0, 1).sweeps(4)
		}, ""},
		{"fewer volts in one pass", func(d *draft) *draft {
			return d.run(0, 1).sweeps(2).run(8, 8).run(0, 1).run(-8, 8).run(0, 1).sweeps(1)
		}, ""},
		{"a place that begins to drag", func(d *draft) *draft {
			d.speed = func(d *draft, dir float64) float64 {
				if d.t > 33 && d.x > 2 && d.x < 2.8 {
					return 0.45
				}
				return 1
			}
			return d.run(0, 1).sweeps(4)
		}, placeSlows},
		{"a place that eases", func(d *draft) *draft {
			d.speed = func(d *draft, dir float64) float64 {
				if d.t < 15 && d.x > 2 && d.x < 2.8 {
					return 0.7
				}
				return 1
			}
			return d.run(0, 1).sweeps(4)
		}, ""},
		{"steady", func(d *draft) *draft { return sweeps(d.run(0, 1)) }, ""},
		{"off at rest and back", func(d *draft) *draft {
			d.read = func(d *draft) float64 {
				return d.x + 0.16*max(0, min(1, min(d.t-34, 38-d.t)/0.4))
			}
			return d.run(0, 1).sweeps(2).run(12, 2).run(0, 12)
		}, restsUnevenly},
		{"thrown by the winding as it is switched on", func(d *draft) *draft {
			d.dt, d.rate, d.noise, d.quantum = 0.05, 1.76, 0.001, 0.005
			d.lo, d.x = 0.44, 0.44
			was := 0.0
			d.read = func(d *draft) float64 {
				on := was == 0 && d.volts > 0 && d.t > 5
				if was = d.volts; on {
					return 0.01
				}
				return d.x
			}
			return d.run(0, 1).sweeps(2)
		}, ""},
		{"thrown as it is switched on, for a while", func(d *draft) *draft {
			d.dt = 0.05
			was, since := 0.0, -1.0
			d.read = func(d *draft) float64 {
				if was == 0 && d.volts > 0 && d.t > 12 && since < 0 {
					since = d.t
				}
				if was = d.volts; since > 0 && d.t < since+0.3 {
					return d.x + 0.9
				}
				return d.x
			}
			return d.run(0, 1).sweeps(2)
		}, leapsOnce},
		{"creeps at rest", func(d *draft) *draft {
			d.read = func(d *draft) float64 {
				if d.t > 34 {
					return d.x + 0.16*min(1, (d.t-34)/5)
				}
				return d.x
			}
			return d.run(0, 1).sweeps(2).run(12, 2).run(0, 12)
		}, ""},
	} {
		for seed := range uint64(3) {
			r := judgedDraft(t, c.draw(newDraft(seed)))
			got, v := r.Captures[0], r.Verdict
			if c.form == "" && got.shows(Unexplained) || c.form != "" && (!got.showsForm(Unexplained, c.form) || v.Conclusion == NoFault) {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}

func TestLeavesAndReturns(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		level []float64
		want  float64
	}{
		{nil, 0},
		{[]float64{1, 2, 3, 4}, 0},
		{[]float64{1, 1, 3, 1.5}, 1.5},
		{[]float64{3, 1, 2}, 1},
	} {
		if got := leavesAndReturns(c.level); got != c.want {
			t.Errorf("%v: %g, want %g", c.level, got, c.want)
		}
	}
}
