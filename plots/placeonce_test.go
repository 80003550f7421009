package plots

import (
	"testing"

	"gonum.org/v1/plot/vg/recorder"

	"threewire/analyze"
)

// A stall is numbered at each of its boxes, as no line leads from one to the next; what has
// lines across the panel, or is seen often, once.
func TestEachStallIsNumbered(t *testing.T) {
	s := &sheet{c: new(recorder.Canvas), size: 9}
	f := &frame{s: s, area: box{0, 0, 400, 200}, x0: 0, x1: 60, y0: 0, y1: 5}
	for _, c := range []struct {
		kind       analyze.Kind
		seen, more int
	}{{analyze.Jam, 1, 0}, {analyze.Jam, 3, 2}, {analyze.Jam, mostNumbered + 1, 0}, {analyze.DeadSpot, 3, 0}} {
		x := &analyze.Finding{Kind: c.kind}
		for k := range c.seen {
			x.Places = append(x.Places, analyze.Occurrence{Time: analyze.Interval{From: 10 * float64(k), To: 10*float64(k) + 3}, Volts: analyze.Interval{From: 3, To: 3}})
		}
		m := mark{f: x, n: 1}
		d := &drawing{fig: &Figure{Capture: &analyze.Capture{}}, marks: []mark{m}}
		a, ok := d.anchor(s, f, m)
		if got := further(s, f, m, a); !ok || len(got) != c.more {
			t.Errorf("%s seen %d times: %d numbers more, want %d", c.kind, c.seen, len(got), c.more)
		}
	}
}

// Findings at one place are numbered at one pass and share their lines; those at places of
// their own keep their lines.
func TestFindingsAtOnePlaceShareLines(t *testing.T) {
	s := &sheet{c: new(recorder.Canvas), size: 9}
	f := &frame{s: s, area: box{0, 0, 400, 200}, x0: 0, x1: 60, y0: 0, y1: 5}
	of := func(n int, kind analyze.Kind, from, to float64, wide int) mark {
		x := &analyze.Finding{Kind: kind, Tie: analyze.TiedToPosition, Volts: analyze.Interval{From: from, To: to}}
		for k := range 3 {
			long := 2.0
			if k == wide {
				long = 4
			}
			x.Places = append(x.Places, analyze.Occurrence{Time: analyze.Interval{From: 20 * float64(k), To: 20*float64(k) + long}, Volts: x.Volts})
		}
		return mark{f: x, n: n}
	}
	first, same, other := of(1, analyze.DeadSpot, 3.58, 4.21, 2), of(2, analyze.NoisyTrack, 3.54, 4.28, 0), of(3, analyze.SlowZone, 1, 1.5, 0)
	d := &drawing{fig: &Figure{Capture: &analyze.Capture{}}, marks: []mark{first, same, other}}
	a, _ := d.anchor(s, f, first)
	b, _ := d.anchor(s, f, same)
	if c, _ := d.anchor(s, f, other); b.x < a.x-20 || b.x > a.x+20 || c.x > 100 {
		t.Errorf("numbered at %.0f, %.0f and %.0f", a.x, b.x, c.x)
	}
	if !d.ownBand(first) || d.ownBand(same) || !d.ownBand(other) {
		t.Errorf("lines of their own: %v %v %v", d.ownBand(first), d.ownBand(same), d.ownBand(other))
	}
}

// Before a door comes off its own stops are drawn, not those that the shaft found after it.
func TestStopsBeforeTheDoorCameOff(t *testing.T) {
	d := &drawing{fig: &Figure{Capture: &analyze.Capture{Stops: []analyze.Stop{
		{Level: 0.17, Direction: analyze.Down, Extreme: true, Times: []float64{33, 51}},
		{Level: 0.38, Direction: analyze.Down, Times: []float64{14}},
		{Level: 2.5, Direction: analyze.Up, Times: []float64{10}},
		{Level: 4.57, Direction: analyze.Up, Times: []float64{4, 24}},
		{Level: 4.73, Direction: analyze.Up, Extreme: true, Times: []float64{42}},
	}}}}
	if got := d.stopsBefore(24.2); len(got) != 2 || got[0].Level != 0.38 || got[1].Level != 4.57 {
		t.Errorf("before: %v", got)
	}
	if got := d.stopsBefore(3); len(got) != 0 {
		t.Errorf("before the first stall: %v", got)
	}
}

// A point that passes went through keeps its speed, though a dead spot brought the reading there too.
func TestPassedPointsStayBesideADeadSpot(t *testing.T) {
	lost := []analyze.Interval{{From: 1.9, To: 3.7}}
	q := analyze.ProfilePoint{Position: 2, Rate: 0.36, Slowest: 0.3, Passes: 3} // its passes are not known: taken for undisturbed
	if onlyLost(&q, lost) {
		t.Error("a point that passes went through is left out")
	}
}
