package analyze

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// builtLaw is the measure of a slow stretch that is even, has one edge and reaches to an
// end of the travel: the logarithm of the chance of its speeds were the track made so, over
// that were they a door's drag.
const builtLaw = "log of chance, a track's law over a door's drag"

// dragChance is the measure of the chance that the passes of a door's drag differ from one
// another as much as these do.
const dragChance = "chance of such passes with a door's drag"

// twoSlopes is a travel of two even speeds with one edge between them.
type twoSlopes struct {
	edge    float64 // V
	cell    float64 // V
	slowLow bool    // the slow part is the lower one
	scatter float64 // of the speed of a cell, as a share of it
}

// findTwoSlopes looks at slow bands that are the one part of a travel of two speeds: both
// even, with one edge between them, both ways, and the slow one goes on to its end. Some
// tracks are made so, of two slopes (common practice, no source). Where more than about a
// third of the way is slow, nothing says which of the two speeds is the right one, and a
// door that binds rubs here more and there less, in a band that has two edges.
//
// What can tell the two are the passes' speeds. A track's law multiplies: the reading goes
// at one share of its speed in both directions and at any drive. A drag takes torque, and
// along the motor's line of speed over torque that costs the same speed, in V/s, whatever
// the speed was: the slower direction, or a pass at less drive, loses the greater share.
func (w *work) findTwoSlopes() {
	if !slices.ContainsFunc(w.found, isSlowBand) {
		return
	}
	s := w.fitTwoSlopes()
	if s == nil {
		return
	}
	part := Interval{s.edge, w.span.To}
	if s.slowLow {
		part = Interval{w.span.From, s.edge}
	}
	law, chance := lawOrDrag(w.slopePasses(s.cell, 3*s.cell, s.part), s.scatter)
	// A place that is slower than the rest of the part by more than unevenness is one of
	// its own (by how much is chosen, not derived).
	const own = 0.85
	usual := w.medianRate(part, Interval{math.Inf(1), math.Inf(1)})
	known := false
	out := w.found[:0]
	for _, f := range w.found {
		if isSlowBand(f) && f.Volts.From > part.From-2*s.cell && f.Volts.To < part.To+2*s.cell &&
			!(w.medianRate(f.Volts, Interval{math.Inf(1), math.Inf(1)}) < own*usual) {
			if known {
				continue // a piece of the same part
			}
			known = true
			f.Measures = append(f.Measures, Measure{builtLaw, law, ""}, Measure{dragChance, chance, ""})
			f.Event, f.Volts = "two slopes", part
			f.Time, f.Places = w.visits(part)
		}
		out = append(out, f)
	}
	w.found = out
}

func isSlowBand(f Finding) bool { return f.Kind == SlowZone && f.Form == "" }

// fitTwoSlopes finds the two speeds, or nil where the profiles show something else.
func (w *work) fitTwoSlopes() *twoSlopes {
	cells := profileCells(w.span.Width(), w.noise, w.quantum)
	s := &twoSlopes{cell: w.span.Width() / float64(max(1, cells))}
	left := math.Inf(1)
	// About a third of the way, on either side; a narrower part is a place.
	for k := 30; k <= 70; k++ {
		edge := w.span.From + float64(k)/100*w.span.Width()
		if e := w.stepError(edge, s.cell); e < left {
			left, s.edge = e, edge
		}
	}
	if math.IsInf(left, 1) || !w.evenSlopes(s) {
		return nil
	}
	return s
}

// besideEdge gives the rates of a profile's cells below and above an edge, those left out
// that lie within gap of it or next to the ends of the travel, and how far they reach.
func (w *work) besideEdge(p *Profile, edge, gap float64) (low, high []float64, reach Interval) {
	end := 2 * w.lim.EndZone * w.span.Width()
	reach = noInterval()
	for _, q := range p.Points {
		if q.Position < w.span.From+end || q.Position > w.span.To-end {
			continue
		}
		reach = reach.widen(q.Position)
		switch {
		case q.Position < edge-gap:
			low = append(low, q.Rate)
		case q.Position > edge+gap:
			high = append(high, q.Rate)
		}
	}
	return low, high, reach
}

// stepError is the residual sum of squares, in shares of the usual speed, of both
// profiles about one step at an edge; infinite where a side has too few cells.
func (w *work) stepError(edge, cell float64) float64 {
	e := 0.0
	for _, p := range w.prof {
		if p == nil {
			return math.Inf(1)
		}
		usual := w.typicalRate(p)
		low, high, _ := w.besideEdge(p, edge, 0)
		if len(low) < 5 || len(high) < 5 {
			return math.Inf(1)
		}
		for _, part := range [][]float64{low, high} {
			m := mean(part)
			for _, x := range part {
				e += (x - m) * (x - m) / (usual * usual)
			}
		}
	}
	return e
}

