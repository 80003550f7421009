package analyze

import (
	"math"
	"slices"

	"threewire/signal"
)

// wokenUp is the form of no drive at all after the power came on.
const wokenUp = "though the power came on"

// wakes is the time, in s, in which a control that was switched on moves its doors, to
// find their ends or to where they are wanted (common practice, no source: within two).
const wakes = 5.0

// woken is when the power came on in a capture, and whether its own channel says so.
type woken struct {
	at   float64 // s; infinity where nothing of that was seen
	sure bool
}

// powerOn is when the logged supply, or the sensor's, rose from nothing.
func powerOn(t *signal.Trace) woken {
	const off, on = 0.2, 0.8 // of what it mostly is
	for _, s := range []struct {
		x     *signal.Series
		least float64 // V
	}{{t.Supply, lowestSupply}, {t.Reference, 2}} {
		if s.x == nil || s.x.Unit != "V" {
			continue
		}
		usual := medianOf32(s.x.Mean)
		if !(usual > s.least) || !(float64(s.x.Mean[0]) < off*usual) {
			continue
		}
		for i, x := range s.x.Mean {
			if float64(x) > on*usual {
				return woken{t.Time[i], true}
			}
		}
	}
	return woken{at: math.Inf(1)}
}

// joinUnpowered takes back what a reading at nothing says where the logged supply was
// never there and nothing was driven: the ignition was off.
func (w *work) joinUnpowered() {
	s := w.tr.Supply
	if s == nil || s.Unit != "V" || !w.d.none {
		return
	}
	for _, x := range s.Mean {
		if math.Abs(float64(x)) > startVolts {
			return
		}
	}
	w.found = slices.DeleteFunc(w.found, func(f Finding) bool { return f.Kind == AtRail || f.Kind == RefLoss })
	w.notes = append(w.notes, "the supply was off all the time, and nothing was driven: switch the ignition on and log again")
}
