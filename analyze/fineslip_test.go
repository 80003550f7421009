package analyze

import "testing"

// A wiper that slips by less than two readings side by side tell is told by the stop that reads
// shifted by as much; the same noise without a slip, or with an object before the stop, is not.
func TestFineSlip(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		noisy := func(d *draft) *draft {
			d.noise, d.quantum = 0.03, 0.02
			return d
		}
		object := noisy(newDraft(seed))
		object.block = func(d *draft, dir float64) bool { return d.t > 14 && dir > 0 && d.x > 4.3 }
		for _, c := range []struct {
			name string
			d    *draft
			want bool
		}{
			{"slipped", noisy(slippedBy(seed, []float64{16}, -0.2)), true},
			{"noise alone", noisy(newDraft(seed)), false},
			{"an object before the stop", object, false},
		} {
			got, v := look(t, c.d.sweeps(3))
			f := finding(got, LastingLeap)
			if (f != nil) != c.want || c.want != (v.Conclusion == FeedbackSensor) {
				t.Errorf("%s, seed %d: %v; %s", c.name, seed, f, say(got, v))
			}
		}
	}
}
