package analyze

import "testing"

// A control that hunts quickly short of a stop at which the shaft stood and was heard hunts
// by itself; six rows a cycle are enough to hear that the reading follows. Where it leaps
// the track may be at fault.
func TestHuntingShortOfAStopThatIsHeard(t *testing.T) {
	t.Parallel()
	// drawn has a motor that follows its drive a row late, as it has to turn over.
	drawn := func(s uint64, read func(x float64) float64) *draft {
		d := newDraft(s)
		was := d.x
		d.read = func(d *draft) float64 {
			x := was
			was = d.x
			return read(x)
		}
		d.dt, d.quantum = 0.05, 0.01
		d.run(0, 1).run(12, 7).run(0, 1).run(-12, 7).run(0, 1).run(12, 7).run(0, 1).run(-12, 0.95)
		for range 40 {
			d.run(12, 0.15).run(-12, 0.15)
		}
		return d
	}
	for seed := range uint64(3) {
		got, v := look(t, drawn(seed, func(x float64) float64 { return x }))
		if f := finding(got, Hunting); f == nil || f.Form != huntMidTravel || v.Conclusion != WiringControl {
			t.Errorf("sound, seed %d: %s", seed, say(got, v))
		}
		leaps := func(x float64) float64 {
			if x > 3.6 && x < 3.85 {
				return 5
			}
			return x
		}
		got, v = look(t, drawn(seed, leaps))
		if v.Conclusion == WiringControl && v.Probability > 0.8 {
			t.Errorf("leaps, seed %d: %s", seed, say(got, v))
		}
	}
}
