package analyze

import (
	"math"
	"strings"
	"testing"
)

// A wave that goes on at rest in step with that under drive is interference: without it
// the shaft runs evenly. One that is there only while the shaft moves, or in one rest
// only, is none, and stays.
func TestWaveAtRest(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		on   func(at float64, pol int8) bool
		out  bool
	}{
		{"all the time", func(float64, int8) bool { return true }, true},
		{"while it is driven", func(_ float64, p int8) bool { return p != 0 }, false},
		{"in one rest", func(at float64, p int8) bool { return p == 0 && at < 8 }, false},
		{"not at all", func(float64, int8) bool { return false }, false},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed).run(0, 7)
			for range 3 {
				d.run(12, 8).run(0, 6).run(-12, 8).run(0, 6)
			}
			tr := d.trace()
			levels := readDrive(tr, Defaults().Limits)
			for i, at := range tr.Time {
				if c.on(at, levels.pol[i]) {
					tr.Feedback.Mean[i] += float32(0.07 * math.Cos(2*math.Pi*0.47*at+1))
				}
			}
			got, v := lookAt(t, tr)
			if said := strings.Contains(strings.Join(got.Notes, "; "), "in step over the whole capture"); said != c.out || c.out && v.Conclusion != NoFault {
				t.Errorf("seed %d, %s: %s", seed, c.name, say(got, v))
			}
		}
	}
}

// A shaft that is turned by hand in the one long rest, and lies still in the short ones,
// makes no wave that goes on.
func TestTurnedByHandIsNoWave(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.dt = 0.01
		d.read = func(d *draft) float64 {
			if d.t > 20 && d.t < 44 && d.volts == 0 {
				return d.x + 0.2*math.Sin(2*math.Pi*0.16*(d.t-20)) // 24 s, nearly four turns
			}
			return d.x
		}
		d.run(0, 1).run(12, 6).run(0, 2).run(-12, 6).run(0, 2).run(12, 2.5)
		d.run(0, 45-d.t).run(12, 4).run(0, 2).run(-12, 6).run(0, 2)
		got, v := look(t, d)
		if strings.Contains(strings.Join(got.Notes, "; "), "in step over the whole capture") {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}

// Rests too short for a few cycles of any wave that the rows can show have none, whatever
// their readings do: a supply of the sensor that wanders bends each of them a little.
func TestShortRestsShowNoWave(t *testing.T) {
	t.Parallel()
	const seconds = 0.38
	all := manyMeans{longest: seconds, first: 15, last: 75}
	for k, slope := range []float64{-0.03, 0.35, -0.35} {
		m := meansOf{t0: 15 + 25*float64(k), step: 0.02}
		for i := range 19 {
			v := slope * (float64(i) - 9) * m.step
			m.v, all.n, all.power = append(m.v, v), all.n+1, all.power+v*v
		}
		all.rests = append(all.rests, m)
	}
	if x, explained := all.likeliest(1 / (waveRows * 0.02)); explained > waveShare*all.power {
		t.Errorf("rests of %g s show a wave of %g Hz", seconds, x.f)
	}
}
