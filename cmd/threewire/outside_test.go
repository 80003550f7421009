package main

import (
	"testing"

	"threewire/analyze"
)

// Readings outside of the span are told with their share, noise about a stop is not.
func TestRowsOutsideTheSpanAreTold(t *testing.T) {
	span := analyze.Interval{From: 1, To: 4}
	v := make([]float32, 100)
	for i := range v {
		v[i] = 2.5
	}
	v[0], v[1] = 0.95, 4.05 // what a stop gives
	if got := outsideText(v, span, 2); got != "" {
		t.Errorf("at the stops: %q", got)
	}
	v[2], v[3], v[4] = 0.4, 0.6, 4.5
	if got, want := outsideText(v, span, 2), " (2 % of the rows lie below, to 0.40) (1 % of the rows lie above, to 4.50)"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
