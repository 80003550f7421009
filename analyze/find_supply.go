package analyze

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"threewire/signal"
)

// findReference reports a logged reference that does not hold still or sits
// low. A sensor supply is a regulator's output, held to two percent or better
// (common practice, no source); a reading must also leave its own noise.
func (w *work) findReference() {
	r := w.tr.Reference
	if r == nil {
		return
	}
	m := w.usualReference()
	if w.refGone() {
		m = medianOf32(r.Mean)
		w.found = append(w.found, Finding{Kind: RefLoss, Form: refAbsent, Time: Interval{w.t[0], w.t[len(w.t)-1]}, Tie: TieUnknown, TieP: 1, Event: "rail",
			Strength: 1, Seen: 1, Passes: 1, Measures: []Measure{{MeasureLargestDeviation, 100, "%"}, {MeasureLevel, m, "V"}}})
		return
	}
	if !(m > 0) {
		return
	}
	usual := math.Max(0.03*m, w.jumpLimit(r))
	n, rows, worst, furthest := 0, 0, 0.0, m
	var away []float64
	when := noInterval()
	out := false
	if w.findWander(r, m, usual) {
		return
	}
	for i := range r.Mean {
		if dev := math.Abs(float64(r.Mean[i]) - m); dev > usual {
			if !out {
				n++
			}
			out = true
			rows++
			if dev/m > worst {
				worst, furthest = dev/m, float64(r.Mean[i])
			}
			when = when.widen(w.t[i])
			away = append(away, float64(r.Mean[i]))
		} else {
			out = false
		}
	}
	if n > 0 {
		f := Finding{Kind: RefLoss, Time: when, Tie: TiedToTime, TieP: 1, Event: "reference",
			Strength: math.Min(1, worst/0.05) * math.Min(1, float64(rows)/3), Seen: n, Passes: n,
			Measures: []Measure{{MeasureLargestDeviation, 100 * worst, "%"}, {MeasureUsualLevel, m, w.referenceUnit()}, {furthestLevel, furthest, w.referenceUnit()}}}
		if n == 1 && out && when.From > w.t[0] && when.Width() > 1 {
			f.Form = fromThenOn
			f.Measures = append(f.Measures, Measure{MeasureLevel, medianOf(away), w.referenceUnit()}, Measure{MeasureLevelBefore, m, w.referenceUnit()})
		}
		w.found = append(w.found, f)
		return
	}
	// A low but steady supply: only volts against a known nominal tell, and by
	// more than what a regulator and an instrument are off by together (5 %:
	// common practice, no source). A steady 2.5, 3 or 3.3 V is a regulator's too.
	if nominal := w.opt.ReferenceVolts; r.Unit == "V" && m < 0.95*nominal && math.Abs(m/3.3-1) > 0.05 && math.Abs(m/3-1) > 0.03 && math.Abs(m/2.5-1) > 0.03 {
		w.found = append(w.found, Finding{Kind: RefLoss, Form: lowLevel, Time: Interval{w.t[0], w.t[len(w.t)-1]}, Tie: TieUnknown, TieP: 1, Event: "reference",
			Strength: math.Min(1, (0.95-m/nominal)/0.05), Seen: 1, Passes: 1,
			Measures: []Measure{{MeasureLargestDeviation, 100 * (1 - m/nominal), "%"}, {MeasureLevel, m, "V"}}})
	}
}

// fromThenOn is the form of a reference that is at another level from one moment to
// the end of the capture.
const fromThenOn = "from one moment on"

// wanders is the form of a reference that rises or falls slowly, sinks of one that
// falls by more than a regulator and an instrument are off by together: then the
// regulator fails, or its wire loses ever more.
const (
	wanders = "wanders"
	sinks   = "sinks"
)

