package analyze

import (
	"math"
	"slices"

	"threewire/analyze/stats"
)

// currentDrives takes the drive from the motor's current, where the leads show none while
// the shaft travels, and tells whether it did: a clip is off then, or both are on one lead,
// and what turns the shaft is the current. It must flow wherever the shaft travels, and at
// a stand, where it is more, as a motor draws that is held: one that is turned from
// outside makes a current as well, but none while it stands. A current with a sign tells the
// way; of one without it is that of the travel, and a current at which nothing travels is
// left out. The volts stay unknown.
func (w *work) currentDrives() bool {
	c := w.tr.Current
	if c == nil || w.tr.Command != nil || w.tr.DriveIsPolarity || len(c.Mean) != len(w.t) {
		return false
	}
	pace := w.undrivenPace()
	if !(pace > 0) {
		return false
	}
	went := w.wentAt(pace)
	u, ok := w.readCurrentDrive(went)
	if !ok {
		return false
	}
	pol := u.signed(went)
	if pol == nil {
		pol = w.alongTravel(u, went)
	}
	if pol == nil {
		return false
	}
	tr := *w.tr
	s := &tr.Drive
	s.Mean = pol
	s.Min, s.Max, s.Unit = pol, pol, ""
	s.Stats.Min, s.Stats.Max, s.Stats.Quantum = -1, 1, 1
	tr.DriveIsPolarity, tr.Both = true, nil
	w.tr = &tr
	w.d = readDrive(w.tr, w.lim)
	w.notes = append(w.notes, "no volts were seen between the motor leads while the shaft travels, and a current flows whenever it does: a clip was off its lead, or both were on one. When it was driven, and which way, was taken from the current; at which volts is not known")
	return true
}

// undrivenPace is the usual pace of the travel, in V/s, where all of it went without a
// drive on record, there and back at least; else 0.
func (w *work) undrivenPace() float64 {
	var pace []float64
	for _, l := range w.legs() {
		way := math.Abs(l.to - l.from)
		if l.undriven < 0.9*way {
			return 0
		}
		pace = append(pace, way/math.Max(l.moving, w.tr.Step))
	}
	if len(pace) < 2 {
		return 0
	}
	return medianOf(pace)
}

// wentAt gives for every row the way the reading goes there, -1, 0 or +1: at a third of
// the usual pace, V/s, or more, over a tenth of a second or what it takes to get clear of
// noise. NaN about a leap.
func (w *work) wentAt(pace float64) []float64 {
	half := max(1, w.rowsOver(math.Max(0.1, 2*math.Max(6*w.noise, 2.5*w.quantum)/pace)/2))
	out := make([]float64, len(w.v))
	for i := range out {
		lo, hi := max(0, i-half), min(len(w.v)-1, i+half)
		if d := w.v[hi] - w.v[lo]; math.Abs(d) > pace*(w.t[hi]-w.t[lo])/3 {
			out[i] = math.Copysign(1, d)
		}
	}
	for i := 1; i < len(w.v); i++ {
		if math.Abs(w.v[i]-w.v[i-1]) > w.tol+w.lim.Fast*pace*(w.t[i]-w.t[i-1]) {
			for k := max(0, i-half); k < min(len(out), i+half); k++ {
				out[k] = math.NaN()
			}
		}
	}
	return out
}

// currentDrive is the current as it tells the drive.
type currentDrive struct {
	amps []float64 // less what flows at rest
	on   []bool    // driven
}

// readCurrentDrive tells the driven rows by their current, false where it does not.
func (w *work) readCurrentDrive(went []float64) (u currentDrive, ok bool) {
	const few, part = 10, 0.4 // rows; of the running current
	u.amps = movingMean(filled(w.tr.Current.Mean), max(1, w.rowsNear(0.05)))
	sizes := func(wanted func(i int) bool) (out []float64) {
		for i, x := range u.amps {
			if wanted(i) {
				out = append(out, math.Abs(x))
			}
		}
		return out
	}
	moving := func(i int) bool { return went[i] == 1 || went[i] == -1 }
	run := medianOf(sizes(moving))
	var rest []float64
	for i, x := range u.amps {
		if went[i] == 0 && math.Abs(x) < run/2 {
			rest = append(rest, x)
		}
	}
	if len(rest) < few || !(run > 5*stats.MAD(rest)) {
		return u, false
	}
	idle := medianOf(rest)
	for i := range u.amps {
		u.amps[i] -= idle
	}
	run = medianOf(sizes(moving))
	u.on = make([]bool, len(u.amps))
	n, held, longest := 0, 0.0, 0.0
	for i, x := range u.amps {
		u.on[i] = math.Abs(x) > part*run
		if moving(i) && u.on[i] {
			n++
		}
		if held = held + w.tr.Step; went[i] != 0 || math.Abs(x) < run {
			held = 0
		}
		longest = math.Max(longest, held)
	}
	w.dropShortSpells(u.on)
	return u, 10*n > 9*len(sizes(moving)) && longest > w.lim.StallSeconds
}

// dropShortSpells takes out what is shorter than a tenth of a second: a motor that is
// braked draws a current the other way for about so long.
func (w *work) dropShortSpells(on []bool) {
	for a := 0; a < len(on); a++ {
		z := a
		for z < len(on) && on[z] {
			z++
		}
		if z > a && lapse(endOf(w.t, z, w.tr.Step), w.t[a]) < 0.1 {
			for i := a; i < z; i++ {
				on[i] = false
			}
		}
		a = max(a, z)
	}
}

// signed gives the drive by the sign of the current, where that goes with the way of the
// travel; nil where it has none.
func (u currentDrive) signed(went []float64) []float32 {
	var along, against, positive, negative int
	for i, x := range u.amps {
		if !u.on[i] || went[i] != 1 && went[i] != -1 {
			continue
		}
		if x > 0 {
			positive++
		} else {
			negative++
		}
		if x*went[i] > 0 {
			along++
		} else {
			against++
		}
	}
	all := along + against
	if 10*min(positive, negative) < all || 20*min(along, against) > all {
		return nil
	}
	out := make([]float32, len(u.amps))
	for i, x := range u.amps {
		if u.on[i] {
			out[i] = float32(math.Copysign(1, x))
		}
	}
	return out
}

// alongTravel gives the drive by the way the shaft travels in each spell of a current
// without a sign; nil where it turns over within one.
func (w *work) alongTravel(u currentDrive, went []float64) []float32 {
	first := max(0, slices.Index(u.on, true))
	for i, x := range u.amps {
		if u.on[i] && x*u.amps[first] < 0 {
			return nil
		}
	}
	out := make([]float32, len(u.amps))
	for a := 0; a < len(u.on); a++ {
		var n [2]int
		z := a
		for ; z < len(u.on) && u.on[z]; z++ {
			switch went[z] {
			case 1:
				n[1]++
			case -1:
				n[0]++
			}
		}
		if 20*min(n[0], n[1]) > n[0]+n[1] {
			return nil
		}
		if way := n[1] - n[0]; way != 0 {
			for i := a; i < z; i++ {
				out[i] = float32(math.Copysign(1, float64(way)))
			}
		}
		a = max(a, z)
	}
	return out
}
