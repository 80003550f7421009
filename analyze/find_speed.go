package analyze

import (
	"fmt"
	"math"
	"sort"
)

// findSlowZones reports bands in which the feedback moves slower than
// elsewhere, by direction: binding. Bands next to the stops, where compliance
// and coasting bend the rate, are left out, and so are dead spots, where the
// reading says nothing about the speed.
func (w *work) findSlowZones() {
	span := w.span.Width()
	for _, p := range w.prof {
		if p == nil || len(p.Points) < 5 {
			continue
		}
		width := math.Inf(1) // cells without a pass are missing: the least gap is one cell
		for i := 1; i < len(p.Points); i++ {
			width = math.Min(width, p.Points[i].Position-p.Points[i-1].Position)
		}
		nominal := w.typicalRate(p)
		// The usual unevenness of this actuator, from its own cells.
		var dev []float64
		for _, q := range p.Points {
			dev = append(dev, math.Abs(q.Rate-nominal))
		}
		scatter := 1.4826 * medianOf(dev)
		slow := func(q ProfilePoint) bool {
			if q.Position < w.span.From+w.lim.EndZone*span || q.Position > w.span.To-w.lim.EndZone*span {
				return false
			}
			for _, f := range w.found {
				if f.Kind == DeadSpot && q.Position > f.Volts.From-width && q.Position < f.Volts.To+width {
					return false
				}
			}
			return q.Rate < w.lim.Slow*nominal && q.Rate < nominal-4*scatter && 10*slowPasses(q, w.lim.Slow*nominal) >= 7*q.Passes
		}
		for i := 0; i < len(p.Points); i++ {
			if !slow(p.Points[i]) {
				continue
			}
			j, sum, passes, made := i, 0.0, 0, 0
			for j < len(p.Points) && slow(p.Points[j]) && (j == i || p.Points[j].Position-p.Points[j-1].Position < 1.5*width) {
				sum += nominal / p.Points[j].Rate
				passes = max(passes, slowPasses(p.Points[j], w.lim.Slow*nominal))
				made = max(made, p.Points[j].Passes)
				j++
			}
			n := j - i
			f := Finding{
				Kind: SlowZone, Direction: p.Direction, Tie: TiedToPosition,
				Volts: Interval{p.Points[i].Position - width/2, p.Points[j-1].Position + width/2},
				Seen:  passes, Passes: made,
			}
			i = j
			factor := float64(n) / sum
			// One narrow cell of one pass is a hitch, not a zone.
			if n*passes < 2 || n == 1 && factor > 0.45 {
				continue
			}
			f.TieP = math.Pow(math.Min(0.5, math.Max(f.Volts.Width()/span, 0.02)), float64(max(0, passes-1)))
			f.Strength = 1 - math.Exp(-float64(n*passes)*(1-factor))
			if passes < 2 {
				f.Strength *= 0.7
			}
			// Seals and padded stops slow a healthy door over the last tenth of
			// its way (common practice, no source).
			into := f.Volts.To > w.span.To-2*w.lim.EndZone*span && f.Volts.From > w.span.To-0.15*span
			if p.Direction == Down {
				into = f.Volts.From < w.span.From+2*w.lim.EndZone*span && f.Volts.To < w.span.From+0.15*span
			}
			if into && factor > 0.15 {
				continue
			}
			f.Event = fmt.Sprintf("slow %.1f", f.Volts.Mid())
			f.Time, f.Places = w.visitsDirection(f.Volts, p.Direction)
			f.Measures = []Measure{{"speed there over speed elsewhere", factor, ""}, {"width", f.Volts.Width(), w.unit()}}
			w.found = append(w.found, f)
		}
	}
	w.mergeSlowZones()
}

// slowPasses counts the passes of a cell slower than the limit.
func slowPasses(q ProfilePoint, limit float64) int {
	n := 0
	for _, r := range q.rates {
		if r < limit {
			n++
		}
	}
	return n
}

// typicalRate is the median rate of a profile's cells, end zones left out.
func (w *work) typicalRate(p *Profile) float64 {
	var r []float64
	for _, q := range p.Points {
		if q.Position > w.span.From+w.lim.EndZone*w.span.Width() && q.Position < w.span.To-w.lim.EndZone*w.span.Width() {
			r = append(r, q.Rate)
		}
	}
	return medianOf(r)
}

