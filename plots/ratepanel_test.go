package plots

import (
	"math"
	"testing"

	"threewire/analyze"
)

// A line may bridge one missing cell, not places that were never passed.
func TestPassed(t *testing.T) {
	p := &analyze.Profile{}
	for _, at := range []float64{1, 1.1, 1.3, 1.4, 1.8, 2.5, 2.6} {
		p.Points = append(p.Points, analyze.ProfilePoint{Position: at, Rate: 0.5})
	}
	p.Points = append(p.Points, analyze.ProfilePoint{Position: 2.7, Rate: math.NaN()})
	var got []int
	for _, run := range passed(p) {
		got = append(got, len(run))
	}
	want := []int{4, 1, 2}
	if len(got) != len(want) {
		t.Fatalf("stretches of %v points, want %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("stretches of %v points, want %v", got, want)
		}
	}
	if passed(&analyze.Profile{}) != nil {
		t.Error("an empty profile has a stretch")
	}
}
