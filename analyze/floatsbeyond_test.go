package analyze

import (
	"math"
	"testing"
)

// TestFloatsBeyond draws a track that is open beyond a place, whose open wire picks up
// slow hum, and what goes back and forth at an end for another reason.
func TestFloatsBeyond(t *testing.T) {
	t.Parallel()
	hum := func(d *draft) float64 { return 2.4 + 1.1*math.Cos(2*math.Pi*0.9*(d.t+0.4)) }
	thrown := 0.0 // until then, by teeth that let go
	drawn := func(read func(d *draft) float64) *draft {
		d := newDraft(1)
		d.dt, d.rate, d.noise, d.read = 0.01, 0.3, 0.008, read
		return d.sweeps(4)
	}
	for _, c := range []struct {
		name string
		d    *draft
		want bool
	}{
		{"an open end", drawn(func(d *draft) float64 {
			if d.x > 3.8 {
				return hum(d)
			}
			return d.x
		}), true},
		{"a wire that opens at any place", drawn(func(d *draft) float64 {
			if k := math.Mod(d.t, 7.3); k < 1.5 {
				return hum(d)
			}
			return d.x
		}), false},
		{"teeth that let go at the stop", drawn(func(d *draft) float64 {
			if d.x >= d.hi && d.volts > 0 {
				thrown = d.t + 0.15
			}
			if d.t < thrown {
				d.x -= 0.04
			}
			return d.x
		}), false},
	} {
		r := judgedDraft(t, c.d)
		found := false
		for _, f := range r.Captures[0].Findings {
			found = found || f.Kind == DeadSpot && f.Form == openBeyond
		}
		// Where its edge is told as noise, that says the same.
		noisy := r.Captures[0].shows(NoisyTrack)
		if found && !c.want || c.want && !found && !noisy || c.want && r.Verdict.Conclusion != FeedbackSensor {
			t.Errorf("%s: found %v, want %v; %v, %s", c.name, found, c.want, r.Verdict.Conclusion, r.Verdict.Summary)
		}
	}
}

// TestStandsAstray overrules a stand that falls into the time at which the reading had
// gone astray, and none that stands elsewhere as well.
func TestStandsAstray(t *testing.T) {
	t.Parallel()
	at := func(from float64) Occurrence { return Occurrence{Time: Interval{from, from + 1}} }
	w := &work{found: []Finding{
		{Kind: Jam, Strength: 0.9, Places: []Occurrence{at(10), at(30)}},
		{Kind: Jam, Strength: 0.9, Places: []Occurrence{at(10), at(20)}},
		{Kind: SlowZone, Strength: 0.9, Places: []Occurrence{at(10)}},
	}}
	w.standsAstray([]Occurrence{at(9.5), at(29.5)})
	if w.found[0].Strength > 0.1 || w.found[1].Strength != 0.9 || w.found[2].Strength != 0.9 {
		t.Errorf("strengths %v, %v, %v", w.found[0].Strength, w.found[1].Strength, w.found[2].Strength)
	}
}

// TestDriftIntoTheRail leaves out the track that an end drifting to the rail seems to
// lose, and keeps one that ends elsewhere.
func TestDriftIntoTheRail(t *testing.T) {
	t.Parallel()
	lost := func(dir Direction, v float64) Finding {
		return Finding{Kind: EndLoss, Direction: dir, Volts: Interval{v - 0.02, v + 0.02}}
	}
	drift := Finding{Kind: SpanDrift, Strength: 1, Measures: []Measure{{"low end drift", -0.26, "V"}}}
	w := &work{ref: 5, tol: 0.02, opt: Defaults(), found: []Finding{drift, lost(Down, 0.02), lost(Down, 0.5), lost(Up, 4.98)}}
	w.joinDrift()
	if len(w.found) != 3 || w.found[1].Volts.Mid() < 0.4 || w.found[2].Direction != Up {
		t.Errorf("left %+v", w.found)
	}
}

// TestGatheredIsNotEverywhere tells departures that a worn place gathers from those of a
// contact that is as bad all along the way, and of few readings.
func TestGatheredIsNotEverywhere(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		s    scatterOf
		want bool
	}{
		{scatterOf{cells: 10, farCells: 10, far: 779, farElse: 44}, false},
		{scatterOf{cells: 10, farCells: 10, far: 400, farElse: 240}, true},
		{scatterOf{cells: 10, farCells: 7, far: 10, farElse: 4}, true},
		{scatterOf{cells: 10, farCells: 5, far: 400, farElse: 200}, false},
	} {
		if got := c.s.everywhere(false); got != c.want {
			t.Errorf("%+v: %v", c.s, got)
		}
	}
}
