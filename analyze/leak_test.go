package analyze

import "testing"

// leaky drafts a wiper of a 5 kΩ track whose wire leaks to a motor lead through so
// many kilohms: the lead has the supply while driven one way, else none. By
// Thévenin the track is its own voltage behind r(1-r) of its resistance.
func leaky(seed uint64, through float64) *draft {
	d := newDraft(seed)
	d.read = func(d *draft) float64 {
		r := d.x / 5
		source := 5 * r * (1 - r)
		lead := 0.0
		if d.volts > 0 {
			lead = d.volts
		}
		return (d.x*through + lead*source) / (through + source)
	}
	return d
}

func TestLeakDrawn(t *testing.T) {
	t.Parallel()
	turned := func(d *draft) *draft {
		d.run(0, 1)
		for range 4 {
			d.run(12, 6).run(-12, 6)
		}
		return d
	}
	checkDrawn(t, []drawnCase{
		{"rests between", func(s uint64) *draft {
			d := leaky(s, 25)
			d.run(0, 1)
			for range 3 { // not stop to stop: at the ends the track is stiff
				d.run(12, 2.4).run(0, 1).run(12, 1.4).run(0, 1).run(-12, 2.2).run(0, 1).run(-12, 1.6).run(0, 1)
			}
			return d
		}, WiringControl, DriveShift},
		{"turned over at once", func(s uint64) *draft { return turned(leaky(s, 12)) }, WiringControl, DriveShift},
		{"no leak to speak of", func(s uint64) *draft { return turned(leaky(s, 1e5)) }, NoFault, ""},
	}, "")
}
