package analyze

import (
	"math"
	"testing"
)

// slower draws at another interval between rows.
func (d *draft) slower(dt float64) *draft {
	d.dt = dt
	return d
}

func TestSampling(t *testing.T) {
	t.Parallel()
	hunts := func(d *draft, half float64, n int) *draft {
		d.sweeps(1).run(12, 3)
		for range n {
			d.run(-12, half).run(12, half)
		}
		return d.run(0, 1)
	}
	for _, c := range []struct {
		name  string
		make  func(seed uint64) *draft
		form  string // "" for none
		kind  Kind   // told among what the capture cannot tell
		words string
	}{
		{"100 rows a second", func(s uint64) *draft { return newDraft(s).slower(0.01).sweeps(3) }, "", "", ""},
		{"10 rows for a travel", func(s uint64) *draft { return newDraft(s).slower(0.5).sweeps(4) }, "slow for the travel", "", ""},
		{"no hunting to be seen", func(s uint64) *draft { return newDraft(s).slower(0.1).sweeps(3) }, "slow for hunting", Hunting, "hunting faster than 2.5 Hz"},
		{"6 rows for a cycle", func(s uint64) *draft { return hunts(newDraft(s).slower(0.05), 0.15, 14) }, "slow for the hunting", Hunting, "the true swing"},
		{"60 Hz at 50 rows a second", func(s uint64) *draft {
			d := newDraft(s).slower(0.02)
			d.read = func(d *draft) float64 { return d.x + 0.03*math.Sin(2*math.Pi*60*d.t) }
			return d.run(0, 3).sweeps(3)
		}, "folded hum", NoisyTrack, "folded hum"},
		{"60 Hz at 500 rows a second", func(s uint64) *draft {
			d := newDraft(s).slower(0.002)
			d.read = func(d *draft) float64 { return d.x + 0.03*math.Sin(2*math.Pi*60*d.t) }
			return d.run(0, 3).sweeps(2)
		}, "", "", ""},
		{"channel ends at 4.1 V", func(s uint64) *draft {
			d := newDraft(s).slower(0.01).sweeps(3)
			for i := range d.feed {
				d.feed[i] = math.Min(d.feed[i], 4.1)
			}
			return d
		}, "clipped feedback", EndLoss, "beyond 4.10 V"},
		{"pulses of 130 Hz at 100 rows a second", func(s uint64) *draft {
			d := newDraft(s).slower(0.01).sweeps(3)
			for i := range d.drive {
				if math.Mod(130*d.time[i], 1) > 0.7 {
					d.drive[i] /= 100
				}
			}
			return d
		}, "pulses faster than the rows", SupplySag, "one row every 10 ms"},
		{"converter of ten bits", func(s uint64) *draft {
			d := newDraft(s).slower(0.01)
			d.noise = 0.001
			return d.sweeps(3).counts()
		}, "", "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			for seed := range uint64(3) {
				got, v := look(t, c.make(seed))
				found := c.form == ""
				for _, o := range got.Sampling {
					found = found || o.Form == c.form
					if c.form == "" || o.Text == "" || o.Hides == "" {
						t.Errorf("seed %d: %+v", seed, o)
					}
				}
				told := c.kind == ""
				for _, b := range got.Blind {
					told = told || b.Kind == c.kind && contains(b.Text, c.words)
				}
				if !found || !told {
					t.Errorf("seed %d: want %q and %q, got %+v, blind %+v\n%s", seed, c.form, c.words, got.Sampling, got.Blind, say(got, v))
				}
			}
		})
	}
}
