package analyze

import (
	"math"
	"testing"
)

// pulses goes by pulses of so many s with a rest between: the shaft stands still before
// it is known that there is no way on.
func (d *draft) pulses(volts, s float64, n int) *draft {
	for range n {
		d.run(volts, s).run(0, 0.3)
	}
	return d
}

// Three times at one place pulses find no way on: something is in the way. Brushes do
// not start the motor wherever it had come to rest, and what is passed later or was
// tried too little bars nothing.
func TestPulsesThatFindNoWayOn(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		places []float64 // V, where each row of pulses ends
		vain   int       // pulses there
		long   float64   // s, each of those
		last   bool      // the way is free at the end
		want   bool
	}{
		{"three times at one place", []float64{2.5, 2.5, 2.5}, 8, 0.2, false, true},
		{"four times within a fiftieth", []float64{2.5, 2.54, 2.46, 2.5}, 8, 0.2, false, true},
		{"scattered", []float64{1.5, 3.2, 2.3}, 8, 0.2, false, false},
		{"scattered, four of them", []float64{1.5, 3.2, 2.3, 2.9}, 8, 0.2, false, false},
		{"scattered, each before the last", []float64{3.2, 2.4, 1.5}, 8, 0.2, false, false},
		{"too short to move it by much", []float64{2.5, 2.5, 2.5}, 3, 0.13, false, false},
		{"twice", []float64{2.5, 2.5}, 8, 0.2, false, false},
		{"passed later", []float64{2.5, 2.5, 2.5}, 8, 0.2, true, false},
		{"one pulse in vain", []float64{2.5, 2.5, 2.5}, 1, 0.2, false, false},
	} {
		for seed := range uint64(2) {
			d := newDraft(seed)
			d.rate = 0.5
			d.run(0, 1).run(12, 9).run(0, 0.5).run(-12, 9).run(0, 1)
			for _, at := range c.places {
				d.block = func(d *draft, dir float64) bool { return dir > 0 && d.x >= at }
				d.pulses(12, 0.2, int(math.Ceil((at-d.x)/(0.2*d.rate)))).pulses(12, c.long, c.vain)
				d.run(0, 1).run(-12, 6).run(0, 1)
			}
			d.block = nil
			if c.last {
				d.pulses(12, 0.2, 30).run(0, 1)
			}
			got, v := look(t, d)
			f := finding(got, Jam)
			switch {
			case !c.want && (f != nil || v.Conclusion == DoorMechanism):
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			case c.want && (f == nil || f.Form != "at one place" || f.Direction != Up || f.Seen < 3 || math.Abs(f.Volts.Mid()-2.5) > 0.05 || v.Conclusion != DoorMechanism):
				t.Errorf("%s, seed %d: %+v; %s", c.name, seed, f, say(got, v))
			}
		}
	}
}
