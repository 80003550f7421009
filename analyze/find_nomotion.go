package analyze

import (
	"math"
	"strings"
)

// findNoMotion reports a drive to which nothing answers, and what the current
// says about it if it was logged.
func (w *work) findNoMotion() bool {
	if w.sense != 0 {
		return false
	}
	driven := 0.0
	both := [2]bool{}
	for _, m := range w.moves {
		driven += m.Duration()
		both[(m.Polarity+1)/2] = true
	}
	if driven < leastDriven {
		return false
	}
	if w.refGone() {
		return true // a sensor without supply tells nothing: that finding stands
	}
	lo, hi := extremes(w.v)
	if quantileOf(w.v, 0.98)-quantileOf(w.v, 0.02) > math.Max(4*w.tol, 0.1*w.ref) {
		return false // it does move, only not so that a sense shows
	}
	f := Finding{Kind: NoMotion, Time: w.drivenTime(), Volts: Interval{lo, hi}, Tie: TieUnknown, TieP: 1, Strength: 1, Event: "no motion",
		Seen: len(w.moves), Passes: len(w.moves), Measures: []Measure{{MeasureDriven, driven, "s"}, {MeasureLargestChange, hi - lo, w.unit()}}}
	if !both[0] || !both[1] {
		// One polarity may just push against a stop.
		f.Form = "one polarity only"
		f.Strength = 0.5
	}
	if w.tr.DriveIsPolarity {
		f.Measures = append(f.Measures, Measure{onlyPolarity, 1, ""})
	}
	w.allInVain().tell(&f)
	w.found = append(w.found, f)
	return true
}

// deafDrives are drives to which nothing answers: all of a capture, or those from some
// moment on.
type deafDrives struct {
	*work
	drives []Move
	from   int // the first bin that is looked at
}

// allInVain are all drives of a capture.
func (w *work) allInVain() *deafDrives { return &deafDrives{w, w.moves, 0} }

// tell says what the reading, the supply and the current tell of them.
func (u *deafDrives) tell(f *Finding) {
	v := u.v[u.from:]
	// A wiper's reading is quiet to a percent of its supply or two, sparks apart: what
	// swings by a tenth from row to row, or with the mains, is no position.
	if u.unsupplied() {
		f.Form, f.Strength = noSupply, 1
	} else if u.noise > 0.03*u.ref || quantileOf(v, 0.9)-quantileOf(v, 0.1) > 0.1*u.ref {
		f.Form = readsNoise
		f.Strength = 1
	} else if u.conductsOneWay() {
		f.Form = currentOneWay
	} else if c := u.current(); c != "" {
		f.Form = c
		f.Measures = append(f.Measures, Measure{drivenApart, u.apart(), "s"})
		if held, known := u.heldLater(); known && strings.HasPrefix(c, turningCurrent) {
			f.Measures = append(f.Measures, Measure{drivesHeldLater, float64(held), ""})
		}
	} else if u.feeble() {
		f.Form = feebleDrive
		f.Strength = 1
		f.Measures = append(f.Measures, Measure{"drive", u.d.amp, "V"})
	} else if u.tr.Current != nil {
		f.Measures = append(f.Measures, Measure{currentSilent, 1, ""})
	}
}

// onlyPolarity is the name of a measure.
const onlyPolarity = "only the polarity was logged"

// currentSilent is the name of a measure: the current was logged and leaves open whether
// the motor turns.
const currentSilent = "the current does not tell"

const feebleDrive = "feeble drive"

// readsNoise is the form of no motion on a feedback wire that tells no position: open,
// it takes up what is about.
const readsNoise = "the reading is noise or hum"

// noSupply is the form of no motion where the motor's supply is not there.
const noSupply = "no supply"

// unsupplied tells whether the logged supply has fewer volts, while driven, than such a
// motor starts on: the polarity is then what was wanted, and nothing came of it.
func (u *deafDrives) unsupplied() bool {
	s := u.tr.Supply
	if s == nil || s.Unit != "V" || !u.tr.DriveIsPolarity {
		return false
	}
	var on []float64
	for i := u.from; i < len(u.d.pol); i++ {
		if x := float64(s.Mean[i]); u.d.pol[i] != 0 && !math.IsNaN(x) {
			on = append(on, x)
		}
	}
	return len(on) > 2 && quantileOf(on, 0.9) < startVolts
}

// currentOneWay is the form of no motion where one polarity draws a current and the other
// none.
const currentOneWay = "current at one polarity only"

