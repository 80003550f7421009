package analyze

import "testing"

// Beyond an end where the track is open the input floats to and fro: what falls back
// there are no teeth.
func TestNoTeethOffTheTrack(t *testing.T) {
	t.Parallel()
	w := &work{found: []Finding{
		{Kind: DeadSpot, Form: openBeyond, Direction: Down, Strength: 0.75, Measures: []Measure{{"edge", 0.62, "V"}}},
		{Kind: GearSlip, Strength: 1, Volts: Interval{0.02, 0.3}},
		{Kind: StickSlip, Strength: 1, Volts: Interval{0.1, 2}},
	}}
	w.joinOpenEnd()
	for i, want := range []float64{0.75, 0.2, 1} {
		if f := &w.found[i]; f.Strength != want || i > 0 && f.Event != "open end" {
			t.Errorf("%s: strength %g, event %q; expected %g, the open end's", f.Kind, f.Strength, f.Event, want)
		}
	}
}
