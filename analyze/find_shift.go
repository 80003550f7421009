package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/analyze/stats"
)

// A driveStep is what the reading does at the moment the drive is switched on
// or off, beyond what the shaft can have moved meanwhile.
type driveStep struct {
	at      float64 // s
	bin     int
	move    int
	on      bool
	dir     Direction // of the move
	level   float64   // V, before
	size    float64   // V
	need    float64   // V, a step of this size is clear whatever the shaft does
	stalled bool      // switched off from a stall
	held    float64   // s, how long it was
	clear   bool      // no motion of the shaft, nor noise, can have done it
}

// leastShift is the smallest step, as a share of the reference, that is worth
// a finding: 0.05 V of 5 V. A sensor's ground may lose so much (common practice,
// no source); a tenth of a volt is a bad one.
const leastShift = 0.01

// springBack is how far, as a share of the span, seals and play may let a shaft
// come back from a stop when the drive goes (common practice, no source).
const springBack = 0.02

// restBetween is how long, in s, nothing drives before or after a switching for
// the shaft to have come to rest.
const restBetween = 0.15

// nextToEdge is how many bins make a level of so many seconds next to a switching,
// and by how many columns and filters lag.
func (w *work) nextToEdge(seconds float64) (few, late int) {
	few, late = max(1, w.rowsNear(seconds)), 1+w.rows(0.005)
	if w.d.folded {
		late += foldedGap
	}
	return few, late
}

// driveSteps measures the reading at each switching on from rest and each
// switching off to rest, of so many seconds.
func (w *work) driveSteps(rest float64) []driveStep {
	few, late := w.nextToEdge(0.02)
	var out []driveStep
	add := func(bin int, on bool, k int) {
		m := &w.moves[k]
		a, b := max(0, bin-late-few+1), bin-late+1
		c, d := bin+late, min(len(w.v), bin+late+few)
		if b-a < 1 || d-c < 1 {
			return
		}
		before, after := medianOf(w.v[a:b]), medianOf(w.v[c:d])
		// What the shaft can have done from the middle of one level to the
		// middle of the other: gone on with the drive, or let go of a stop.
		ahead, back := w.lim.Fast*w.rate[side(m.Direction)]*(w.t[(c+d-1)/2]-w.t[(a+b-1)/2]), 0.0
		if !on && m.Stalled > 0 {
			ahead, back = 0, springBack*w.span.Width()
		}
		// Under drive the reading scatters more where a contact or brushes are bad.
		quiet, rough := float64(b-a), float64(d-c)
		if !on {
			quiet, rough = rough, quiet
		}
		more := math.Max(1, w.moving()/math.Max(w.noise, 1e-12))
		noise := w.tol * math.Sqrt(1/quiet+more*more/rough) / math.Sqrt2
		// So does it on both sides where the track is bad, or the wires for a while.
		aside := max(16, w.rows(0.25))
		near := math.Min(w.scatterIn(max(0, bin-late-aside), b), w.scatterIn(c, min(len(w.v), bin+late+aside)))
		if near > 3*math.Max(w.noise, w.moving()) {
			noise = math.Max(noise, w.lim.NoiseSigmas*near*math.Sqrt(1/quiet+1/rough))
		}
		least := math.Max(noise, leastShift*w.ref)
		s := driveStep{at: w.t[bin], bin: bin, move: k, on: on, stalled: !on && m.Stalled > 0, held: m.Stalled, dir: m.Direction, level: before, size: after - before, need: math.Max(ahead, back) + least}
		forth := s.size * float64(m.Direction)
		s.clear = forth > ahead+least || forth < -back-least
		out = append(out, s)
	}
	for k := range w.moves {
		m := &w.moves[k]
		from, to := w.t[0], w.t[len(w.t)-1]
		if k > 0 {
			from = w.moves[k-1].Time.To
		}
		if k+1 < len(w.moves) {
			to = w.moves[k+1].Time.From
		}
		if m.Direction == None || m.last-m.first <= 2*late+few {
			continue
		}
		if lapse(m.Time.From, from) >= math.Max(rest, 4*w.tr.Step) && m.first > late+few {
			add(m.first, true, k)
		}
		if lapse(to, m.Time.To) >= math.Max(rest, 4*w.tr.Step) && m.last+late+few < len(w.v) {
			add(m.last, false, k)
		}
	}
	return out
}

