package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/analyze/stats"
)

// The forms of a [Broken] drive.
const (
	brokenNoCurrent = "driven without current"
	brokenNoStart   = "driven without current, from standstill only"
	brokenCoasts    = "falls away otherwise than where it is switched off"
	brokenIrregular = "at irregular lengths"
	brokenMidway    = "at irregular lengths, on the way"
)

// stoodMeanwhile is the name of a measure: in how many breaks of the drive the shaft is
// seen to stand, since its motion would have shown.
const stoodMeanwhile = "breaks in which the shaft stands"

// voltsThere is the name of a measure: in how many breaks the volts of the drive were seen
// at the leads. Of a polarity or a command nobody knows whether they came so far.
const voltsThere = "breaks with the volts at the leads"

// An opening is a stretch in which the drive breaks off.
type opening struct {
	first, last int // bins [first, last)
	midst       bool
	dir         Direction
	coasts      tail
	stood       bool // the shaft, by the reading
	start       int  // first bin of the drive in which it is
}

// findOpenCircuit reports a drive that stands at the leads while no current
// flows and the shaft stands: a motor that turns draws what its friction takes,
// one that is blocked more, so the circuit is open. The shaft has to stand,
// as a load that pulls the motor along may take its current to nothing, and so
// does an instrument's clip that comes off; at the end of the travel it stands
// anyway, there only a current that goes from that of a held motor to none and
// back in one drive says it.
func (w *work) findOpenCircuit() {
	all := w.withoutCurrent()
	// Each of these by itself is more than an instrument's clip makes.
	sure := slices.Concat(w.heldAbout(all), w.startsAnew(all))
	open := slices.Concat(w.withoutPlay(w.stoodMidway(all)), sure)
	if len(open) == 0 {
		return
	}
	slices.SortFunc(open, func(a, b opening) int { return a.first - b.first })
	open = slices.CompactFunc(open, func(a, b opening) bool { return a.first == b.first })
	midst := 0
	for _, o := range open {
		if o.midst {
			midst++
		}
	}
	f := w.brokenFinding(brokenNoCurrent, open)
	if midst == 0 {
		f.Form = brokenNoStart
	}
	if w.driveKnown() {
		f.Measures = append(f.Measures, Measure{voltsThere, float64(len(open)), ""})
	}
	if n := len(w.startsAnew(all)); n > 0 {
		f.Measures = append(f.Measures, Measure{startsAfter, float64(n), ""})
	}
	f.Strength = 1 - math.Exp(-float64(len(open)))
	switch {
	case len(open) > 1:
	case len(sure) > 0 && w.driveKnown():
		// Once may be a clip of the instrument that slipped.
		f.Strength = 0.8
	default:
		f.Strength *= 0.4 // once may be the moment in which the current turns round
	}
	w.found = append(w.found, f)
}

// withoutCurrent lists the stretches of at least 50 ms and three rows, longer
// than a commutator or a reversal of the current takes, with all of the drive
// and no more current than at rest.
func (w *work) withoutCurrent() []opening {
	none, ok := w.noCurrentLevel()
	if !ok {
		return nil
	}
	c := w.tr.Current.Mean
	const full = 0.7 // of the drive: a motor that coasts gives back less
	gone := func(i int) bool {
		return math.Abs(w.d.mean[i]) > full*w.d.amp && math.Abs(float64(c[i])) < none
	}
	shows := w.waysDrawing(none)
	var out []opening
	for k := range w.moves {
		m := &w.moves[k]
		if !shows[side(m.Direction)] {
			continue
		}
		for i := m.first; i < m.last; {
			if !gone(i) {
				i++
				continue
			}
			j := i
			for j < m.last && gone(j) {
				j++
			}
			took := w.t[min(j, len(w.t)-1)] - w.t[i]
			// Where only the polarity was logged the drive may have ended sooner than what
			// was asked for.
			late := j == m.last && took < 0.5 && !w.driveKnown()
			if j-i >= 3 && took >= 0.05 && !late && w.asAtRest(c[i:j]) && w.cutOff(m.first, i) {
				out = append(out, opening{first: i, last: j, midst: lapse(w.t[i], m.Time.From) > w.lim.StallSeconds, dir: m.Direction, start: m.first})
			}
			i = j
		}
	}
	return out
}

