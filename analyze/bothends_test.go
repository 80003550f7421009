package analyze

import (
	"math"
	"testing"
)

// Two visits of each stop say nothing of a trend. That both stops read lower, one of
// them from beyond itself, says that the reading changed: no object, no seal and no
// push does that.
func TestBothStopsReadLower(t *testing.T) {
	t.Parallel()
	late := func(d *draft) float64 { return 1 - math.Exp(-d.t/15) }
	for _, c := range []struct {
		name  string
		read  func(d *draft) float64
		block func(d *draft, dir float64) bool
		want  bool
	}{
		{"a scale that shrinks", func(d *draft) float64 { return d.x * (1 - 0.1*late(d)) }, nil, true},
		{"a zero that falls", func(d *draft) float64 { return d.x - 0.18*late(d) }, nil, true},
		{"a push that gives out: both stops nearer", func(d *draft) float64 { return 2.5 + (d.x-2.5)*(1-0.02*late(d)) }, nil, false},
		{"an object before one stop, the other as it was", nil, func(d *draft, dir float64) bool { return dir > 0 && d.t > 14 && d.x > 4.35 }, false},
		{"nothing", nil, nil, false},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.read, d.block = c.read, c.block
			got := examineDraft(t, d.sweeps(2))
			if has := showsKind(got, SpanDrift); has != c.want {
				t.Errorf("%s, seed %d: a span that drifts: %v, expected %v", c.name, seed, has, c.want)
			}
		}
	}
}

// A control that works in short drives never stalls for long. Where it goes on pushing
// without getting further it has found the stop.
func TestShortPushesFindTheStop(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		drift float64 // of the high end, a share of the span a second
		want  bool
	}{
		{"an end that drifts", 0.0006, true},
		{"an end that stays", 0, false},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.read = func(d *draft) float64 { return 0.5 + (d.x-0.5)*(1-c.drift*d.t) }
			d.run(0, 1).run(12, 6).run(0, 0.5)
			for range 3 {
				d.run(-12, 6).run(0, 0.5).run(12, 4).run(0, 0.3).pulses(12, 0.15, 18).run(0, 1)
			}
			got := examineDraft(t, d)
			if has := showsKind(got, SpanDrift); has != c.want {
				t.Errorf("%s, seed %d: a span that drifts: %v, expected %v", c.name, seed, has, c.want)
			}
		}
	}
}

// A visit that goes back by more than its error is no steady change, whichever way the end
// went: both senses are tested alike.
func TestChangeThatGoesBack(t *testing.T) {
	t.Parallel()
	at := []float64{0, 10, 20, 30}
	for _, c := range []struct {
		level []float64
		want  bool
	}{
		{[]float64{1.0, 0.9, 0.8, 0.7}, true},
		{[]float64{0.7, 0.8, 0.9, 1.0}, true},
		{[]float64{1.0, 0.8, 0.95, 0.7}, false},
		{[]float64{0.7, 0.9, 0.75, 1.0}, false},
		{[]float64{1.0, 0.8, 0.82, 0.7}, true}, // within the error
	} {
		if e, steady := changeOf(&endSeries{x: at, level: c.level}, 0.01); steady != c.want {
			t.Errorf("%v: steady %v, expected %v (change %.2f)", c.level, steady, c.want, e.change)
		}
	}
}
