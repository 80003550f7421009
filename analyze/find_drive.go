package analyze

import (
	"fmt"
	"math"
	"strings"

	"threewire/signal"
)

// findDriveFaults reports what is odd about the drive itself: absent,
// one-sided, or answered in one direction only.
func (w *work) findDriveFaults() {
	w.findIgnored()
	w.findBothRise()
	w.findFloats()
	w.findRetries()
	if w.d.none || len(w.moves) == 0 {
		w.findNoDrive()
		return
	}
	if w.findFaintAfter() {
		return
	}
	d := w.driveSides()
	for s := range d {
		if d[s].count >= 1 && w.findFaintLeg(s, [2]int{d[0].count, d[1].count}) {
			continue
		}
		w.findHalfDrive(s, &d)
		w.findOneWay(s, &d)
	}
	w.findOneWaySince()
}

// findNoDrive reports a capture in which nothing is driven.
func (w *work) findNoDrive() {
	f := Finding{Kind: NoDrive, Time: Interval{w.t[0], w.t[len(w.t)-1]}, Tie: TieUnknown, TieP: 1,
		Strength: 1, Event: "drive", Seen: 1, Passes: 1,
		Measures: []Measure{{"largest drive", w.d.amp, "V"}}}
	if w.travelsUndriven() {
		f.Form = yetItTravels
	} else if lapse(w.t[len(w.t)-1], w.woke.at) > wakes {
		f.Form = wokenUp
		f.Measures = append(f.Measures, Measure{MeasurePowerCameOn, w.woke.at, "s"})
		if w.tr.DriveIsPolarity {
			f.Measures = append(f.Measures, Measure{onlyPolarity, 1, ""})
		}
		// A clip or a plug brings the reading up as well.
		if !w.woke.sure {
			f.Strength = 0.7
		}
	}
	w.found = append(w.found, f)
}

// driveSide is what the drives of one polarity are and do.
type driveSide struct {
	count   int     // drives
	stalled int     // of them those that end in a stall or move nothing
	atEnd   int     // of them those into the stop on which it rests already
	driven  float64 // s
	volts   float64 // V s
	best    float64 // the furthest of them, in the unit of the reading
}

// driveSides sums up the drives by polarity: negative, positive.
func (w *work) driveSides() [2]driveSide {
	var out [2]driveSide
	near := w.lim.EndZone * w.span.Width()
	for k := range w.moves {
		m := &w.moves[k]
		d := &out[0]
		if m.Polarity > 0 {
			d = &out[1]
		}
		d.count++
		if m.Direction == Up && m.Start > w.span.To-near || m.Direction == Down && m.Start < w.span.From+near {
			d.atEnd++
		}
		d.driven += m.Duration()
		d.volts += m.Duration() * math.Abs(m.DriveMean)
		if lo, hi := w.tracked(m); hi > lo {
			d.best = math.Max(d.best, hi-lo)
		}
		// A drive too short to move anything does not stall either.
		if m.Stalled > 0.5*m.Duration() || m.Moving == 0 && m.Duration() >= 3*w.lim.StallSeconds || w.keptAtEnd(m) {
			d.stalled++
		}
	}
	return out
}

// findHalfDrive reports drives of polarity side s alone, again and again into a stall.
func (w *work) findHalfDrive(s int, d *[2]driveSide) {
	x := &d[s]
	if x.count < 3 || d[1-s].count > 0 || x.stalled < 2 || x.driven < leastDriven {
		return
	}
	f := Finding{Kind: HalfDrive, Form: polarityWord(s) + " only", Time: w.drivenTime(), Tie: TieUnknown, TieP: 1,
		Strength: 1 - math.Exp(-float64(x.count)/2), Event: "one-sided", Seen: x.count, Passes: x.count,
		Measures: []Measure{{"moves of one polarity", float64(x.count), ""}, {"of them into a stall", float64(x.stalled), ""}}}
	if !w.pressesOneStop() {
		f.Measures = append(f.Measures, Measure{stepByStep, 1, ""})
	}
	w.found = append(w.found, f)
}