// waysDrawing tells of each direction whether a motor that runs that way draws clearly more
// than the level below which none flows: one that a load helps along may not, and then no
// current that way says nothing. Where nothing is known of a way, it is taken to.
func (w *work) waysDrawing(none float64) (ways [2]bool) {
	idle, _, _ := w.currentAtRest()
	for _, d := range []Direction{Down, Up} {
		run := w.runningOf(func(m *Move) bool { return m.Direction == d })
		ways[side(d)] = !(run-idle < 2*(none-idle))
	}
	return ways
}

// cutOff tells whether the current of a drive that began in row first was cut off before row
// i, if it flowed at all: what an open circuit cuts is gone within the time constant of the
// winding, L/R, some ms for such motors (common practice, no source). A current that dwindles
// from the inrush of a start is that of a motor that gets up to speed, and draws little where
// a load or a wound-up train helps it along.
func (w *work) cutOff(first, i int) bool {
	const longest = 0.01 // s from half of what it runs with, or started with, to none
	most, half := 0.0, first
	for k := first; k < i; k++ {
		most = math.Max(most, math.Abs(float64(w.tr.Current.Mean[k])))
	}
	most = math.Min(most, w.runningCurrent())
	for k := first; k < i; k++ {
		if math.Abs(float64(w.tr.Current.Mean[k])) > most/2 {
			half = k
		}
	}
	return i-first < 2 || w.t[i]-w.t[half] <= math.Max(2*w.tr.Step, longest)
}

// asAtRest tells whether the rows of a current are, as a whole, no more than what is seen at
// rest: each by itself may be as low in the noise of a motor that runs light, or is pulled
// along, and all of them may not.
func (w *work) asAtRest(amps []float32) bool {
	x := make([]float64, len(amps))
	for i, a := range amps {
		x[i] = math.Abs(float64(a))
	}
	idle, scatter, _ := w.currentAtRest()
	most := 3*scatter/math.Sqrt(float64(len(x))) + w.tr.Current.Stats.Quantum
	flows := medianOf(x) - idle
	return flows < most || flows < noneOfRunning*(w.runningCurrent()-idle) && steadyWithin(x, scatter, flows)
}

// steadyWithin tells whether a small current beside the motor's is the same at the beginning
// and at the end of a stretch, within its scatter and a fifth: what a driver or a lamp takes
// is steady, and a motor that runs light, helped along by a load or a wound-up train, draws
// less or more as that gives way.
func steadyWithin(x []float64, scatter, flows float64) bool {
	third := max(1, len(x)/3)
	apart := math.Abs(medianOf(x[:third]) - medianOf(x[len(x)-third:]))
	return apart <= math.Max(flows/5, 3*scatter*math.Sqrt(2/float64(third)))
}

// noCurrentLevel is the current, without its sign, below which none flows: what
// is seen at rest and five sigma more, or a share of what it takes to run. It is known only where the motor's own
// current, while it runs, stands clear of it.
func (w *work) noCurrentLevel() (level float64, ok bool) {
	none := w.noAmps.of(w.measureNoCurrent)
	return none.level, none.ok
}

type currentFloor struct {
	level float64
	ok    bool
}

// currentAtRest is the size of the current at rest, in A, and its scatter from reading to
// reading; not ok where there is no current, few rests, or pulses between which it flows on.
func (w *work) currentAtRest() (level, scatter float64, ok bool) {
	x := w.ampsAtRest()
	if len(x) == 0 || w.d.pulsed {
		return 0, 0, false
	}
	return medianIn(x), stats.MAD(x), true
}

func (w *work) measureNoCurrent() currentFloor {
	run := w.runningCurrent()
	idle, scatter, ok := w.currentAtRest()
	if !ok || math.IsNaN(run) {
		return currentFloor{}
	}
	level := idle + 5*scatter + w.tr.Current.Stats.Quantum
	// A driver, or a lamp beside the motor, takes some mA of its own while it drives.
	level = math.Max(level, idle+noneOfRunning*(run-idle))
	return currentFloor{level, run-idle > 2*(level-idle)}
}

