package analyze

import "testing"

// What speaks for no fault at all is no evidence for the one that something else shows,
// nor its first line; of a sound actuator it is what it can do too.
func TestNeutralFindingIsNoEvidence(t *testing.T) {
	neutral := Finding{Kind: DriveShift, Title: "tells nothing", Weights: make([]float64, faultCount)}
	jam := Finding{Kind: Jam, Title: "stalls", Weights: []float64{-3, -3, -3, 0, -3}}
	captures := []*Capture{{Findings: []Finding{neutral, jam}}}
	v := Verdict{Conclusion: DoorMechanism}
	v.Summary = summarise(&v, captures, 1, "")
	fillEvidence(&v, captures, DoorMechanism)
	if v.Summary != "stalls" || len(v.For) != 1 || v.For[0].Text != "stalls" {
		t.Errorf("summary %q, for %+v", v.Summary, v.For)
	}
	if len(v.Against) != 1 || v.Against[0].Doubts() {
		t.Errorf("the neutral finding is not listed as one that decides little: %+v", v.Against)
	}
	if s := summarise(&Verdict{Conclusion: DoorMechanism}, []*Capture{{Findings: []Finding{neutral}}}, 1, ""); s != "" {
		t.Errorf("a neutral finding leads: %q", s)
	}
	sound := Verdict{Conclusion: NoFault}
	fillEvidence(&sound, []*Capture{{Findings: []Finding{neutral}}}, NoFault)
	if len(sound.For) != 1 || len(sound.Against) != 0 {
		t.Errorf("of a sound actuator: for %+v, against %+v", sound.For, sound.Against)
	}
}
