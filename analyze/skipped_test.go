package analyze

import (
	"math"
	"testing"
)

// holding keeps the reading at the edge by which the shaft came in, between two levels.
func (d *draft) holding(lo, hi float64, ways func(up bool) bool) *draft {
	kept := d.x
	d.read = func(d *draft) float64 {
		if d.x <= lo || d.x >= hi || !ways(kept <= lo) {
			kept = d.x
		} else {
			kept = math.Max(lo, math.Min(hi, kept))
		}
		return kept
	}
	return d
}

func both(bool) bool { return true }

// A place over which the reading holds for some rows and leaps, the same both ways, is a
// spot of the track, however short the hold is beside what a rate is measured in.
func TestSkippedPlace(t *testing.T) {
	t.Parallel()
	for _, width := range []float64{0.03, 0.05, 0.09} {
		for seed := range uint64(3) {
			got, v := look(t, newDraft(seed).holding(2.4, 2.4+width, both).sweeps(3))
			f := finding(got, DeadSpot)
			if f == nil || v.Conclusion != FeedbackSensor || math.Abs(f.Volts.From-2.4) > 0.012 || math.Abs(f.Volts.To-2.4-width) > 0.012 || f.Seen < 5 {
				t.Errorf("%.2f V wide, seed %d: %s", width, seed, say(got, v))
			}
		}
	}
}

// A leap one way only, one that wanders from pass to pass, a converter's steps, and a shaft
// that slows and hurries there are none.
func TestNoSkippedPlace(t *testing.T) {
	t.Parallel()
	at := 2.0
	for name, draw := range map[string]func(d *draft) *draft{
		"going up only": func(d *draft) *draft {
			return d.holding(2.4, 2.45, func(up bool) bool { return up })
		},
		"elsewhere each time": func(d *draft) *draft {
			kept, was := d.x, 0.0
			d.read = func(d *draft) float64 {
				if d.volts != was {
					at, was = 0.8+3*d.rng.Float64(), d.volts
				}
				if d.x <= at || d.x >= at+0.05 {
					kept = d.x
				}
				return math.Max(at, math.Min(at+0.05, kept)) + d.x - math.Max(at, math.Min(at+0.05, d.x))
			}
			return d
		},
		"steps of a converter": func(d *draft) *draft {
			d.noise, d.quantum = 0.002, 0.039
			return d
		},
		"a shaft that slows there and hurries on": func(d *draft) *draft {
			d.speed = func(d *draft, _ float64) float64 {
				return 1 + 0.5*math.Sin(2*math.Pi*(d.x-2.4)/0.1)*math.Exp(-math.Pow((d.x-2.4)/0.05, 2))
			}
			return d
		},
	} {
		for seed := range uint64(3) {
			got, v := look(t, draw(newDraft(seed)).sweeps(3))
			if f := finding(got, DeadSpot); f != nil && f.Seen > 1 {
				t.Errorf("%s, seed %d: %s", name, seed, say(got, v))
			}
		}
	}
}
