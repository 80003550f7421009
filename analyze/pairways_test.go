package analyze

import "testing"

// A way that the door makes slower, by less than a heavy one does, is said with its
// numbers, and weighs nothing.
func TestDoorLoadIsSaid(t *testing.T) {
	t.Parallel()
	slower := func(up, down float64) func(seed uint64) *draft {
		return func(seed uint64) *draft {
			d := newDraft(seed)
			d.speed = byWay(up, down)
			return unhurried(d, 3)
		}
	}
	for _, c := range []struct {
		name     string
		up, down float64
		want     []string // none: nothing is said
	}{
		{"as fast", 1, 1, nil},
		{"a tenth slower one way", 0.92, 1, nil},
		{"a fifth slower one way", 0.79, 1, []string{"Going up, it runs at", "(21 % slower); going down, at", "a load one way", "two thirds"}},
		{"a fifth slower the other way", 1, 0.79, []string{"without; going down, at", "(21 % slower), all at the same drive. That is a load one way"}},
		{"a fifth slower both ways", 0.8, 0.8, []string{"the load of the door, and by itself no more than a good one takes"}},
		{"half as fast, which is evidence", 0.5, 0.5, nil},
		{"half as fast one way", 0.5, 1, []string{"(50 % slower)", "more load than usual"}},
	} {
		for seed := range uint64(2) {
			r := Judge(examined(t, slower(c.up, c.down)(seed), false), examined(t, slower(1, 1)(seed+10), true))
			if (r.DoorLoad == "") != (c.want == nil) {
				t.Errorf("%s, seed %d: %q", c.name, seed, r.DoorLoad)
			}
			for _, want := range c.want {
				if !contains(r.DoorLoad, want) {
					t.Errorf("%s, seed %d: %q lacks %q", c.name, seed, r.DoorLoad, want)
				}
			}
		}
	}
}

// Where the door is accused by something else, its load all along does not acquit it.
func TestDoorLoadAcquitsNoAccused(t *testing.T) {
	t.Parallel()
	d := func(up float64) *draft {
		d := newDraft(1)
		d.speed = func(_ *draft, dir float64) float64 {
			if dir > 0 {
				return up
			}
			return 1
		}
		return unhurried(d, 3)
	}
	now := []*Capture{examined(t, d(0.79), false), examined(t, d(1), true)}
	if s := doorLoad(now, true); contains(s, "no more than a good") || !contains(s, "is told apart") || !contains(s, "Going up, it runs at") {
		t.Error(s)
	}
}

// byWay is a speed, as a share of the usual one, for each way.
func byWay(up, down float64) func(d *draft, dir float64) float64 {
	return func(_ *draft, dir float64) float64 {
		if dir > 0 {
			return up
		}
		return down
	}
}
