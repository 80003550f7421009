package analyze

import (
	"math"
	"slices"
)

// The last of the way into a stop, as shares of the span from the stop: nearer,
// a stop that gives bends the line, further out no seal reaches (see sealDepth).
const (
	arrivalNear   = 0.015
	arrivalFar    = 0.1
	arrivalBefore = 0.25 // where the speed is compared
)

// intoOneStop is the form of a slow zone that is known by the other stop.
const intoOneStop = "into one stop"

// atOtherStop is the measure of the speed over the last of the way into the
// other stop, over the speed elsewhere.
const atOtherStop = "the same at the other stop"

// passages gives, at the stop that the drive dir runs into, the speed over the
// last of the way in each arrival, over the speed just before, and the same for
// each departure. Times are counted at full drive.
func (w *work) passages(dir Direction) (in, out []float64) {
	i := slices.IndexFunc(w.stops, func(s Stop) bool { return s.Extreme && s.Direction == dir })
	if i < 0 {
		return nil, nil
	}
	span := w.span.Width()
	gap := func(v float64) float64 { return float64(dir) * (w.stops[i].Level - v) / span }
	for k := range w.moves {
		m := &w.moves[k]
		start, end := gap(m.Start), gap(m.End)
		if m.Direction != dir {
			start, end = end, start
		}
		if m.Direction == None || math.Abs(end) > 2*arrivalNear || start < arrivalBefore || m.Direction == dir && m.Stalled < 2*w.tr.Step {
			continue
		}
		var worked [2]float64 // over the last of the way, and just before
		whole := true
		step := func(j int) (further bool) {
			dt := math.Abs(m.gain[j-m.first]) * (w.t[j] - w.t[j-1])
			// Where rows are missing nobody knows the way.
			whole = whole && dt > 0 && w.t[j]-w.t[j-1] < 2*w.tr.Step
			switch g := gap(w.smooth[j]); {
			case g > arrivalBefore:
				return false
			case g > arrivalFar:
				worked[1] += dt
			case g > arrivalNear || worked[0] > 0:
				worked[0] += dt
			}
			return true
		}
		// From the stop outwards: the last time it passed on arriving, the first
		// on leaving.
		if m.Direction == dir {
			for j := m.last - 1; j > m.first && step(j); j-- {
			}
		} else {
			for j := m.first + 1; j < m.last && step(j); j++ {
			}
		}
		if !whole || math.Min(worked[0], worked[1]) < 2*w.tr.Step {
			continue
		}
		x := (arrivalFar - arrivalNear) / worked[0] * worked[1] / (arrivalBefore - arrivalFar)
		if m.Direction == dir {
			in = append(in, x)
		} else {
			out = append(out, x)
		}
	}
	return in, out
}

// findTightStop reports a door that goes hard into one of its stops: slower over
// the last of the way in each arrival than in any at the other stop, and than
// anywhere before. The seals of a door's two ends are of one foam and pressed by
// one motor; one that swelled, or a lip that folded over, is known by the other
// (common practice, no source).
func (w *work) findTightStop() {
	span := w.span.Width()
	if !(span > 0) || !w.bothEnds() || w.slows > 0 || w.dwellFinest() > arrivalNear*span {
		return
	}
	// Where the signal is lost again and again, no speed of a short way is known.
	if slices.ContainsFunc(w.found, func(f Finding) bool {
		return (f.Kind == Dropouts || f.Kind == DriveShift || f.Kind == LastingLeap) && f.Strength > 0.5
	}) {
		return
	}
	var in, out [2][]float64
	for _, dir := range []Direction{Down, Up} {
		in[side(dir)], out[side(dir)] = w.passages(dir)
	}
	for _, dir := range []Direction{Down, Up} {
		here, leaving, other := in[side(dir)], out[side(dir)], in[side(-dir)]
		if len(here) < 2 || len(other) == 0 {
			continue
		}
		slow, usual := medianOf(here), medianOf(other)
		// Healthy seals cost up to a quarter of the speed, and as much at either
		// end.
		if slow > 0.75 || slow > 0.75*usual || slices.Max(here) > slices.Min(other) {
			continue
		}
		// A seal is as stiff in each arrival.
		if slices.Max(here) > 1.6*slices.Min(here) {
			continue
		}
		// What is pressed pushes back; a reading that is slow both ways is the
		// track's or the linkage's.
		if len(leaving) > 0 && medianOf(leaving) < 1.2*slow {
			continue
		}
		f := Finding{Kind: SlowZone, Form: intoOneStop, Direction: dir, Tie: TiedToPosition, Seen: len(here), Passes: len(here)}
		f.Volts = Interval{w.span.From + arrivalNear*span, w.span.From + arrivalFar*span}
		if dir == Up {
			f.Volts = Interval{w.span.To - arrivalFar*span, w.span.To - arrivalNear*span}
		}
		// What was found as a slow band is told apart from stiff seals likewise.
		for i := range w.found {
			if z := &w.found[i]; z.Kind == SlowZone && z.Form == "" && z.Direction == dir && z.Volts.Overlaps(f.Volts) {
				z.Measures = append(z.Measures, Measure{atOtherStop, usual, ""})
			}
		}
		if w.covered(Jam, dir) || w.zoneFound(f.Volts) {
			continue
		}
		// All arrivals at one end slower than all at the other: the chance of
		// that order, were both ends alike.
		f.TieP = 1.0
		for i := range len(here) {
			f.TieP *= float64(i+1) / float64(len(other)+i+1)
		}
		f.Strength = (1 - f.TieP) * math.Min(1, (1-slow/usual)/0.4)
		f.Event = w.eventAt("slow", f.Volts, coarsePlace)
		f.Time, f.Places = w.visitsDirection(f.Volts, dir)
		f.Measures = []Measure{{MeasureSpeedThere, slow, ""}, {atOtherStop, usual, ""}, {"width", f.Volts.Width(), w.unit()}}
		if share, ok := w.pressesOnly(dir); ok {
			f.Measures = append(f.Measures, Measure{pressesThere, share, ""})
		}
		w.found = append(w.found, f)
	}
}

// zoneFound tells whether something was found already that changes the speed of
// the reading in the band.
func (w *work) zoneFound(band Interval) bool {
	return slices.ContainsFunc(w.found, func(f Finding) bool {
		switch f.Kind {
		case SlowZone, BentTrack, BentLine, DeadSpot, NoisyTrack, EndLoss, GearTurn, GearSlip, StickSlip, Heating:
			return f.Volts.Overlaps(band)
		}
		return false
	})
}