// evenSlopes tells whether both parts are even, both ways, together reach over nearly all
// of the travel, and which is the slow one: the step is three thirds of all that varies,
// and each third of a part, long enough for teeth and bumps to even out, keeps to its
// part's speed by a third of the step (chosen, not derived).
func (w *work) evenSlopes(s *twoSlopes) bool {
	const thirds = 3
	sum, n := 0.0, 0
	for d, p := range w.prof {
		low, high, reach := w.besideEdge(p, s.edge, 1.5*s.cell)
		if len(low) < thirds || len(high) < thirds || reach.Width() < 0.8*w.span.Width() {
			return false
		}
		l, h := mean(low), mean(high)
		if d > 0 && (l < h) != s.slowLow {
			return false
		}
		s.slowLow = l < h
		if !w.slowToEnd(p, s, (l+h)/2) {
			return false
		}
		within := 0.0
		for _, part := range [][]float64{low, high} {
			m := mean(part)
			for _, x := range part {
				within += (x - m) * (x - m)
				sum += (x/m - 1) * (x/m - 1)
				n++
			}
			for k := range thirds {
				piece := part[k*len(part)/thirds : (k+1)*len(part)/thirds]
				if math.Abs(mean(piece)-m) > math.Abs(h-l)/3 {
					return false
				}
			}
		}
		a, b := float64(len(low)), float64(len(high))
		if between := a * b / (a + b) * (h - l) * (h - l); within > between/3 {
			return false
		}
	}
	s.scatter = math.Sqrt(sum / float64(n))
	return true
}

// slowToEnd tells whether the last cells before the end of the slow part, but for those in
// which the stop itself gives way, are slow as well: a band that binds is left again.
func (w *work) slowToEnd(p *Profile, s *twoSlopes, middle float64) bool {
	var last []float64
	for _, q := range p.Points {
		far := w.span.To - q.Position
		if s.slowLow {
			far = q.Position - w.span.From
		}
		if far > w.lim.EndZone*w.span.Width() && far < 0.12*w.span.Width() {
			last = append(last, q.Rate)
		}
	}
	return medianOf(last) < middle // NaN where none was passed
}

// slopePass is what the moves of one direction at one drive went at on either side of the
// edge: travel and time.
type slopePass struct {
	fast, slow struct{ travel, time float64 } // V, s
	cells      float64                        // of the shorter
	drive      float64                        // of the full one; 1 where only the polarity was logged
}

// part tells on which side of the edge a reading lies, and whether it is compared.
func (s *twoSlopes) part(v, span float64) (slow, compared bool) {
	off := math.Abs(v - s.edge)
	return (v < s.edge) == s.slowLow, off > 1.5*s.cell && off < besideSlope*span
}

// slopePasses takes the moves that crossed an edge or a place together by their direction
// and their drive, to a tenth: those that went over least of either part, in V, or more. The
// parts are what part makes of a reading and the span.
func (w *work) slopePasses(cell, least float64, part func(v, span float64) (slow, compared bool)) []slopePass {
	type group struct {
		dir   Direction
		drive int
	}
	at := map[group]int{}
	var out []slopePass
	for k := range w.moves {
		m := &w.moves[k]
		p := w.slopePassOf(m, part)
		if math.Min(p.fast.travel, p.slow.travel) < least {
			continue
		}
		g := group{dir: m.Direction}
		if !w.tr.DriveIsPolarity && w.d.amp > 0 && len(m.gain) > 0 {
			g.drive = int(math.Round(10 * math.Log(math.Max(0.05, medianOf(m.gain)))))
		}
		i, known := at[g]
		if !known {
			i = len(out)
			at[g] = i
			out = append(out, slopePass{drive: math.Exp(float64(g.drive) / 10)})
		}
		o := &out[i]
		o.fast.travel += p.fast.travel
		o.fast.time += p.fast.time
		o.slow.travel += p.slow.travel
		o.slow.time += p.slow.time
	}
	for i := range out {
		out[i].cells = math.Min(out[i].fast.travel, out[i].slow.travel) / cell
	}
	return out
}

// besideSlope is the share of the travel next to the edge that is compared. A weight or a
// spring that loads the shaft one way and drives it the other changes along the way, and
// hardly over so much (chosen, not derived): further off it would pass for what the edge does.
const besideSlope = 0.25

