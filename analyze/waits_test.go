package analyze

import (
	"math"
	"testing"
)

// A tooth that is gone makes the shaft wait for the same travel at one place. (Drawn.)
func TestMissingToothFewPasses(t *testing.T) {
	t.Parallel()
	const at = 2.203 // V, off the shaft's own steps
	// held stands at a place, in each crossing, for what the given says, in s.
	held := func(d *draft, seconds func(pass int) float64) func(d *draft, dir float64) bool {
		was, until, pass := math.NaN(), -1.0, 0
		return func(d *draft, dir float64) bool {
			if dir != 0 && (was-at)*(d.x-at) <= 0 && was != d.x {
				until = d.t + seconds(pass)
				pass++
			}
			was = d.x
			return d.t < until
		}
	}
	alike := func(s float64) func(int) float64 { return func(int) float64 { return s } }
	draw := func(seed uint64, n int, change func(d *draft)) *Capture {
		d := newDraft(seed)
		d.noise = 0.008
		change(d)
		d.sweeps(n)
		return examineDraft(t, d)
	}
	smear := func(d *draft) float64 { // half as steep over 0.3 V, then as much steeper
		switch u := d.x - at; {
		case u > 0 && u <= 0.15:
			return at + 0.2*u
		case u > 0.15 && u < 0.3:
			return at + 0.03 + 1.8*(u-0.15)
		}
		return d.x
	}
	worn := func(d *draft) float64 { // less there, and made up for far from it
		return d.x - math.Max(0, math.Min(0.09, 0.9*(d.x-at))) + math.Max(0, math.Min(0.09, 3*(d.x-3.2)))
	}
	for _, c := range []struct {
		name   string
		change func(d *draft)
		sweeps int
		found  bool
	}{
		{"tooth, two passes", func(d *draft) { d.block = held(d, alike(0.12)) }, 1, true},
		{"tooth, six passes", func(d *draft) { d.block = held(d, alike(0.12)) }, 3, true},
		{"two teeth, six passes", func(d *draft) { d.block = held(d, alike(0.25)) }, 3, true},
		{"tooth that goes in the fourth pass", func(d *draft) {
			d.block = held(d, func(pass int) float64 { return 0.12 * float64(pass/3) / math.Max(1, float64(pass/3)) })
		}, 4, true},
		{"sound", func(*draft) {}, 3, false},
		{"a catch that holds now longer, now shorter", func(d *draft) {
			d.block = held(d, func(pass int) float64 { return []float64{0.1, 0.22, 0.13, 0.3}[pass%4] })
		}, 3, false},
		{"one pass only", func(d *draft) {
			d.block = held(d, func(pass int) float64 { return 0.12 * float64((pass+3)/4%2) * float64(pass%4/3) })
		}, 2, false},
		{"a worn track makes up for it elsewhere", func(d *draft) { d.read = worn }, 3, false},
		{"a smeared track makes up for it", func(d *draft) { d.read = smear }, 3, false},
		{"a reading that is held leaps on", func(d *draft) {
			d.read = func(d *draft) float64 {
				if d.x > at && d.x < at+0.1 {
					return at
				}
				return d.x
			}
		}, 3, false},
		{"a door that drags over a tenth of the way", func(d *draft) {
			d.speed = func(d *draft, _ float64) float64 {
				if math.Abs(d.x-at) < 0.2 {
					return 0.75
				}
				return 1
			}
		}, 3, false},
		{"a stop that gives", func(d *draft) {
			d.speed = func(d *draft, dir float64) float64 {
				if dir > 0 && d.x > 4.4 {
					return 0.3
				}
				return 1
			}
		}, 3, false},
		{"a door that binds over a twentieth of the way", func(d *draft) {
			d.speed = func(d *draft, _ float64) float64 {
				if math.Abs(d.x-at) < 0.1 {
					return 0.3
				}
				return 1
			}
		}, 3, false},
		{"beside a worn track", func(d *draft) {
			d.read = func(d *draft) float64 {
				if math.Abs(d.x-at) < 0.15 {
					return d.x + 0.08*d.rng.NormFloat64()
				}
				return d.x
			}
		}, 3, false},
		{"a filter with a dead band", func(d *draft) {
			last := 0.5
			d.read = func(d *draft) float64 {
				if math.Abs(d.x-last) > 0.06 {
					last = d.x
				}
				return last
			}
		}, 3, false},
		{"coarse converter", func(d *draft) { d.quantum = 0.05 }, 3, false},
		{"slow logger", func(d *draft) { d.dt = 0.1 }, 3, false},
		{"halts that come by time", func(d *draft) {
			d.block = func(d *draft, _ float64) bool { return math.Mod(d.t, 2.7) < 0.12 }
		}, 3, false},
	} {
		got := draw(1, c.sweeps, c.change)
		found := false
		for _, f := range got.Findings {
			found = found || f.Kind == GearSlip && f.Form == waitsAlike
		}
		v := Judge(got).Verdict
		if found != c.found || c.found && v.Conclusion != Motor {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// Passes that set out close by fall behind there while they get under way, and so do
// those that leave a soft stop: alone they show no tooth.
func TestWaitsOfPassesThatSetOut(t *testing.T) {
	t.Parallel()
	const cells, place, half = 60, 30, 1
	pass := func(from int) lags {
		q := dwellPass{y: make([]float64, cells)}
		for c := range q.y {
			switch {
			case c < from:
				q.y[c] = math.NaN()
			case c == place:
				q.y[c] = 4
			default:
				q.y[c] = 1 + 0.01*float64(c%3)
			}
		}
		return q.lagsOf(half, Up)
	}
	far, near := 5, place-2
	for _, c := range []struct {
		name string
		from []int
		want bool
	}{
		{"all come at a pace", []int{far, far}, true},
		{"one sets out close by", []int{far, near}, true},
		{"both set out close by", []int{near, near}, false},
		{"one of three comes at a pace", []int{near, far, near}, false},
	} {
		var all []lags
		for _, from := range c.from {
			all = append(all, pass(from))
		}
		if p := waitsAt(all, place, half, 1); len(p.pass) != len(c.from) || p.shown() != c.want {
			t.Errorf("%s: %d of %d passes wait, shown %v", c.name, len(p.pass), len(c.from), p.shown())
		}
	}
}

func examineDraft(t *testing.T, d *draft) *Capture {
	t.Helper()
	got, err := Examine(d.trace(), Defaults())
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// What a door that pulls makes the gears take up after each turn is no tooth: it comes soon
// after the shaft was turned round, in every pass. Far from there it is one.
func TestTakesUpPlayAfterATurn(t *testing.T) {
	t.Parallel()
	w := &work{span: Interval{0.5, 4.5}, moves: []Move{{Start: 0.5}, {Start: 0.52}, {Start: 2}}}
	p := &dwellProfile{from: 0.5, cell: 0.02}
	for _, c := range []struct {
		cell, last int // of the place; the last of the moves that show it
		want       bool
	}{
		{13, 1, true},
		{60, 1, false},
		{13, 2, false},
	} {
		q := waitPlace{at: []int{c.cell, c.cell}, pass: []*lags{{move: 0}, {move: c.last}}}
		if got := w.takesPlayThere(q, p); got != c.want {
			t.Errorf("cell %d, move %d: %v", c.cell, c.last, got)
		}
	}
}