// findShift reports a reading that jumps when the drive is switched on and
// jumps back when it is switched off, wherever the shaft is. A shaft cannot move
// in an instant, and a dead spot has a place: the motor's current flows where
// only the sensor's should.
func (w *work) findShift() {
	all := w.driveSteps(restBetween)
	if len(all) >= 4 && (w.findClearShift(all) || w.findSmallShift(all)) {
		return
	}
	// Pulses follow each other faster; what the shaft does meanwhile falls out.
	all = w.driveSteps(restBetween / 4)
	if len(all) >= 4 && w.findClearShift(w.afterShortRests(all)) {
		return
	}
	w.findCommonShift(all)
	w.findWrongRelease(all)
	w.findLeak(all)
	w.findWithCurrent()
}

// findWrongRelease looks for stalls after which, the moment the drive goes, the
// reading goes further the way it was driven: seals and springs push a shaft back
// from a stop, and nothing draws it on into one. What the motor's current has put
// on the reading is gone with the current.
func (w *work) findWrongRelease(all []driveStep) {
	if w.has(DriveShift) {
		return
	}
	var size []float64
	released, byCurrent := 0, false
	rest := noInterval() // the reading after the release
	f := Finding{Kind: DriveShift, Form: onRelease, Tie: TieUnknown, TieP: 1, Event: "shift",
		Time: noInterval(), Volts: noInterval()}
	for i := range all {
		s := &all[i]
		if w.setsOutAtEnd(&w.moves[s.move]) > 0 {
			continue // it ran already
		}
		// A shaft that sticks stands for moments only, and may go on by itself.
		if long := s.stalled && s.held >= 0.5; !long {
			if s.on || !w.stallCurrentBefore(s.bin) {
				continue
			}
			byCurrent = true
		}
		released++
		if forth := s.size * float64(s.dir); !s.clear || forth <= 0 {
			continue
		}
		size = append(size, math.Abs(s.size))
		rest = rest.widen(s.undriven())
		v := Interval{math.Min(s.level, s.level+s.size), math.Max(s.level, s.level+s.size)}
		f.Time, f.Volts = f.Time.widen(s.at), f.Volts.widen(v.From).widen(v.To)
		f.Places = append(f.Places, Occurrence{Interval{s.at, w.t[min(len(w.t)-1, s.bin+2)]}, v, s.dir})
	}
	if len(size) < 2 || 3*len(size) < released {
		return
	}
	// One current, one step; bad contact at the end of a track gives any. Where the
	// current itself says that it was blocked, at one place and one way, one of four
	// may lie on the edge of a row.
	usual, like := medianOf(size), 0
	for _, x := range size {
		if x > 0.7*usual && x < 1.4*usual && (!byCurrent || math.Abs(x/usual-1) < 0.15) {
			like++
		}
	}
	oneEnd := !slices.ContainsFunc(f.Places, func(o Occurrence) bool { return o.Direction != f.Places[0].Direction }) && rest.Width() < 0.05*w.span.Width()
	if like < len(size) && !(like >= 3 && 4*like >= 3*len(size) && oneEnd) || byCurrent && (len(size) < 3 || !oneEnd) {
		return
	}
	f.Seen, f.Passes = len(size), released
	f.Strength = w.tooMuchShift(usual) * (1 - math.Exp(-float64(len(size))/2))
	f.Measures = []Measure{{MeasureStep, usual, w.unit()}}
	w.found = append(w.found, f)
}

