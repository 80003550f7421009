package analyze

import "testing"

// Readings that are off as a whole ask for the sensor's volts and ground under load; what
// belongs to a place, or to one end, does not, nor where the reference was logged.
func TestSensorFeedIsAskedWhereReadingsAreOff(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		f      Finding
		logged bool
		want   bool
	}{
		{Finding{Kind: SpanDrift, Form: inProportion}, false, true},
		{Finding{Kind: SpanDrift, Form: bothEndsAlike}, false, true},
		{Finding{Kind: SpanShift, Form: stopsShifted}, false, true},
		{Finding{Kind: Jam, Form: jamFarInside}, false, true},
		{Finding{Kind: SpanDrift, Form: inProportion}, true, false},
		{Finding{Kind: SpanDrift, Form: "high end"}, false, false},
		{Finding{Kind: DeadSpot}, false, false},
		{Finding{Kind: Jam, Form: jamStopLost}, false, false},
	} {
		got := false
		for _, n := range rankedTests([]float64{.03, .55, .01, .01, .4}, []*Capture{{refLogged: c.logged, Findings: []Finding{c.f}}}) {
			got = got || n.Name == measureScale
		}
		if got != c.want {
			t.Errorf("%s, %s, reference logged %v: asked %v, expected %v", c.f.Kind, c.f.Form, c.logged, got, c.want)
		}
	}
}
