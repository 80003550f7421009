package analyze

import (
	"math"
	"testing"
)

// Two strokes that differ by a quarter in what they read, and by nothing in time, are a
// scale's where rows are short beside them; where a stroke is five rows long a quarter of
// the time is lost in them.
func TestStrokesOfFewRows(t *testing.T) {
	t.Parallel()
	x, y := []float64{0.13, -0.13}, []float64{0, 0}
	long, ok := strokeTimes{off: evenStrokes}.few(x, y)
	if !ok || long.travel > 0.01 {
		t.Errorf("strokes of many rows: a travel's at %.2g", long.travel)
	}
	short, ok := strokeTimes{off: 0.2}.few(x, y)
	if !ok || short.travel < 0.1 {
		t.Errorf("strokes of five rows: a travel's at %.2g only", short.travel)
	}
	// Drawn: a shaft that a stuck door lets go a tenth of a volt.
	d := newDraft(31)
	d.dt, d.noise, d.lo, d.hi, d.x, d.quantum = 0.04, 0.002, 1.4, 1.507, 1.4, 0.005
	d.rate = 0.62
	d.run(0, 1)
	for i := range 4 {
		d.run(12, 0.6+0.013*float64(i)).run(0, 0.5).run(-12, 0.6).run(0, 0.41)
	}
	got := examined(t, d, false)
	for _, f := range got.Findings {
		if f.Form == byTravelTime {
			t.Errorf("strokes of a few rows tell of a scale: %s", say(got, Judge(got).Verdict))
		}
	}
	if s := got.Step; math.Abs(s-0.04) > 1e-9 {
		t.Errorf("step %g", s)
	}
}

// A stroke that sets out from where the first nudges of a control moved nothing is none from
// stop to stop: that it takes as long as one from the stop to an obstacle tells no scale.
// From the stop itself, strokes that take as long and read less do.
func TestStrokesSetOutFromAStop(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.noise, d.rate, d.x = 0.01, 0.1, 2
		d.block = func(d *draft, dir float64) bool { return d.t < 4 || d.t > 66 && dir < 0 && d.x < 2.25 }
		d.speed = func(d *draft, _ float64) float64 { // a line that is bent
			if d.x > 2.25 {
				return 1.5
			}
			return 1
		}
		d.run(0, 1).run(-12, 0.5).run(0, 0.4).run(12, 0.5).run(0, 0.4).run(0, 1.5)
		d.run(-12, 18).run(0, 0.5).run(12, 43).run(0, 0.5).run(-12, 18).run(0, 0.5).run(12, 8).run(0, 0.5)
		got, v := look(t, d)
		for _, f := range got.Findings {
			if f.Form == byTravelTime {
				t.Errorf("seed %d, nudged: %s", seed, say(got, v))
			}
		}
		s := newDraft(seed)
		s.noise = 0.01
		k := 1.0
		s.read = func(d *draft) float64 { return k * d.x }
		for range 4 {
			s.run(12, 6).run(0, 0.5).run(-12, 6).run(0, 0.5)
			k *= 0.9
		}
		if got, v := look(t, s); finding(got, SpanDrift) == nil {
			t.Errorf("seed %d, a scale that shrinks: %s", seed, say(got, v))
		}
	}
}
