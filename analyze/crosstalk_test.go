package analyze

import (
	"math"
	"slices"
	"testing"

	"threewire/signal"
)

func doubted(c *Capture, code string) bool {
	return slices.ContainsFunc(c.Doubts, func(d DataDoubt) bool { return d.Code == code })
}

// What an input takes of the motor's volts is the instrument's, at every place alike; what
// a leak takes goes with the track's resistance there, what a ground takes with the current.
func TestCrossTalkDrawn(t *testing.T) {
	t.Parallel()
	coarse := func(seed uint64) *draft {
		d := newDraft(seed)
		d.dt, d.quantum, d.lo, d.x, d.hi = 0.05, 0.01, 0.4, 0.4, 3.2 // places of unlike resistance
		return d
	}
	leak := func(seed uint64) *draft {
		d := leaky(seed, 25)
		d.dt, d.hi = 0.05, 3
		return d
	}
	for _, c := range []struct {
		name  string
		d     func(seed uint64) *draft
		want  Fault
		doubt bool
	}{
		{"signed", func(s uint64) *draft {
			return coarse(s).shifted(func(v, _ float64) float64 { return 0.06 * v })
		}, NoFault, true},
		{"against the travel", func(s uint64) *draft {
			d := coarse(s)
			d.read = func(d *draft) float64 { return 5 - d.x + 0.06*d.volts }
			return d
		}, NoFault, true},
		{"one lead", func(s uint64) *draft {
			return coarse(s).shifted(func(v, _ float64) float64 { return 0.05 * math.Max(0, -v) })
		}, NoFault, true},
		{"none", coarse, NoFault, false},
		{"a ground that the current lifts", func(s uint64) *draft {
			return coarse(s).shifted(func(v, stalled float64) float64 { return 0.02 * math.Abs(v) * (1 + 2*stalled) })
		}, WiringControl, false},
		{"a leak", leak, WiringControl, false},
	} {
		for seed := range uint64(3) {
			got, v := look(t, c.d(seed).sweeps(4))
			if v.Conclusion != c.want || doubted(got, CrossTalk) != c.doubt {
				t.Errorf("%s, seed %d: want %s, doubt %v; got doubt %v, %s", c.name, seed, c.want, c.doubt, doubted(got, CrossTalk), say(got, v))
			}
		}
	}
}

// A reference that goes with the place of the wiper is the instrument's, one that falls
// with the time is not, even where the shaft goes one way meanwhile.
func TestCrossTalkOnReference(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		ref  func(s, v float64) float64
		want float64
	}{
		{"takes of the feedback", func(_, v float64) float64 { return 0.92*5 + 0.08*v }, 0.08},
		{"steady", func(_, _ float64) float64 { return 5 }, 0},
		{"falls with the time", func(s, _ float64) float64 { return 5 - 0.02*s }, 0},
		{"falls as the reading rises", func(_, v float64) float64 { return 5 - 0.08*v }, -1},
	} {
		d := newDraft(5).sweeps(3)
		r := signal.Series{Name: "reference", Unit: "V"}
		for i, v := range d.feed {
			r.Mean = append(r.Mean, float32(c.ref(d.time[i], v)+0.003*d.rng.NormFloat64()))
		}
		r.Min, r.Max = r.Mean, r.Mean
		r.Stats.Min, r.Stats.Max = 4, 5
		tr := d.trace()
		tr.Reference = &r
		if k := shareOnReference(tr); c.want >= 0 && math.Abs(k-c.want) > 0.002 || c.want < 0 && k > 0 {
			t.Errorf("%s: share %.4f, want %.4f", c.name, k, c.want)
		}
		if got, v := lookAt(t, tr); doubted(got, CrossTalk) != (c.want > 0) || c.want >= 0 && c.name != "falls with the time" && v.Conclusion != NoFault {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
