package analyze

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// What a door costs its actuator, as a share of the uncoupled speed. Springs and weights
// cost one way what they give the other; what both ways cost together is friction, which
// no door that is moved is without.
const (
	// mostGoodDrag is what a good door takes at most: a good motor keeps two thirds of its
	// speed on it, see heavyDoor. Down to nothing all is taken for equally usual.
	mostGoodDrag = 1. / 3

	// dragKnown is how well it can be known of two captures: a motor that got warmer by
	// 5 K is faster by 1 % (ferrite -0.2 %/K), and so it is by 0.1 V more.
	dragKnown = 0.01

	dragCells = 10 // of the span, over which the times with and without the door are compared
)

// dragOf is the share of the uncoupled speed that the door costs, both ways together, and
// how far that may be off; not ok where a way, or the drive's volts, are not known in both.
// The same readings are compared, as tracks have their own form.
func dragOf(c, x *Capture) (drag, off float64, ok bool) {
	k, one := levelScale(x, c)
	if !one || c.Pulsed || x.Pulsed || !c.driveKnown() || !x.driveKnown() {
		return 0, 0, false
	}
	va, vb := c.fullDrive(), x.fullDrive()
	if !(va > 2*startVolts) || !(vb > 2*startVolts) {
		return 0, 0, false
	}
	volts := (va - startVolts) / (vb - startVolts)
	variance := dragKnown * dragKnown
	for _, d := range []Direction{Down, Up} {
		var keeps []float64
		for i := range dragCells {
			a := c.Span.From + c.Span.Width()*float64(i)/dragCells
			b := a + c.Span.Width()/dragCells
			with, without := timeOver(c, d, a, b), timeOver(x, d, a/k, b/k)
			if with > 0 && without > 0 {
				keeps = append(keeps, without/with/volts)
			}
		}
		if len(keeps) < dragCells/2 {
			return 0, 0, false
		}
		m := medianOf(keeps)
		for i := range keeps {
			keeps[i] = math.Abs(keeps[i] - m)
		}
		drag += (1 - m) / 2
		// The standard error of a median, from the median deviation: 1.48 * 1.25.
		e := 1.85 * medianOf(keeps) / math.Sqrt(float64(len(keeps)))
		variance += e * e / 4
	}
	return drag, math.Sqrt(variance), true
}

// timeOver is the usual time that a capture's shaft takes from one reading to a higher one,
// going one way at full drive; NaN where it never does.
func timeOver(c *Capture, d Direction, from, to float64) float64 {
	if d == Down {
		from, to = to, from
	}
	var took []float64
	for i := range c.paths {
		if p := &c.paths[i]; p.dir == d {
			if s := p.over(from, to); s > 0 {
				took = append(took, s)
			}
		}
	}
	if len(took) == 0 {
		return math.NaN()
	}
	return medianOf(took)
}

// noLoad is an actuator that runs with its door as it does without.
type noLoad struct {
	drag float64 // share of the speed that the door costs
	like float64 // how much likelier a door that is gone is to cost that than a good one; 0 not known
}

// unloadedOnDoor finds one. A door's own stops, where they end the travel short of the
// uncoupled one, are proof of a door, and a sign of another fault leaves a door that is gone
// no reason to be thought of.
func unloadedOnDoor(captures []*Capture) (worst noLoad) {
	odd := func(f *Finding) bool { return !f.mayStick() }
	if longerThanFree(captures) != "" || oddBy(captures, odd) {
		return noLoad{}
	}
	for _, c := range captures {
		for _, x := range captures {
			if c.Free || !x.Free {
				continue
			}
			drag, off, ok := dragOf(c, x)
			if !ok || stopsBefore(c, x) || math.Abs(drag) > 3*off {
				return noLoad{}
			}
			by := distuv.Normal{Sigma: off}
			good := (by.CDF(drag) - by.CDF(drag-mostGoodDrag)) / mostGoodDrag
			if q := by.Prob(drag) / good; worst.like == 0 || q < worst.like {
				worst = noLoad{drag, q}
			}
		}
	}
	return worst
}

// stopsBefore tells whether a coupled actuator is stopped at either end before it is
// uncoupled: something hangs on it.
func stopsBefore(c, x *Capture) bool {
	k, ok := levelScale(x, c)
	for _, s := range c.Stops {
		if !s.Extreme {
			continue
		}
		dir, runs, least := float64(s.Direction), Interval{k * x.Span.From, k * x.Span.To}, mostPlay*c.Span.Width()
		for _, o := range x.Stops {
			if o.Extreme && o.Direction == s.Direction {
				runs, least = Interval{k * o.Level, k * o.Level}, math.Max(sameStop*c.Span.Width(), 3*c.Noise)
			}
		}
		if ok && math.Max(dir*(runs.From-s.Level), dir*(runs.To-s.Level)) > least {
			return true
		}
	}
	return false
}

// goneFromDoor is the share of the faults of doors that leave the actuator nothing to move:
// a shaft that is broken, a link that came off (chosen, not derived).
const goneFromDoor = 0.15

// likeDoor is the chance that a faulty door looks like this over that of a sound one, as
// [shortTravel.likeDoor]: that nothing else was found is no news then. No more than even:
// there are doors that hang as easily.
func (n noLoad) likeDoor() float64 { return math.Min(1, goneFromDoor*n.like) }

// argue says it, against a conclusion that leaves it unexplained.
func (n noLoad) argue(v *Verdict) {
	like := n.likeDoor()
	if like < spareSaid || v.Conclusion == DoorMechanism {
		return
	}
	how := "as fast"
	if p := math.Round(100 * math.Abs(n.drag)); p > 0 {
		how = fmt.Sprintf("to %.0f %% as fast", p)
	}
	v.Against = append(v.Against, Evidence{Finding: FreeRun, Ratio: (1 - chanceToShow()[DoorMechanism]) / like,
		Text:    fmt.Sprintf("Both ways together it runs %s with the door as without it, at the same drive and readings: nothing shows that it moves a door.", how),
		Because: "a door that is moved rubs both ways, and costs some speed; a shaft that is broken off it, or a link that came off, costs none. A door that hangs very easily would look the same: watch the door itself while the actuator runs"})
}
