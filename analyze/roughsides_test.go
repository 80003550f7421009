package analyze

import "testing"

// scattering sweeps while off says by how much the reading of a moving shaft departs, V.
func scattering(seed uint64, off func(d *draft) float64) *draft {
	d := newDraft(seed)
	d.read = func(d *draft) float64 {
		if d.volts != 0 && d.x > d.lo && d.x < d.hi {
			return d.x + off(d)
		}
		return d.x
	}
	return d.sweeps(3)
}

// A contact that lets go leaves the wiper's wire to what pulls it, to one side. What the
// brushes of a sound motor send into the wires goes to both sides, and even noise goes no
// further than noise does: the smaller it is, the less it says of the sensor. (Drawn.)
func TestRoughSides(t *testing.T) {
	t.Parallel()
	even := func(sigma float64) func(d *draft) float64 {
		return func(d *draft) float64 { return sigma * d.rng.NormFloat64() }
	}
	// One row in twenty-five.
	seldom := func(off func(d *draft) float64) func(d *draft) float64 {
		return func(d *draft) float64 {
			if d.rng.Float64() < 0.04 {
				return off(d)
			}
			return 0
		}
	}
	// A filter makes each departure last for three rows, and some then look like losses.
	filtered := func(off func(d *draft) float64) func(d *draft) float64 {
		k, x := 0, 0.0
		return func(d *draft) float64 {
			if k%3 == 0 {
				x = off(d)
			}
			k++
			return x
		}
	}
	down := func(d *draft) float64 { return -0.25 * d.rng.ExpFloat64() }
	// One in so many goes to higher readings, as far as the others go to lower.
	oneUp := func(size, share float64) func(d *draft) float64 {
		return func(d *draft) float64 {
			off := size * d.rng.ExpFloat64()
			if d.rng.Float64() < share {
				return off
			}
			return -off
		}
	}
	// A wire left alone goes to a level of its own, in the middle of the travel.
	floats := func(d *draft) float64 { return (0.5*(d.lo+d.hi) - d.x) * d.rng.Float64() }
	for _, c := range []struct {
		name string
		off  func(d *draft) float64
		has  string // the measure that doubts it, "" for none
		want Fault
		none bool // no such finding
	}{
		{"lets go for single rows, to lower readings", seldom(down), "", FeedbackSensor, false},
		{"as often to higher readings, a quarter of a volt", seldom(even(0.26)), offBothWays, NoFault, false},
		{"the same, half a volt", seldom(even(0.5)), offBothWays, CannotTell, false},
		{"a quarter of them to higher readings", seldom(oneUp(0.55, 0.25)), offBothWays, CannotTell, false},
		{"one in fifty to higher readings", seldom(oneUp(0.25, 0.02)), "", FeedbackSensor, false},
		{"to a level in mid range", seldom(floats), "", FeedbackSensor, false},
		{"the same, too little to count", seldom(even(0.12)), "", NoFault, true},
		{"even noise of 0.06 V", even(0.06), noFurtherOff, NoFault, false},
		{"even noise of 0.09 V", even(0.09), noFurtherOff, CannotTell, false},
		{"the same, filtered", filtered(even(0.09)), noFurtherOff, CannotTell, false},
		// More than a motor sends into any wires.
		{"even noise of 0.11 V", even(0.11), noFurtherOff, FeedbackSensor, false},
		{"even noise of 0.2 V", even(0.2), "", FeedbackSensor, false},
		{"noise of 0.1 V to lower readings", func(d *draft) float64 { return -0.12 * d.rng.ExpFloat64() }, "", FeedbackSensor, false},
	} {
		for seed := range uint64(3) {
			got, v := look(t, scattering(seed, c.off))
			f, has := formed(got, NoisyTrack, roughEverywhere), ""
			for _, m := range []MeasureName{offBothWays, noFurtherOff} {
				if f != nil && f.has(m) {
					has += string(m)
				}
			}
			if (f == nil) != c.none || has != c.has || v.Conclusion != c.want {
				t.Errorf("seed %d, %s: %q, %s", seed, c.name, has, say(got, v))
			}
			// What such a reading looks like beside is no better known than that.
			for _, g := range got.Findings {
				if f != nil && c.has != "" && g.Kind != f.Kind && g.force() > f.force() {
					t.Errorf("seed %d, %s: by %s, %s", seed, c.name, g.Kind, say(got, v))
				}
			}
		}
	}
}

// What a contact leaves to ground goes off by a share of its level, so the low half of the
// travel shows no far departures; that it scatters there too tells the contact is bad
// everywhere. (Drawn.)
func TestRoughByAShareOfTheLevel(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		rough float64 // standard deviation of the scatter, V
		far   float64 // share of its level that one row in sixteen is off by in the high half
		want  Fault
	}{
		{"scatters all along, and far off in the high half", 0.012, -0.06, FeedbackSensor},
		{"scatters all along, and no further", 0.02, 0, NoFault},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.dt = 0.02
			d.read = func(d *draft) float64 {
				if d.volts == 0 || d.x <= d.lo || d.x >= d.hi {
					return d.x
				}
				off := c.rough * d.rng.NormFloat64()
				if d.x > 2.5 && d.rng.Float64() < 0.06 {
					off += c.far * d.x
				}
				return d.x + off
			}
			d.sweeps(2)
			if r := Judge(examined(t, d, false)); r.Verdict.Conclusion != c.want {
				t.Errorf("%s, seed %d: %s %v", c.name, seed, r.Verdict.Summary, r.Captures[0].Findings)
			}
		}
	}
}

// Losses that last for tens of rows, each at another place and level, with spikes to either
// side as the contact comes and goes: no spark lasts so long. (Drawn.)
func TestLossesTooLongForSparks(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		left, to := 0, 0.0
		lost := func(d *draft) float64 {
			if left > 0 {
				left--
				return to - d.x
			}
			switch p := d.rng.Float64(); {
			case p < 0.004:
				left, to = 8+d.rng.IntN(40), d.x*d.rng.Float64()
			case p < 0.03:
				return 1.2 * d.rng.NormFloat64()
			}
			return 0
		}
		got, v := look(t, scattering(seed, lost))
		if finding(got, Dropouts) == nil || formed(got, NoisyTrack, roughEverywhere) != nil || v.Conclusion == NoFault {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}