// findWander reports a reference that goes slowly from one level to another, second
// by second, and by nothing else than noise at any moment: the feedback goes with
// it, and a control that compares the two loses nothing.
func (w *work) findWander(r *signal.Series, m, usual float64) bool {
	n := max(8, w.rows(1))
	if len(r.Mean) < 10*n {
		return false
	}
	var level []float64
	for a := 0; a+n <= len(r.Mean); a += n {
		level = append(level, medianOf32(r.Mean[a:a+n]))
	}
	lo, hi := extremes(level)
	if !(hi-lo > usual) {
		return false
	}
	for k := 1; k < len(level); k++ {
		if !(math.Abs(level[k]-level[k-1]) < 0.25*(hi-lo)) {
			return false
		}
	}
	for i, x := range r.Mean {
		if !(math.Abs(float64(x)-level[min(i/n, len(level)-1)]) < usual+0.25*(hi-lo)) {
			return false
		}
	}
	f := Finding{Kind: RefLoss, Form: wanders, Time: Interval{w.t[0], w.t[len(w.t)-1]}, Tie: TiedToTime, TieP: 1, Event: "reference",
		Strength: math.Min(1, (hi-lo)/m/0.05), Seen: 1, Passes: 1, Measures: []Measure{{MeasureLargestDeviation, 100 * (hi - lo) / m, "%"}, {MeasureLevel, lo, w.referenceUnit()}, {MeasureHighestLevel, hi, w.referenceUnit()}}}
	// From first to last, and hardly ever up again.
	first, last := level[0], level[len(level)-1]
	if lowest := hi; first-last > sureSupply*hi && !slices.ContainsFunc(level, func(x float64) bool {
		lowest = math.Min(lowest, x)
		return x > lowest+0.25*(hi-lo)
	}) {
		f.Form = sinks
		f.Measures[0].Value = 100 * (first - last) / first
		f.Measures[1].Value, f.Measures[2].Value = last, first
	}
	w.found = append(w.found, f)
	return true
}

// runsAbove tells whether the motor gets more than so many volts for a tenth of the time
// that it turns: a control gives less than the supply has, never more.
func (w *work) runsAbove(volts float64) bool {
	var x []float64
	for _, g := range w.running() {
		x = append(x, w.d.mean[g.first:g.last]...)
	}
	for i := range x {
		x[i] = math.Abs(x[i])
	}
	return len(x) > 0 && quantileOf(x, 0.9) > volts
}

// refGone tells whether the logged reference is as good as absent: no sensor
// is fed with less than a third of the usual supply (3.3 V is the lowest in
// use: common practice, no source).
func (w *work) refGone() bool { return w.refLost.of(w.measureRefGone) }

func (w *work) measureRefGone() bool {
	r := w.tr.Reference
	if r == nil || r.Unit != "V" {
		return false
	}
	m := medianOf32(r.Mean)
	return !math.IsNaN(m) && m < w.opt.ReferenceVolts/3
}

// emptyBattery is the voltage in V at rest below which a lead-acid battery of 12 V is
// as good as empty: 1.93 V a cell (common practice, no source).
const emptyBattery = 11.6

// lowestSupply is the least, in V, at which a 12 V supply is on and a feed is sound: the
// lowest code of ISO 16750-2.
const lowestSupply = 6.0

// contactDrop is the least share of its volts at rest that a supply loses under load, so
// that a contact is bad: a fuse, a switch and some metres of wire may cost half a volt on
// either side of the motor, 8 % of 12 V (common practice, no source).
const contactDrop = 0.10

