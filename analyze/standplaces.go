package analyze

import (
	"math"
	"slices"
	"strings"
)

// Names of measures: each place at which a shaft catches, where there are several, and
// how far apart they are where that is even.
const (
	standPlace    = "place"
	placesSpacing = "places evenly apart"
)

// nameStands says at which places a shaft catches that does so at several beside one
// another, each of them in two of three of the passes, n, that show any. Where they are
// evenly spaced they may be teeth: [findEvenStands] tells gears by time, which needs the
// drive's volts, five of them in a pass and short ones; from place to place a tooth is as
// far as well.
func (w *work) nameStands(f *Finding, n int) {
	places := w.standPlaces(f.Places)
	places = slices.DeleteFunc(places, func(p standsAt) bool { return 3*p.times < 2*n })
	if len(places) < 2 {
		return
	}
	f.Volts = noInterval()
	var gaps []float64
	for i, p := range places {
		f.Measures = append(f.Measures, Measure{standPlace, p.level, w.unit()})
		f.Volts = f.Volts.widen(p.level)
		if i > 0 {
			gaps = append(gaps, p.level-places[i-1].level)
		}
	}
	// Two gaps say even, one does not; and each place lies at one of the teeth beside it.
	if lo, hi := extremes(gaps); len(gaps) >= 2 && hi-lo < 4*halfTooth*mean(gaps)+w.quantum {
		f.Measures = append(f.Measures, Measure{placesSpacing, mean(gaps), w.unit()})
	}
}

// standsAt is a place at which a shaft stood, and how often.
type standsAt struct {
	level float64
	times int
}

// standPlaces are the places of stands, from low to high: those of one place lie no
// further from the next than the reading tells apart, and the play of the two ways.
func (w *work) standPlaces(all []Occurrence) []standsAt {
	var at []float64
	for _, o := range all {
		at = append(at, o.Volts.Mid())
	}
	slices.Sort(at)
	apart := math.Max(2*w.tol, 0.01*w.span.Width()) // chosen, not derived: a tooth is more
	var out []standsAt
	for i := 0; i < len(at); {
		j := i + 1
		for j < len(at) && at[j]-at[j-1] < apart {
			j++
		}
		out = append(out, standsAt{medianOf(at[i:j]), j - i})
		i = j
	}
	return out
}

// placesText lists the places at which a shaft catches, where several were told apart;
// else "".
func (f *Finding) placesText(unit string) string {
	var at []string
	for _, m := range f.Measures {
		if m.Name == standPlace {
			at = append(at, amount(m.Value, unit))
		}
	}
	if len(at) < 2 {
		return ""
	}
	s := strings.Join(at[:len(at)-1], ", ") + " and " + at[len(at)-1]
	if f.has(placesSpacing) {
		s += ", evenly spaced"
	}
	return s
}
