package plots

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"threewire/analyze"
	"threewire/signal"
)

// An hour of noise with tens of thousands of moves and thousands of sweeps,
// on the largest page: the SVG stays small all the same.
func TestCrowdedSVGStaysSmall(t *testing.T) {
	fig := drawn(false)
	const n, dt = 90_000, 0.04
	rng := rand.New(rand.NewPCG(1, 2))
	tr := &signal.Trace{Source: "crowd.csv", Step: dt, RowStep: dt, RowsPerBin: 1, Time: make([]float64, n)}
	noise := func(level, size float64) signal.Series {
		v := make([]float32, n)
		for i := range v {
			v[i] = float32(level + size*rng.NormFloat64())
		}
		return signal.Series{Unit: "V", Mean: v, Min: v, Max: v}
	}
	for i := range tr.Time {
		tr.Time[i] = float64(i) * dt
		if i%12 == 0 {
			tr.Gaps = append(tr.Gaps, signal.Span{From: tr.Time[i] - dt/2, To: tr.Time[i] - dt/4})
		}
	}
	reference, supply, current := noise(5, 0.1), noise(13, 0.5), noise(0, 0.2)
	tr.Drive, tr.Feedback, tr.Reference, tr.Supply, tr.Current = noise(0, 8), noise(2.5, 1), &reference, &supply, &current
	c := *fig.Capture
	c.Moves, c.Sweeps = nil, nil
	for i := range 20_000 {
		m := analyze.Move{Time: analyze.Interval{From: float64(i) * 0.18, To: float64(i)*0.18 + 0.1}, Polarity: 1, Direction: analyze.Up}
		if i%2 == 1 {
			m.Polarity, m.Direction = -1, analyze.Down
		}
		c.Moves = append(c.Moves, m)
	}
	for i := range 5000 {
		d := analyze.Up
		if i%2 == 1 {
			d = analyze.Down
		}
		c.Sweeps = append(c.Sweeps, analyze.Sweep{Time: c.Moves[4*i].Time, Direction: d, Low: 0.5 + 0.1*rng.Float64(), High: 4.4 + 0.1*rng.Float64(), Transit: 5 + rng.Float64(), Stalled: true, FromStall: i > 0})
	}
	fig.Trace, fig.Capture = tr, &c
	for _, o := range []Options{{}, {Use: Print, Panels: []Panel{Time, Rate, Sweeps}}, {Width: 2000, Height: 1500, Panels: []Panel{Time}}} {
		var b bytes.Buffer
		if err := Draw(&b, "svg", []Figure{fig}, o); err != nil || b.Len() > 300_000 {
			t.Errorf("%v: %v, %d bytes, at most 300 000", o.Panels, err, b.Len())
		}
	}
	var sheet []Figure
	for range MaxFigures {
		sheet = append(sheet, fig)
	}
	var b bytes.Buffer
	if err := Draw(&b, "svg", sheet, Options{Use: Print, Panels: []Panel{Contact}}); err != nil || b.Len() > 300_000 {
		t.Errorf("contact sheet: %v, %d bytes, at most 300 000", err, b.Len())
	}
}

// The odd one of many sweeps must be among those drawn.
func TestTellingSweeps(t *testing.T) {
	sw := make([]analyze.Sweep, 5000)
	for i := range sw {
		sw[i] = analyze.Sweep{Low: 0.5, High: 4.5, Transit: 5}
	}
	sw[1234].Low, sw[2345].High, sw[3456].Transit = 0.1, 4.9, 9
	has := map[int]bool{}
	shown := tellingSweeps(sw)
	for _, i := range shown {
		has[i] = true
	}
	if !has[1234] || !has[2345] || !has[3456] || len(shown) > 250 {
		t.Errorf("%d sweeps shown; lowest %v, highest %v, slowest %v among them", len(shown), has[1234], has[2345], has[3456])
	}
	if got := tellingSweeps(sw[:200]); len(got) != 200 {
		t.Errorf("%d of 200 sweeps shown", len(got))
	}
}

// What slim leaves out lies within its tolerance of what it keeps, and the
// extremes stay.
func TestSlim(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, size := range []float64{0, 0.02, 0.3, 40} {
		var p []pt
		for i := range 4000 {
			p = append(p, pt{float64(i) * 0.2, 100 + size*rng.NormFloat64()})
		}
		p[777].y = 300
		q := slim(p, 0.06)
		if q[0] != p[0] || q[len(q)-1] != p[len(p)-1] {
			t.Errorf("size %g: the ends are gone", size)
		}
		k := 0
		peak := false
		for _, v := range p {
			for k+1 < len(q) && q[k+1].x < v.x {
				k++
			}
			if !near([]pt{v}, q[k], q[min(k+1, len(q)-1)], 0.06+1e-9) {
				t.Fatalf("size %g: %v lies off the line kept", size, v)
			}
		}
		for _, v := range q {
			peak = peak || v.y == 300
		}
		if !peak {
			t.Errorf("size %g: the peak is gone", size)
		}
		if size <= 0.02 && len(q) > 400 {
			t.Errorf("size %g: %d of %d points kept of a flat line", size, len(q), len(p))
		}
	}
	if got := slim([]pt{{0, 0}, {1, math.NaN()}, {2, 0}}, 1); len(got) < 2 {
		t.Errorf("got %v", got)
	}
}

// Cutting keeps every stretch inside the heights and nothing beyond.
func TestWithin(t *testing.T) {
	for _, c := range []struct {
		in   []pt
		want [][]pt
	}{
		{nil, nil},
		{[]pt{{0, 1}}, [][]pt{{{0, 1}}}},
		{[]pt{{0, 0}, {4, 4}}, [][]pt{{{1, 1}, {2, 2}}}},
		{[]pt{{0, 3}, {1, 3}, {2, 3}}, nil},
		{[]pt{{0, 1}, {1, 3}, {2, 3}, {3, 1}, {4, 1}}, [][]pt{{{0, 1}, {0.5, 2}}, {{2.5, 2}, {3, 1}, {4, 1}}}},
		{[]pt{{0, -9}, {1, 12}}, [][]pt{{{10. / 21, 1}, {11. / 21, 2}}}},
		{[]pt{{0, 2}, {1, 1}, {2, 2}}, [][]pt{{{0, 2}, {1, 1}, {2, 2}}}},
	} {
		got := within(c.in, 1, 2)
		if fmt.Sprintf("%.6v", got) != fmt.Sprintf("%.6v", c.want) {
			t.Errorf("%v: got %v, want %v", c.in, got, c.want)
		}
	}
}
