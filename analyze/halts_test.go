package analyze

import (
	"math"
	"testing"
)

// opens makes the shaft stand in the given stretches of time.
func opens(at ...Interval) func(d *draft, dir float64) bool {
	return func(d *draft, _ float64) bool {
		for _, x := range at {
			if d.t >= x.From && d.t < x.To {
				return true
			}
		}
		return false
	}
}

func haltsFinding(c *Capture) *Finding {
	for i := range c.Findings {
		if f := &c.Findings[i]; f.Kind == Pauses && f.Form == haltsMidway {
			return f
		}
	}
	return nil
}

// A lead that opens for moments while the motor turns stops the shaft anywhere; a drive that
// is only a sign says nothing of it.
func TestHaltsInMidRunAreALead(t *testing.T) {
	d := newDraft(41)
	d.signOnly = true
	d.block = opens(Interval{3.2, 3.5}, Interval{8.9, 9.1}, Interval{10.4, 11.1}, Interval{17.0, 17.25}, Interval{24.1, 24.6})
	d.sweeps(3)
	c, v := look(t, d)
	f := haltsFinding(c)
	if f == nil {
		t.Fatal("not found", say(c, v))
	}
	if f.Seen < 4 {
		t.Error("halts", f.Seen)
	}
	if v.Conclusion != WiringControl {
		t.Error(say(c, v))
	}
}

// Stands shorter than the window of the rates are found where the reading is quiet.
func TestShortHaltsAreFound(t *testing.T) {
	d := newDraft(42)
	d.signOnly = true
	d.block = opens(Interval{3.2, 3.4}, Interval{9.9, 10.1}, Interval{16.4, 16.6}, Interval{23.0, 23.2})
	d.sweeps(3)
	c, _ := look(t, d)
	if haltsFinding(c) == nil {
		t.Error("not found", c.Findings)
	}
}

// What stands at one place whenever it passes is an object, or a gap in the teeth.
func TestStandsAtOnePlaceAreNoHalts(t *testing.T) {
	d := newDraft(43)
	d.signOnly = true
	held := 0.0
	d.block = func(d *draft, dir float64) bool {
		if math.Abs(d.x-2.3) > 0.01 {
			held = 0
			return false
		}
		held += d.dt
		return held < 0.4
	}
	d.sweeps(3)
	c, _ := look(t, d)
	if f := haltsFinding(c); f != nil {
		t.Error(f.Places)
	}
}

// A reading that swings about its line gives as much as it takes: the shaft runs.
func TestNoiseOfMomentsIsNoHalt(t *testing.T) {
	d := newDraft(44)
	d.signOnly = true
	burst := 0.0
	d.read = func(d *draft) float64 {
		if d.rng.Float64() < 0.01 {
			burst = 0.12 * d.rng.NormFloat64()
		}
		burst *= 0.97
		if d.volts == 0 {
			return d.x
		}
		return d.x + burst
	}
	d.sweeps(4)
	c, _ := look(t, d)
	if f := haltsFinding(c); f != nil {
		t.Error(f.Places)
	}
}

// A shaft that sticks is wound up and springs on: what it lost it makes up.
func TestSticksAndSpringsOnIsNoHalt(t *testing.T) {
	d := newDraft(45)
	d.signOnly = true
	d.speed = func(d *draft, _ float64) float64 {
		if at := math.Mod(d.t, 1.7); at < 0.3 {
			return 0
		} else if at < 0.4 {
			return 4
		}
		return 1
	}
	d.sweeps(3)
	c, _ := look(t, d)
	if f := haltsFinding(c); f != nil {
		t.Error(f.Places)
	}
}
