package analyze

import (
	"math"
	"testing"
)

// At the stops a motor that is held draws what it draws in the first moment of a start.
// Gears that let go under load leave it less from the first moment on; a control that
// cuts it back, or copper that warms, lets it rise first or takes little. (Drawn.)
func TestCurrentAtStopsOfGearsThatLetGo(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		share func(stood float64) float64 // of the current of a start, so long after the stand began
		slips bool
	}{
		{"gears let go", func(float64) float64 { return 0.5 }, true},
		{"held", func(float64) float64 { return 1 }, false},
		{"warm", func(s float64) float64 { return 0.8 - 0.02*s }, false},
		{"cut back by the control", func(s float64) float64 {
			if s < 0.1 {
				return 1
			}
			return 0.5
		}, false},
	} {
		a := newAmmeter(5)
		stood := 0.0
		a.amps = func(d *draft) float64 {
			if d.x != d.lo && d.x != d.hi {
				stood = 0
				return math.NaN()
			}
			stood += d.dt
			return a.held * c.share(stood)
		}
		a.sweeps(3)
		tr := a.trace()
		got, err := Examine(tr, Defaults())
		if err != nil {
			t.Fatal(err)
		}
		if n := slips(got); (n > 0) != c.slips {
			t.Errorf("%s: slipping gears found %d times: %v", c.name, n, got.Findings)
		}
	}
}

// Brushes that pass less one way pass less at the starts and at the stop of that way
// alike: a motor that is held there draws what its own starts draw. (Drawn.)
func TestCurrentAtStopsByTheStartsOfTheSameWay(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		share float64 // of the current of its own way's start, at the low stop
		slips bool
	}{{"held", 1, false}, {"gears let go", 0.5, true}} {
		a := newAmmeter(5)
		a.amps = func(d *draft) float64 {
			own := a.held
			if d.volts < 0 {
				own *= 0.55
			}
			switch {
			case a.since < 0.05 || d.x == d.hi:
				return own
			case d.x == d.lo:
				return own * c.share
			}
			return math.NaN()
		}
		a.x = 3
		a.run(0, 1).run(12, 3).run(0, 0.5)
		a.run(-12, 6.5).run(0, 0.5).sweeps(3)
		a.run(12, 6.5).run(0, 0.5)
		// The inrush of the slower way is its own.
		for i := range a.drive {
			if a.drive[i] < -6 {
				a.current[i] = math.Min(a.current[i], 0.55*a.held)
			}
		}
		got, err := Examine(a.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		if n := slips(got); (n > 0) != c.slips {
			t.Errorf("%s: slipping gears found %d times: %v", c.name, n, got.Findings)
		}
	}
}
