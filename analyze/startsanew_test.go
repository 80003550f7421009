package analyze

import (
	"math"
	"testing"
)

// A slow shaft in a noisy reading, and a current that is gone for moments: as it comes back
// it tells whether the motor had stopped. (Drawn.)
func TestCurrentOfAStartAfterABreak(t *testing.T) {
	t.Parallel()
	gone := [][2]float64{{9, 0.15}, {15.3, 0.3}, {22, 0.12}, {31, 0.2}, {55.4, 0.25}}
	for _, c := range []struct {
		name   string
		inrush float64 // A, at the moment the current comes back
		sags   float64 // of the drive, while there is none
		found  bool
	}{
		{"opens and starts again", 0.3, 1, true},
		{"a clip that comes off", 0, 1, false},
		{"switched off, and open: the motor generates", 0.3, 0.85, false},
	} {
		d := newDraft(5)
		d.rate, d.noise = 0.12, 0.03
		var amps []float64
		since := math.Inf(-1)
		d.read = func(d *draft) float64 {
			i := 0.0
			switch {
			case d.volts == 0:
				since = d.t
			case duringAny(gone...)(d.t):
				since = math.Inf(-1)
				if c.inrush > 0 {
					since = d.t
				}
			case d.x == d.lo || d.x == d.hi:
				i = 0.5
			default:
				i = 0.1 + 0.3*math.Exp(-(d.t-since)/0.05)
			}
			amps = append(amps, i+0.002*d.rng.NormFloat64())
			return d.x
		}
		d.block = func(d *draft, _ float64) bool { return c.inrush > 0 && duringAny(gone...)(d.t) }
		d.run(0, 1).run(12, 40).run(0, 2).run(-12, 40).run(0, 2)
		for i := range d.drive {
			if duringAny(gone...)(float64(i) * d.dt) {
				d.drive[i] *= c.sags
			}
		}
		tr := (&circuit{draft: d, current: amps}).trace()
		got, err := Examine(tr, Defaults())
		if err != nil {
			t.Fatal(err)
		}
		v := Judge(got).Verdict
		if f := finding(got, Broken); (f != nil) != c.found || c.found && (!betweenMotorAndWiring(v) || f.Seen != len(gone)) || !c.found && v.Conclusion != NoFault {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