// findSupply reports a feed that gives way under load: the drive is much
// lower while the motor stalls than while it runs, or the logged supply dips
// when the motor is on ([contactDrop]). A supply that is low but stiff is no
// fault of the actuator; below [lowestSupply] it is a fault of the supply.
func (w *work) findSupply() {
	most := contactDrop
	seen, passes := 1, 1 // drives, where the supply was logged
	var drop, level float64
	name := ""
	var logged supplyUnderLoad
	if s := w.tr.Supply; s != nil {
		var ok bool
		if logged, ok = w.loggedSupply(s); !ok {
			return
		}
		seen, passes = logged.seen, logged.drives
		level, drop, name = logged.level, logged.drop, sagSupply
	}
	holds := name != "" && drop < most && level > lowestSupply // the supply does, where it was logged
	if (name == "" || holds) && !w.tr.DriveIsPolarity && !w.d.pulsed && w.d.amp > 2 {
		l, d, n := w.driveSag()
		if most = sagOfDrive; name == "" || d >= most {
			level, drop, name = l, d, n
			seen, passes = 1, 1
		} else {
			most = contactDrop
		}
	}
	if s := w.tr.Supply; s != nil && s.Unit == "V" && level > lowestSupply {
		if usual := medianOf32(s.Mean); usual > lowestSupply && usual < emptyBattery {
			// First of what the capture cannot tell, so that every report has it.
			w.blind = append([]Absence{{SupplySag, fmt.Sprintf("how it runs on a full battery: the supply is only %.1f V, on which every motor is slow; charge it and repeat", usual)}}, w.blind...)
		}
	}
	// A load draws on the supply in every drive. An engine that is started while the
	// shaft runs, or a charger that is switched, does so once.
	if name == sagSupply && 2*seen < passes && seen <= 2 && 2*logged.giving < passes && level > lowestSupply/2 {
		if drop >= most {
			w.notes = append(w.notes, fmt.Sprintf("the supply dips to %.1f V in %d of %d drives and holds in the others: an engine that is started, or another load, does that; the actuator would in each", logged.lowest, seen, passes))
		}
		return
	}
	if name == sagSupply && drop >= most && w.othersLoad(&logged) {
		w.notes = append(w.notes, logged.othersLoadNote())
		return
	}
	if name == "" || drop < most && (level > lowestSupply || w.tr.Supply == nil && w.runsAbove(lowestSupply)) {
		return
	}
	// A channel that ends below the motor's volts tells their fall, not their level.
	if drop < most && (w.builtForLess() || w.clipped && name != sagSupply) {
		return
	}
	if name == "drive" && drop > limitDrop && !holds {
		name = sagAsLimit
	}
	f := Finding{Kind: SupplySag, Form: name, Time: w.drivenTime(), Tie: TieUnknown, TieP: 1, Event: "supply",
		Strength: feedStrength(name, math.Max((drop-most)/0.1+0.5, (lowestSupply-level)/2)), Seen: seen, Passes: passes,
		Measures: []Measure{{MeasureLevelUnderLoad, level, "V"}, {MeasureDropUnderLoad, 100 * drop, "%"}}}
	if holds && name != sagSupply {
		f.Measures = append(f.Measures, Measure{supplyHolds, 1, ""})
	}
	if name == sagByLoads {
		f.Measures = append(f.Measures, Measure{givesUnderWay, 1, ""})
	}
	if name == "drive" || name == sagAsLimit {
		if how := w.feedUnderWay(level); how != "" {
			f.Measures = append(f.Measures, Measure{how, 1, ""})
		}
	}
	w.found = append(w.found, f)
}

// findSupplyStill is findSupply where nothing moves, of a supply that was logged. What it
// gives to a motor that runs is not seen, and one that is held takes a bench supply to
// its current limit: a sag is no surer than one at the stops alone.
func (w *work) findSupplyStill() {
	if w.tr.Supply == nil || w.allInVain().unsupplied() {
		return
	}
	n := len(w.found)
	w.findSupply()
	for i := n; i < len(w.found); i++ {
		w.found[i].Strength = feedStrength("drive", w.found[i].Strength)
	}
}

// builtForLess tells whether the shaft is too quick at these few volts for a motor of a
// 12 V system: such a one would cross its travel, at 12 V, in less than nineteen of twenty
// take. A motor built for the volts that it gets does not want for more. Short drives show
// it slower than it is.
func (w *work) builtForLess() bool {
	r := (w.rate[0] + w.rate[1]) / 2
	if !w.driveKnown() || w.d.pulsed || !(r > 0) || !(w.span.Width() > 0.2*w.ref) {
		return false
	}
	travel := w.span.Width()
	if !w.bothEnds() {
		travel = math.Max(travel, w.usualTravel())
	}
	at12 := travel / r * (w.d.amp - startVolts) / (12 - startVolts)
	return math.Log(at12) < math.Log(usualTransit)-1.96*usualSpread
}

// sagOfDrive is the share of the motor's volts that the feed may lose: 8 % in a sound
// harness, see [contactDrop], and another twentieth in the bridge's own transistors.
const sagOfDrive = 0.13

// supplyHolds is the measure of a drive that gives way under load while the supply it
// comes from does not: what is lost is lost between the two.
const supplyHolds = "the supply holds meanwhile"

