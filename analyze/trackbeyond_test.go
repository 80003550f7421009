package analyze

import "testing"

// What the reading does not show may lie beyond the end of a track as far as the track can
// read, up to its supply: of a motor that turns for longer, there and back, the shaft does not
// turn with it. (Drawn.)
func TestNoTrackGoesOnBeyondItsSupply(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		beyond float64 // V, at the pace before
		lost   bool
	}{
		{"as far as a stop may lie", 0.7, true},
		{"beyond the supply", 2.4, false},
	} {
		for seed := range uint64(2) {
			d := newDraft(seed)
			unseen := 0.0
			d.block = func(d *draft, dir float64) bool {
				switch way := d.rate * d.dt; {
				case dir > 0 && d.x >= 3.9:
					unseen += way
				case dir < 0 && unseen > 0:
					unseen -= way
				default:
					return false
				}
				return true
			}
			d.run(0, 1)
			for range 3 {
				d.run(12, (3.4+c.beyond)/d.rate).run(0, 0.4).run(-12, (3.4+c.beyond)/d.rate+1).run(0, 0.4)
			}
			if got, v := look(t, d); showsKind(got, EndLoss) != c.lost {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
