package analyze

import "testing"

// A sound harness that shares its ground lets the reading step a little with the motor's
// current. What goes much further than that is told as if it were not there; what goes no
// further is the step.
func TestBesideASoundHarnessStep(t *testing.T) {
	t.Parallel()
	const step = 0.06 // V
	onGround := func(d *draft, read func(x float64) float64) *draft {
		d.read = func(d *draft) float64 {
			v := read(d.x)
			if d.volts != 0 {
				v += step
			}
			return v
		}
		return d
	}
	straight := func(x float64) float64 { return x }
	for _, c := range []struct {
		name  string
		draw  func(seed uint64) *draft
		want  Fault
		found Kind
	}{
		{"a door that comes off its stops", func(s uint64) *draft { return onGround(stopsUntil(s, 15, 0.4, 0.5), straight).sweeps(3) }, DoorMechanism, LoadLost},
		{"a track that is open at a place", func(s uint64) *draft {
			return onGround(newDraft(s), func(x float64) float64 {
				if x > 2.3 && x < 2.6 {
					return 4.9
				}
				return x
			}).sweeps(3)
		}, FeedbackSensor, DeadSpot},
		{"nothing besides", func(s uint64) *draft { return onGround(newDraft(s), straight).sweeps(3) }, NoFault, ""},
		{"stops that give by two steps", func(s uint64) *draft { return onGround(stopsUntil(s, 15, 0.12, 0.12), straight).sweeps(3) }, NoFault, ""},
	} {
		for seed := range uint64(3) {
			got, v := look(t, c.draw(seed))
			if v.Conclusion != c.want || !got.shows(DriveShift) || c.found != "" && !got.shows(c.found) {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