// driveSag is what the motor's own volts show of a feed that gives way: the level under
// load, in V, the share that is lost, and the form it shows in.
func (w *work) driveSag() (level, drop float64, form string) {
	if l, d, ok := w.feedByCurrent(); ok {
		return l, d, "drive, by the current"
	}
	if l, d, ok := w.feedByLine(); ok {
		return l, d, "drive, by the current"
	}
	level, drop = w.sagAtStops()
	form = "drive"
	if l, d, ok := w.feedByStarts(); ok && d > drop {
		level, drop, form = l, d, sagAtStarts
	} else if l, d, ok := w.feedByLoads(); ok && d > drop {
		level, drop, form = l, d, sagByLoads
	}
	if run := level / (1 - drop); drop > 0 && (w.endsGently((level+run)/2) || w.runsOnLow(run, level)) {
		return w.d.amp, 0, "drive"
	}
	return level, drop, form
}

// supplyTitle says what was measured of the supply: level in V, drop in %.
func (f *Finding) supplyTitle(level, drop float64) string {
	what := strings.Split(f.Form, ",")[0]
	switch {
	case f.Form == supplyFallen:
		return f.supplyFallenTitle(level, drop)
	case f.Form == supplyBySpells:
		return f.supplySpellsTitle(level, drop)
	case f.Form == comesAndGoes:
		return fmt.Sprintf("The drive's volts come and go: %s they are at %.1f V, %.0f %% less than the rest of the time.", timesText(f.Seen), level, drop)
	case f.has(holdsUnderWay):
		return fmt.Sprintf("Supply falls at the stops only: the %s is %.1f V there, %.0f %% less than under way, where it holds however loaded.", what, level, drop)
	case f.has(supplyHolds):
		return fmt.Sprintf("The motor's volts give way under load while the supply holds: they fall to %.1f V, by %.0f %%.", level, drop)
	case drop < 10:
		return fmt.Sprintf("Supply low: the %s is only %.1f V under load.", what, level)
	}
	return fmt.Sprintf("Supply gives way under load: the %s falls to %.1f V, by %.0f %%.", what, level, drop)
}

// sagByLoads is the form of a sag that the loads under way foretell, see [work.feedByLoads].
const sagByLoads = "drive, by the loads under way"

// limitDrop is the share of the drive that a bench supply's current limit takes at least, where
// one is set at all: whoever sets it closer does not see the motor held (judgement, no source).
const limitDrop = 0.25

// sagAtStarts is the form of a sag that is alike at starts and stands, see [work.feedByStarts].
const sagAtStarts = "drive, at starts and stands"

// sagAsLimit is the form of a sag at the stops that is as deep as a bench
// supply's current limit makes one.
const sagAsLimit = "drive, at the stops only"

// feedStrength limits a sag seen on the drive at the stops alone: a controller
// that turns down its duty there looks the same.
func feedStrength(name string, s float64) float64 {
	if name == "drive" || name == sagAsLimit {
		return math.Min(0.6, s)
	}
	return math.Min(1, s)
}

// loaded is the supply under each drive as it would be from the level it has at rest:
// against what it was just before and is just after. A generator, a charger or an
// engine that is started meanwhile raises or lowers all of them.
func (w *work) loaded(s *signal.Series, rest float64) [][]float64 {
	const near = 0.3 // s
	var drives [][]float64
	n := len(w.d.pol)
	level := func(from, step int) float64 {
		var x []float64
		for i := from; i >= 0 && i < n && w.d.pol[i] == 0 && math.Abs(w.t[i]-w.t[from]) < near; i += step {
			if v := float64(s.Mean[i]); !math.IsNaN(v) {
				x = append(x, v)
			}
		}
		if len(x) == 0 {
			return math.NaN()
		}
		return medianOf(x)
	}
	for a := 0; a < n; {
		if w.d.pol[a] == 0 {
			a++
			continue
		}
		b := a
		for b < n && w.d.pol[b] != 0 {
			b++
		}
		before, after := level(a-1, -1), level(b, 1)
		if math.IsNaN(before) {
			before = after
		}
		if math.IsNaN(after) {
			after = before
		}
		if math.IsNaN(before) {
			before, after = rest, rest
		}
		var on []float64
		for i := a; i < b; i++ {
			if x := float64(s.Mean[i]); !math.IsNaN(x) {
				k := float64(i-a) / float64(max(1, b-a))
				on = append(on, x*rest/(before+k*(after-before)))
			}
		}
		drives = append(drives, on)
		a = b
	}
	return drives
}
