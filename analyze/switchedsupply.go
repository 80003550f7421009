package analyze

import (
	"fmt"
	"math"
)

// dropSwitchedSupply leaves out a supply channel that is there only while the motor is
// driven: its clip lies behind what switches the motor, a relay or the driver's feed. At rest
// it tells nothing of the battery, and a fall under load has no level to fall from. It may be
// there under one polarity only. As for the drive itself, less than [Limits.DriveOn] of what
// it has under drive is off.
func (w *work) dropSwitchedSupply() {
	s := w.tr.Supply
	if s == nil || len(s.Mean) != len(w.t) {
		return
	}
	var on, off []float64
	for i, p := range w.d.pol {
		switch v := float64(s.Mean[i]); {
		case math.IsNaN(v):
		case p == 0:
			off = append(off, v)
		default:
			on = append(on, v)
		}
	}
	const enough = 3 // rows of either, as the supply under load needs
	if len(on) < enough || len(off) < enough {
		return
	}
	if rest, driven := medianIn(off), quantileOf(on, 0.9); driven > 0 && rest <= w.lim.DriveOn*driven {
		w.leaveSupplyOut(fmt.Sprintf("the supply was logged where it is there only while the motor is driven (%.1f %s at rest, %.1f driven), behind what switches the motor: it was left out; clip it to the battery's side to see whether the feed gives way", rest, s.Unit, driven))
	}
}

// dropDeadSupply leaves out a supply channel with fewer volts than such a motor starts on
// where the shaft does follow its drives: its clip is not on the motor's supply.
func (w *work) dropDeadSupply() {
	if s := w.tr.Supply; w.sense == 0 || s == nil || s.Unit != "V" || len(s.Mean) != len(w.t) {
		return
	}
	var on []float64
	for i, p := range w.d.pol {
		if v := float64(w.tr.Supply.Mean[i]); p != 0 && !math.IsNaN(v) {
			on = append(on, v)
		}
	}
	if len(on) == 0 {
		return
	}
	if most := quantileOf(on, 0.9); most < startVolts {
		w.leaveSupplyOut(fmt.Sprintf("the supply channel shows no more than %.2g V while the motor turns, which takes more: its clip is not on the motor's supply, and it was left out", math.Max(0, most)))
	}
}

// leaveSupplyOut judges without the supply channel, and notes why.
func (w *work) leaveSupplyOut(why string) {
	t := *w.tr
	t.Supply = nil
	w.tr = &t
	w.notes = append(w.notes, why)
}
