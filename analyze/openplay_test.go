package analyze

import (
	"math"
	"testing"
)

// A motor that starts, runs light through the play of its gears while the shaft waits, and
// then takes up the load by and by; one whose circuit opens just after the start draws as
// one that starts when it closes again. (Drawn.)
func TestMotorRunsLightThroughPlay(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		opens bool
	}{
		{"play", false},
		{"the circuit opens", true},
	} {
		d := newDraft(5)
		d.noise = 0.003
		var amps []float64
		since := -1.0
		waits := func(d *draft) bool { return since >= 0 && d.t-since > 0.04 && d.t-since < 0.25 }
		d.block = func(d *draft, dir float64) bool {
			if dir == 0 {
				since = -1
			} else if since < 0 {
				since = d.t
			}
			return since >= 0 && d.t-since < 0.25
		}
		d.read = func(d *draft) float64 {
			i := 0.0
			switch past := d.t - since - 0.25; {
			case d.volts == 0:
			case waits(d):
				i = 0.004
				if c.opens {
					i = 0
				}
			case past < 0: // the inrush
				i = 0.35
			case d.x == d.lo || d.x == d.hi:
				i = 0.5
			case c.opens:
				i = 0.2 + 0.15*math.Exp(-past/0.04)
			default:
				i = 0.2 * (1 - math.Exp(-past/0.04))
			}
			amps = append(amps, i+0.002*d.rng.NormFloat64())
			return d.x
		}
		d.run(0, 1)
		for range 3 {
			d.run(12, 2).run(0, 0.5).run(-12, 1.6).run(0, 0.5)
		}
		tr := (&circuit{draft: d, current: amps}).trace()
		got, err := Examine(tr, Defaults())
		if err != nil {
			t.Fatal(err)
		}
		if f := finding(got, Broken); (f != nil) != c.opens {
			t.Errorf("%s: %s", c.name, say(got, Judge(got).Verdict))
		}
	}
}

// A load that drives the motor along takes its current to nothing one way: no current that
// way is no open circuit. (Drawn.)
func TestLoadThatHelpsOneWay(t *testing.T) {
	t.Parallel()
	d := newDraft(8)
	var amps []float64
	since := -1.0
	d.block = func(d *draft, dir float64) bool {
		if dir == 0 {
			since = -1
		} else if since < 0 {
			since = d.t
		}
		return since >= 0 && d.t-since < 0.15 // play
	}
	d.read = func(d *draft) float64 {
		i := 0.0
		switch {
		case d.volts == 0:
		case d.t-since < 0.02:
			i = 0.3
		case d.x == d.lo && d.volts < 0 || d.x == d.hi && d.volts > 0:
			i = 0.5
		case d.volts < 0:
			i = 0.02
		default:
			i = 0.2
		}
		amps = append(amps, i+0.005*d.rng.NormFloat64())
		return d.x
	}
	d.run(0, 1)
	for range 3 {
		d.run(12, 5).run(0, 0.5).run(-12, 2).run(0, 0.5).run(-12, 4).run(0, 0.5)
	}
	tr := (&circuit{draft: d, current: amps}).trace()
	got, err := Examine(tr, Defaults())
	if err != nil {
		t.Fatal(err)
	}
	if f := finding(got, Broken); f != nil {
		t.Error(say(got, Judge(got).Verdict))
	}
}

// A rotor that a pressed stop turns back makes nearly the volts that drove it, by and by and
// without a current: they are no drive. (Drawn.)
func TestVoltsThatGrowAreGenerated(t *testing.T) {
	t.Parallel()
	d := newDraft(4)
	d.dt = 0.002
	var amps []float64
	own := false
	d.read = func(d *draft) float64 {
		i := 0.0
		switch {
		case own || d.volts == 0:
		case d.x == d.lo && d.volts < 0 || d.x == d.hi && d.volts > 0:
			i = 0.5
		default:
			i = 0.15
		}
		amps = append(amps, i+0.002*d.rng.NormFloat64())
		return d.x
	}
	d.run(0, 1)
	for k := range 6 {
		dir := 1 - 2*float64(k%2)
		d.run(dir*12, 5.8)
		own = true
		for n := range 300 { // 0.6 s
			d.run(-dir*11*math.Sin(math.Pi*float64(n)/300), d.dt)
		}
		own = false
		d.run(0, 0.8)
	}
	tr := (&circuit{draft: d, current: amps}).trace()
	got, err := Examine(tr, Defaults())
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Moves) != 6 || finding(got, Broken) != nil {
		t.Errorf("%d moves; %s", len(got.Moves), say(got, Judge(got).Verdict))
	}
}