// stoodMidway gives the openings that are not driven into an end of the travel, in which the
// shaft stood for so long that its motion would have shown, and those too short for that
// where it shows over all of these.
func (w *work) stoodMidway(open []opening) []opening {
	var sure, short []opening
	dues, wents := 0.0, 0.0
	near := w.lim.EndZone * w.span.Width()
	goes := w.waysGone()
	for _, o := range open {
		if !goes[side(o.dir)] {
			continue // one leg, or a circuit that conducts one way: a finding of its own
		}
		from, to, due := w.duringOpening(o)
		if o.dir != Up && to < w.span.From+near || o.dir != Down && to > w.span.To-near {
			continue // driven away from an end it would have gone
		}
		went := float64(o.dir) * (to - from)
		if due > 2*w.visible() && math.Abs(went) < due/3 {
			sure = append(sure, o)
			continue
		}
		short, dues, wents = append(short, o), dues+due, wents+went
	}
	if len(short) > 0 && dues > 2*w.visible()*math.Sqrt(float64(len(short))) && math.Abs(wents) < dues/3 {
		sure = append(sure, short...)
	}
	return sure
}

// waysGone tells of each direction whether any of its drives moved the shaft.
func (w *work) waysGone() (ways [2]bool) {
	for i := range w.moves {
		if m := &w.moves[i]; m.Direction != None && w.moved(m) {
			ways[side(m.Direction)] = true
		}
	}
	return ways
}

// heldAbout gives the openings before and after which, in the same drive, the motor drew
// the current of one that is held: it was pressed against something, and nothing lets a
// motor under drive draw less than that but an open circuit. They are longer than the
// bounce of a contact or a commutator's gap, and where only the polarity was logged of
// uneven lengths: a driver that protects itself switches off and on by its clock.
func (w *work) heldAbout(open []opening) []opening {
	const (
		least = 0.1 // s
		about = 0.3 // s in which a motor that is connected anew is held again
	)
	held := 0.6 * w.blockedCurrent(nil) // brushes and heat change it by a tenth or two
	var out []opening
	for _, o := range open {
		from, to := w.t[o.first], w.t[min(o.last, len(w.t)-1)]
		if to-from < least || !w.drivenAlike(o.first, o.last, about) {
			continue
		}
		// A shaft that goes on is not held: a load that drives it takes the current to nothing.
		if at, on, due := w.duringOpening(o); float64(o.dir)*(on-at) > math.Max(w.visible(), due/3) {
			continue
		}
		if w.currentWithin(from-about, from-w.tr.Step) > held && w.currentWithin(to+w.tr.Step, to+about) > held {
			out = append(out, o)
		}
	}
	if !w.driveKnown() && (len(out) < 2 || !w.unevenLengths(out)) {
		return nil
	}
	return out
}

// drivenAlike tells whether the drive about a stretch of rows, so many seconds before and
// after, is that within it.
func (w *work) drivenAlike(first, last int, about float64) bool {
	for i := indexAt(w.t, w.t[first]-about) + 1; i < len(w.t) && (i < last || w.t[i] < w.t[last-1]+about); i++ {
		if w.d.pol[i] != w.d.pol[first] {
			return false
		}
	}
	return true
}

// unevenLengths tells whether openings differ in length by more than a clock, read by
// rows, makes them.
func (w *work) unevenLengths(open []opening) bool {
	lo, hi := math.Inf(1), 0.0
	for _, o := range open {
		s := w.t[min(o.last, len(w.t)-1)] - w.t[o.first]
		lo, hi = math.Min(lo, s), math.Max(hi, s)
	}
	return hi-lo > math.Max(2*w.tr.Step, 0.2*lo)
}

// duringOpening is the reading at the beginning and the end of an opening, and
// how far the shaft would have gone meanwhile. An open motor runs on for a
// moment: the first third is left out.
func (w *work) duringOpening(o opening) (from, to, due float64) {
	a := o.first + (o.last-o.first)/3
	k := max(1, min(w.window/2, (o.last-a)/2))
	// From the middle of the first rows to the middle of the last.
	due = w.rate[side(o.dir)] * (w.t[o.last-1] - w.t[a+k-1] + w.t[o.last-k] - w.t[a]) / 2
	return medianOf(w.v[a : a+k]), medianOf(w.v[o.last-k : o.last]), due
}

