package analyze

import (
	"math"
	"slices"
)

// endsTogether looks for a reading that changed at both stops the same way where
// neither end alone has visits enough to show a trend. A door, an object or a seal
// can keep the shaft short of one stop; it cannot carry it past the other one, and
// a softer or harder push moves both levels apart or together, never the same way.
// So two stops that read lower, or higher, together are the sensor's or its wires':
// its scale (both changes as the levels are) or its zero (both changes alike).
func (w *work) endsTogether(ends [2]endSeries) (tr [2]endTrend, ok bool) {
	one := w.plateauError(2 * w.lim.StallSeconds) // of one visit
	least := leastDrift(w.span.Width(), w.ref)
	p := 1.0
	for d := range ends {
		t, steady := changeOf(&ends[d], one)
		// The same quarter of the least drift as where visits follow one another.
		if !steady || math.Abs(t.change) < math.Max(5*one, least/4) {
			return tr, false
		}
		tr[d] = t
		if t.n > 2 {
			p *= 2 / math.Gamma(float64(t.n+1)) // all in order by chance, either way
		}
	}
	a, b := tr[0].change, tr[1].change
	if a*b <= 0 || math.Max(math.Abs(a), math.Abs(b)) < least || !together(ends, tr) {
		return tr, false
	}
	for d := range tr {
		tr[d].p, tr[d].real = p*agreeByChance, true
	}
	return tr, true
}

// agreeByChance is how often two changes of unlike origin are of one sign and within
// alikeWithin of one another: half of a factor of alikeWithin both ways in a decade.
// The decade is chosen, not derived.
const (
	alikeWithin   = 1.6
	agreeByChance = 0.2
)

// changeOf is what an end's level changed by from its first visit to its last, and
// whether no visit between goes back by more than its error and a quarter of that.
func changeOf(e *endSeries, one float64) (t endTrend, steady bool) {
	t.n = len(e.level)
	if t.n < 2 {
		return t, false
	}
	t.change = e.level[t.n-1] - e.level[0]
	t.slope = t.change / (e.x[t.n-1] - e.x[0])
	t.lo, t.hi = math.Inf(-1), math.Inf(1)
	for i := 1; i < t.n; i++ {
		if back := -(e.level[i] - e.level[i-1]) * math.Copysign(1, t.change); back > math.Max(3*one, math.Abs(t.change)/4) {
			return t, false
		}
	}
	return t, true
}

// together tells whether the changes of both ends, or what they make in a move, agree
// as the volts do of a zero that wanders or as the shares do of a scale.
func together(ends [2]endSeries, tr [2]endTrend) bool {
	low, high := slices.Min(ends[0].level), slices.Max(ends[1].level)
	for _, q := range []float64{tr[0].change / tr[1].change, tr[0].slope / tr[1].slope} {
		share := q * high / low
		if q > 1/alikeWithin && q < alikeWithin || low > 0 && share > 1/alikeWithin && share < alikeWithin {
			return true
		}
	}
	return false
}
