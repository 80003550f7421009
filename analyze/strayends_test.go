package analyze

import (
	"math"
	"testing"
)

// Single rows at one and the other end of the channel are the recording's: a wire that opens
// goes to one level, and a contact stays away for several rows now and then.
func TestLoneRowsAtBothEnds(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		levels []float64 // in turn
		rows   int
		lost   bool
	}{
		{"single rows at both ends", []float64{0, 6.46}, 1, false},
		{"single rows at one end", []float64{0, 0}, 1, true},
		{"several rows at both ends", []float64{0, 6.46}, 6, true},
		{"to two levels of which none is an end", []float64{0.2, 4.9, 0.35, 4.75}, 6, true},
	} {
		d := newDraft(31)
		d.dt, d.rate, d.quantum = 0.02, 0.25, 0.0063
		row := -1
		d.read = func(d *draft) float64 {
			row++
			for n, at := range []float64{9, 17.3, 25.5, 33, 44, 52.5} {
				if first := int(math.Round(at / d.dt)); row >= first && row < first+c.rows {
					return c.levels[n%len(c.levels)]
				}
			}
			return d.x
		}
		d.sweeps(2)
		for i, v := range d.feed { // a converter ends there, without noise
			for _, l := range c.levels {
				if math.Abs(v-l) < 0.05 {
					d.feed[i] = l
				}
			}
		}
		got, v := look(t, d)
		if showsKind(got, Dropouts) != c.lost || !c.lost && v.Conclusion != NoFault || c.lost && v.Conclusion == NoFault && c.rows > 1 {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
