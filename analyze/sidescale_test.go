package analyze

import "testing"

// Both stops read what the good side's do in proportion: a scale about 0 V, as the sensor's
// feed makes it, and not a body, which moves one stop; nor a lever, which moves both alike.
// The ways take as long by their paces, where no full sweep was driven both times. (Drawn.)
func TestSideInProportion(t *testing.T) {
	t.Parallel()
	full := func(seed uint64) *draft {
		d := newDraft(seed)
		d.lo, d.hi, d.x, d.rate = 1, 4, 2.5, 0.3
		return d
	}
	// Each stop is reached from midway, so that there is no sweep from stop to stop.
	drive := func(d *draft) *Capture {
		d.run(0, 0.5)
		for range 2 {
			d.run(12, 5.5).run(-12, 5).run(12, 1).run(-12, 6.5).run(12, 5)
		}
		return examineWith(t, d.run(0, 0.5), nil, false)
	}
	good := drive(full(1))
	for _, c := range []struct {
		name  string
		read  func(x float64) float64
		block func(d *draft, dir float64) bool
		want  Fault
	}{
		{"in proportion", func(x float64) float64 { return 0.6 * x }, nil, WiringControl},
		{"about another level", func(x float64) float64 { return 2.5 + 0.6*(x-2.5) }, nil, FeedbackSensor},
		{"an object at one end", nil, func(d *draft, dir float64) bool { return dir > 0 && d.x > 2.8 }, DoorMechanism},
	} {
		d := full(2)
		if d.block = c.block; c.read != nil {
			d.read = func(d *draft) float64 { return c.read(d.x) }
		}
		r := Case{Now: []*Capture{drive(d)}, Good: []*Capture{good}}.Judge()
		for f := FeedbackSensor; f < faultCount; f++ {
			if f != c.want && !(chanceOf(r, c.want) > 1.5*chanceOf(r, f)) {
				t.Errorf("%s: %s %.2f, %s %.2f: %s", c.name, c.want, chanceOf(r, c.want), f, chanceOf(r, f), r.Sides.Text)
			}
		}
	}
}
