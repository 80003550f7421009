package analyze

import (
	"math"
	"slices"
)

// againstDrive is the form of a reading that goes back against a full drive.
const againstDrive = "against the drive"

// wentBack is the name of a measure: how far a reading went back against the drive, at most.
const wentBack = "went back"

// findGivesBack reports a reading that goes back little by little against a drive at full
// volts. The shaft does not: what a drive has taken somewhere it holds there, and so do the
// gears; what springs back with a load does so as the volts go, and a shaft that coasts on
// does so as they come. Where something else was found that makes a reading go astray, that
// explains it.
func (w *work) findGivesBack() {
	if w.sense == 0 || w.contrary != "" || w.span.Width() <= 0 || len(w.rockings) > 0 {
		return
	}
	if slices.ContainsFunc(w.found, func(f Finding) bool {
		switch f.Kind {
		case Dropouts, DeadSpot, NoisyTrack, EndLoss, AtRail, RefLoss, LastingLeap, DriveShift, GearSlip, BentTrack, Hunting:
			return f.Strength > 0.6 // one event alone tells less
		}
		return false
	}) {
		return
	}
	f := Finding{Kind: SelfMotion, Form: againstDrive, Time: noInterval(), Volts: noInterval(), Tie: TieUnknown, TieP: 1, Event: "gives back"}
	most := 0.0
	for _, o := range w.givenBack() {
		f.Places = append(f.Places, o)
		f.Time = f.Time.widen(o.Time.From).widen(o.Time.To)
		f.Volts = f.Volts.widen(o.Volts.From).widen(o.Volts.To)
		most = math.Max(most, o.Volts.Width())
	}
	if f.Seen = len(f.Places); f.Seen == 0 {
		return
	}
	f.Passes = max(f.Seen, len(w.moves))
	f.Strength = 1 - math.Exp(-2*float64(f.Seen))
	f.Measures = []Measure{{wentBack, most, w.unit()}}
	w.overrule(f.Event, Jam, SlowZone, WeakDrive, OneWay, Pauses, StickSlip)
	w.found = append(w.found, f)
}

// givenBack lists where the reading went back so, the furthest of each move: by a
// twenty-fifth of the travel, as a stall must fall short of a stop, and clear of noise.
func (w *work) givenBack() (out []Occurrence) {
	const (
		starts = 0.5 // s of a drive in which a shaft may coast on the other way
		lasts  = 1.0 // s; what springs back with a load is quicker
		ownWay = 0.7 // of the running speed: a shaft that is driven that way
	)
	full, h := w.steadyDrive(), max(1, w.rows(0.2)/2)
	least := math.Max(0.04*w.span.Width(), 4*w.tol)
	for k := range w.moves {
		m := &w.moves[k]
		r := w.rate[side(m.Direction)]
		if m.Direction == None || !(r > 0) || w.madeUp(m) {
			continue
		}
		a := m.first
		for a < m.last && lapse(w.t[a], m.Time.From) < starts {
			a++
		}
		dir, furthest, best := float64(m.Direction), -1, Occurrence{}
		v := make([]float64, m.last-m.first) // medians over a fifth of a second
		for i := a + h; i+h < m.last; i++ {
			if full[i] < turnedDown*w.d.amp {
				furthest = -1
				continue
			}
			n := i - m.first
			v[n] = medianOf(w.v[i-h : i+h+1])
			if furthest < 0 || dir*(v[n]-v[furthest]) >= 0 {
				furthest = n
				continue
			}
			back, took := dir*(v[furthest]-v[n]), lapse(w.t[i], w.t[m.first+furthest])
			if back > math.Max(least, best.Volts.Width()) && took > lasts && back < ownWay*r*took && gradual(v[furthest:n+1], back, 2*h) {
				best = Occurrence{Interval{w.t[m.first+furthest], w.t[i]}, Interval{math.Min(v[n], v[furthest]), math.Max(v[n], v[furthest])}, m.Direction}
			}
		}
		if best.Volts.Width() > 0 {
			out = append(out, best)
		}
	}
	return out
}

// gradual tells whether values go a way little by little: no more than half of it within
// so many of them.
func gradual(v []float64, way float64, rows int) bool {
	for i := rows; i < len(v); i++ {
		if math.Abs(v[i]-v[i-rows]) > way/2 {
			return false
		}
	}
	return len(v) > 2*rows
}