// mergeSlowZones makes one finding of the same band slow in both directions.
func (w *work) mergeSlowZones() {
	out := w.found[:0]
	for _, f := range w.found {
		merged := false
		if f.Kind == SlowZone {
			for i := range out {
				g := &out[i]
				if g.Kind == SlowZone && g.Direction != f.Direction && g.Volts.Overlaps(f.Volts) {
					g.Direction = None
					g.Seen += f.Seen
					g.Passes += f.Passes
					g.Volts = Interval{(g.Volts.From + f.Volts.From) / 2, (g.Volts.To + f.Volts.To) / 2}
					g.Places = append(g.Places, f.Places...)
					sort.SliceStable(g.Places, func(a, b int) bool { return g.Places[a].Time.From < g.Places[b].Time.From })
					g.Strength = 1 - (1-g.Strength)*(1-f.Strength)
					g.Time = g.Time.widen(f.Time.From).widen(f.Time.To)
					merged = true
					break
				}
			}
		}
		if !merged {
			out = append(out, f)
		}
	}
	w.found = out
}

func (w *work) visitsDirection(band Interval, d Direction) (Interval, []Occurrence) {
	_, all := w.visits(band)
	r := Interval{math.Inf(1), math.Inf(-1)}
	var out []Occurrence
	for _, o := range all {
		if o.Direction == d {
			out = append(out, o)
			r = r.widen(o.Time.From).widen(o.Time.To)
		}
	}
	if len(out) == 0 {
		return Interval{}, nil
	}
	return r, out
}

// findStands reports places and times at which the shaft stood under drive
// and went on: at a repeated place (the door catches), at many places of each
// pass (stick-slip), or at scattered places (brushes or a weak motor).
func (w *work) findStands() {
	var ev []*event
	perMove := map[int]int{}
	for i := range w.events {
		e := &w.events[i]
		// Next to a stop a shaft may rest while play and seals let go.
		if at := e.volts().Mid(); at < w.span.From+w.lim.EndZone*w.span.Width() || at > w.span.To-w.lim.EndZone*w.span.Width() {
			continue
		}
		if w.stood(e) && e.seconds >= math.Max(0.05, 2*w.tr.Step) {
			ev = append(ev, e)
			perMove[e.move]++
		}
	}
	if len(ev) == 0 {
		return
	}
	many := 0
	for _, n := range perMove {
		if n >= 4 {
			many++
		}
	}
	if many > 0 && 2*many >= len(perMove) {
		f := w.standFinding(StickSlip, ev)
		f.Form = "many stops along each pass"
		w.found = append(w.found, f)
		return
	}
	var strewn []*event
	for _, c := range w.clusters(ev) {
		seen, made := w.passes(c)
		n, passes := seen[0]+seen[1], made[0]+made[1]
		d := oneDirection(seen)
		if d != None {
			passes = made[side(d)]
		}
		tied, p := w.tie(c, len(ev))
		if tied == TiedToPosition && 3*n >= 2*passes && n >= 2 {
			f := w.standFinding(SlowZone, c.events)
			f.Form = "stands and goes on"
			f.Tie, f.TieP, f.Seen, f.Passes, f.Direction = tied, p, n, passes, d
			f.Volts = c.volts
			w.found = append(w.found, f)
			continue
		}
		for _, e := range c.events {
			if e.seconds >= w.lim.StallSeconds {
				strewn = append(strewn, e)
			}
		}
	}
	if len(strewn) > 0 {
		f := w.standFinding(Pauses, strewn)
		if len(strewn) == 1 {
			f.Strength *= 0.5
		}
		w.found = append(w.found, f)
	}
}

func (w *work) standFinding(k Kind, ev []*event) Finding {
	f := Finding{Kind: k, Seen: len(ev), Tie: TieUnknown, TieP: 1}
	f.Time = Interval{math.Inf(1), math.Inf(-1)}
	f.Volts = f.Time
	longest, miss := 0.0, 1.0
	moves := map[int]bool{}
	for _, e := range ev {
		f.Time = f.Time.widen(e.time(w.t).From).widen(e.time(w.t).To)
		f.Volts = f.Volts.widen(e.volts().From).widen(e.volts().To)
		f.Places = append(f.Places, Occurrence{e.time(w.t), e.volts(), w.moves[e.move].Direction})
		longest = math.Max(longest, e.seconds)
		miss *= 1 - 0.7/(1+math.Exp(e.shift))
		moves[e.move] = true
	}
	f.Passes = len(moves)
	f.Strength = 1 - miss
	f.Event = fmt.Sprintf("stands %s %.1f", k, f.Volts.Mid())
	f.Measures = []Measure{{"longest stand", longest, "s"}, {"stands", float64(len(ev)), ""}}
	return f
}

