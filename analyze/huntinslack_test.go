package analyze

import "testing"

// A control that hunts within the play of the gears: after each turn of the drive the shaft
// follows only when the motor has turned through it. The same hunting of a shaft that follows
// at once, or as slowly as its motor gathers speed, shows no play, and the end at which it
// hunts is no end of the track.
func TestHuntingWithinPlay(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		for _, c := range []struct {
			name string
			play float64 // V, of 4 V of travel at 0.8 V/s
			lag  float64 // s, of the motor
		}{{"play", 0.22, 0}, {"none", 0, 0}, {"a slow motor", 0, 0.25}} {
			d := newDraft(seed)
			d.x, d.noise = 2, 0.002
			if c.play > 0 {
				d.played(c.play)
			}
			if c.lag > 0 {
				d.following(c.lag, func(x float64) float64 { return x })
			}
			d.run(0, 1).run(12, 5).run(0, 1).run(-12, 0.4)
			for range 4 {
				d.run(12, 0.35).run(-12, 0.4)
			}
			d.run(0, 1).run(-12, 7).run(0, 1)
			got, v := look(t, d)
			if f := finding(got, Hunting); f == nil || f.has(lostEachTurn) != (c.play > 0) {
				t.Errorf("seed %d, %s: %s", seed, c.name, say(got, v))
			}
			if (v.Conclusion == Motor) != (c.play > 0) {
				t.Errorf("seed %d, %s: %s", seed, c.name, say(got, v))
			}
		}
	}
}

// Pulses to and fro that stay within the play move nothing; the drive that gets out of it at
// last has lost what is left of it, and hunting that the play takes up says nothing beside it.
// A shaft without play follows each of them.
func TestPlayThroughPulses(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		for _, play := range []float64{0.4, 0} {
			d := newDraft(seed)
			d.x, d.noise = 1, 0.002
			if play > 0 {
				d.played(play)
			}
			d.run(0, 1).run(12, 2).run(0, 1)
			for range 2 {
				d.run(-12, 0.3).run(0, 0.3).run(12, 0.2).run(0, 0.3).run(-12, 0.25).run(0, 0.3).run(12, 0.3).run(0, 0.3).run(-12, 2).run(0, 1)
				d.run(12, 0.3).run(0, 0.3).run(-12, 0.2).run(0, 0.3).run(12, 0.25).run(0, 0.3).run(-12, 0.3).run(0, 0.3).run(12, 2).run(0, 1)
			}
			got, v := look(t, d)
			if got.shows(Play) != (play > 0) || (v.Conclusion == Motor) != (play > 0) {
				t.Errorf("seed %d, play %.1f V: %s", seed, play, say(got, v))
			}
			if f := finding(got, Play); f != nil {
				if lost, _ := f.Measure(MeasureLostTravel); lost < 0.9*play || lost > 1.1*play {
					t.Errorf("seed %d: %.2f V of play, want %.2f", seed, lost, play)
				}
			}
		}
	}
}
