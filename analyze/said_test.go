package analyze

import (
	"strings"
	"testing"
)

// Passes of one band are counted once, whichever finder saw them.
func TestPassesOfOneBandCountOnce(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		a, b         Finding
		seen, passes int
	}{
		{Finding{Direction: Up, Seen: 2, Passes: 2}, Finding{Direction: Down, Seen: 1, Passes: 2}, 3, 4},
		{Finding{Direction: None, Seen: 4, Passes: 4}, Finding{Direction: Up, Seen: 2, Passes: 2}, 4, 4},
		{Finding{Direction: Up, Seen: 2, Passes: 2}, Finding{Direction: None, Seen: 4, Passes: 4}, 4, 4},
	} {
		c.a.countBothWays(&c.b)
		if c.a.Seen != c.seen || c.a.Passes != c.passes || c.a.Direction != None {
			t.Errorf("%d of %d, want %d of %d", c.a.Seen, c.a.Passes, c.seen, c.passes)
		}
	}
}

// What got slower in a step is no heating, and that nothing slows is not said of it. (Drawn.)
func TestSlowerInAStepIsNotDenied(t *testing.T) {
	t.Parallel()
	for _, share := range []float64{1, 0.6} {
		d := newDraft(1)
		d.sweeps(3)
		d.speed = func(*draft, float64) float64 { return share }
		for range 3 {
			d.run(12, 6/share).run(0, 0.5).run(-12, 6/share).run(0, 0.5)
		}
		c := examineWith(t, d, nil, false)
		denied := false
		for _, a := range c.Absent {
			denied = denied || strings.HasPrefix(a.Text, "no slowing")
		}
		if denied != (share == 1) {
			t.Errorf("at %.1f of the speed: denied %v", share, denied)
		}
	}
	for _, c := range []struct {
		rel  []float64
		want float64
	}{{[]float64{1, 1, .5}, 1}, {[]float64{.7, .7, 1, 1, .5, .5}, .5}, {[]float64{1, 1, 1, 1, 1, 1}, 1}} {
		if got := slowerAtEnd(c.rel); got != c.want {
			t.Errorf("%v: %v, want %v", c.rel, got, c.want)
		}
	}
}

// Without the drive's volts nothing is said to be at the same volts, and what only the
// current shows is not asked of the reading.
func TestMotorCircuitIsSaidAsItIsKnown(t *testing.T) {
	t.Parallel()
	f := Finding{Kind: FeedResists, Seen: 1, Passes: 1}
	if _, why := feedResistsLikelihood(&f); !strings.Contains(f.titleFeedResists(), atSameVolts) || strings.Contains(why, "not logged") {
		t.Errorf("with volts: %s %s", f.titleFeedResists(), why)
	}
	f.Measures = append(f.Measures, Measure{driveUnknown, 1, ""})
	if _, why := feedResistsLikelihood(&f); strings.Contains(f.titleFeedResists(), atSameVolts) || !strings.Contains(why, "not logged") {
		t.Errorf("without: %s %s", f.titleFeedResists(), why)
	}
	offered := func(f Finding, name string) bool {
		for _, n := range rankedTests([]float64{.03, .01, .4, .01, .55}, []*Capture{{Findings: []Finding{f}}}) {
			if n.Name == name {
				return true
			}
		}
		return false
	}
	if offered(f, wiggle) || !offered(Finding{Kind: Dropouts}, wiggle) || !offered(f, "Measure the motor at its pins") {
		t.Error("the wiggle test goes with the wrong finding")
	}
}