// slopePassOf measures one move, at its own even drive and clear of its start and end.
func (w *work) slopePassOf(m *Move, part func(v, span float64) (slow, compared bool)) (p slopePass) {
	chopped := w.choppedIn(m)
	usual := medianOf(m.gain)
	last := w.smooth[m.last-1] - math.Max(approachUsual*w.span.Width(), w.slows)*float64(m.Direction)
	end := 2 * w.lim.EndZone * w.span.Width()
	for _, g := range m.segs {
		if g.state != track {
			continue
		}
		for b := g.first; b+1 < g.last; b++ {
			v, dt := w.smooth[b], w.t[b+1]-w.t[b]
			slow, compared := part(v, w.span.Width())
			if !compared || v < w.span.From+end || v > w.span.To-end || float64(m.Direction)*(v-last) > 0 {
				continue
			}
			if dt > missingRows*w.tr.Step || len(m.gain) > 0 && math.Abs(w.gain(m, b)-usual) > 0.1*usual || chopped != nil && chopped[b-m.first] {
				continue
			}
			side := &p.fast
			if slow {
				side = &p.slow
			}
			side.travel += (w.smooth[b+1] - v) * float64(m.Direction)
			side.time += dt
		}
	}
	return p
}

// lawOrDrag is the logarithm of how much better one share of the speed explains the
// passes than one loss of speed, and the chance that passes which lose one speed differ as
// much as these.
func lawOrDrag(passes []slopePass, scatter float64) (law, chance float64) {
	if len(passes) < 2 {
		return 0, 1
	}
	const (
		grain   = 0.02 // of the speed: what a supply and a load change it by from pass to pass
		opposed = 0.1  // of a drag: lever and lip are not quite alike both ways (chosen, not derived)
		most    = 3.0  // no two speeds say more than twenty to one of how others are built
	)
	n := len(passes)
	fast, slow, share, err := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i, p := range passes {
		fast[i], slow[i] = p.fast.travel/p.fast.time, p.slow.travel/p.slow.time
		share[i] = math.Log(slow[i] / fast[i])
		err[i] = math.Hypot(grain, scatter*2/math.Sqrt(p.cells)) // cells next to each other share their rows
	}
	ofLaw, ofDrag := math.Inf(1), math.Inf(1) // chi squared of the best
	lowest := slices.Min(fast)
	for k := 1; k < 200; k++ {
		x := float64(k) / 200
		lost := x * lowest
		law, drag := 0.0, 0.0
		for i := range passes {
			law += math.Pow((share[i]-math.Log(x))/err[i], 2)
			drag += math.Pow((share[i]-math.Log1p(-lost/fast[i]))/math.Hypot(err[i], opposed*lost/slow[i]), 2)
		}
		ofLaw, ofDrag = math.Min(ofLaw, law), math.Min(ofDrag, drag)
	}
	law = (ofDrag - ofLaw) / 2
	return math.Max(-most, math.Min(most, law)), distuv.ChiSquared{K: float64(n - 1)}.Survival(ofDrag)
}

// twoSlopesLikelihood judges a travel of two even speeds. One track in thirty or so is
// made with two slopes, whatever else may be wrong with the actuator, and of the doors that
// bind few do so evenly from one edge to an end (common practice, no source); what the
// passes say comes on top.
func twoSlopesLikelihood(f *Finding) (shown, string) {
	l, chance := f.value(builtLaw), f.value(dragChance)
	law, drag := .03*math.Exp(l/2), .1*math.Exp(-l/2)
	text := "evenly slow from one edge up to the end: a track of two slopes as well as a door that drags"
	c, ok := f.Measure(currentBeside)
	if !ok {
		c, ok = f.Measure(unloadedThere)
	}
	if ok {
		drag = math.Min(drag, .002)
		text = fmt.Sprintf("evenly slow from one edge up to the end, at %.0f %% of the current beside it: a door that drags would load the motor, a track of two slopes does not", 100*c)
	}
	switch {
	case l > 0.7:
		text += fmt.Sprintf("; each pass keeps the same share of its speed there, as on such a track; that each loses the same speed, as to a drag, is %.0f times less likely (of drags, %.0f %% differ so much from pass to pass)", math.Exp(l), 100*chance)
	case l < -0.7:
		text += fmt.Sprintf("; each pass loses the same speed there, as to a drag; that each keeps the same share of it, as on such a track, is %.0f times less likely", math.Exp(-l))
	default:
		text += "; the passes are too much alike to tell (an uncoupled run would)"
	}
	return shown{law, law, law, law + drag, law}, text
}
