package analyze

import "testing"

// stopsUntil draws a door whose stops lie so far inside those of the actuator, and that
// comes off at a moment.
func stopsUntil(seed uint64, off, low, high float64) *draft {
	d := newDraft(seed)
	d.x = 1
	d.block = func(d *draft, dir float64) bool {
		return d.t < off && (dir > 0 && d.x > d.hi-high || dir < 0 && d.x < d.lo+low)
	}
	return d
}

// TestPassedStops draws doors that come off, which the stops tell, and stops that give
// or that the sensor's scale moves.
func TestPassedStops(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		for _, c := range []struct {
			name string
			d    *draft
			kind Kind
			form string
			door bool
		}{
			{"off, both stops passed", stopsUntil(seed, 15, 0.12, 0.16).sweeps(3), LoadLost, passesStops, true},
			{"off after two stands at one stop", stopsUntil(seed, 34, 0.12, 0).sweeps(3), Jam, jamPassed, true},
			{"sound", stopsUntil(seed, 15, 0, 0).sweeps(3), "", "", false},
			{"stops that give a little", stopsUntil(seed, 15, 0.03, 0.04).sweeps(3), "", "", false},
			{"stops that give ever more", func() *draft {
				d := newDraft(seed)
				d.read = func(d *draft) float64 { return d.x + (d.x-2.5)*0.003*d.t }
				return d.sweeps(3)
			}(), "", "", false},
		} {
			r := judgedDraft(t, c.d)
			got := false
			for _, f := range r.Captures[0].Findings {
				got = got || f.Kind == LoadLost && f.Form == passesStops || f.Kind == Jam && f.Form == jamPassed
				if c.kind != "" && f.Kind == c.kind && f.Form != c.form {
					t.Errorf("%s, seed %d: %s %q, want %q", c.name, seed, f.Kind, f.Form, c.form)
				}
			}
			if got != (c.kind != "") || (r.Verdict.Conclusion == DoorMechanism) != c.door {
				t.Errorf("%s, seed %d: found %v, want %q; %s", c.name, seed, got, c.kind, r.Verdict.Summary)
			}
		}
	}
}

// TestLostStopIsNoJam draws a door that comes off after it stood at its stops again and
// again: what stood there was no obstacle. Where one stop is passed only, nothing tells
// that it was the door's, and the stands are told.
func TestLostStopIsNoJam(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		off := judgedDraft(t, stopsUntil(seed, 28, 0.24, 0.16).sweeps(4)).Captures[0]
		if !off.showsForm(LoadLost, passesStops) || off.shows(Jam) {
			t.Errorf("seed %d: off its door, but %v", seed, titlesOf(off))
		}
		for _, a := range off.Absent {
			if a.Kind == SpanDrift {
				t.Errorf("seed %d: both stops moved, but %q", seed, a.Text)
			}
		}
		one := judgedDraft(t, stopsUntil(seed, 28, 0.24, 0).sweeps(4)).Captures[0]
		if !one.shows(Jam) {
			t.Errorf("seed %d: a stop that is passed later is not told: %v", seed, titlesOf(one))
		}
	}
}

// A door that comes off and lets the shaft run faster besides: what stood at its stops
// before is no jam at either end, however deep they lay. One that reads further later only
// is not said to have been there before. (Drawn.)
func TestLostLoadTellsOfItsStops(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := stopsUntil(seed, 28, 0.24, 0.12)
		d.speed = func(d *draft, _ float64) float64 {
			if d.t < 28 {
				return 1
			}
			return 1.2
		}
		off := judgedDraft(t, d.sweeps(5))
		c := off.Captures[0]
		lost := finding(c, LoadLost)
		if lost == nil || !lost.has(MeasureLowStopPassed) || lost.Form == passesStops || c.shows(Jam) || off.Verdict.Conclusion != DoorMechanism {
			t.Errorf("seed %d: off its door, but %v", seed, titlesOf(c))
		}
		for _, a := range c.Absent {
			if a.Kind == SpanDrift {
				t.Errorf("seed %d: both stops moved, but %q", seed, a.Text)
			}
		}
		for _, from := range []float64{0, 8} { // an object that is there at first, and one that falls in
			d := newDraft(seed)
			d.block = func(d *draft, dir float64) bool { return d.t > from && d.t < from+12.5 && dir > 0 && d.x >= 3.2 }
			f := finding(examineDraft(t, d.sweeps(4)), Jam)
			if f == nil || f.Form == jamOnce && f.has(reachedLater) != (from == 0) {
				t.Errorf("seed %d, from %.0f s: %+v", seed, from, f)
			}
		}
	}
}
