package analyze

import (
	"math"
	"testing"

	"threewire/signal"
)

// supplied draws sweeps on a logged supply of 12.7 V that lies at few volts in spells of
// time; the drive goes with it unless the clip alone does. Loaded, it falls as well where
// the motor draws on it.
func supplied(few float64, spells []Interval, clip, loaded bool) *signal.Trace {
	d := newDraft(31)
	var supply []float32
	d.run(0, 1)
	for k := range 6 {
		dir := 1 - 2*float64(k%2)
		from := d.t
		for d.t-from < 7 {
			volts, at := 12.7, 12.7
			for _, s := range spells {
				if s.Has(d.t) {
					at = few
				}
			}
			if loaded {
				at = few
			}
			if !clip {
				volts = at
			}
			for len(supply) < len(d.time) {
				supply = append(supply, 12.7)
			}
			d.run(dir*(volts-0.7), 0.02)
			for len(supply) < len(d.time) {
				supply = append(supply, float32(at+0.02*d.rng.NormFloat64()))
			}
		}
		for n := 0; n < 40; n++ {
			at := 12.7
			for _, s := range spells {
				if s.Has(d.t) {
					at = few
				}
			}
			d.run(0, 0.02)
			for len(supply) < len(d.time) {
				supply = append(supply, float32(at+0.02*d.rng.NormFloat64()))
			}
		}
	}
	tr := d.trace()
	for len(supply) < len(d.time) {
		supply = append(supply, 12.7)
	}
	s := signal.Series{Name: "supply", Unit: "V", Mean: supply, Min: supply, Max: supply}
	s.Stats.Min, s.Stats.Max, s.Stats.Valid = math.Min(few, 12.7), 12.7, int64(len(supply))
	tr.Supply = &s
	return tr
}

// A supply that falls for seconds to what no battery shows, at moments that are not the
// drive's, fails; one that is cranked on, that a generator leaves, or whose clip comes off
// does not. (Drawn.)
func TestSupplyFallsBySpells(t *testing.T) {
	t.Parallel()
	loose := []Interval{{6.5, 12}, {22, 27}, {38.7, 43}}
	for _, c := range []struct {
		name string
		few  float64
		at   []Interval
		clip bool
		sag  bool
	}{
		{"two volts of a battery, again and again", 10.6, loose, false, true},
		{"an engine is cranked", 9.8, []Interval{{11, 12.4}}, false, false},
		{"another load takes half a volt", 12.1, loose, false, false},
		{"its clip comes off", 10.6, loose, true, false},
	} {
		got, v := lookAt(t, supplied(c.few, c.at, c.clip, false))
		if (formed(got, SupplySag, supplyBySpells) != nil) != c.sag || c.sag && v.Conclusion != WiringControl {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
	if got, v := lookAt(t, supplied(10.6, nil, false, true)); formed(got, SupplySag, supplyBySpells) != nil {
		t.Errorf("under load only: %s", say(got, v))
	}
}

// A supply that falls by more than a third and stays there has failed; one that falls as far as a battery
// whose generator stops, that comes back, or whose clip comes off has not. (Drawn.)
func TestSupplyFallsForGood(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		few  float64
		at   Interval
		clip bool
		want bool
	}{
		{"more than a third, in the midst of a drive", 8, Interval{18, 99}, false, true},
		{"as far as a battery", 11, Interval{18, 99}, false, false},
		{"cranked for long", 8, Interval{18, 26}, false, false},
		{"its clip comes off", 8, Interval{18, 99}, true, false},
	} {
		got, v := lookAt(t, supplied(c.few, []Interval{c.at}, c.clip, false))
		if (formed(got, SupplySag, supplyFallen) != nil) != c.want || c.want && v.Conclusion != WiringControl {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// The volts come back in the midst of one drive and fall in the midst of another: no habit of
// a control. One that starts gently, or slows down before its targets, has a habit. (Drawn.)
func TestVoltsFallOnceAndComeBackOnce(t *testing.T) {
	t.Parallel()
	draw := func(first, third, last []float64) *draft {
		d := newDraft(33)
		d.rate, d.x = 0.4, 1.7
		d.run(0, 0.7).run(12, 0.9).run(0, 0.9).run(-12, 2.1).run(0, 0.8)
		for _, leg := range [][]float64{first, third} {
			d.run(leg[0], leg[1]).run(leg[2], leg[3]).run(0, 1)
		}
		d.run(0, 1.6).run(-12, 5).run(0, 1)
		return d.run(last[0], last[1]).run(last[2], last[3])
	}
	for _, c := range []struct {
		name               string
		first, third, last []float64
		sag                bool
	}{
		{"at any time", []float64{8.5, 3.3, 12, 0.8}, []float64{-12, 0.6, -8.5, 2}, []float64{8.5, 0.8, 8.5, 0.2}, true},
		{"slowed down before targets", []float64{12, 0.8, 8.5, 3.3}, []float64{-12, 0.6, -8.5, 2}, []float64{12, 0.8, 8.5, 1}, false},
		{"started gently", []float64{8.5, 3.3, 12, 0.8}, []float64{-8.5, 2, -12, 0.6}, []float64{8.5, 0.8, 12, 1}, false},
	} {
		got, v := look(t, draw(c.first, c.third, c.last))
		if (formed(got, SupplySag, comesAndGoes) != nil) != c.sag || (v.Conclusion == WiringControl) != c.sag {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
