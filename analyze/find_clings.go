package analyze

import (
	"fmt"
	"math"
	"slices"
)

// clingsAtStop is the form of a slow zone at a stop that holds the shaft, under drive,
// on leaving it.
const clingsAtStop = "holds on leaving a stop"

// stopLevel is the measure of where that stop lies.
const stopLevel = "level of the stop"

// leastCling is how long, in s at full drive, a shaft must be held before it leaves a
// stop: grease, play and wound-up gears take up to half a second (common practice, no
// source).
const leastCling = 0.5

// departure is how the shaft came away from a stop: how long it was driven in vain
// before it moved.
type departure struct {
	move  int        // in which it set out
	stop  int        // of [work.stops], the one it left
	late  float64    // s at full drive that it stood, in one drive or in several
	parts []Interval // of time in which it stood
}

// departures lists them for both outermost stops, in order of time. Rests, and drives
// back into the stop between two tries, do not move the shaft away. It has left where it
// is further than the play of its links.
func (w *work) departures() []departure {
	zone := math.Max(w.stallsApart(), mostPlay*w.span.Width())
	at := func(v float64, dir Direction) int {
		return slices.IndexFunc(w.stops, func(s Stop) bool {
			return s.Extreme && s.Direction == dir && float64(dir)*(s.Level-v) < zone
		})
	}
	var out []departure
	var now departure
	for k := range w.moves {
		m := &w.moves[k]
		stop := at(m.Start, -m.Direction)
		switch {
		case m.Direction == None || stop < 0 && at(m.Start, m.Direction) >= 0:
			continue
		case stop < 0:
			now = departure{}
			continue
		}
		left := false
		for _, s := range m.segs {
			if left = at(w.smooth[s.last-1], -m.Direction) < 0; s.state == still && at(w.smooth[s.first], -m.Direction) >= 0 {
				d := Interval{w.t[s.first], endOf(w.t, s.last, w.tr.Step)}
				now.parts = append(now.parts, d)
				now.late += d.Width() * math.Abs(m.DriveMean) / math.Max(w.d.amp, 1e-9)
			}
			if left {
				break
			}
		}
		if left {
			now.move, now.stop = k, stop
			out = append(out, now)
			now = departure{}
		}
	}
	return out
}

// heldMeanwhile tells whether the motor was held for most of the time in which the shaft
// stood: by its current, half as much again as it draws running that way (chosen, not
// derived: a stall draws three times as much and more); or, where none
// is logged, by the volts, which give way under it as they do at the stops and are back
// when it runs. A shaft that runs on unseen, or a motor that gets no current, shows
// neither.
func (w *work) heldMeanwhile(d *departure) bool {
	const inrush = 0.1 // s
	held, all := 0.0, 0.0
	for _, p := range d.parts {
		from := p.From + inrush
		if p.To-from < 3*w.tr.Step {
			continue
		}
		all += p.To - from
		if w.heldIn(&w.moves[d.move], from, p.To) {
			held += p.To - from
		}
	}
	return held > 0.7*all && held > leastCling-inrush
}

// heldIn is that for one stretch of time before or in the move m.
func (w *work) heldIn(m *Move, from, to float64) bool {
	if w.tr.Current != nil {
		run := w.runningToward(m.Direction)
		return w.currentWithin(from, to) > 1.5*run
	}
	if w.tr.DriveIsPolarity || w.d.pulsed {
		return false
	}
	run := math.NaN()
	for _, s := range m.segs {
		if s.state == track && lapse(w.t[s.last-1], w.t[s.first]) > 2*w.lim.StallSeconds {
			run = w.driveWithin(w.t[s.first]+w.lim.StallSeconds, w.t[s.last-1])
		}
	}
	// A fiftieth of the drive is more than converters and brushes leave of a median, and
	// three fifths of the sag more than half of it (both chosen, not derived).
	sag := run - w.stopVolts.of(w.driveAtStops)
	return sag > 0.02*w.d.amp && run-w.driveWithin(from, to) > 0.6*sag
}

// driveWithin is the middle of the drive's volts, unsigned, from one time to another;
// NaN where fewer than three rows tell.
func (w *work) driveWithin(from, to float64) float64 {
	a, b := indexAt(w.t, from), indexAt(w.t, to)
	if b-a < 3 {
		return math.NaN()
	}
	return math.Abs(medianOf(w.d.mean[a:b]))
}

