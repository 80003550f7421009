package signal

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// A current is in ampere where the header or a factor says so, or where only ampere of
// a small motor are of its size; else in no unit.
func TestUnitOfTheCurrent(t *testing.T) {
	for _, c := range []struct {
		header string
		peak   float64
		scale  float64
		want   string
		factor float64
	}{
		{"current", 300, 0, "", 1},   // mA, or counts
		{"current", 0.03, 0, "", 1},  // a clamp's volts
		{"current", 0.42, 0, "A", 1}, // nothing else
		{"current", -3, 0, "A", 1},
		{"motor current [A]", 3, 0, "A", 1},
		{"current_mA", 3, 0, "A", 0.001},
		{"current_a", 30, 0, "A", 1},
		{"amps", 3, 0, "A", 1},
		{"current", 3, 0.001, "A", 0.001},
		{"current [V]", 3, 10, "A", 10}, // a clamp of 10 A/V
		{"current [V]", 3, 0, "V", 1},
	} {
		var b strings.Builder
		fmt.Fprintf(&b, "time [s],drive [V],feedback [V],%s\n", c.header)
		for i := range 400 {
			on := i / 50 % 2
			fmt.Fprintf(&b, "%.2f,%d,%.3f,%g\n", 0.01*float64(i), 12*on, 2+0.001*float64(i), c.peak*float64(on))
		}
		o := Options{}
		if c.scale != 0 {
			o.Scale = map[Role]float64{Current: c.scale}
		}
		tr, err := Read(strings.NewReader(b.String()), o)
		if err != nil {
			t.Fatalf("%s: %v", c.header, err)
		}
		if tr.Current == nil {
			t.Fatalf("%s: no current", c.header)
		}
		peak := tr.Current.Stats.Max
		if c.peak < 0 {
			peak = tr.Current.Stats.Min
		}
		if tr.Current.Unit != c.want || math.Abs(peak-c.peak*c.factor) > 0.01*math.Abs(c.peak*c.factor) {
			t.Errorf("%s, factor %g: up to %g %q, expected %g %q", c.header, c.scale, peak, tr.Current.Unit, c.peak*c.factor, c.want)
		}
	}
}

// A supply and a reference without a unit are in volts, or in counts where no wiper and
// no battery has so many; a factor to a supply makes volts.
func TestUnitOfTheSupplies(t *testing.T) {
	for _, c := range []struct {
		supply    string
		level     float64
		scale     float64
		want      string
		reference string
		at        float64
		wantRef   string
	}{
		{"supply", 12.6, 0, "V", "reference", 5, "V"},
		{"supply", 850, 0, "counts", "reference", 1023, "counts"},
		{"supply [counts]", 850, 0, "counts", "reference [V]", 5, "V"},
		{"supply [counts]", 850, 0.0148, "V", "reference", 5, "V"},
	} {
		var b strings.Builder
		fmt.Fprintf(&b, "time [s],drive [V],feedback [V],%s,%s\n", c.supply, c.reference)
		for i := range 400 {
			fmt.Fprintf(&b, "%.2f,%d,%.3f,%g,%g\n", 0.01*float64(i), 12*(i/50%2), 2+0.001*float64(i), c.level, c.at)
		}
		o := Options{}
		if c.scale != 0 {
			o.Scale = map[Role]float64{Supply: c.scale}
		}
		tr, err := Read(strings.NewReader(b.String()), o)
		if err != nil || tr.Supply == nil || tr.Reference == nil {
			t.Fatalf("%s, %s: %v", c.supply, c.reference, err)
		}
		if tr.Supply.Unit != c.want || tr.Reference.Unit != c.wantRef {
			t.Errorf("%s of %g, factor %g: %q; %s of %g: %q", c.supply, c.level, c.scale, tr.Supply.Unit, c.reference, c.at, tr.Reference.Unit)
		}
	}
}
