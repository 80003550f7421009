package analyze

import (
	"math"
	"testing"
)

// scaledPasses draws four passes, the last cut short, each stop pressed; k is the scale of the
// reading about zero at a time, and the draft's own speed and block do the rest.
func scaledPasses(seed uint64, k func(t float64) float64) *draft {
	d := newDraft(seed)
	d.read = func(d *draft) float64 { return k(d.t) * d.x }
	return d.run(0, 1).run(12, 6.5).run(0, 0.5).run(-12, 6.5).run(0, 0.5).run(12, 6.5).run(0, 0.5).run(-12, 4)
}

// A reading that shrinks from pass to pass by a few percent shrinks its pace as well, up
// and down: the scale, and no obstacle before the stop. A stop that comes nearer leaves
// the pace as it was, a motor that tires reaches its stops.
func TestScaleByPace(t *testing.T) {
	t.Parallel()
	same := func(float64) float64 { return 1 }
	for seed := range uint64(3) {
		d := scaledPasses(seed, func(t float64) float64 { return 1 - 0.06*math.Min(1, t/20) })
		got, v := look(t, d)
		if f := formed(got, SpanDrift, byPace); f == nil || v.Conclusion != FeedbackSensor {
			t.Errorf("seed %d, a scale that shrinks: %s", seed, say(got, v))
		}

		d = newDraft(seed)
		d.block = func(d *draft, dir float64) bool { return dir > 0 && d.t > 15 && d.x > 4.25 }
		d.run(0, 1).run(12, 6.5).run(0, 0.5).run(-12, 6.5).run(0, 0.5).run(12, 6.5).run(0, 0.5).run(-12, 4)
		if got, v := look(t, d); formed(got, SpanDrift, byPace) != nil || v.Conclusion == FeedbackSensor {
			t.Errorf("seed %d, an obstacle before the stop: %s", seed, say(got, v))
		}

		d = newDraft(seed)
		d.speed = func(d *draft, _ float64) float64 { return 1 - 0.08*math.Min(1, d.t/20) }
		d.run(0, 1).run(12, 6.5).run(0, 0.5).run(-12, 6.5).run(0, 0.5).run(12, 6.5).run(0, 0.5).run(-12, 4)
		if got, v := look(t, d); formed(got, SpanDrift, byPace) != nil || v.Conclusion == FeedbackSensor {
			t.Errorf("seed %d, a motor that slows a little: %s", seed, say(got, v))
		}

		// From one moment on both at once, as where a door comes off.
		off := func(d *draft) bool { return d.t > 14.2 }
		d = newDraft(seed)
		d.block = func(d *draft, dir float64) bool { return !off(d) && dir > 0 && d.x > 4.25 }
		d.speed = func(d *draft, _ float64) float64 {
			if off(d) {
				return 1.06
			}
			return 1
		}
		d.run(0, 1).run(12, 6).run(0, 0.5).run(-12, 6.5).run(0, 0.5).run(12, 6.5).run(0, 0.5).run(-12, 4)
		if got, v := look(t, d); formed(got, SpanDrift, byPace) != nil || v.Conclusion == FeedbackSensor {
			t.Errorf("seed %d, further and faster at once: %s", seed, say(got, v))
		}

		if got, v := look(t, scaledPasses(seed, same)); formed(got, SpanDrift, byPace) != nil || v.Conclusion != NoFault {
			t.Errorf("seed %d, nothing of the sort: %s", seed, say(got, v))
		}
	}
}

// What a slope proves comes from the passes and from what even ones differ by; a pace that
// changes by more than the stops is no surer sign.
func TestAgainstTravel(t *testing.T) {
	t.Parallel()
	x := []float64{0.03, -0.03, 0.03, -0.03}
	slope, off, p := againstTravel(x, []float64{0, 0, 0, 0})
	if slope != 0 || math.Abs(off-math.Sqrt(2.0/3)*evenStrokes/0.06) > 1e-9 || p > 0.001 {
		t.Errorf("a scale: slope %g off %g p %g", slope, off, p)
	}
	if _, _, q := againstTravel(x, x); math.Abs(q-0.5) > 1e-9 {
		t.Errorf("a travel: p %g", q)
	}
	if _, _, q := againstTravel(x, []float64{-0.03, 0.03, -0.03, 0.03}); q != p {
		t.Errorf("a pace that changes by more: p %g, want %g", q, p)
	}
	if _, _, q := againstTravel([]float64{0, 0}, []float64{0, 0}); q != 1 {
		t.Errorf("stops that stay: p %g", q)
	}
}

// Some other load on the same ground puts 30 mV on the reading while it is on, at either
// stop alike: that is no scale.
func TestOffsetIsNoScale(t *testing.T) {
	t.Parallel()
	on := duringAny([2]float64{12, 7}, [2]float64{26, 7}, [2]float64{40, 30})
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.lo, d.hi, d.x, d.rate, d.noise = 2.8, 3.6, 3.1, 0.12, 0.001
		d.read = func(d *draft) float64 {
			if on(d.t) {
				return d.x + 0.03
			}
			return d.x
		}
		d.run(0, 1)
		for range 4 {
			d.run(-12, 8).run(0, 0.5).run(12, 8).run(0, 0.5)
		}
		if got, v := look(t, d); finding(got, SpanDrift) != nil || finding(got, Jam) != nil || v.Conclusion != NoFault {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}