// usualTransit is the slow end, in s, of what a door actuator takes across its
// travel at 12 V (common practice, no source: 3 to 15 s). Slower by two fifths
// is out of the ordinary.
const usualTransit = 15.0

// findWeakDrive reports a motor slow everywhere: against the profile of a
// known good actuator when one is given, else only when it is slow beyond
// what is usual.
func (w *work) findWeakDrive() {
	r := (w.rate[0] + w.rate[1]) / 2
	if r == 0 || w.span.Width() <= 0 {
		return
	}
	f := Finding{Kind: WeakDrive, Volts: w.span, Time: w.drivenTime(), Tie: TieUnknown, TieP: 1, Event: "slower",
		Seen: len(w.sweeps), Passes: len(w.sweeps)}
	// The rate of a reading that hardly travels, or of pulses in which the motor
	// never gets up to speed, says nothing of the motor.
	longest, short, long := 0.0, 0.0, 0.0
	for k := range w.moves {
		m := &w.moves[k]
		if lo, hi := w.tracked(m); hi > lo {
			longest = math.Max(longest, hi-lo)
		}
		if m.Moving > 0.5 {
			long += m.Moving
		} else {
			short += m.Moving
		}
	}
	if longest < 0.3*w.ref && w.opt.Profile == nil || short > long {
		return
	}
	full := w.span.Width() / r
	var ends [2]bool
	for _, s := range w.stops {
		ends[side(s.Direction)] = true
	}
	if !ends[0] || !ends[1] {
		// A stop not reached lies further out; a usual span is 84 % of the
		// supply (8..92 %: common practice, no source).
		full = math.Max(full, 0.84*w.ref/r)
	}
	if p := w.opt.Profile; p != nil && p.TransitUp > 0 {
		good := (p.High - p.Low) / math.Min(p.TransitUp, math.Max(p.TransitDown, p.TransitUp))
		if p.DriveVolts > 0 && !w.tr.DriveIsPolarity {
			good *= w.d.amp / p.DriveVolts
		}
		if factor := r / good; factor < 0.7 {
			f.Form = "against the profile"
			f.Strength = math.Min(1, (1-factor)/0.5)
			f.Measures = []Measure{{"speed over the good one's", factor, ""}}
			w.found = append(w.found, f)
		}
		return
	}
	// A low supply slows a good motor: in proportion to what is left of it above
	// the fifth of 12 V below which a loaded gear motor does not start.
	at12 := full
	if !w.tr.DriveIsPolarity && w.d.amp < 12 && w.d.amp > 5 {
		at12 *= (w.d.amp - 2.4) / (12 - 2.4)
	}
	if at12 > usualTransit {
		f.Form = "against usual travel times"
		// Makes differ; twice the slow end is beyond them.
		f.Strength = math.Min(0.9, at12/usualTransit-1)
		f.Measures = []Measure{{"time for the travel seen", full, "s"}}
		w.found = append(w.found, f)
	}
}

// drivenTime is the stretch from the first to the last move.
func (w *work) drivenTime() Interval {
	if len(w.moves) == 0 {
		return Interval{}
	}
	return Interval{w.moves[0].Time.From, w.moves[len(w.moves)-1].Time.To}
}

// fall is one fall back of the reading at constant polarity.
type fall struct {
	move, bin int
	size      float64 // V
}

