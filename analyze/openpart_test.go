package analyze

import "testing"

// A part is stated beside "cannot tell" only where both components named are of it: if it is
// the other, the other part is to be renewed.
func TestPartStaysOpenBetweenTwo(t *testing.T) {
	for _, x := range []struct {
		p    []float64 // in the order of the faults
		part string
	}{
		{[]float64{.02, .26, .39, .33, 0}, CannotTell.Part()},
		{[]float64{.02, .45, .45, .05, .03}, Motor.Part()},
	} {
		p := make([]float64, faultCount)
		p[NoFault], p[FeedbackSensor], p[Motor], p[DoorMechanism], p[WiringControl] = x.p[0], x.p[1], x.p[2], x.p[3], x.p[4]
		if v := conclude(p, nil, false, 1); v.Conclusion != CannotTell || v.Part != x.part {
			t.Errorf("%v: %v, part %q, want %q", x.p, v.Conclusion, v.Part, x.part)
		}
	}
}