func (w *work) brokenFinding(form string, open []opening) Finding {
	f := Finding{Kind: Broken, Form: form, Tie: TiedToTime, TieP: 1, Event: "motor circuit", Time: noInterval(), Volts: noInterval()}
	shortest, longest, all, stood := math.Inf(1), 0.0, 0.0, 0
	for _, o := range open {
		if o.stood {
			stood++
		}
		t := Interval{w.t[o.first], w.t[min(o.last, len(w.t)-1)]}
		lo, hi := extremes(w.v[o.first:o.last])
		f.Time = f.Time.widen(t.From).widen(t.To)
		f.Volts = f.Volts.widen(lo).widen(hi)
		f.Places = append(f.Places, Occurrence{t, Interval{lo, hi}, o.dir})
		shortest, longest, all = math.Min(shortest, t.Width()), math.Max(longest, t.Width()), all+t.Width()
	}
	f.Seen, f.Passes = len(open), len(open)
	f.Measures = []Measure{{"breaks", float64(len(open)), ""}, {"shortest", shortest, "s"}, {MeasureLongest, longest, "s"}, {"in all", all, "s"}}
	if form != brokenNoCurrent { // that one takes it for granted, see stoodMidway
		f.Measures = append(f.Measures, Measure{stoodMeanwhile, float64(stood), ""})
	}
	return f
}

// joinBroken joins to a drive that breaks off the stands and the stalls that it
// makes, and a control or a person that tries again.
func (w *work) joinBroken() {
	for i := range w.found {
		b := &w.found[i]
		if b.Kind != Broken || b.Form == brokenMidway {
			continue
		}
		for k := range w.found {
			f := &w.found[k]
			switch f.Kind {
			case Hunting, NoMotion, OneWay:
				f.Event = b.Event
			case Pauses, GearSlip, Jam, SlowZone, StickSlip, EndLoss, DeadSpot, Play:
				if f.during(b) {
					f.Event = b.Event
					f.Strength *= 0.2
				}
			case Dropouts:
				// A plug whose pins all let go takes the signal too, to a level of its own.
				if f.during(b) && w.noFurtherThanDriven(f) {
					f.Event = b.Event
					f.Strength *= 0.2
				}
			}
		}
		return
	}
}

// noFurtherThanDriven tells whether the reading went in none of the places of a finding
// further than a driven shaft goes in that time: that it stands, and that the current which
// comes back takes the ground's volts along, is no signal that is lost.
func (w *work) noFurtherThanDriven(f *Finding) bool {
	for _, p := range f.Places {
		if p.Volts.Width() > w.rate[side(p.Direction)]*p.Time.Width()+w.tol {
			return false
		}
	}
	return len(f.Places) > 0
}

// during tells whether at least half of the places of a finding, or its whole
// time where it has none, fall into those of another.
func (f *Finding) during(o *Finding) bool {
	const by = 0.2 // s: motors take as long to come up again
	hit := func(t Interval) bool {
		for _, p := range o.Places {
			if (Interval{p.Time.From - by, p.Time.To + by}).Overlaps(t) {
				return true
			}
		}
		return false
	}
	if len(f.Places) == 0 {
		return hit(f.Time)
	}
	n := 0
	for _, p := range f.Places {
		if hit(p.Time) {
			n++
		}
	}
	return 2*n >= len(f.Places)
}

func (f *Finding) brokenTitle(longest float64) string {
	switch f.Form {
	case brokenNoCurrent, brokenNoStart:
		if f.has(startsAfter) {
			return fmt.Sprintf("Driven, no current flows, %s, up to %.2f s, and the shaft stands or the current comes back as that of a start.", timesText(f.Seen), longest)
		}
		return fmt.Sprintf("Driven, no current flows and the shaft stands, %s, up to %.2f s.", timesText(f.Seen), longest)
	}
	if f.Form == brokenFloats {
		return fmt.Sprintf("A lead stands above the one that is driven, further than a driver lets it, %s, up to %.2f s.", timesText(f.Seen), longest)
	}
	if f.Form == brokenUnloaded {
		return fmt.Sprintf("Driven, the shaft stands and the drive's volts rise, as without current, %s, up to %.2f s.", timesText(f.Seen), longest)
	}
	s := fmt.Sprintf("The drive breaks off and comes back in the same direction %s, up to %.2f s", timesText(f.Seen), longest)
	switch stood, _ := f.Measure(stoodMeanwhile); {
	case int(stood) == f.Seen:
		s += ", and the shaft stands meanwhile"
	case stood > 0:
		s += fmt.Sprintf("; in %.0f of them the shaft stands, in the others it does not show", stood)
	}
	return s + "."
}
