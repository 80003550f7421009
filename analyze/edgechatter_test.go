package analyze

import "testing"

// A track that frays towards its open end: in the last part before it, the wiper lets go
// and finds contact again several times in one pass, so that the reading leaps out and back
// under one drive. It is an edge all the same, and no gear slips there; a piece as worn with
// sound track behind it is none. (Drawn.)
func TestFrayedEdge(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		ends float64 // V, where the worn part ends and no track follows; above the stop: none does
		want bool
	}{{"open end", 4.1, true}, {"worn piece", 5, false}} {
		for seed := range uint64(4) {
			d := newDraft(seed)
			on, next := true, 0.0
			d.read = func(d *draft) float64 {
				if d.t > next {
					on, next = d.rng.Float64() < 0.5, d.t+0.05+0.1*d.rng.Float64()
				}
				if d.x > c.ends || d.x > 3.9 && d.x < 4.1 && !on {
					return 0.3
				}
				return d.x
			}
			got, v := look(t, d.sweeps(4))
			if f := formed(got, DeadSpot, openBeyond); (f != nil) != c.want {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
			if v.Conclusion != FeedbackSensor {
				t.Errorf("%s, seed %d: concluded %v: %s", c.name, seed, v.Conclusion, say(got, v))
			}
		}
	}
}

// Where the track is open from a place on, one in a hundred of the running readings is soon
// one of its leaps, and of those in the worn part before: they are no bad contact all along the way, and the little that a motor
// sends into the wires does not make it one. (Drawn.)
func TestOpenEndIsNotRough(t *testing.T) {
	t.Parallel()
	for seed := range uint64(4) {
		d := newDraft(seed).slower(0.025)
		was := d.x
		d.read = func(d *draft) float64 {
			moved := d.x != was
			was = d.x
			switch {
			case d.x > 3.8, d.x > 3.5 && d.rng.Float64() < 0.3:
				return 0.1
			case moved && d.rng.Float64() < 0.06:
				return d.x + 0.15*d.rng.NormFloat64()
			}
			return d.x
		}
		got, v := look(t, d.sweeps(4))
		if formed(got, NoisyTrack, roughEverywhere) != nil || formed(got, DeadSpot, openBeyond) == nil || v.Conclusion != FeedbackSensor {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}
