package analyze

import (
	"math"

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
	for _, v := range w.v {
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
	}
	// Pulses and data change many times a second; a wiper that opens does not.
	if flips < 20 || float64(flips) < 5*w.tr.Duration() || between*20 > len(w.v) {
		return false
	}
	w.found = append(w.found, Finding{Kind: NotAPot, Strength: 1, Time: Interval{w.t[0], w.t[len(w.t)-1]}, Volts: Interval{lo, hi},
		Seen: flips, Passes: flips, Tie: TieUnknown, TieP: 1, Event: "pulses",
		Measures: []Measure{{"changes per second", float64(flips) / math.Max(w.tr.Duration(), 1e-9), "Hz"}}})
	return true
}

// findRails reports a feedback that sits at a rail where no travel reaches.
func (w *work) findRails() {
	if w.refGone() {
		return
	}
	band := w.opt.RailBand * w.ref
	lowRail := func(v float64) bool { return v < band }
	highRail := func(v float64) bool { return v > w.ref-band }
	outside := func(v float64) bool {
		return w.span.Width() <= 0 || v < w.span.From-w.tol || v > w.span.To+w.tol
	}
	var low, high, longest float64
	var when Interval
	start := -1
	for i := 0; i < len(w.v); i++ {
		at := (lowRail(w.v[i]) || highRail(w.v[i])) && outside(w.v[i])
		if at && start < 0 {
			start = i
		}
		if start >= 0 && (!at || i == len(w.v)-1) {
			d := w.t[i] - w.t[start]
			if d > longest {
				longest, when = d, Interval{w.t[start], w.t[i]}
			}
			if lowRail(w.v[start]) {
				low += d
			} else {
				high += d
			}
			start = -1
		}
	}
	total := w.tr.Duration()
	if longest < math.Max(0.5, 5*w.tr.Step) || total <= 0 {
		return
	}
	f := Finding{Kind: AtRail, Time: when, Tie: TieUnknown, TieP: 1, Seen: 1, Passes: 1, Event: "rail",
		Strength: math.Min(1, longest/1.0), Places: []Occurrence{{Time: when}},
		Measures: []Measure{{"share of the capture", 100 * (low + high) / total, "%"}, {"longest", longest, "s"}}}
	if low >= high {
		f.Form, f.Volts = "low", Interval{0, band}
	} else {
		f.Form, f.Volts = "high", Interval{w.ref - band, w.ref}
	}
	f.Places[0].Volts = f.Volts
	if low+high > 0.98*total {
		f.Form += ", all the time"
	}
	w.found = append(w.found, f)
}