// conductsOneWay tells whether one polarity drives a clear current through the motor and the
// other, asked for more than once, none. Brushes and a winding conduct either way, held or
// turning; a diode in a lead, or a bridge with one leg open, does not, and the shaft then
// stands where the one polarity has taken it. Only of a whole capture: the one of which
// [work.noCurrent] tells.
func (u *deafDrives) conductsOneWay() bool {
	const often = 2
	if u.from != 0 || u.tr.Current == nil {
		return false
	}
	var n [2]int
	var at [2][]float64
	for _, m := range u.drives {
		s := side(Direction(m.Polarity))
		n[s]++
		if x := u.currentWithin(m.Time.From, m.Time.To); !math.IsNaN(x) {
			at[s] = append(at[s], x)
		}
	}
	least := u.tr.Current.Stats.Quantum
	if u.tr.Current.Unit == "A" {
		least = leastHeld
	}
	for s := range n {
		// A motor that starts draws its inrush, however little it takes to turn.
		if n[s] >= often && len(at[1-s]) > 0 && u.noCurrent(s) && u.inrushOf(s)-u.idleCurrent() < medianOf(at[1-s])/2 && medianOf(at[1-s])-u.idleCurrent() > 3*least {
			return true
		}
	}
	return false
}

// feeble tells whether the drive's volts are too few to start any such motor:
// less than a fifth of the supply, or of 12 V. About a volt is also what a divider
// by ten shows of a good drive: without a supply channel that stays open.
func (w *work) feeble() bool {
	if !w.driveKnown() || w.d.pulsed {
		return false
	}
	if s := w.tr.Supply; s != nil {
		if usual := medianOf32(s.Mean); usual > lowestSupply {
			return w.d.amp < w.lim.DriveOn*usual
		}
	}
	return w.d.amp < w.lim.DriveOn*12 && (w.d.amp < 0.9 || w.d.amp > 1.5)
}

// neverRunning is a current in A that a small gear motor of 12 V does not take to
// turn: it would be 6 W, of a motor that runs on a few tens of mA and is stalled
// by a few hundred (common practice, no source).
const neverRunning = 0.5

// leastHeld is a current in A that is too small for such a motor when it is held: its
// winding has some tens of ohms, two hundred at most (common practice, no source). One
// that turns may draw as little, but starts with an inrush.
const leastHeld = 0.04

// drivenApart is the name of a measure: how far apart the furthest places would be that
// the drives take a shaft to which no stop holds, as time at 12 V.
const drivenApart = "driven one way on balance"

// apart is how far apart the furthest places are that the drives, added up with their
// signs, take a shaft to which no stop holds, in s at 12 V: the speed goes with the volts
// above those it starts at.
func (u *deafDrives) apart() float64 {
	at, lo, hi := 0.0, 0.0, 0.0
	for _, m := range u.drives {
		share := 1.0
		if u.driveKnown() {
			share = math.Max(0, math.Abs(m.DriveMean)-startVolts) / (12 - startVolts)
		}
		at += float64(m.Polarity) * share * m.Duration()
		lo, hi = math.Min(lo, at), math.Max(hi, at)
	}
	return hi - lo
}

// current reads the motor current during drives that move nothing: none (open
// motor circuit), falling after the start (the motor turns), or staying at
// the inrush (the shaft is blocked), where an inrush would have shown. Empty when
// not logged or not clear.
func (u *deafDrives) current() string {
	c := u.tr.Current
	if c == nil {
		return ""
	}
	var rest, on []float64
	for i := u.from; i < len(c.Mean); i++ {
		f := math.Abs(float64(c.Mean[i]))
		if math.IsNaN(f) {
			continue
		}
		if u.d.pol[i] == 0 {
			rest = append(rest, f)
		} else {
			on = append(on, f)
		}
	}
	if len(on) == 0 {
		return ""
	}
	early := u.earlyCurrent()
	idle, run := 0.0, medianOf(on)
	scatter := 0.0
	if len(rest) > 0 {
		idle = medianOf(rest)
		scatter = quantileOf(rest, 0.95) - idle
	}
	// Amperes are only known where the file tells them: else the current is compared
	// with itself alone.
	least := math.Max(2*scatter, c.Stats.Quantum)
	if c.Unit == "A" {
		least = math.Max(0.01, 2*scatter)
	}
	if run-idle <= least {
		return noCurrentFlows + ": the motor circuit is open"
	}
	if c.Unit == "A" && run-idle > neverRunning {
		return stallCurrent + ": more than such a motor takes to turn"
	}
	if c.Unit == "A" && run-idle < leastHeld && len(early) > 0 && quantileOf(early, 0.95)-idle < 2*(run-idle) && u.showsInrush(idle, run) {
		return noCurrentFlows + ": the motor circuit is open, what little flows takes another way"
	}
	if len(early) > 0 && u.tr.Step < 0.02 {
		switch inrush := quantileOf(early, 0.95); {
		case u.heldAfterPlay(inrush):
			return stallCurrent + ": the shaft is blocked, after its play at the most"
		case run < 0.6*inrush:
			return turningCurrent + ": the motor turns unseen"
		case run > 0.85*inrush && u.showsInrush(idle, run):
			return stallCurrent + ": the shaft is blocked"
		}
	}
	return u.currentAsBefore(run)
}

