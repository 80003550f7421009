package analyze

import "testing"

// What a capture of a sound actuator clears grows with what was driven: a little of the
// travel nothing, the better part of it the actuator, though less surely than stop to
// stop; and no capture is a certificate. (Drawn.)
func TestClearsByWhatWasDriven(t *testing.T) {
	// about drives to and fro between two places inside the travel, away from both stops.
	about := func(from, to float64) *Report {
		d := newDraft(5)
		d.x = from
		d.run(0, 1)
		for range 4 {
			s := (to - from) / d.rate
			d.run(12, s).run(0, 0.7).run(-12, s).run(0, 0.7)
		}
		c, err := Examine(d.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		return Judge(c)
	}
	none := func(r *Report) float64 {
		for _, c := range r.Verdict.Chances {
			if c.Fault == NoFault {
				return c.Probability
			}
		}
		return 0
	}
	full, err := Examine(newDraft(5).sweeps(3).trace(), Defaults())
	if err != nil {
		t.Fatal(err)
	}
	little, better, all := about(2.2, 2.8), about(1.7, 2.9), Judge(full)
	if little.Verdict.Conclusion != CannotTell {
		t.Errorf("a seventh of the travel: %v %.2f, want cannot tell", little.Verdict.Conclusion, little.Verdict.Probability)
	}
	if v := better.Verdict; v.Conclusion != NoFault || v.Probability > 0.9 {
		t.Errorf("the middle of the travel, no stop: %v %.2f, want no fault below 0.9", v.Conclusion, v.Probability)
	}
	if v := all.Verdict; v.Conclusion != NoFault || v.Probability < 0.9 || v.Probability > 0.94 {
		t.Errorf("stop to stop three times: %v %.3f, want no fault between 0.90 and 0.94", v.Conclusion, v.Probability)
	}
	if a, b, c := none(little), none(better), none(all); !(a < b && b < c) {
		t.Errorf("no fault at %.2f, %.2f, %.2f: want more the more was driven", a, b, c)
	}
}