// findOneWay reports drives of polarity side s that move nothing where those of the other
// do.
func (w *work) findOneWay(s int, d *[2]driveSide) {
	x, other := &d[s], &d[1-s]
	need := math.Max(w.tol*2, 0.02*w.ref)
	// Off a stop, seals and gears spring back a little by themselves.
	least := w.tol
	if w.restsAtEnd(s, w.directionOf(s)) {
		least = math.Max(least, w.lim.EndZone*w.span.Width())
		// A stop that was pressed pushes the shaft back by the play at most;
		// the motor would have gone far beyond.
		if play := mostPlay * math.Max(w.span.Width(), w.leastTravel()); w.reach(s) > 2*play {
			least = math.Max(least, play)
		}
	}
	n := x.count - x.atEnd
	if n < 2 || other.count < 1 || x.best >= least || other.best <= need || w.creeps(s, least) || x.driven <= 0.5 || w.sense == 0 {
		return
	}
	dir := w.directionOf(s)
	f := Finding{Kind: OneWay, Direction: dir, Time: w.drivenTime(), Volts: w.span, Tie: TiedToDirection, TieP: 1,
		Strength: 1 - math.Exp(-float64(n)/1.5), Event: "one way", Seen: n, Passes: n,
		Measures: []Measure{{"drives without motion", float64(n), ""}, {"travel the other way", other.best, w.unit()}}}
	if n := w.movedSince(s, least); n > 0 {
		f.Measures = append(f.Measures, Measure{movesOtherWay, float64(n), ""})
	} else if w.restsAtEnd(s, dir) {
		f.Measures = append(f.Measures, Measure{restsAtOtherEnd, 1, ""})
		if w.onlySprings(s, dir) {
			f.Measures = append(f.Measures, Measure{onlySprings, 1, ""})
		}
	}
	if w.failsApart(s) {
		f.Measures = append(f.Measures, Measure{failsAtPlacesApart, 1, ""})
	}
	if w.noCurrent(s) {
		f.Measures = append(f.Measures, Measure{noCurrentThatWay, 1, ""})
	} else if share, ok := w.runsLightToward(dir); ok {
		f.Measures = append(f.Measures, Measure{runsLight, share, ""})
	}
	switch has, back := x.volts/x.driven, other.volts/math.Max(other.driven, 1e-9); {
	case w.tr.DriveIsPolarity:
		f.Measures = append(f.Measures, Measure{onlyPolarity, 1, ""})
	case has < 0.5*back:
		// Half the drive still turns a good motor one way and not the
		// other only if the load does; less is no drive at all.
		f.Form = fewVolts
		f.Measures = append(f.Measures, Measure{MeasureDriveThatWay, has, "V"}, Measure{MeasureDriveOtherWay, back, "V"})
	}
	w.found = append(w.found, f)
}

// keptAtEnd tells whether a drive began at the end of the travel and left it there, though in
// its time a shaft goes out of the zone of a stop and as far again.
func (w *work) keptAtEnd(m *Move) bool {
	near := w.lim.EndZone * w.span.Width()
	at := m.Direction == Up && m.Start > w.span.To-near || m.Direction == Down && m.Start < w.span.From+near
	return at && math.Abs(m.End-m.Start) < near && w.rate[side(m.Direction)]*m.Duration() > 2*near
}

// halfDriveTitle names what was driven: the lead that is the higher one where both were
// logged, else the sign of the drive, and which way that moves the reading.
func (w *work) halfDriveTitle(f *Finding) string {
	if f.Form == oneWaySince {
		return f.titleOneWaySince()
	}
	s := 0
	if strings.HasPrefix(f.Form, polarityWord(1)) {
		s = 1
	}
	how := "with " + polarityWord(s) + " drive"
	for _, c := range w.tr.Columns {
		if c.Role == signal.LeadA || c.Role == signal.LeadB {
			how = "with lead " + [...]string{"B above lead A", "A above lead B"}[s]
		}
	}
	moves := "its only move"
	if f.Seen > 1 {
		moves = fmt.Sprintf("all %d moves", f.Seen)
	}
	way := ""
	if d := w.directionOf(s); d != None {
		way = ", going " + d.String()
	}
	return fmt.Sprintf("Driven one way only: %s %s%s; the other polarity never comes.", moves, how, way)
}

