package analyze

import (
	"math"
	"testing"
)

// Strokes that take as long and read less: the scale. Strokes that end earlier
// and take less: the way. Strokes that read as much and take longer: the motor.
func TestScaleByTravelTimeDrawn(t *testing.T) {
	t.Parallel()
	// stroke is the number of the sweep up that runs or ran last, from 0.
	stroke := func(d *draft) float64 { return math.Floor(d.t / (2 * ((d.hi-d.lo)/d.rate + 1.5))) }
	checkDrawn(t, []drawnCase{
		{"a scale that jumps to and fro from stroke to stroke", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				k := []float64{1, 0.8, 0.75, 0.9}[int(stroke(d))%4]
				return d.lo + k*(d.x-d.lo)
			}
			return d.sweeps(4)
		}, FeedbackSensor, SpanDrift},
		{"a motor that tires", func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, _ float64) float64 { return 1 / (1 + 0.12*stroke(d)) }
			d.run(0, 1)
			for range 4 {
				d.run(12, 8.5).run(0, 0.5).run(-12, 8.5).run(0, 0.5)
			}
			return d
		}, Motor, Heating},
	}, SpanDrift)
}

// The same ends, reached the earlier the less is read: the travel changes.
func TestTravelByStrokeTimes(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		period := 2 * ((d.hi-d.lo)/d.rate + 1.5)
		d.block = func(d *draft, dir float64) bool { return dir > 0 && d.x > 4.4-0.4*math.Floor(d.t/period) }
		got, v := look(t, d.sweeps(4))
		if v.Conclusion == FeedbackSensor || showsKind(got, SpanDrift) || !showsKind(got, TravelChange) {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}

// A drift that has come to rest is one still.
func TestToRest(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		level []float64
		want  int
	}{
		{[]float64{4.18, 4.09, 4.02, 4.021}, 3},
		{[]float64{4.18, 4.09, 4.02, 4.021, 4.019}, 3},
		{[]float64{4.18, 4.181, 4.02}, 3},
		{[]float64{4, 4, 4}, 1},
		{nil, 0},
	} {
		if got := len(toRest(c.level, 0.005)); got != c.want {
			t.Errorf("%v: %d visits left, want %d", c.level, got, c.want)
		}
	}
}
