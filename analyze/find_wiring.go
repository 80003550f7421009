package analyze

import (
	"math"
	"slices"
	"strings"

	"threewire/signal"
)

// findNotAPot tells whether the feedback wire carries pulses or data: it sits
// at two levels, hardly ever between them, and changes often.
func (w *work) findNotAPot() bool {
	lo, hi, ok := signal.StateLevels(w.tr.Feedback.Mean)
	if !ok || hi-lo < math.Max(10*w.noise, 0.1*w.ref) || len(w.v) < 100 {
		return false
	}
	between, flips, state := 0, 0, 0
	var parts [10]bool // of the capture that hold a change
	for i, v := range w.v {
		was := flips
		switch q := (v - lo) / (hi - lo); {
		case q > 0.8 && q < 1.2:
			if state == -1 {
				flips++
			}
			state = 1
		case q < 0.2 && q > -0.2:
			if state == 1 {
				flips++
			}
			state = -1
		default:
			between++
		}
		if flips > was {
			parts[i*len(parts)/len(w.v)] = true
		}
	}
	if w.flipsWithDrive(lo, hi) {
		return false
	}
	busy := 0
	for _, p := range parts {
		if p {
			busy++
		}
	}
	// Pulses and data change many times a second, all the time; a wiper that
	// opens or lifts does so at its place.
	if busy < 8 || flips < 20 || float64(flips) < 5*w.tr.Duration() || between*20 > len(w.v) {
		return false
	}
	w.found = append(w.found, Finding{Kind: NotAPot, Strength: 1, Time: Interval{w.t[0], w.t[len(w.t)-1]}, Volts: Interval{lo, hi},
		Seen: flips, Passes: flips, Tie: TieUnknown, TieP: 1, Event: "pulses",
		Measures: []Measure{{MeasureChanges, float64(flips) / math.Max(w.tr.Duration(), 1e-9), "Hz"}}})
	return true
}

// flipsWithDrive tells whether the reading goes to the one level under one polarity of
// the drive and to the other under the other: pulses and data know nothing of the drive,
// a wiper that a control drives to and fro over a broken track goes by it. Half of the
// changes would fit by chance; of twenty, nine in ten do once in five thousand times.
func (w *work) flipsWithDrive(lo, hi float64) bool {
	var n [2][2]int // to the low or the high level, by polarity
	mid, was := (lo+hi)/2, w.v[0]
	for i := 1; i < len(w.v); i++ {
		if p := w.d.pol[i]; p != 0 && (w.v[i] > mid) != (was > mid) {
			to := 0
			if w.v[i] > mid {
				to = 1
			}
			n[to][side(Direction(p))]++
		}
		was = w.v[i]
	}
	fit := max(n[0][0]+n[1][1], n[0][1]+n[1][0])
	all := n[0][0] + n[0][1] + n[1][0] + n[1][1]
	return all >= 20 && 10*fit >= 9*all
}

// aboveSupply is the form of a feedback that reads more than its sensor's supply
// can give.
const aboveSupply = "above the supply"

// assumedSupply is the name of a measure: the sensor's supply, where nothing tells it.
const assumedSupply = "assumed supply of the sensor"

// channelEnds is the name of a measure: the instrument's channel ends at a level.
const channelEnds = "the channel ends there"

// beyondSupply is how many times its supply a reading has to be for no tolerance
// of either to explain it.
const beyondSupply = 1.25

