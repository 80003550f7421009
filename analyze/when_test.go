package analyze

import "testing"

// Times of places are told one by one: a range over several of them would read as one
// long event.
func TestWhenTellsPlaces(t *testing.T) {
	at := func(times ...float64) (out []Interval) {
		for _, x := range times {
			out = append(out, Interval{x, x + 0.3})
		}
		return out
	}
	many := make([]float64, 40)
	for i := range many {
		many[i] = 2 + float64(i)
	}
	for _, c := range []struct {
		name string
		e    Evidence
		want string
	}{
		{"one stall after a try", Evidence{Finding: Jam, Time: Interval{0.53, 20.25}, places: []Interval{{18.77, 20.25}}, seen: 1}, "18.77 to 20.25 s; signs of it from 0.53 s on"},
		{"one stall", Evidence{Finding: Jam, Time: Interval{55.8, 56.56}, places: []Interval{{55.8, 56.56}}, seen: 1}, "55.80 to 56.56 s"},
		{"what lasts after a moment", Evidence{Finding: LastingLeap, Time: Interval{15.64, 39.3}, places: []Interval{{15.64, 15.65}}, seen: 1}, "At 15.64 s; signs of it until 39.30 s"},
		{"three places, in any order", Evidence{Finding: DeadSpot, Time: Interval{3, 30.3}, places: at(30, 3, 17), seen: 3}, "At 3.00, 17.00 and 30.00 s, for up to 0.3 s each"},
		{"places that touch", Evidence{Finding: DeadSpot, Time: Interval{3, 3.5}, places: at(3, 3.2), seen: 1}, "3.00 to 3.50 s"},
		{"many places", Evidence{Finding: GearSlip, Time: Interval{2, 41.3}, places: at(many...), seen: 4}, "40 times: first at 2.00, 3.00, 4.00, 5.00, 6.00 s, last at 41.00 s, for up to 0.3 s each"},
		{"hunting is one stretch", Evidence{Finding: Hunting, Time: Interval{40, 50}, places: at(40, 42, 44, 46), seen: 4}, "40.00 to 50.00 s"},
		{"several passes without places", Evidence{Finding: NoMotion, Time: Interval{0.35, 31}, seen: 10}, "Signs of it between 0.35 and 31.00 s"},
		{"once without places", Evidence{Finding: AtRail, Time: Interval{1, 2}, seen: 1}, "1.00 to 2.00 s"},
		{"a comparison", Evidence{Finding: FreeRun}, ""},
	} {
		if got := c.e.When(); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// The places of a finding come with the evidence.
func TestWhenOfDrawnFinding(t *testing.T) {
	d := newDraft(3).sweeps(6)
	c, _ := look(t, d)
	c.Findings = append(c.Findings, Finding{Kind: DeadSpot, Title: "x", Time: Interval{2, 12}, Seen: 2, Weights: make([]float64, faultCount),
		Places: []Occurrence{{Time: Interval{2, 2.2}}, {Time: Interval{11, 12}}}})
	rep := Judge(c)
	for _, e := range append(rep.Verdict.For, rep.Verdict.Against...) {
		if e.Finding == DeadSpot {
			if got := e.When(); got != "At 2.00 and 11.00 s, for up to 1 s each" {
				t.Errorf("%q", got)
			}
			return
		}
	}
	t.Error("the finding is no evidence")
}
