package analyze

import (
	"slices"
	"strings"
	"testing"
)

// A supply that is not in volts has neither a zero nor a level to judge by; it is said
// and left out. The same numbers in volts are a feed that gives way.
func TestSupplyInOtherUnits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		unit          string
		rest, driven  float64
		found, unread bool
	}{
		{"V", 12.5, 10.3, true, false},
		{"counts", 850, 700, false, true},
		{"counts", 12.5, 4.3, false, true}, // below six of what?
		{"%", 85, 70, false, true},
		{"counts", 850, 0, false, true}, // no ignition that is off
	} {
		d := newDraft(1)
		var supply []float64
		d.read = func(d *draft) float64 {
			x := c.rest
			if d.volts != 0 {
				x = c.driven
			}
			supply = append(supply, x*(1+0.001*d.rng.NormFloat64()))
			return d.x
		}
		d.sweeps(3)
		tr := d.trace()
		tr.Supply = beside("supply", c.unit, supply)
		got, v := lookAt(t, tr)
		said := slices.ContainsFunc(v.Unknown, func(s string) bool { return strings.Contains(s, "neither the zero nor the volts") })
		if showsKind(got, SupplySag) != c.found || said != c.unread || got.supplyLogged == c.unread || !c.found && v.Conclusion != NoFault {
			t.Errorf("%g to %g %s: said %t; %s", c.rest, c.driven, c.unit, said, say(got, v))
		}
	}
}

// A reference counts in volts and in the unit of the feedback, in which a reading is a
// share of it.
func TestReferenceInOtherUnits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		unit          string
		counts        bool
		level, low    float64
		found, unread bool
	}{
		{"V", false, 5, 4, true, false},
		{"V", true, 5, 4, true, false},
		{"counts", true, 1000, 800, true, false},
		{"counts", false, 1000, 800, false, true},
		{"%", false, 90, 70, false, true},
	} {
		d := newDraft(1).sweeps(3)
		if c.counts {
			d.counts()
		}
		reference := make([]float64, len(d.time))
		for i := range reference {
			reference[i] = c.level
			if i > len(reference)/2 {
				reference[i] = c.low
			}
		}
		tr := d.trace()
		tr.Reference = beside("reference", c.unit, reference)
		got, v := lookAt(t, tr)
		said := slices.ContainsFunc(v.Unknown, func(s string) bool { return strings.Contains(s, "neither the zero nor the volts") })
		if showsKind(got, RefLoss) != c.found || said != c.unread {
			t.Errorf("%g to %g %s: said %t; %s", c.level, c.low, c.unit, said, say(got, v))
		}
	}
}
