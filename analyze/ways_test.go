package analyze

import "testing"

// A title does not say "only" of a direction while the passes counted beside it show both.
func TestOnlyOneWay(t *testing.T) {
	t.Parallel()
	w := &work{ref: 5, span: Interval{0.5, 4.5}}
	w.tr = newDraft(1).run(0, 1).trace()
	for up, want := range map[int]string{
		0: "Slow from 1.00 to 1.50 V (0 % of the span): 54 % of the speed elsewhere, in the only pass, going down only.",
		1: "Slow from 1.00 to 1.50 V (0 % of the span): 54 % of the speed elsewhere, in the only pass going down.",
	} {
		f := Finding{Kind: SlowZone, Direction: Down, Seen: 1, Passes: 1, Volts: Interval{1, 1.5}, Measures: []Measure{{"speed there over speed elsewhere", 0.54, ""}}}
		f.Title = w.title(&f)
		f.Measures = append(f.Measures, waysOf([2]int{1, up}, [2]int{1, 1})...)
		if f.bothWaysSeen(); f.Title != want {
			t.Errorf("%d of 1 up: %q, want %q", up, f.Title, want)
		}
	}
}
