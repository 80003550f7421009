package analyze

import "testing"

// A place that reaches into the span is not told as lying outside of it.
func TestSpanShareOfAPlaceAtTheEdge(t *testing.T) {
	for _, c := range []struct {
		p    Interval
		want string
	}{
		{Interval{-6, 1.7}, " (from below the span to 2 % of it)"},
		{Interval{-6, 0.2}, " (below the span)"},
		{Interval{98, 106}, " (from 98 % of the span to above it)"},
		{Interval{99.9, 106}, " (above the span)"},
	} {
		if got := spanShare(c.p); got != c.want {
			t.Errorf("%v: %q, want %q", c.p, got, c.want)
		}
	}
}
