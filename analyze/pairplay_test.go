package analyze

import (
	"math"
	"testing"
)

// What waits at the uncoupled stops and follows at once on the door, which turns it round
// before them, is a track that ends there; gears that have play wait on the door as well,
// unless a weight holds them to one side, which shows in the speeds.
func TestPlayUncoupledOnly(t *testing.T) {
	t.Parallel()
	const end, track = 0.3, 0.25 // V: of the actuator's travel beyond the door's, and of it without track
	swept := func(seed uint64, beyond float64) *draft {
		d := newDraft(seed)
		d.lo, d.hi = 1.2-beyond, 4.2+beyond
		d.x = d.lo
		return d
	}
	deadEnds := func(d *draft) *draft {
		d.read = func(d *draft) float64 { return math.Max(1.2-end+track, math.Min(4.2+end-track, d.x)) }
		return d
	}
	weight := func(d *draft) *draft {
		d.speed = func(_ *draft, dir float64) float64 { return 1 + 0.1*dir }
		return d
	}
	for seed := range uint64(3) {
		free := func(d *draft) *Capture {
			c, _ := look(t, d.sweeps(3))
			c.Free = true
			return c
		}
		coupled := func(d *draft) *Capture { c, _ := look(t, d.sweeps(3)); return c }
		ends := free(deadEnds(swept(seed, end)))
		if !showsKind(ends, Play) {
			t.Fatalf("seed %d: nothing to take back: %s", seed, say(ends, Judge(ends).Verdict))
		}
		for _, c := range []struct {
			name  string
			on    *Capture
			off   *Capture
			want  Fault
			wants bool
		}{
			{"the track's ends", coupled(swept(seed, 0)), ends, NoFault, true},
			{"play in the gears", coupled(swept(seed, 0).played(0.4)), free(swept(seed, end).played(0.4)), Motor, true},
			{"play that a weight holds to one side", coupled(weight(swept(seed, 0))), free(swept(seed, end).played(0.4)), NoFault, false},
		} {
			if v := Judge(c.on, c.off).Verdict; (v.Conclusion == c.want) != c.wants {
				t.Errorf("seed %d: %s: %s %.2f", seed, c.name, v.Conclusion, v.Probability)
			}
		}
	}
}
