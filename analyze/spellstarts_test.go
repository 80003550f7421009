package analyze

import (
	"math"
	"testing"
)

// stepsFrom goes to places strewn over the travel, resting at each; the reading falls to
// a quarter where lost says so of where the shaft is, where it set out upwards and how long
// ago, in s (NaN while it is not driven up).
func stepsFrom(seed uint64, lost func(x, from, since float64) bool) *draft {
	d := newDraft(seed)
	d.dt = 0.02
	d.x = 0.9
	from, start, was := d.x, 0.0, 0.0
	d.read = func(d *draft) float64 {
		if d.volts > 0 && was <= 0 {
			from, start = d.x, d.t
		}
		was = d.volts
		since := math.NaN()
		if d.volts > 0 {
			since = d.t - start
		}
		if lost(d.x, from, since) {
			return 0.1 + 0.2*from
		}
		return d.x
	}
	d.run(0, 1)
	for _, to := range []float64{1.4, 1.3, 2.1, 2.6, 3.2, 2.4, 1.7, 3.0, 0.9, 1.5, 2.7, 3.6, 1.9, 0.9, 2.3, 3.3, 1.4} {
		d.goTo(to).run(0, 3)
	}
	return d
}

// A wire that the jerk of the drive pulls loses the reading wherever the shaft stands then;
// a place of the track loses it where it is, and a sound one never.
func TestLossesAsTheDriveSetsOut(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		lost func(x, from, since float64) bool
		told bool
		want Fault
	}{
		{"a pulled wire", func(_, from, since float64) bool { return since > 0.03 && since < 0.1+0.2*math.Mod(7*from, 1) }, true, WiringControl},
		{"sound", func(_, _, _ float64) bool { return false }, false, NoFault},
		{"one place", func(x, _, _ float64) bool { return math.Abs(x-2.0) < 0.04 }, false, FeedbackSensor},
	} {
		for seed := range uint64(3) {
			got, v := look(t, stepsFrom(seed, c.lost))
			told := false
			for _, f := range got.Findings {
				told = told || f.Kind == Dropouts && f.Form == asDriveStarts
				if f.Kind == NoisyTrack && f.Strength > 0.5 && f.Volts.To < 0.8 {
					t.Errorf("%s, seed %d: a track that is noisy where it does not reach, %v", c.name, seed, f.Volts)
				}
			}
			if told != c.told || v.Conclusion != c.want {
				t.Errorf("%s, seed %d: told %v; %s", c.name, seed, told, say(got, v))
			}
		}
	}
}