// findRails reports a feedback that sits at a rail where no travel reaches.
func (w *work) findRails() {
	if w.refGone() {
		return
	}
	if w.findCrushed() || w.findAbove() {
		return
	}
	low, high, longest, level, when := w.timeAtRails()
	band := w.opt.RailBand * w.ref
	total := w.tr.Duration()
	if longest < math.Max(0.5, 5*w.tr.Step) || total <= 0 {
		return
	}
	f := Finding{Kind: AtRail, Time: when, Tie: TieUnknown, TieP: 1, Seen: 1, Passes: 1, Event: "rail",
		Strength: math.Min(1, longest/1.0), Places: []Occurrence{{Time: when}},
		Measures: []Measure{{MeasureShareOfCapture, 100 * (low + high) / total, "%"}, {MeasureLongest, longest, "s"}}}
	if low >= high {
		f.Form, f.Volts = lowLevel, Interval{0, band}
	} else {
		f.Form, f.Volts = "high", Interval{w.ref - band, w.ref}
	}
	f.Measures = append(f.Measures, Measure{MeasureLevel, level, w.unit()})
	if f.Form == "high" && w.unit() == "V" && !w.shareKnown() {
		f.Measures = append(f.Measures, Measure{assumedSupply, w.ref, "V"})
	}
	if w.refSure && level > beyondSupply*w.ref {
		f.Form, f.Volts = aboveSupply, Interval{level, level}
		if w.atClip(level) {
			f.Measures = append(f.Measures, Measure{channelEnds, 1, ""})
		}
	}
	f.Places[0].Volts = f.Volts
	if w.overSound(when) {
		f.Measures = append(f.Measures, Measure{soundElsewhen, 1, ""})
	}
	if math.Max(low, high) > 0.98*total {
		f.Form += allTheTime
		for i := range w.found {
			if n := &w.found[i]; n.Kind == NoMotion && n.Form == "" || n.Kind == HalfDrive && n.Form != oneWaySince {
				// What stands at a rail shows no shaft that stands, and a control that reads it
				// wants to get away from there, the one way that leads away.
				n.Event, n.Strength = f.Event, 0.3*n.Strength
			}
		}
	}
	if strings.HasPrefix(f.Form, aboveSupply) {
		// Its own beginning and end are no losses beside.
		near := Interval{when.From - 0.3, when.To + 0.3}
		w.found = slices.DeleteFunc(w.found, func(g Finding) bool {
			return g.Kind == Dropouts && !slices.ContainsFunc(g.Places, func(o Occurrence) bool { return !near.Overlaps(o.Time) })
		})
		w.overrule(f.Event, Dropouts, LastingLeap, Hunting, DeadSpot, NoMotion, Pauses, OneWay, EndLoss, NoisyTrack)
	}
	w.found = append(w.found, f)
}

// timeAtRails is how long, in s, the reading is at the low rail and at the high one, where no
// travel reaches, and of the longest time of these its length, its level and when it was.
// Noise alone does not take it away from there.
func (w *work) timeAtRails() (low, high, longest, level float64, when Interval) {
	band, noise := w.opt.RailBand*w.ref, w.lim.NoiseSigmas*w.noise
	// A stop near a rail gives a little; what is lost goes further.
	off := math.Max(w.tol, 0.02*w.ref) // chosen, not derived
	rail := func(v float64, was Direction) Direction {
		near := func(d Direction) float64 {
			if d == was {
				return band + noise
			}
			return band
		}
		switch {
		case w.span.Width() > 0 && v > w.span.From-off && v < w.span.To+off:
			return None
		case v < near(Down):
			return Down
		case v > w.ref-near(Up):
			return Up
		}
		return None
	}
	start, at := -1, None
	for i := 0; i <= len(w.v); i++ {
		now := None
		if i < len(w.v) {
			now = rail(w.v[i], at)
		}
		if now == at {
			continue
		}
		if at != None {
			end := min(i, len(w.v)-1)
			d := lapse(w.t[end], w.t[start])
			if d > longest {
				longest, when, level = d, Interval{w.t[start], w.t[end]}, medianOf(w.v[start:end+1])
			}
			if at == Down {
				low += d
			} else {
				high += d
			}
		}
		start, at = i, now
	}
	return low, high, longest, level, when
}

// soundElsewhen is the measure of a loss over places that are read at other times.
const soundElsewhen = "the same places are read at other times"

// overSound tells whether the shaft went a fifth of its travel or more while the
// reading was away, over places that two other passes read without a break.
func (w *work) overSound(away Interval) bool {
	const rows = 5
	a, b := indexAt(w.t, away.From), indexAt(w.t, away.To)
	if a < rows || b+rows > len(w.v) {
		return false
	}
	x, y := medianOf(w.v[a-rows:a]), medianOf(w.v[b:b+rows])
	over := Interval{math.Min(x, y), math.Max(x, y)}
	if over.Width() < 0.2*w.span.Width() {
		return false
	}
	near := 0.05 * w.span.Width()
	n := 0
	for _, r := range w.ways() {
		if r.From < over.From+near && r.To > over.To-near {
			n++
		}
	}
	return n >= 2
}

// aboveMeasured is how many times a supply that was logged beside it a reading has
// to be: two channels of one instrument agree to a few percent (common practice, no
// source).
const aboveMeasured = 1.08