// findDriveFaults reports what is odd about the drive itself: absent,
// one-sided, or answered in one direction only.
func (w *work) findDriveFaults() {
	if w.d.none || len(w.moves) == 0 {
		w.found = append(w.found, Finding{Kind: NoDrive, Time: Interval{w.t[0], w.t[len(w.t)-1]}, Tie: TieUnknown, TieP: 1,
			Strength: 1, Event: "drive", Seen: 1, Passes: 1,
			Measures: []Measure{{"largest drive", w.d.amp, "V"}}})
		return
	}
	var count, stalled [2]int
	var driven, moved, best, volts [2]float64
	for k := range w.moves {
		m := &w.moves[k]
		s := 0
		if m.Polarity > 0 {
			s = 1
		}
		count[s]++
		driven[s] += m.Duration()
		volts[s] += m.Duration() * math.Abs(m.DriveMean)
		lo, hi := w.tracked(m)
		if hi > lo {
			moved[s] += hi - lo
			best[s] = math.Max(best[s], hi-lo)
		}
		if m.Stalled > 0.5*m.Duration() || m.Moving == 0 {
			stalled[s]++
		}
	}
	for s := range count {
		o := 1 - s
		if n, v := w.faintDrives(s); count[s] >= 3 && count[o] == 0 && n >= 3 {
			w.found = append(w.found, Finding{Kind: OneWay, Form: "few volts", Direction: -w.directionOf(s), Time: w.drivenTime(), Volts: w.span, Tie: TiedToDirection, TieP: 1,
				Strength: 1 - math.Exp(-float64(n)/1.5), Event: "one way", Seen: n, Passes: n,
				Measures: []Measure{{"drive that way", v, "V"}, {"drive the other way", w.d.amp, "V"}}})
		} else if count[s] >= 3 && count[o] == 0 && stalled[s] >= 2 {
			w.found = append(w.found, Finding{Kind: HalfDrive, Form: polarityWord(s) + " only", Time: w.drivenTime(), Tie: TieUnknown, TieP: 1,
				Strength: 1 - math.Exp(-float64(count[s])/2), Event: "one-sided", Seen: count[s], Passes: count[s],
				Measures: []Measure{{"moves of one polarity", float64(count[s]), ""}, {"of them into a stall", float64(stalled[s]), ""}}})
		}
		need := math.Max(w.tol*2, 0.02*w.ref)
		// Off a stop, seals and gears spring back a little by themselves.
		least := w.tol
		if w.restsAtEnd(s, w.directionOf(s)) {
			least = math.Max(least, w.lim.EndZone*w.span.Width())
		}
		if count[s] >= 2 && count[o] >= 1 && best[s] < least && best[o] > need && !w.creeps(s) && driven[s] > 0.5 && w.sense != 0 {
			dir := w.directionOf(s)
			f := Finding{Kind: OneWay, Direction: dir, Time: w.drivenTime(), Volts: w.span, Tie: TiedToDirection, TieP: 1,
				Strength: 1 - math.Exp(-float64(count[s])/1.5), Event: "one way", Seen: count[s], Passes: count[s],
				Measures: []Measure{{"drives without motion", float64(count[s]), ""}, {"travel the other way", best[o], w.unit()}}}
			if n := w.movedSince(s); n > 0 {
				f.Measures = append(f.Measures, Measure{"moves the other way since", float64(n), ""})
			} else if w.restsAtEnd(s, dir) {
				f.Measures = append(f.Measures, Measure{"rests at the end of the other direction", 1, ""})
			}
			if w.noCurrent(s) {
				f.Measures = append(f.Measures, Measure{"no current that way", 1, ""})
			}
			switch has, other := volts[s]/driven[s], volts[o]/math.Max(driven[o], 1e-9); {
			case w.tr.DriveIsPolarity:
				f.Measures = append(f.Measures, Measure{"only the polarity was logged", 1, ""})
			case has < 0.5*other:
				// Half the drive still turns a good motor one way and not the
				// other only if the load does; less is no drive at all.
				f.Form = "few volts"
				f.Measures = append(f.Measures, Measure{"drive that way", has, "V"}, Measure{"drive the other way", other, "V"})
			}
			w.found = append(w.found, f)
		}
	}
}

// directionOf is the direction in which drive of polarity s (0 negative, 1
// positive) moves the feedback.
func (w *work) directionOf(s int) Direction {
	if s == 1 {
		return Direction(w.sense)
	}
	return -Direction(w.sense)
}

