package analyze

import "testing"

// A place beyond the span seen is told as such, never by a percentage below 0 or over 100.
func TestSpanShare(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		from, to float64
		want     string
	}{
		{28, 31, " (28 to 31 % of the span)"},
		{4, 4.4, " (4 % of the span)"},
		{-10, 0, " (below the span)"},
		{-6, -1, " (below the span)"},
		{-1, 5, " (0 to 5 % of the span)"},
		{-8, 12, " (from below the span to 12 % of it)"},
		{95, 108, " (from 95 % of the span to above it)"},
		{100, 108, " (above the span)"},
		{97, 101, " (97 to 100 % of the span)"},
		{-5, 105, " (all of the span and beyond)"},
	} {
		if got := spanShare(Interval{c.from, c.to}); got != c.want {
			t.Errorf("%g to %g: %q, want %q", c.from, c.to, got, c.want)
		}
	}
}

// Beside an end that drifts, a twentieth of its way at the other end is no part of it.
func TestTheOtherEndIsUnmoved(t *testing.T) {
	t.Parallel()
	w := &work{tr: newDraft(1).run(0, 1).trace()}
	for _, c := range []struct {
		low, high float64
		want      string
	}{
		{-0.26, 0.006, "low end down by 0.26 V over the capture, high end unmoved"},
		{-0.26, 0.02, "low end down by 0.26 V over the capture, high end up by 0.020 V over the capture"},
	} {
		f := &Finding{Measures: []Measure{{"low end drift", c.low, "V"}, {"high end drift", c.high, "V"}}}
		if got := w.driftWords(f); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// A pass that begins in a cell of the profile is no slow pass there; one that is held up
// there is.
func TestSlowestThrough(t *testing.T) {
	t.Parallel()
	d := newDraft(5).run(0, 1).run(12, 7).run(0, 1).run(-12, 3).run(0, 1).run(12, 5).run(0, 1).run(-12, 7)
	c, err := Examine(d.trace(), Defaults())
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range c.Profiles {
		for _, q := range p.Points {
			if q.Position < 0.8 || q.Position > 4.2 || q.Passes < 2 {
				continue
			}
			if v, ok := q.SlowestThrough(); ok && v < 0.85*q.Rate {
				t.Errorf("%s at %.2f V: slowest %.2f V/s beside %.2f", p.Direction, q.Position, v, q.Rate)
			}
		}
	}
	q := ProfilePoint{rates: []float64{0.8, 0.3, 0.1}, through: []float64{0.8, 0.3}, Slowest: 0.1}
	if v, ok := q.SlowestThrough(); !ok || v != 0.3 {
		t.Errorf("%v %v", v, ok)
	}
	if _, ok := (&ProfilePoint{rates: []float64{1}}).SlowestThrough(); ok {
		t.Error("a slow pass of none")
	}
}
