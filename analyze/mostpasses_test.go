package analyze

import (
	"math"
	"testing"
)

// Something that lies at one place and gives way, or lies aside now and then, stops the
// shaft there in most passes and nowhere else. Brushes stop it in as many passes and at no
// place. (Drawn.)
func TestStandsAtOnePlaceInMostPasses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		at   func(pass int) float64 // V, where it stands
		want bool
	}{
		{"one place", func(int) float64 { return 2.1 }, true},
		{"anywhere", func(pass int) float64 { return 0.9 + 0.37*float64(pass*5%9) }, false},
	} {
		d := newDraft(12)
		d.dt, d.noise = 0.01, 0.002
		pass, came, held := 0, 0.0, 0.0
		d.block = func(d *draft, dir float64) bool {
			if dir != 0 && dir != came {
				came, held = dir, 0
				pass++
			}
			if pass%8 > 4 || pass%8 == 0 { // four of each eight, and one more of twelve
				if pass != 8 {
					return false
				}
			}
			if math.Abs(d.x-c.at(pass)) < 0.006 && held < 0.4+0.07*float64(pass*3%8) {
				held += d.dt
				return true
			}
			return false
		}
		got, err := Examine(d.sweeps(4).trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		if v := Judge(got).Verdict; (v.Conclusion == DoorMechanism) != c.want {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
