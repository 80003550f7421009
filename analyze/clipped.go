package analyze

import (
	"fmt"
	"math"
)

// findClipped tells whether the drive was logged through a channel that ends
// below it: then its volts are the channel's and not the motor's. A driven
// motor's commutation moves the reading at least as much as rest does; a
// channel at its end shows one value all the time.
func (w *work) findClipped() {
	if w.tr.DriveIsPolarity || w.d.amp <= 0 {
		return
	}
	if w.tr.Drive.Stats.Over > 0 {
		w.clipped = true
		w.notes = append(w.notes, "the drive goes over the instrument's range, so its volts are not the motor's; use a wider range or a divider")
		return
	}
	rest := map[float32]bool{}
	var n, at [2]int
	top := [2]float32{float32(math.Inf(1)), float32(math.Inf(-1))}
	for i, x := range w.tr.Drive.Mean {
		switch f := float64(x); {
		case w.d.pol[i] == 0 && math.Abs(f) < 0.1*w.d.amp && len(rest) < 3:
			rest[x] = true
		case w.d.pol[i] != 0 && f < 0:
			top[0] = min(top[0], x)
		case w.d.pol[i] != 0 && f > 0:
			top[1] = max(top[1], x)
		}
	}
	for i, x := range w.tr.Drive.Mean {
		for s := range top {
			if d := 2*s - 1; w.d.pol[i] == int8(d) && math.Abs(float64(x)) > 0.8*w.d.amp {
				n[s]++
				if x == top[s] {
					at[s]++
				}
			}
		}
	}
	for s := range n {
		// A driven second or so, all but switching on one value, where rest scatters
		// or the supply that it comes from goes up and down.
		if n[s] >= 20 && at[s] >= n[s]*95/100 && (len(rest) == 3 || w.supplyVaries(int8(2*s-1))) {
			w.clipped = true
			w.notes = append(w.notes, fmt.Sprintf("the drive stands at exactly %.2f V: the channel ends there, so its volts are not the motor's; use a wider range or a divider", top[s]))
			return
		}
	}
}

// leastSupplyChange is how many volts a supply changes by, at the least, for a drive
// from it to have to show it: far above the noise and the steps of any channel.
const leastSupplyChange = 1

// supplyVaries tells whether the logged supply changes while the motor is driven one
// way, one reading in twenty either side left out.
func (w *work) supplyVaries(polarity int8) bool {
	s := w.tr.Supply
	if s == nil || s.Unit != "V" {
		return false
	}
	var v []float64
	for i, x := range s.Mean {
		if w.d.pol[i] == polarity && x == x {
			v = append(v, float64(x))
		}
	}
	return len(v) >= 20 && quantileOf(v, 0.95)-quantileOf(v, 0.05) > leastSupplyChange
}

// driveKnown tells whether the drive is known in volts.
func (w *work) driveKnown() bool { return !w.tr.DriveIsPolarity && !w.clipped }

// driveKnown tells whether the drive is known in volts.
func (c *Capture) driveKnown() bool { return c.Drivable && !c.Clipped }
