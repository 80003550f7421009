package analyze

import "testing"

// No wiper gives more than its supply: a reading of the battery's volts is a wire
// that touches one of them. A sensor on a higher supply passes through all levels.
func TestAboveTheSupplyDrawn(t *testing.T) {
	checkDrawn(t, []drawnCase{
		{"the wiper's wire touches the battery's", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if d.t > 12 && d.t < 21 {
					return 12.1
				}
				return d.x
			}
			return d.run(0, 1).sweeps(3)
		}, WiringControl, AtRail},
		{"a sensor on 10 V", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 { return 2 * d.x }
			return d.run(0, 1).sweeps(3)
		}, NoFault, ""},
		{"a spike of the instrument", func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if d.t > 12 && d.t < 12.004 {
					return 6.3
				}
				return d.x
			}
			return d.run(0, 1).sweeps(3)
		}, NoFault, ""},
	}, "")
}