// movedSince counts the moves that travelled after the first drive of the
// polarity that moves nothing: without one, the shaft may have stopped for
// good.
func (w *work) movedSince(s int) int {
	n, failed := 0, false
	for k := range w.moves {
		m := &w.moves[k]
		if (m.Polarity > 0) == (s == 1) {
			failed = true
			continue
		}
		if lo, hi := w.tracked(m); failed && hi-lo > 2*w.tol {
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
// stroke by stroke, although no single one shows it.
func (w *work) creeps(s int) bool {
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
		if d := float64(w.directionOf(s)) * (after - before); d > 2*w.visible() && d > w.lim.EndZone*w.span.Width() {
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
	if driven < 1 {
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
		Seen: len(w.moves), Passes: len(w.moves), Measures: []Measure{{"driven", driven, "s"}, {"largest change of feedback", hi - lo, w.unit()}}}
	if !both[0] || !both[1] {
		// One polarity may just push against a stop.
		f.Form = "one polarity only"
		f.Strength = 0.5
	}
	if c := w.current(); c != "" {
		f.Form = c
	}
	w.found = append(w.found, f)
	return true
}

// current reads the motor current during drives that move nothing: none (open
// motor circuit), falling after the start (the motor turns), or staying at
// the inrush (the shaft is blocked). Empty when not logged or not clear.
func (w *work) current() string {
	c := w.tr.Current
	if c == nil {
		return ""
	}
	var rest, on, early []float64
	for i, x := range c.Mean {
		f := math.Abs(float64(x))
		if math.IsNaN(f) {
			continue
		}
		if w.d.pol[i] == 0 {
			rest = append(rest, f)
		} else {
			on = append(on, f)
		}
	}
	for _, m := range w.moves {
		for i := m.first; i < m.last && w.t[i]-w.t[m.first] < 0.03; i++ {
			early = append(early, math.Abs(float64(c.Mean[i])))
		}
	}
	if len(on) == 0 {
		return ""
	}
	idle, run := 0.0, medianOf(on)
	scatter := 0.0
	if len(rest) > 0 {
		idle = medianOf(rest)
		scatter = quantileOf(rest, 0.95) - idle
	}
	if run-idle < math.Max(0.01, 2*scatter) {
		return "no current: the motor circuit is open"
	}
	if len(early) > 0 && w.tr.Step < 0.02 {
		switch inrush := quantileOf(early, 0.95); {
		case run < 0.6*inrush:
			return "running current: the motor turns unseen"
		case run > 0.85*inrush:
			return "stall current: the shaft is blocked"
		}
	}
	return ""
}

// findSelfMotion reports feedback that travels while nothing drives.
func (w *work) findSelfMotion() {
	const settle = 0.4
	last := math.Inf(-1)
	total, longest := 0.0, Interval{}
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
				if w.t[end-1]-w.t[start] > longest.Width() {
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
		if w.t[i]-last < settle {
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
		Event: "drive", Seen: 1, Passes: 1, Measures: []Measure{{"undriven travel", total, w.unit()}}})
}

// findReference reports a logged reference that does not hold still or sits
// low. A sensor supply is a regulator's output, held to two percent or better
// (common practice, no source); a reading must also leave its own noise.
func (w *work) findReference() {
	r := w.tr.Reference
	if r == nil {
		return
	}
	m := medianOf32(r.Mean)
	if w.refGone() {
		w.found = append(w.found, Finding{Kind: RefLoss, Form: "absent", Time: Interval{w.t[0], w.t[len(w.t)-1]}, Tie: TieUnknown, TieP: 1, Event: "rail",
			Strength: 1, Seen: 1, Passes: 1, Measures: []Measure{{"largest deviation", 100, "%"}, {"level", m, "V"}}})
		return
	}
	if !(m > 0) {
		return
	}
	var diff []float64
	for i := 1; i < len(r.Mean); i++ {
		if d := math.Abs(float64(r.Mean[i] - r.Mean[i-1])); !math.IsNaN(d) {
			diff = append(diff, d)
		}
	}
	if len(diff) == 0 {
		return
	}
	// The 95th percentile of differences of Gaussian noise is 2.8 sigma.
	sigma := quantileOf(diff, 0.95) / 2.8
	usual := math.Max(0.03*m, w.lim.NoiseSigmas*sigma+r.Stats.Quantum)
	n, rows, worst := 0, 0, 0.0
	when := Interval{math.Inf(1), math.Inf(-1)}
	out := false
	for i := range r.Mean {
		if dev := math.Abs(float64(r.Mean[i]) - m); dev > usual {
			if !out {
				n++
			}
			out = true
			rows++
			worst = math.Max(worst, dev/m)
			when = when.widen(w.t[i])
		} else {
			out = false
		}
	}
	if n > 0 {
		w.found = append(w.found, Finding{Kind: RefLoss, Time: when, Tie: TiedToTime, TieP: 1, Event: "reference",
			Strength: math.Min(1, worst/0.05) * math.Min(1, float64(rows)/3), Seen: n, Passes: n,
			Measures: []Measure{{"largest deviation", 100 * worst, "%"}}})
		return
	}
	// A low but steady supply: only volts against a known nominal tell. A
	// regulated 3.3 V is in use too.
	if nominal := w.opt.ReferenceVolts; r.Unit == "V" && m < 0.95*nominal && math.Abs(m/3.3-1) > 0.03 {
		w.found = append(w.found, Finding{Kind: RefLoss, Form: "low", Time: Interval{w.t[0], w.t[len(w.t)-1]}, Tie: TieUnknown, TieP: 1, Event: "reference",
			Strength: math.Min(1, (1-m/nominal)/0.08), Seen: 1, Passes: 1,
			Measures: []Measure{{"largest deviation", 100 * (1 - m/nominal), "%"}, {"level", m, "V"}}})
	}
}

// refGone tells whether the logged reference is as good as absent: no sensor
// is fed with less than a third of the usual supply (3.3 V is the lowest in
// use: common practice, no source).
func (w *work) refGone() bool {
	r := w.tr.Reference
	if r == nil || r.Unit != "V" {
		return false
	}
	m := medianOf32(r.Mean)
	return !math.IsNaN(m) && m < w.opt.ReferenceVolts/3
}

// findSupply reports a feed that gives way under load: the drive is much
// lower while the motor stalls than while it runs, or the logged supply dips
// when the motor is on. A fuse, a switch and some metres of wire may cost half a
// volt on either side of the motor, 8 % of 12 V (common practice, no source);
// a tenth is a bad contact. A supply that is low but stiff is no
// fault of the actuator; below the lowest code of ISO 16750-2 (6 V) it is a
// fault of the supply.
func (w *work) findSupply() {
	const (
		most   = 0.10
		lowest = 6.0
	)
	var drop, level float64
	name := ""
	if s := w.tr.Supply; s != nil {
		var on, off []float64
		for i, p := range w.d.pol {
			if x := float64(s.Mean[i]); !math.IsNaN(x) {
				if p != 0 {
					on = append(on, x)
				} else {
					off = append(off, x)
				}
			}
		}
		if len(on) < 3 || len(off) < 3 {
			return
		}
		rest := medianOf(off)
		level = quantileOf(on, 0.02)
		drop, name = 1-level/rest, "supply"
		// A contact that gives way now and then does so for part of the time.
		var low []float64
		for _, x := range on {
			if x < 0.85*rest {
				low = append(low, x)
			}
		}
		if float64(len(low)) >= math.Max(3, 0.05/w.tr.Step) && medianOf(low) < level {
			level = medianOf(low)
			drop = 1 - level/rest
		}
	} else if !w.tr.DriveIsPolarity && !w.d.pulsed && w.d.amp > 2 {
		level, drop = w.sagAtStops()
		name = "drive"
	}
	if name == "" || drop < most && level > lowest {
		return
	}
	w.found = append(w.found, Finding{Kind: SupplySag, Form: name, Time: w.drivenTime(), Tie: TieUnknown, TieP: 1, Event: "supply",
		Strength: w.feedStrength(math.Max((drop-most)/0.1+0.5, (lowest-level)/2)), Seen: 1, Passes: 1,
		Measures: []Measure{{"level under load", level, "V"}, {"drop under load", 100 * drop, "%"}}})
}

// feedStrength limits a sag seen on the drive alone: a controller that turns
// down its duty looks the same.
func (w *work) feedStrength(s float64) float64 {
	if w.tr.Supply == nil {
		return math.Min(0.6, s)
	}
	return math.Min(1, s)
}