// leastDriven is how long, in s, must be driven before what does not come of it says
// anything.
const leastDriven = 1

// stepByStep is the name of a measure: what was driven one way only got there in
// several drives, or stood at several places, as under somebody's finger.
const stepByStep = "one way step by step"

// pressesOneStop tells whether a capture of one polarity is one drive to a stop and two
// or more against it from there on, or ends in five or more such: whose other leg is
// dead stays there, while somebody who asks for one way only gets there by and by, and
// gives up after a few presses (judgement, no source).
func (w *work) pressesOneStop() bool {
	const many = 5
	wanted := w.commands()
	n := len(wanted)
	near := math.Max(4*w.tol, w.lim.EndZone*w.span.Width())
	at := wanted[n-1].End
	stood := 0
	for stood < n && math.Abs(wanted[n-1-stood].End-at) <= near {
		stood++
	}
	stood-- // the first of these arrived
	if stood < 2 || w.goesOn(wanted[n-stood:]) {
		return false
	}
	return stood >= many || n-stood <= 2
}

// goesOn tells whether drives that each move the reading by less than it shows take it on
// all the same, by the middle of where the later half of them ends: through a converter
// of few steps a shaft that comes on by nudges seems to stand through each of them. A
// step of the converter is no going on, for a reading at its edge is now here and now there.
func (w *work) goesOn(drives []*Move) bool {
	var ends []float64
	for _, m := range drives {
		ends = append(ends, m.End)
	}
	half := len(ends) / 2
	on := float64(drives[0].Direction) * (medianOf(ends[half:]) - medianOf(ends[:half]))
	return on > math.Max(1.5*w.quantum, w.lim.NoiseSigmas*w.noise/math.Sqrt(float64(half)))
}

// commands lists the last drive of each time the actuator was asked to move: what follows
// the same way before a second is up is the same command still, of a control that goes by
// pulses and has not got there (common practice, no source).
func (w *work) commands() (out []*Move) {
	const same = 0.75 // s
	for k := range w.moves {
		m := &w.moves[k]
		if k > 0 && m.Polarity == w.moves[k-1].Polarity && m.Time.From-w.moves[k-1].Time.To < same {
			out[len(out)-1] = m
			continue
		}
		out = append(out, m)
	}
	return out
}

// yetItTravels is the form of a missing drive, and of travel without any, in one
// capture: the drive was not seen, or somebody moved the shaft.
const yetItTravels = "yet the reading travels"

// travelsUndriven reports travel in a capture without any drive, to and fro as it may
// be, and tells whether there is some: a tenth of the sensor's supply at least.
func (w *work) travelsUndriven() bool {
	f := Finding{Kind: SelfMotion, Form: yetItTravels, Time: Interval{w.t[0], w.t[len(w.t)-1]}, Tie: TieUnknown, TieP: 1, Strength: 1, Event: "drive"}
	f.Volts.From, f.Volts.To = extremes(w.v)
	total, most := 0.0, 0.0
	for _, l := range w.legs() {
		if d := math.Abs(l.to - l.from); d > 0.1*w.ref {
			total += d
			most = math.Max(most, d)
			f.Seen++
		}
	}
	if f.Seen == 0 {
		return false
	}
	f.Passes = f.Seen
	f.Measures = []Measure{{"undriven travel", total, w.unit()}, {longestUndriven, most, w.unit()}}
	w.found = append(w.found, f)
	return true
}

// failsAtPlacesApart is the name of a measure: what stands in the way stands at one
// place.
const failsAtPlacesApart = "fails at places apart"

// failsApart tells whether the drives of a polarity that moves nothing set out
// from places apart.
func (w *work) failsApart(s int) bool {
	at := noInterval()
	for k := range w.moves {
		if m := &w.moves[k]; (m.Polarity > 0) == (s == 1) {
			at = at.widen(m.Start)
		}
	}
	return at.Width() > math.Max(4*w.tol, 0.03*w.ref)
}