// stallCurrentBefore tells whether the motor drew at least one and a half times its
// running current over the last fifth of a second before a bin: blocked, whatever
// the reading does.
func (w *work) stallCurrentBefore(bin int) bool {
	c, run := w.tr.Current, w.runningCurrent()
	if c == nil || !(run > 0) {
		return false
	}
	a := max(0, indexAt(w.t, w.t[bin]-0.2))
	var x []float64
	for i := a; i < bin-1; i++ {
		if v := math.Abs(float64(c.Mean[i])); !math.IsNaN(v) {
			x = append(x, v)
		}
	}
	return len(x) >= 3 && medianOf(x)-w.idleCurrent() > 1.5*(run-w.idleCurrent())
}

// alikeBothWays is the form of a shift that does not turn over with the drive.
const alikeBothWays = "the same way up and down"

// onRelease is the form of a shift that shows where a stalled motor is let go.
const onRelease = "when a stalled motor is let go"

// findClearShift looks for steps of which each is clear by itself.
func (w *work) findClearShift(all []driveStep) bool {
	// What drives the reading up when on lets it down when off. The same way in
	// both directions of travel is a shared ground or a reference that gives
	// way; with the direction is a wiper wire that picks up a lead.
	best, follows := []driveStep(nil), false
	for _, f := range []bool{false, true} {
		for _, sign := range []float64{1, -1} {
			var fit []driveStep
			for _, s := range all {
				want := sign
				if !s.on {
					want = -want
				}
				if f {
					want *= float64(s.dir)
				}
				if s.clear && s.size*want > 0 {
					fit = append(fit, s)
				}
			}
			if len(fit) > len(best) {
				best, follows = fit, f
			}
		}
	}
	n := len(best)
	// Switched off on its way, the motor is a generator for a moment: braked by
	// shorted leads its current turns round, and the step with it. Such a step
	// fits or says nothing.
	sure := n // clear steps, those that do not fit included
	for _, s := range all {
		if s.clear && (s.on || s.stalled) && !slices.Contains(best, s) {
			sure++
		}
	}
	var by, ways [2]int // on and off; down and up
	var size []float64
	for _, s := range best {
		i := 0
		if s.on {
			i = 1
		}
		by[i]++
		ways[side(s.dir)]++
		size = append(size, math.Abs(s.size))
	}
	// One in seven may be something else. A pattern that follows the direction
	// is also that of play and seals, which let a shaft spring back from its
	// stops: that needs the switching on to tell it.
	if n < 4 || float64(n) < 0.85*float64(sure) || 4*n < len(all) || follows && 3*by[1] < n || !follows && min(ways[0], ways[1]) == 0 {
		return false
	}
	if w.inOnePlace(best, all) || silent(best, all) {
		return false
	}
	p := math.Min(1, 4*stats.BinomialTail(n, sure, 0.5)) // four patterns were tried
	f := Finding{Kind: DriveShift, Form: alikeBothWays, Seen: n, Passes: len(all), Tie: TieUnknown, TieP: 1, Event: "shift"}
	if follows {
		f.Form = withDirection
	}
	f.Time, f.Volts = noInterval(), noInterval()
	for _, s := range best {
		f.Time = f.Time.widen(s.at)
		f.Volts = f.Volts.widen(s.level).widen(s.level + s.size)
		if len(f.Places) < 200 {
			lo, hi := math.Min(s.level, s.level+s.size), math.Max(s.level, s.level+s.size)
			f.Places = append(f.Places, Occurrence{Interval{s.at, w.t[min(len(w.t)-1, s.bin+2)]}, Interval{lo, hi}, s.dir})
		}
	}
	middle := medianOf(size)
	f.Strength = math.Min(1, middle/(2*leastShift*w.ref)) * (1 - math.Exp(-float64(n)/2))
	f.Measures = []Measure{{MeasureStep, middle, w.unit()}, {stepAtStall, atStall(best), w.unit()}, {"p of the signs", p, ""}, {"steps when switched on", float64(by[1]), ""}, {"steps when switched off", float64(by[0]), ""}}
	if q := proportion(best); q > 0 {
		f.Measures = append(f.Measures, Measure{"in proportion to the reading", 100 * q, "%"})
	}
	w.found = append(w.found, f)
	return true
}