// falls lists steps against the drive, complete within two bins or 30 ms,
// that are not the way back from a glitch nor followed by one: a gear tooth
// lets go, and the shaft then climbs again at the motor's own speed.
func (w *work) falls() []fall {
	var out []fall
	span := max(1, int(math.Ceil(0.03/math.Max(w.tr.Step, 1e-9))))
	span = min(span, 200)
	for k := range w.moves {
		m := &w.moves[k]
		sign := float64(m.Direction)
		if m.Direction == None || m.last-m.first < 4*span {
			continue
		}
		r := math.Max(w.rate[side(m.Direction)], 1e-9)
		reach := w.tol + 3*r*w.tr.Step*float64(span)
		for i := m.first + 2; i+span < m.last-1; i++ {
			drop := sign * (w.v[i] - w.v[i+span])
			if drop < w.tol {
				continue
			}
			// The level before must have been climbed to, the level after be
			// climbed from: no jump of that size on either side.
			a, b := max(m.first, i-2*span), min(m.last-1, i+3*span)
			before := sign * (w.v[i] - w.v[a])
			after := sign * (w.v[b] - w.v[i+span])
			if before > 0.6*drop && before > reach || after > 0.6*drop && after > reach {
				i += span
				continue
			}
			out = append(out, fall{k, i, drop})
			i += 2 * span
		}
	}
	return out
}

// findSlip reports falls back at constant polarity: the gear train lets go
// under load, tooth after tooth.
func (w *work) findSlip() {
	var ev []fall
	for _, x := range w.falls() {
		if !w.onTrackFault(w.v[x.bin]) {
			ev = append(ev, x)
		}
	}
	if len(ev) < 3 {
		return
	}
	f := Finding{Kind: GearSlip, Seen: len(ev), Tie: TieUnknown, TieP: 1, Event: "slip"}
	f.Time = Interval{math.Inf(1), math.Inf(-1)}
	f.Volts = f.Time
	var size, gaps []float64
	moves := map[int]bool{}
	up := [2]int{}
	for i, e := range ev {
		a, b := w.v[e.bin], w.v[e.bin]-e.size*float64(w.moves[e.move].Direction)
		at := Interval{w.t[e.bin], w.t[min(len(w.t)-1, e.bin+1)]}
		f.Time = f.Time.widen(at.From).widen(at.To)
		f.Volts = f.Volts.widen(a).widen(b)
		if len(f.Places) < 200 {
			f.Places = append(f.Places, Occurrence{at, Interval{math.Min(a, b), math.Max(a, b)}, w.moves[e.move].Direction})
		}
		size = append(size, e.size)
		moves[e.move] = true
		up[side(w.moves[e.move].Direction)]++
		if i > 0 && ev[i-1].move == e.move {
			gaps = append(gaps, w.t[e.bin]-w.t[ev[i-1].bin])
		}
	}
	// A worn track throws the reading both ways; a tooth that lets go throws it
	// back, and then the motor climbs at its own speed.
	if w.leaps(moves) > len(ev)/2 {
		return
	}
	// Teeth are of one size: falls of very different sizes are something else.
	if quantileOf(size, 0.75) > 3*quantileOf(size, 0.25) {
		return
	}
	f.Direction = oneDirection(up)
	f.Passes = len(moves)
	f.Strength = 1 - math.Exp(-float64(len(ev))/2)
	f.Measures = []Measure{{"slips", float64(len(ev)), ""}, {"size", medianOf(size), w.unit()}}
	if len(gaps) > 0 {
		f.Measures = append(f.Measures, Measure{"slips per second", 1 / medianOf(gaps), "Hz"})
	}
	f.Form = w.huntPlace(f)
	w.found = append(w.found, f)
}

// fallsIn counts the falls of one move.
func (w *work) fallsIn(move int) int {
	n := 0
	for _, f := range w.falls() {
		if f.move == move {
			n++
		}
	}
	return n
}

// leaps counts, in the given moves, single steps forward beyond noise and
// beyond twice what the motor can turn.
func (w *work) leaps(moves map[int]bool) int {
	n := 0
	for k := range moves {
		m := &w.moves[k]
		r := w.rate[side(m.Direction)]
		for i := m.first + 1; i < m.last; i++ {
			if (w.v[i]-w.v[i-1])*float64(m.Direction) > w.tol+1.5*w.lim.Fast*r*(w.t[i]-w.t[i-1]) {
				n++
			}
		}
	}
	return n
}

// onTrackFault tells whether a reading lies on a piece of track already found
// faulty: what it does there says nothing about the gears.
func (w *work) onTrackFault(v float64) bool {
	margin := w.resolution()
	for _, f := range w.found {
		if (f.Kind == DeadSpot || f.Kind == NoisyTrack) && v > f.Volts.From-margin && v < f.Volts.To+margin || f.Kind == Dropouts {
			return true
		}
	}
	return false
}
