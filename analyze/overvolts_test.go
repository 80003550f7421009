package analyze

import (
	"math"
	"strings"
	"testing"
)

// glide lays a drive that goes to so many volts and back over what was driven.
func (d *draft) glide(at, seconds, volts float64) *draft {
	for i, t := range d.time {
		if u := (t - at) / seconds; u >= 0 && u <= 1 {
			d.drive[i] = volts * (1 - math.Abs(2*u-1))
		}
	}
	return d
}

// Volts that no 12 V system gives are named for what they are: the levels of the drive,
// and what is found, are those without them. A system of more volts all along is none.
func TestVoltsBeyondAllAreNoDrive(t *testing.T) {
	t.Parallel()
	told := func(c *Capture) bool {
		return strings.Contains(strings.Join(c.Notes, " "), "no 12 V system drives a motor with so much")
	}
	plain, v := look(t, newDraft(7).sweeps(3))
	if told(plain) {
		t.Errorf("a usual drive: %q", plain.Notes)
	}
	rest := plain.Moves[2].Time.From - 0.3
	for name, at := range map[string]float64{"at rest": rest, "with the drive": plain.Moves[1].Time.Mid(), "against it": plain.Moves[2].Time.Mid()} {
		c, got := look(t, newDraft(7).sweeps(3).glide(at, 0.25, -36))
		if !told(c) {
			t.Errorf("%s: not told: %q", name, c.Notes)
		}
		if math.Abs(c.Levels.Low-plain.Levels.Low) > 0.5 || math.Abs(c.Levels.High-plain.Levels.High) > 0.5 {
			t.Errorf("%s: levels %+v, without %+v", name, c.Levels, plain.Levels)
		}
		if got.Conclusion != v.Conclusion {
			t.Errorf("%s: %s", name, say(c, got))
		}
	}
	strong := newDraft(8)
	for range 3 {
		strong.run(24, 6).run(0, 0.5).run(-24, 6).run(0, 0.5)
	}
	if c, _ := look(t, strong); told(c) || c.Levels.High < 23 {
		t.Errorf("24 V all along: %+v %q", c.Levels, c.Notes)
	}
}
