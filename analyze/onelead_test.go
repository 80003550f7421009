package analyze

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// alone keeps the volts of the first lead against ground: nothing shows of the other.
func (d *draft) alone() *draft {
	for i, v := range d.drive {
		d.drive[i] = math.Max(0, v)
	}
	return d
}

// With one lead on record the motor drives the shaft back unseen: what the travel
// shows both ways is judged, and what only a stall would show is said to be open.
func TestOneLead(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		make func(s uint64) *draft
		want Fault
		kind Kind // of the strongest finding; "" for none
	}{
		"sound":              {func(s uint64) *draft { return newDraft(s).sweeps(3) }, NoFault, ""},
		"sound, slow logger": {func(s uint64) *draft { d := newDraft(s); d.dt = 0.05; return d.sweeps(3) }, NoFault, ""},
		"sound, inverted":    {func(s uint64) *draft { return newDraft(s).sweeps(3).inverted() }, NoFault, ""},
		"sound, small steps": {func(s uint64) *draft {
			d := newDraft(s).run(0, 1).run(12, 6)
			for i := range 6 {
				d.run(0, 2).run(-12, 0.6).run(0, 1.5+0.3*float64(i)).run(-12, 0.5)
			}
			return d.run(0, 1).run(12, 6).run(0, 1)
		}, NoFault, ""},
		"track that floats": {func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if d.x > 2.2 && d.x < 2.5 {
					return 0
				}
				return d.x
			}
			return d.sweeps(3)
		}, FeedbackSensor, DeadSpot},
		"track that holds on the way back": {func(s uint64) *draft {
			d := newDraft(s)
			last := d.x
			d.read = func(d *draft) float64 {
				if d.x <= 2.2 || d.x >= 2.6 {
					last = d.x
				}
				return last
			}
			return d.sweeps(3)
		}, FeedbackSensor, DeadSpot},
		"in the way": {func(s uint64) *draft {
			d := newDraft(s).sweeps(1)
			d.block = func(d *draft, dir float64) bool { return dir > 0 && d.x >= 3 }
			return d.sweeps(3)
		}, DoorMechanism, Jam},
	} {
		t.Run(name, func(t *testing.T) {
			for seed := range uint64(3) {
				got, v := look(t, c.make(seed).alone())
				kind := Kind("")
				if len(got.Findings) > 0 {
					kind = got.Findings[0].Kind
				}
				if v.Conclusion != c.want || kind != c.kind {
					t.Errorf("seed %d: want %v by %q: %s", seed, c.want, c.kind, say(got, v))
				}
				if !strings.Contains(strings.Join(v.Unknown, " "), "only one motor lead was logged") || v.Conclusion == NoFault && v.Probability > 0.9 {
					t.Errorf("seed %d: %.3f, unknown %q", seed, v.Probability, v.Unknown)
				}
				if c.want == NoFault && (v.Next[0].Name != "Log both motor leads" || !slices.Contains(v.Cautions, cautionGround)) {
					t.Errorf("seed %d: next %v", seed, v.Next)
				}
			}
		})
	}
}

// A current says when the lead that was not logged drove, also against a stop or an
// object: without it the stall on the way back is not seen.
func TestOneLeadCurrent(t *testing.T) {
	t.Parallel()
	barred := func(s uint64) *draft {
		d := newDraft(s).sweeps(1)
		d.block = func(d *draft, dir float64) bool { return dir < 0 && d.x <= 2 }
		return d.sweeps(3)
	}
	for seed := range uint64(3) {
		got, v := look(t, barred(seed).alone())
		if v.Conclusion == DoorMechanism {
			t.Errorf("seed %d: a stall that was not on record: %s", seed, say(got, v))
		}
		// 0.1 A while it runs and 0.4 A while it stands under drive.
		d := barred(seed)
		amps := make([]float64, len(d.drive))
		for i, u := range d.drive {
			if u == 0 {
				continue
			}
			amps[i] = math.Copysign(0.1, u)
			if x := d.feed[i]; u > 0 && x > d.hi-0.02 || u < 0 && (x < d.lo+0.02 || math.Abs(x-2) < 0.02) {
				amps[i] *= 4
			}
		}
		tr := d.alone().trace()
		tr.Current = beside("current", "A", amps)
		got, v = lookAt(t, tr)
		if v.Conclusion != DoorMechanism || got.Findings[0].Kind != Jam || got.Findings[0].Direction != Down {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}
