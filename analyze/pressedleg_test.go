package analyze

import (
	"math"
	"testing"
)

// One leg is dead, and whoever wants it back presses the stop again and again, where the
// shaft springs back as each drive ends and the drive's channel shows that late. That is no
// tooth, and what keeps it at its stop is the leg. (Drawn.)
func TestPressedByOneLegAlone(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.noise, d.dt = 0.005, 0.01
		d.run(0, 0.5).run(12, 7)
		for range 10 {
			d.run(0, 1).run(12, 0.45)
		}
		d.run(0, 1)
		// Each drive winds the shaft up by 0.05 V within an eighth of a second.
		const late = 4 // rows
		for i, on := 700, 0; i+late < len(d.drive); i++ {
			if on++; d.drive[i+late] < 6 {
				on = 0
			}
			d.feed[i] += 0.05 * math.Min(1, float64(on)*d.dt/0.12)
		}
		got, v := look(t, d)
		if showsKind(got, GearSlip) || v.Conclusion != WiringControl {
			t.Errorf("seed %d: %s", seed, say(got, v))
		}
	}
}

// Pulses of one polarity reach far less high than those of the other: that is no share of
// time, but resistance in a leg. Shorter pulses of the same height are the control's. (Drawn.)
func TestPulsesOfOnePolarityAreLower(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		up   float64 // V
		on   int     // of five rows
		want Fault
	}{
		{"lower", 6, 4, WiringControl},
		{"shorter", 12, 2, NoFault},
		{"alike", 12, 4, NoFault},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.dt = 0.004
			go4 := func(volts float64, on int) {
				end := d.t + 4/d.rate*12/math.Abs(volts)*5/float64(on)*1.1
				for d.t < end {
					d.run(volts, float64(on)*d.dt).run(0, float64(5-on)*d.dt)
				}
			}
			d.speed = func(d *draft, dir float64) float64 { return math.Abs(d.volts) / 12 }
			d.run(0, 0.5)
			for range 3 {
				go4(c.up, c.on)
				d.run(0, 1)
				go4(-12, 4)
				d.run(0, 1)
			}
			got, v := look(t, d)
			if (formed(got, SupplySag, onePolarity) != nil) != (c.want == WiringControl) || v.Conclusion != c.want {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
		}
	}
}