// reach is how far, in V, the drives of a polarity would take the shaft at the
// speed of the other direction and in proportion to their volts: the median.
func (w *work) reach(s int) float64 {
	r := w.rate[side(-w.directionOf(s))]
	var far []float64
	for k := range w.moves {
		if m := &w.moves[k]; (m.Polarity > 0) == (s == 1) {
			far = append(far, r*m.Duration()*math.Min(1, math.Abs(m.DriveMean)/math.Max(w.d.amp, 1e-9)))
		}
	}
	if len(far) == 0 {
		return 0
	}
	return medianOf(far)
}

// directionOf is the direction in which drive of polarity s (0 negative, 1
// positive) moves the feedback.
func (w *work) directionOf(s int) Direction {
	if s == 1 {
		return Direction(w.sense)
	}
	return -Direction(w.sense)
}

// movedSince counts the moves that travelled, further than a stop springs back, V, after
// the first drive of the polarity that moves nothing: without one, the shaft may have
// stopped for good.
func (w *work) movedSince(s int, least float64) int {
	n, failed := 0, false
	for k := range w.moves {
		m := &w.moves[k]
		if (m.Polarity > 0) == (s == 1) {
			failed = true
			continue
		}
		if lo, hi := w.tracked(m); failed && hi-lo > math.Max(least, 2*w.tol) {
			n++
		}
	}
	return n
}

// noCurrent tells whether the motor draws as little in drives of a polarity as
// at rest, while the other polarity shows that it is measured.
func (w *work) noCurrent(s int) bool {
	c := w.tr.Current
	if c == nil {
		return false
	}
	var x [2][]float64
	for k := range w.moves {
		m := &w.moves[k]
		p := 0
		if m.Polarity > 0 {
			p = 1
		}
		for i := m.first + 1; i < m.last; i++ {
			if f := math.Abs(float64(c.Mean[i])); !math.IsNaN(f) {
				x[p] = append(x[p], f)
			}
		}
	}
	if len(x[0]) < 10 || len(x[1]) < 10 {
		return false
	}
	idle := w.idleCurrent()
	here, there := medianOf(x[s])-idle, medianOf(x[1-s])-idle
	return there > 0 && here < 0.15*there
}

// creeps tells whether the drives of a polarity move the reading together,
// stroke by stroke, although no single one shows it: by more than the least
// that counts as motion.
func (w *work) creeps(s int, least float64) bool {
	n := max(3, w.window/2)
	for i := 0; i < len(w.moves); i++ {
		if (w.moves[i].Polarity > 0) != (s == 1) {
			continue
		}
		j := i
		for j+1 < len(w.moves) && w.moves[j+1].Polarity == w.moves[i].Polarity {
			j++
		}
		before := medianOf(w.v[max(0, w.moves[i].first-n) : w.moves[i].first+1])
		after := medianOf(w.v[w.moves[j].last-1 : min(len(w.v), w.moves[j].last+n)])
		if d := float64(w.directionOf(s)) * (after - before); d > 2*w.visible() && d > math.Max(least, w.lim.EndZone*w.span.Width()) {
			return true
		}
		i = j
	}
	return false
}

// restsAtEnd tells whether every drive of the polarity that moves nothing
// found the shaft where the other direction ended: there the other direction
// cannot show motion either, so nothing says that the shaft stopped for good.
func (w *work) restsAtEnd(s int, dead Direction) bool {
	end := w.span.To
	if dead == Up {
		end = w.span.From
	}
	near := math.Max(2*w.tol, w.lim.EndZone*w.span.Width())
	for k := range w.moves {
		if m := &w.moves[k]; (m.Polarity > 0) == (s == 1) && math.Abs(m.Start-end) > near {
			return false
		}
	}
	return true
}

func polarityWord(s int) string {
	if s == 1 {
		return "positive"
	}
	return "negative"
}
