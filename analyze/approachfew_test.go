package analyze

import (
	"math"
	"testing"
)

// softly drives to a stop as a control does that slows down over a stretch before it.
func (d *draft) softly(dir, stretch float64) *draft {
	end := d.hi
	if dir < 0 {
		end = d.lo
	}
	for d.x != end {
		d.run(12*dir*math.Max(0.25, math.Min(1, math.Abs(end-d.x)/stretch)), d.dt)
	}
	return d.run(3*dir, 0.6).run(0, 0.8)
}

// bandAt lets the door bind between two places.
func bandAt(d *draft, lo, hi float64) *draft {
	d.speed = func(d *draft, _ float64) float64 {
		if d.x > lo && d.x < hi {
			return 0.4
		}
		return 1
	}
	return d
}

// Of a control that slows down before its targets few may be seen: two that others pass
// at speed, or all there are and both stops. Two places before which a door binds look
// like two targets, but nobody passes them at speed. (Drawn, polarity logged.)
func TestFewTargetsApproachedSlowly(t *testing.T) {
	t.Parallel()
	passed := func(d *draft) *draft {
		d.run(0, 0.5).run(12, 7).run(0, 0.5).run(-12, 7).run(0, 0.5)
		for range 3 {
			d.seek(3.6, 0.7).run(12, 3).run(0, 0.5).seek(1.4, 0.7).run(-12, 3).run(0, 0.5)
		}
		return d
	}
	everywhere := func(d *draft) *draft {
		for range 4 {
			d.seek(3.4, 0.6).softly(1, 0.6).seek(1.6, 0.6).softly(-1, 0.6)
		}
		return d
	}
	near := func(d *draft) *draft {
		for range 4 {
			d.seek(3.8, 0.8).softly(1, 0.8).seek(1.2, 0.8).softly(-1, 0.8)
		}
		return d
	}
	abrupt := func(d *draft) *draft {
		d.run(0, 0.5).run(12, 9).run(0, 0.5).run(-12, 9).run(0, 0.5)
		for range 3 {
			d.seek(3.2, 0.02).run(12, 7).run(0, 0.5).seek(1.8, 0.02).run(-12, 7).run(0, 0.5)
		}
		return d
	}
	twoBands := func(d *draft) *draft {
		d.speed = func(d *draft, dir float64) float64 {
			if d.x > 2.6 && d.x < 3.2 || d.x > 1.8 && d.x < 2.4 {
				return 0.4
			}
			return 1
		}
		return abrupt(d)
	}
	for _, c := range []struct {
		name  string
		make  func(d *draft) *draft
		slows bool // before its targets
		stops bool // and before its stops
		want  Fault
		kind  Kind
	}{
		{"two, passed at speed", passed, true, false, NoFault, ""},
		{"two and both stops", everywhere, true, true, NoFault, ""},
		{"two nearer to their stops than it slows down", near, true, true, NoFault, ""},
		{"two and both stops, a band that binds", func(d *draft) *draft { return everywhere(bandAt(d, 2.3, 2.7)) }, true, true, DoorMechanism, SlowZone},
		{"two, passed at speed, a band that binds", func(d *draft) *draft { return passed(bandAt(d, 2.3, 2.7)) }, true, false, DoorMechanism, SlowZone},
		{"two bands that bind before the targets", twoBands, false, false, DoorMechanism, SlowZone},
		{"at full drive, a band that binds", func(d *draft) *draft { return abrupt(bandAt(d, 2.3, 2.7)) }, false, false, DoorMechanism, SlowZone},
	} {
		for seed := range uint64(2) {
			d := newDraft(seed)
			d.signOnly = true
			c.make(d)
			w := workOf(t, d.trace())
			if w.slows > 0 != c.slows || w.slowsAtStops != c.stops {
				t.Errorf("%s, seed %d: slows down over %.2f V, before stops %v", c.name, seed, w.slows, w.slowsAtStops)
			}
			got, v := look(t, d)
			if v.Conclusion != c.want || c.kind != "" && !showsKind(got, c.kind) || c.kind == "" && showsKind(got, SlowZone) {
				t.Errorf("%s, seed %d: want %s by %q; %s", c.name, seed, c.want, c.kind, say(got, v))
			}
		}
	}
}
