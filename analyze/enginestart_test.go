package analyze

import (
	"math"
	"slices"
	"strings"
	"testing"

	"threewire/signal"
)

// feeding drives up and down, pairs of times, and logs a supply that loses what dip says
// of the number of the drive and the time since it began, in V. The motor gets what is
// left.
func feeding(seed uint64, pairs int, dip func(k int, s float64) float64) *signal.Trace {
	d := newDraft(seed)
	d.dt = 0.01
	var supply []float64
	k, from := 0, 0.0
	d.speed = func(d *draft, dir float64) float64 { return 1 - dip(k, d.t-from)/12 }
	d.read = func(d *draft) float64 {
		lost := 0.0
		if d.volts != 0 {
			lost = dip(k, d.t-from)
		}
		supply = append(supply, 12.6-lost+0.02*d.rng.NormFloat64())
		return d.x
	}
	d.run(0, 1)
	for k < 2*pairs {
		from = d.t
		d.run(12*math.Pow(-1, float64(k)), 7.5)
		k++
		d.run(0, 1)
	}
	for i, x := range supply { // the driver passes on what there is
		if math.Abs(d.drive[i]) > 1 {
			d.drive[i] *= x / 12.6
		}
	}
	tr := d.trace()
	tr.Supply = beside("supply", "V", supply)
	return tr
}

// A load draws on its supply in every drive; an engine that is started while one of many
// runs does so once. Of two drives nobody knows what the others would have done. (Drawn.)
func TestEngineStart(t *testing.T) {
	t.Parallel()
	start := func(in ...int) func(int, float64) float64 {
		return func(k int, s float64) float64 {
			if slices.Contains(in, k) && s > 2 && s < 2.8 {
				return 3.8
			}
			return 0
		}
	}
	for _, c := range []struct {
		name  string
		pairs int
		dip   func(k int, s float64) float64
		told  string // of the note, "" for none
		sag   bool
	}{
		{"in one of ten drives", 5, start(4), "V in 1 of 10 drives", false},
		{"in two of ten drives", 5, start(4, 7), "in 2 of 10 drives", false},
		{"in none", 5, start(), "", false},
		{"in each drive", 5, start(0, 1, 2, 3, 4, 5, 6, 7, 8, 9), "", true},
		{"in three of ten", 5, start(1, 4, 7), "", true},
		{"in one of two drives", 1, start(1), "", true},
		// No starter takes a sound battery that low: a contact.
		{"all but nothing left, in one of ten", 5, func(k int, s float64) float64 { return 2.7 * start(4)(k, s) }, "", true},
	} {
		for seed := range uint64(2) {
			got, v := lookAt(t, feeding(seed, c.pairs, c.dip))
			said := strings.Join(got.Notes, "; ")
			if (finding(got, SupplySag) != nil) != c.sag || c.sag && v.Conclusion == NoFault || !c.sag && v.Conclusion != NoFault ||
				c.told != "" && !contains(said, c.told) || c.told == "" && contains(said, "an engine that is started") {
				t.Errorf("seed %d, %s: %s", seed, c.name, say(got, v))
			}
		}
	}
}
