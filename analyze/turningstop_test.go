package analyze

import "testing"

// At a stop a motor draws several times what it draws on the way, or it is not the stop
// that holds it. One that was blocked there once is stopped by something: what it draws
// less at other times the control turned down. (Drawn, polarity logged.)
func TestCurrentAtTheOuterStops(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		amps []float64 // in each stand at the high stop; 0.15 on the way, 0.6 at the low stop
		want bool
	}{
		{"as on the way, each time", []float64{0.16, 0.16, 0.16}, true},
		{"a little more, each time", []float64{0.2, 0.2, 0.2}, true},
		{"blocked each time", []float64{0.6, 0.6, 0.6}, false},
		{"blocked at first, turned down later", []float64{0.6, 0.2, 0.2, 0.2}, false},
		{"turned down, blocked once", []float64{0.16, 0.16, 0.6, 0.16}, false},
	} {
		for seed := range uint64(2) {
			d := newDraft(seed)
			d.signOnly = true
			visit, was := -1, 0.0
			k := &circuit{draft: d}
			d.read = func(d *draft) float64 {
				if d.volts > 0 && was <= 0 {
					visit++
				}
				was = d.volts
				i := 0.15
				switch {
				case d.volts == 0:
					i = 0
				case d.x == d.hi:
					i = c.amps[visit]
				case d.x == d.lo:
					i = 0.6
				}
				k.current = append(k.current, i+0.003*d.rng.NormFloat64())
				return d.x
			}
			d.sweeps(len(c.amps))
			got, err := Examine(k.trace(), Defaults())
			if err != nil {
				t.Fatal(err)
			}
			v := Judge(got).Verdict
			f := finding(got, GearSlip)
			if (f != nil) != c.want || c.want && (f.Form != "motor turns" || f.Direction != Up || v.Conclusion != Motor) || !c.want && v.Conclusion != NoFault {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