// earlyCurrent is the unsigned current of the first moment of each drive.
func (u *deafDrives) earlyCurrent() (early []float64) {
	for _, m := range u.drives {
		early = append(early, u.firstCurrent(m)...)
	}
	return early
}

// firstCurrent is the unsigned current of the first moment of a drive.
func (u *deafDrives) firstCurrent(m Move) (early []float64) {
	for i := m.first; i < m.last && lapse(u.t[i], u.t[m.first]) < 0.03; i++ {
		early = append(early, math.Abs(float64(u.tr.Current.Mean[i])))
	}
	return early
}

// inrushOf is the unsigned current that the first moments of drives of one side come up to;
// 0 where none was logged.
func (u *deafDrives) inrushOf(way int) float64 {
	var early []float64
	for _, m := range u.drives {
		if side(Direction(m.Polarity)) == way {
			early = append(early, u.firstCurrent(m)...)
		}
	}
	if len(early) == 0 {
		return 0
	}
	return quantileOf(early, 0.95)
}

// drivesHeldLater is the name of a measure: drives in which the motor ran at first and
// was held later on.
const drivesHeldLater = "drives that end at a stop by the current"

// heldLater counts drives in which a motor that had run up came to be held, by its
// current, as at a stop. known is false where some of them end in between: a load that
// is heavy, or brushes, may be either.
func (u *deafDrives) heldLater() (held int, known bool) {
	const (
		runUp   = 0.2  // s, longer than such motors take to get up to speed
		stood   = 0.1  // s, longer than brushes take to pass from bar to bar
		isHeld  = 0.85 // of the inrush, as a current that says that the shaft is blocked
		running = 0.6  // of it, as one that says that the motor turns
	)
	inrush := quantileOf(u.earlyCurrent(), 0.95)
	for k := range u.drives {
		m := &u.drives[k]
		if m.Duration() < runUp+stood {
			continue
		}
		switch x := u.currentWithin(m.Time.To-stood, m.Time.To) / inrush; {
		case x > isHeld:
			held++
		case !(x < running):
			return held, false
		}
	}
	return held, true
}

// showsInrush tells whether a motor that runs up would have shown its inrush in the
// current, which stays at so much while driven and is at idle else. It falls as
// I = Irun + (Istall - Irun) exp(-t/T), with Istall at least 2.5 Irun (greatestLoad) and
// the mechanical time constant T of such a motor with its first gear 8 ms or more
// (common practice, no source). The mean of the first whole row, which begins a row and
// 2 ms for the winding late at most, is then 1.19 Irun and more with rows 10 ms apart,
// which a current that stays within 85 % of it is not; with rows 15 ms apart it is
// 1.08 Irun. A filter of a clamp or a logger hides an inrush as well and gives itself
// away by its edges: one of time constant F takes 1.73 F from 15 to 85 % of a step, and
// 1.28 Irun are left of such an inrush where F is T. So 14 ms.
func (u *deafDrives) showsInrush(idle, run float64) bool {
	const (
		rows   = 0.0105 // s, a hundred a second
		edge   = 0.014  // s
		about  = 0.06   // s about a switching in which an edge is looked for
		starts = 2
	)
	if u.tr.Step > rows {
		return false
	}
	var on, off []float64 // s that each edge takes
	took := func(at int) float64 {
		n := 0
		for i := indexAt(u.t, u.t[at]-about/2); i < len(u.t) && u.t[i] < u.t[at]+about; i++ {
			if x := (math.Abs(float64(u.tr.Current.Mean[i])) - idle) / (run - idle); x > 0.15 && x < 0.85 {
				n++
			}
		}
		return float64(n) * u.tr.Step
	}
	for k := range u.drives {
		m := &u.drives[k]
		if m.first > 0 && u.d.pol[m.first-1] == 0 {
			on = append(on, took(m.first))
		}
		if m.last < len(u.t) && u.d.pol[m.last] == 0 {
			off = append(off, took(m.last))
		}
	}
	return len(on) >= starts && medianOf(on) <= edge && (len(off) == 0 || medianOf(off) <= edge)
}
