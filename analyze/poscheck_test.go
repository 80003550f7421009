package analyze

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// A position check is recognised by how it is driven, and a hand's sweeps are
// none. It is never a fault.
func TestPositionCheck(t *testing.T) {
	t.Parallel()
	targets := func(d *draft) *draft {
		for _, x := range []float64{2, 3.5, 1, 4, 2.5, 3} {
			d.run(math.Copysign(12, x-d.x), math.Abs(x-d.x)/d.rate).run(0, 1.5)
		}
		return d
	}
	start := func(s uint64) *draft {
		d := newDraft(s)
		d.x = 2
		return d.run(0, 0.8)
	}
	sweep := func(d *draft) *draft { // to both ends, turned round at once
		return d.run(12, (d.hi-d.x)/d.rate+0.7).run(0, 0.05).run(-12, (d.hi-d.lo)/d.rate+0.8).run(0, 1)
	}
	blocked := func(d *draft) *draft {
		d.block = func(*draft, float64) bool { return true }
		return d
	}
	for _, c := range []struct {
		name          string
		make          func(s uint64) *draft
		kind, outcome string // of the first check; "" none
		retries       int
		lockOut       float64
	}{
		{"nudge", func(s uint64) *draft { return targets(start(s).run(12, 0.4).run(0, 0.4).run(-12, 0.4).run(0, 0.6)) }, "nudge", "completed", 0, 0},
		{"sweep", func(s uint64) *draft { return targets(sweep(start(s))) }, "sweep", "completed", 0, 0},
		{"sweep only", func(s uint64) *draft { return sweep(start(s)) }, "sweep", "completed", 0, 0},
		{"bench sweeps", func(s uint64) *draft { return newDraft(s).sweeps(3) }, "", "", 0, 0},
		{"bench sweeps turned at once", func(s uint64) *draft {
			d := start(s)
			for range 3 {
				d.run(12, 6).run(0, 0.05).run(-12, 6).run(0, 0.05)
			}
			return d
		}, "", "", 0, 0},
		{"targets only", func(s uint64) *draft { return targets(start(s)) }, "", "", 0, 0},
		{"to and fro", func(s uint64) *draft {
			d := start(s)
			for range 6 {
				d.run(12, 0.3).run(0, 0.2).run(-12, 0.3).run(0, 0.2)
			}
			return d
		}, "", "", 0, 0},
		{"sweep again and given up", func(s uint64) *draft {
			d := start(s)
			d.hi = 3
			for range 4 {
				sweep(d)
				d.run(12, 0.2).run(0, 1.2)
			}
			return d.run(0, 20)
		}, "sweep", "given up", 3, 21.2},
		{"blocked, given up, then driven", func(s uint64) *draft {
			d := start(s).run(12, 1).run(0, 0.5)
			blocked(d)
			for range 5 {
				d.run(12, 0.8).run(0, 0.9)
			}
			d.run(0, 8)
			d.block = nil
			return d.run(-12, 2).run(0, 1)
		}, "tries", "given up", 4, 8.9},
		{"dead, given up to the end", func(s uint64) *draft {
			d := blocked(start(s))
			for range 4 {
				d.run(12, 0.6).run(0, 0.05).run(-12, 0.6).run(0, 1)
			}
			return d.run(0, 12)
		}, "sweep", "given up", 3, 13},
		{"one drive in vain, and no more", func(s uint64) *draft { return blocked(start(s)).run(12, 1.5).run(0, 15) }, "tries", "given up", 0, 15},
		{"one drive in vain, and the capture ends", func(s uint64) *draft { return blocked(start(s)).run(12, 1.5).run(0, 4) }, "", "", 0, 0},
		{"one drive that moves it", func(s uint64) *draft { return start(s).run(12, 1.5).run(0, 15) }, "", "", 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			for seed := range uint64(3) {
				got := examineWith(t, c.make(seed), nil, false)
				var first PositionCheck
				if len(got.Checks) > 0 {
					first = got.Checks[0]
				}
				if first.Kind != c.kind || first.Outcome != c.outcome || first.Retries != c.retries || math.Abs(first.LockOut-c.lockOut) > 0.3 {
					t.Errorf("seed %d: %+v", seed, got.Checks)
				}
				if c.outcome == "completed" {
					if v := Judge(got).Verdict; v.Conclusion > NoFault {
						t.Errorf("seed %d: a completed check became a fault: %s", seed, say(got, v))
					}
				}
			}
		})
	}
}

// Tries alone say that something is wrong, not what.
func TestTriesAreWeakEvidence(t *testing.T) {
	t.Parallel()
	c := examineWith(t, newDraft(1).sweeps(3), nil, false)
	alone := Judge(c)
	c.Checks = []PositionCheck{{Kind: "sweep", Outcome: "given up", Retries: 3, LockOut: 20, Text: "Given up."}}
	with := Judge(c)
	if chanceOf(with, NoFault) >= chanceOf(alone, NoFault) {
		t.Error("giving up did not speak against no fault")
	}
	a := c.checkAside()
	for _, f := range []Fault{FeedbackSensor, Motor, DoorMechanism, WiringControl} {
		if a.weights[f] != 0 || a.weights[NoFault] < math.Log(.02/.16)-1e-9 {
			t.Errorf("not alike, or not weak: %v", a.weights)
		}
	}
	text := strings.Join([]string{with.Verdict.Summary}, "")
	for _, e := range append(with.Verdict.For, with.Verdict.Against...) {
		text += e.Text
	}
	if !strings.Contains(text, "Given up.") {
		t.Errorf("it is not among the evidence: %q", text)
	}
}

// Drives that the reading answers neither way are all tries, and are told as such.
func TestTriesOfBothWaysAreAllTold(t *testing.T) {
	t.Parallel()
	d := newDraft(1)
	d.read = func(*draft) float64 { return 4.99 }
	d.run(0, 1)
	for range 4 {
		d.run(12, 5).run(0, 1).run(-12, 5).run(0, 1)
	}
	d.run(12, 5)
	c, v := look(t, d)
	if len(c.Checks) != 1 || !contains(c.Checks[0].Text, "driven 5 times one way and 4 times the other until the capture ends") {
		t.Errorf("checks %+v", c.Checks)
	}
	if !slices.ContainsFunc(v.Unknown, func(s string) bool { return contains(s, "the reading did not move") }) {
		t.Errorf("of a motor of which nothing is known: %q", v.Unknown)
	}
}