// driveAtStops is that of the motor held at the stops where it arrived, the median over
// them; NaN where there are none.
func (w *work) driveAtStops() float64 {
	var stalls []float64
	for _, s := range w.stallsOf() {
		if x := w.driveWithin(s.at+w.lim.StallSeconds, s.at+s.seconds); s.arrived && !math.IsNaN(x) {
			stalls = append(stalls, x)
		}
	}
	if len(stalls) == 0 {
		return math.NaN()
	}
	return medianOf(stalls)
}

// findClings reports a stop that holds the shaft on leaving it: driven away it stands
// for half a second or longer with its motor held, then goes on from where it stood;
// from elsewhere it sets out at once. A seal that sticks or a door that
// is frozen to its seat does so; so may gears that wedge in the stop. The end of a track
// looks alike but for the current.
func (w *work) findClings() {
	if !(w.span.Width() > 0) || len(w.stops) == 0 {
		return
	}
	all := w.departures()
	var late [2][]departure
	var made [2]int
	other := [2][]float64{}
	for _, d := range all {
		e := side(w.stops[d.stop].Direction)
		made[e]++
		other[e] = append(other[e], d.late)
		if d.late > leastCling && w.heldMeanwhile(&d) {
			late[e] = append(late[e], d)
		}
	}
	elsewhere := w.startsOnTheWay()
	for e, ds := range late {
		// What holds at both ends alike is no seal but the motor or its gears.
		usual := append(slices.Clone(elsewhere), other[1-e]...)
		if len(ds) == 0 || len(usual) == 0 || len(late[1-e]) > 0 {
			continue
		}
		var took []float64
		for _, d := range ds {
			took = append(took, d.late)
		}
		if slices.Max(usual) > 0.5*medianOf(took) {
			continue
		}
		// One start that was late among others that were not is no habit of the
		// place, unless it came first: what was stuck has come off.
		first := ds[0].move == all[slices.IndexFunc(all, func(d departure) bool { return side(w.stops[d.stop].Direction) == e })].move
		if len(ds) == 1 && (!first || ds[0].late < 2*leastCling) || len(ds) > 1 && 3*len(ds) < 2*made[e] {
			continue
		}
		w.reportCling(ds, made[e], slices.Max(took))
	}
}

// startsOnTheWay lists for how long, in s, the shaft stood at first in drives that set
// out between the stops.
func (w *work) startsOnTheWay() []float64 {
	zone := math.Max(w.stallsApart(), mostPlay*w.span.Width())
	var out []float64
	for k := range w.moves {
		if m := &w.moves[k]; m.Moving > 0 && m.Start > w.span.From+zone && m.Start < w.span.To-zone {
			out = append(out, m.Delay)
		}
	}
	return out
}

// reportCling adds the finding, and takes away what else was made of the same stands.
func (w *work) reportCling(ds []departure, made int, longest float64) {
	stop := &w.stops[ds[0].stop]
	f := Finding{Kind: SlowZone, Form: clingsAtStop, Direction: -stop.Direction, Tie: TiedToPosition, TieP: 1, Seen: len(ds), Passes: made, Time: noInterval()}
	zone := math.Max(w.stallsApart(), mostPlay*w.span.Width())
	f.Volts = Interval{stop.Level, stop.Level}.widen(stop.Level - float64(stop.Direction)*zone)
	for _, d := range ds {
		for _, p := range d.parts {
			f.Places = append(f.Places, Occurrence{p, Interval{stop.Level, stop.Level}, -stop.Direction})
			f.Time = f.Time.widen(p.From).widen(p.To)
		}
	}
	f.Strength = 1 - math.Exp(-1.2*float64(len(ds)))
	if len(ds) == 1 {
		// Held for seconds it is no slow start.
		f.Strength = math.Min(0.9, 0.5*longest)
	}
	f.Event = fmt.Sprintf("clings %s", stop.Direction)
	f.Measures = []Measure{{MeasureLongestStand, longest, "s"}, {stopLevel, stop.Level, w.unit()}}
	within := func(o Occurrence) bool {
		return slices.ContainsFunc(f.Places, func(p Occurrence) bool { return o.Time.From < p.Time.To && o.Time.To > p.Time.From })
	}
	w.found = slices.DeleteFunc(w.found, func(g Finding) bool {
		switch g.Kind {
		case EndLoss:
			return g.Direction == stop.Direction
		case Pauses, Jam:
			return len(g.Places) > 0 && !slices.ContainsFunc(g.Places, func(o Occurrence) bool { return !within(o) })
		}
		return false
	})
	w.found = append(w.found, f)
}
