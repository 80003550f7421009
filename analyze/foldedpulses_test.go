package analyze

import (
	"math"
	"testing"
)

// foldedSweeps draws sweeps by pulses that 20 rows a second catch now on and now off, the
// shaft running evenly, at half of its speed. A bad ground puts so many volts on the
// reading while the motor draws current.
func foldedSweeps(ground float64) *draft {
	d := newDraft(31)
	d.dt, d.noise = 0.05, 0.003
	d.read = func(d *draft) float64 {
		if d.volts != 0 {
			return d.x + ground
		}
		return d.x
	}
	d.run(0, 1)
	for _, s := range []float64{8, -6, 7, -8, 5, -5} {
		d.run(math.Copysign(6, s), math.Abs(s)).run(0, 2)
	}
	// Two of three rows fall into a pulse, and none of those is half a pulse. The drive
	// begins and ends between two pulses.
	for i, v := range d.drive {
		if math.Abs(v) > 1 {
			d.drive[i] = 12 * math.Copysign(float64(min(i%3, 1)), v)
		}
	}
	return d
}

// A drive whose pulses come faster than the rows is one drive of a part of its volts, not
// one of a row or two each: what a bad ground does as it begins and ends shows.
func TestFoldedPulsesAreOneDrive(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		ground float64
	}{{"sound", 0}, {"a bad ground", 0.3}} {
		got, v := look(t, foldedSweeps(c.ground))
		if len(got.Moves) != 6 {
			t.Errorf("%s: %d moves", c.name, len(got.Moves))
		}
		bad := c.ground > 0
		if showsKind(got, DriveShift) != bad || bad && v.Conclusion != WiringControl || !bad && v.Conclusion != NoFault && v.Conclusion != CannotTell {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// Short drives that the rows do show are none of it: the shaft rests between them.
func TestShortDrivesStayDrives(t *testing.T) {
	t.Parallel()
	d := newDraft(32)
	d.dt, d.noise = 0.05, 0.003
	d.run(0, 1)
	for range 40 {
		d.run(12, 0.1).run(0, 0.1)
	}
	dr := readDrive(d.trace(), Defaults().Limits)
	if dr.folded {
		t.Error("taken for pulses that the rows do not show")
	}
}
