package main

import (
	"strings"
	"testing"

	"threewire/fixtures"
)

// Places of a truth stand in shares of the travel and as the picture reads, in volts or a
// converter's counts; ways of a door in plain words.
func TestTruthPlaces(t *testing.T) {
	truth := &fixtures.Truth{Fault: "binding", Component: fixtures.Door, Variant: "drags over a stretch", Decidable: true,
		Shown: fixtures.TrueShown{Low: 0.5, High: 4.5}, Front: fixtures.TrueFront{PerVolt: 1},
		Binding: &fixtures.TrueZone{FromPercent: 25, ToPercent: 50, Direction: "both", Slowdown: 0.46}}
	for _, c := range []struct {
		per  float64
		way  string
		want string
	}{
		{1, "both", "drags from 25 to 50 % of the travel (1.50 to 2.50 V), and takes 46 % of the speed there, in both directions"},
		{204.6, "rising", "drags from 25 to 50 % of the travel (307 to 512 counts), and takes 46 % of the speed there, while the reading is rising"},
	} {
		truth.Front.PerVolt, truth.Binding.Direction = c.per, c.way
		if got := strings.Join(wherein(truth), "; "); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	truth = &fixtures.Truth{Fault: "brush-stall", Component: fixtures.Motor, Variant: "burnt segment",
		Shown: truth.Shown, Front: fixtures.TrueFront{PerVolt: 1}, Why: "one stall is no pattern",
		Stalls: []fixtures.TrueStall{{From: 1, To: 2, Percent: 100, Against: "high stop"}, {From: 4, To: 4.6, Percent: -0.3, Against: "nothing"}}}
	a := toldTruth(truth)
	if want := "burnt segment; stands under drive with nothing in its way once, from 4.0 to 4.6 s at 0 % of the travel (0.49 V). This capture alone does not decide it: one stall is no pattern."; a.Text != want || a.Fault.String() != fixtures.Motor {
		t.Errorf("%s: %q, want %q", a.Fault, a.Text, want)
	}
}
