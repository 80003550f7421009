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
	t.Parallel()
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

// A current that stays as it began is that of a blocked motor only where the inrush of
// one that turns would have shown. The motor that turns is drawn by its equation,
// I = Irun + (Istall - Irun) exp(-t/T), through the filter of a clamp, sampled.
func TestFlatCurrentIsAStallOnlyWhereAnInrushWouldShow(t *testing.T) {
	t.Parallel()
	// filtered is a current through a filter of time constant f, both in s: the sum of
	// steps of 0.1 ms.
	filtered := func(f float64, i func(since float64) float64) func(bool, float64) float64 {
		rise := []float64{0}
		for k := range 3000 {
			y := rise[k]
			rise = append(rise, y+(i(1e-4*float64(k))-y)*math.Min(1, 1e-4/f))
		}
		level := rise[len(rise)-1]
		return func(on bool, since float64) float64 {
			if !on {
				return level * math.Exp(-since/f)
			}
			return rise[min(len(rise)-1, int(since/1e-4))]
		}
	}
	blocked := func(float64) float64 { return 0.3 }
	turning := func(stall, T float64) func(float64) float64 {
		return func(t float64) float64 { return 0.1 + (stall-0.1)*math.Exp(-t/T) }
	}
	for _, c := range []struct {
		name   string
		dt, f  float64
		amps   func(float64) float64
		want   string
		notSay string
	}{
		{"blocked, 1 ms", 0.001, 1e-4, blocked, "stall", ""},
		{"blocked, 5 ms", 0.005, 1e-4, blocked, "stall", ""},
		{"blocked, 10 ms", 0.01, 1e-4, blocked, "stall", ""},
		{"blocked, 18 ms", 0.018, 1e-4, blocked, "", ""},
		{"blocked, 5 ms, slow clamp", 0.005, 0.05, blocked, "", ""},
		{"turning, 5 ms", 0.005, 1e-4, turning(0.5, 0.012), "running", ""},
		{"turning under a heavy load, 5 ms", 0.005, 1e-4, turning(0.25, 0.012), "", "stall"},
		{"turning under a heavy load, 10 ms", 0.01, 1e-4, turning(0.25, 0.008), "", "stall"},
		{"turning, 18 ms", 0.018, 1e-4, turning(0.4, 0.008), "", "stall"},
		{"turning, 5 ms, slow clamp", 0.005, 0.05, turning(0.3, 0.012), "", "stall"},
		{"turning, 10 ms, slow clamp", 0.01, 0.03, turning(0.25, 0.01), "", "stall"},
		{"turning, 1 ms, slow clamp", 0.001, 0.03, turning(0.25, 0.01), "", "stall"},
	} {
		tr := drivenInVain(c.dt, "A", filtered(c.f, c.amps))
		form, _ := formOfNoMotion(t, tr)
		if got, v := lookAt(t, tr); form == "" && !strings.Contains(finding(got, NoMotion).Because, "does not tell a motor that turns from one that is blocked") {
			t.Errorf("%s: without a word on the current: %s", c.name, say(got, v))
		}
		if !strings.HasPrefix(form, c.want) || c.notSay != "" && strings.HasPrefix(form, c.notSay) || c.want == "" && c.notSay == "" && form != "" {
			t.Errorf("%s: %q", c.name, form)
		}
	}
}
