package analyze

import "testing"

// How far and how fast is taken from one capture: the way off the door at the speed on it
// is nobody's.
func TestPlanTakesWayAndTimeOfOneCapture(t *testing.T) {
	t.Parallel()
	sweep := func(low, high, took float64) []Sweep {
		return []Sweep{{Direction: Up, Low: low, High: high, Transit: took}, {Direction: Down, Low: low, High: high, Transit: took}}
	}
	coupled := &Capture{Unit: "V", Span: Interval{0.5, 3.5}, Sweeps: sweep(0.5, 3.5, 20)}
	free := &Capture{Unit: "V", Free: true, Span: Interval{0.3, 4.3}, Sweeps: sweep(0.3, 4.3, 10)}
	for _, c := range []struct {
		captures    []*Capture
		span, takes float64
	}{
		{[]*Capture{coupled, free}, 3, 20},
		{[]*Capture{free, coupled}, 3, 20},
		{[]*Capture{free}, 4, 10},
	} {
		s := UsualSituation()
		_, text := s.Learn(c.captures, func(string) bool { return false })
		if s.Span != c.span || s.Transit != c.takes {
			t.Errorf("span %g V in %g s, expected %g V in %g s: %q", s.Span, s.Transit, c.span, c.takes, text)
		}
	}
}
