package analyze

import (
	"fmt"
	"math"
)

const (
	// rippleOfBuild is how many times the swing of the good side's speed another one's may
	// have and still be that of gears built alike: a half more, twice its power, see
	// [unevenCoupled].
	rippleOfBuild = math.Sqrt2

	// leastOfBuild is the swing of the good side that is told from an even run, see
	// [unevenCoupled].
	leastOfBuild = 0.05
)

// ofThisSide gives the captures with nothing in them for evidence that belongs to the build:
// a speed that swings all along the way, and swings over such distances on the good side as
// well. Stands, and what fails at places, are no build's. Without such findings, or where
// nothing was compared, they are the captures themselves.
func (r *SideBySide) ofThisSide(now, good []*Capture) []*Capture {
	if r == nil || !r.Used {
		return now
	}
	return explained(now, func(a *Capture, f *Finding) (string, bool) {
		mine, theirs, ok := swingsAlike(a, f, good)
		return fmt.Sprintf("The good side's speed swings over such distances as well (by %.0f %%, here by %.0f %%): its gears are built so.", 100*theirs, 100*mine), ok && !a.Free
	})
}

// swingsAlike tells whether a finding is a swing of the speed all along the way that the good
// side has too, and how much either speed swings over half the way from one slow place to the
// next, where a swing shows most.
func swingsAlike(a *Capture, f *Finding, good []*Capture) (mine, theirs float64, ok bool) {
	spacing, known := f.Measure(MeasureSpacing)
	if !known || f.Form == afterEqualTurns || f.Kind != GearTurn && f.Kind != StickSlip || !(a.Reference > 0) {
		return 0, 0, false
	}
	best, share := 0, spacing/2/(usualShare*a.Reference)
	for i, s := range rippleShares() {
		if math.Abs(math.Log(share/s)) < math.Abs(math.Log(share/rippleShares()[best])) {
			best = i
		}
	}
	mine = a.ripple[best].usual()
	for _, g := range good {
		if x := g.ripple[best].usual(); g.Unit == a.Unit && exceeds(x, theirs) {
			theirs = x
		}
	}
	return mine, theirs, theirs > leastOfBuild && mine < rippleOfBuild*theirs
}

// usual lies midway between the evener and the less even stretches; NaN where not known.
func (r ripple) usual() float64 { return (r.low + r.high) / 2 }