// findAbove reports a reading that travels above the supply that was logged with
// it: no divider gives more than it gets.
func (w *work) findAbove() bool {
	if !w.refMeasured() {
		return false
	}
	f := Finding{Kind: AtRail, Form: aboveSupply, Tie: TieUnknown, TieP: 1, Seen: 1, Passes: 1, Event: "rail", Strength: 1}
	total, longest := 0.0, 0.0
	var most []float64
	for i := 0; i < len(w.v); i++ {
		j := i
		for j < len(w.v) && w.v[j] > aboveMeasured*w.ref {
			j++
		}
		if j > i {
			d := lapse(w.t[j-1], w.t[i])
			total += d
			most = append(most, w.v[i:j]...)
			if d > longest {
				longest, f.Time = d, Interval{w.t[i], w.t[j-1]}
			}
			i = j
		}
	}
	if longest < math.Max(0.5, 5*w.tr.Step) || total < 0.02*w.tr.Duration() {
		return false
	}
	level := quantileOf(most, 0.9)
	if level > beyondSupply*w.ref {
		return false // no travel leads there, see findRails
	}
	f.Volts = Interval{level, level}
	f.Places = []Occurrence{{Time: f.Time, Volts: f.Volts}}
	f.Measures = []Measure{{MeasureShareOfCapture, 100 * total / w.tr.Duration(), "%"}, {MeasureLongest, longest, "s"}, {MeasureLevel, level, w.unit()}}
	w.overrule(f.Event, LastingLeap, Jam, SpanShift, SlowZone)
	w.found = append(w.found, f)
	return true
}

// longestUndriven is the measure of the furthest that the reading goes without a drive.
const longestUndriven = "longest undriven travel"

// allTheTime ends the form of a reading that never leaves a rail.
const allTheTime = ", all the time"

// crushed is the form of a reading that follows the drive within a twentieth of
// its supply next to a rail.
const crushed = "all of it next to a rail"

// findCrushed reports a feedback that stays within [wiperMargin] of a rail, where
// wipers never are, while the actuator is driven to and fro: the sensor has lost one end of its supply, and
// what is left of the travel comes through the inputs of the control.
func (w *work) findCrushed() bool {
	driven := 0.0
	var ways [2]bool
	for k := range w.moves {
		driven += w.moves[k].Duration()
		ways[(w.moves[k].Polarity+1)/2] = true
	}
	lo, hi := quantileOf(w.v, 0.01), quantileOf(w.v, 0.99)
	low := hi < wiperMargin*w.ref
	if !w.refSure || driven < 2 || !ways[0] || !ways[1] || !low && (lo < (1-wiperMargin)*w.ref || hi > beyondSupply*w.ref) {
		return false
	}
	f := Finding{Kind: AtRail, Form: crushed, Time: w.drivenTime(), Volts: Interval{lo, hi}, Tie: TieUnknown, TieP: 1, Seen: 1, Passes: 1, Event: "rail",
		Strength: 1, Places: []Occurrence{{Time: w.drivenTime(), Volts: Interval{lo, hi}}},
		Measures: []Measure{{MeasureShareOfCapture, 100, "%"}, {MeasureLongest, w.tr.Duration(), "s"}}}
	if w.sense != 0 {
		f.Measures = append(f.Measures, Measure{followsDrive, 1, ""})
	}
	for i := range w.found {
		switch w.found[i].Kind {
		case RefLoss, SupplySag, NoDrive, HalfDrive, NotAPot, Ignored, Broken:
		default:
			w.found[i].Event, w.found[i].Strength = f.Event, 0.2*w.found[i].Strength
		}
	}
	w.found = append(w.found, f)
	return true
}

// findSelfMotion reports feedback that travels while nothing drives.
func (w *work) findSelfMotion() {
	if len(w.moves) == 0 {
		return // see travelsUndriven
	}
	last := math.Inf(-1)
	total, most, times, longest := 0.0, 0.0, 0, Interval{}
	start := -1
	flush := func(end int) {
		if start >= 0 && end-start >= 3 {
			a := medianOf(w.v[start:min(end, start+max(3, w.window/2))])
			b := medianOf(w.v[max(start, end-max(3, w.window/2)):end])
			step := 0.0
			for i := start + 1; i < end; i++ {
				step = math.Max(step, math.Abs(w.v[i]-w.v[i-1]))
			}
			// A jump is a drop-out; a shaft moves step by step.
			if d := math.Abs(b - a); d > math.Max(3*w.tol, 0.1*w.ref) && step < 0.5*d {
				total += d
				most = math.Max(most, d)
				times++
				if lapse(w.t[end-1], w.t[start]) > longest.Width() {
					longest = Interval{w.t[start], w.t[end-1]}
				}
			}
		}
		start = -1
	}
	for i := range w.v {
		if w.d.pol[i] != 0 {
			flush(i)
			last = w.t[i]
			continue
		}
		if lapse(w.t[i], last) < restForMotion {
			continue
		}
		if start < 0 {
			start = i
		}
	}
	flush(len(w.v))
	if total == 0 {
		return
	}
	w.found = append(w.found, Finding{Kind: SelfMotion, Time: longest, Volts: w.span, Tie: TiedToTime, TieP: 1, Strength: math.Min(1, total/(0.3*w.ref)),
		Event: "drive", Seen: times, Passes: times, Measures: []Measure{{"undriven travel", total, w.unit()}, {longestUndriven, most, w.unit()}}})
}