// undriven is the reading without the motor's current: before it is switched on,
// after it is switched off.
func (s *driveStep) undriven() float64 {
	if s.on {
		return s.level
	}
	return s.level + s.size
}

// silent tells whether the drive was switched on without a step more often than
// with one, where such a step would have shown. A motor draws the same current
// from standstill each time.
func silent(steps, all []driveStep) bool {
	var size []float64
	for _, s := range steps {
		if s.on {
			size = append(size, math.Abs(s.size))
		}
	}
	if len(size) == 0 {
		return false
	}
	usual := quantileOf(size, 0.25)
	n := 0
	for _, s := range all {
		if s.on && !s.clear && usual > s.need {
			n++
		}
	}
	return n > len(size)
}

// inOnePlace tells whether the steps all lie within a tenth of the span while
// the drive was switched elsewhere too: then they belong to the place, as on a
// track that is open there.
func (w *work) inOnePlace(steps, all []driveStep) bool {
	at := noInterval()
	for i := range steps {
		at = at.widen(steps[i].undriven())
	}
	if at.Width() > 0.1*w.span.Width() {
		return false
	}
	elsewhere := 0
	for i := range all {
		if x := all[i].undriven(); x < at.From-0.1*w.span.Width() || x > at.To+0.1*w.span.Width() {
			elsewhere++
		}
	}
	return elsewhere > 0
}

// proportion is the share of the reading that the steps take, where a share
// fits them clearly better than so many volts does; else 0.
func proportion(steps []driveStep) float64 {
	var share, volts []float64
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range steps {
		s := &steps[i]
		x := s.undriven()
		if x <= 0 {
			return 0
		}
		lo, hi = math.Min(lo, x), math.Max(hi, x)
		share = append(share, math.Abs(s.size)/x)
		volts = append(volts, math.Abs(s.size))
	}
	if hi < 2*lo {
		return 0 // levels too much alike to tell
	}
	if stats.MAD(share)/medianOf(share) < 0.5*stats.MAD(volts)/medianOf(volts) {
		return medianOf(share)
	}
	return 0
}

// has tells whether something of a kind was found.
func (w *work) has(k Kind) bool {
	return slices.ContainsFunc(w.found, func(f Finding) bool { return f.Kind == k })
}

// sure tells whether a kind was found, likelier than not.
func (w *work) sure(k Kind) bool {
	return slices.ContainsFunc(w.found, func(f Finding) bool { return f.Kind == k && f.Strength > 0.5 })
}

func (f *Finding) shiftTitle(amountOf string) string {
	if f.Form == onRelease {
		return fmt.Sprintf("Let go at a stop, the reading goes on by %s the way it was driven, at once, after %d of %s.", amountOf, f.Seen, counted(f.Passes, "stall"))
	}
	if f.Form == underOneDrive {
		return fmt.Sprintf("The reading steps by %s the moment the drive is switched one way, or turned over, at %d of %d switchings: a motor lead pulls on it.", amountOf, f.Seen, f.Passes)
	}
	if f.Form == withCurrent {
		return fmt.Sprintf("The reading goes with the motor's current, up as it comes and down as it goes, at places far apart: by %s at %d of %d changes of the current, %s.", amountOf, f.Seen, f.Passes, f.amountOf(perAmpere))
	}
	how := "up or down with the direction"
	if f.Form != withDirection {
		how = "alike in both directions"
	}
	return fmt.Sprintf("The reading steps by %s the moment the drive is switched, %s, at %d of %d switchings.", amountOf, how, f.Seen, f.Passes)
}
