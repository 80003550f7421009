package analyze

import (
	"math"
	"testing"
)

// A drive that is turned over without a rest shows no reading without current beside
// one with it. Ohms in the ground that the sensor shares with the motor show in the
// current itself; springy stops let the shaft on as well, but down at the lower one, a
// track that is open at its end tells no ohms elsewhere, and what a sound harness
// shares is no fault. (Drawn.)
func TestReadingGoesWithTheCurrent(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		shift func(d *draft, amps float64) float64
		want  bool
		ohms  float64
	}{
		{"half an ohm in the ground", func(_ *draft, amps float64) float64 { return 0.5 * amps }, true, 0.5},
		{"0.6 ohm at the foot of a track whose head is held", func(d *draft, amps float64) float64 { return 0.6 * amps * (1 - 0.8*d.x/5) }, true, 0.6},
		{"a track worn at its upper end", func(d *draft, amps float64) float64 {
			if d.x == d.hi {
				return 1.2 * amps
			}
			return 0.12 * amps
		}, false, 0},
		{"a sound ground", func(_ *draft, amps float64) float64 { return 0.02 * amps }, false, 0},
		{"stops that give", func(d *draft, amps float64) float64 { return math.Copysign(0.1*amps, d.volts) }, false, 0},
		{"a track open at one end", func(d *draft, _ float64) float64 {
			if d.x == d.hi {
				return 0.3
			}
			return 0
		}, false, 0},
	} {
		a := newCircuit(5, func(float64) bool { return false })
		a.rate, a.noise = 0.2, 0.003
		a.read = func(d *draft) float64 {
			amps := 0.15
			if d.x == d.lo || d.x == d.hi {
				amps = 0.6
			}
			a.current = append(a.current, amps+0.003*d.rng.NormFloat64())
			return d.x + c.shift(d, amps)
		}
		sweep := (a.hi-a.lo)/a.rate + 3
		for range 4 {
			a.run(12, sweep).run(-12, sweep)
		}
		got, err := Examine(a.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		f := finding(got, DriveShift)
		if found := f != nil && f.Form == withCurrent; found && f.Strength > 0.3 != c.want || !found && c.want {
			t.Errorf("%s: found %v: %s", c.name, found, say(got, Judge(got).Verdict))
			continue
		}
		if c.want && math.Abs(f.value(perAmpere)-c.ohms) > 0.2*c.ohms {
			t.Errorf("%s: %.3f V/A, want %.2f", c.name, f.value(perAmpere), c.ohms)
		}
		if v := Judge(got).Verdict; (v.Chances[0].Fault == WiringControl) != c.want {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
