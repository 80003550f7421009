package analyze

import (
	"math"
	"slices"
	"strings"
	"testing"

	"threewire/signal"
)

// drivenInVain draws drives of two seconds, a second apart, that no reading follows, with
// the motor's current since the last switching.
func drivenInVain(dt float64, unit string, current func(on bool, since float64) float64) *signal.Trace {
	d := newDraft(3)
	d.dt, d.block = dt, func(*draft, float64) bool { return true }
	d.x = 2.5
	var x []float64
	was, at := 0.0, math.Inf(-1)
	d.read = func(d *draft) float64 {
		if d.volts != was {
			was, at = d.volts, d.t-0.3*dt // rows never begin with the drive
		}
		x = append(x, current(d.volts != 0, d.t-at)*(1+0.005*d.rng.NormFloat64()))
		return d.x
	}
	d.run(0, 1)
	for range 3 {
		d.run(12, 2).run(0, 1).run(-12, 2).run(0, 1)
	}
	tr := d.trace()
	tr.Current = beside("current", unit, x)
	return tr
}

func formOfNoMotion(t *testing.T, tr *signal.Trace) (string, Verdict) {
	t.Helper()
	got, v := lookAt(t, tr)
	f := finding(got, NoMotion)
	if f == nil {
		t.Fatalf("no %s: %s", NoMotion, say(got, v))
	}
	return f.Form, v
}

// Amperes are amperes only where the file says so: 30 without a unit may be 30 mA. The
// inrush over the current that stays needs no unit.
func TestCurrentWithoutUnit(t *testing.T) {
	flat := func(level float64) func(bool, float64) float64 {
		return func(on bool, _ float64) float64 {
			if on {
				return level
			}
			return 0.001 * level
		}
	}
	running := func(level float64) func(bool, float64) float64 {
		return func(on bool, since float64) float64 {
			if on {
				return level * (1 + 4*math.Exp(-since/0.015))
			}
			return 0.001 * level
		}
	}
	for _, c := range []struct {
		name, unit string
		current    func(bool, float64) float64
		want       string
	}{
		{"1.2 A", "A", running(1.2), "stall current: more than such"},
		{"120 of something", "", running(120), "running current"},
		{"0.6 of something", "", running(0.6), "running current"},
		{"0.005 A", "A", flat(0.005), "no current"},
		{"0.005 of something", "", flat(0.005), "stall current: the shaft"},
	} {
		form, v := formOfNoMotion(t, drivenInVain(0.005, c.unit, c.current))
		said := slices.ContainsFunc(v.Unknown, func(s string) bool { return strings.Contains(s, "not known in amperes") })
		if !strings.HasPrefix(form, c.want) || said != (c.unit == "") {
			t.Errorf("%s: %q, said that the unit is not known: %t", c.name, form, said)
		}
	}
}
