package analyze

import (
	"fmt"
	"math"
	"slices"
)

// A damaged tooth, or a gear that sits off its centre, makes the shaft slow
// once per turn of that gear: at places evenly spaced along the way, spaced
// alike both ways, coupled or not. A door binds at a place or two, and a
// track's flaws are not evenly spaced.
const (
	// leastTurns is how often the pattern must come over the way that was
	// crossed, ends included: four places, as three may be evenly spaced by
	// chance, and cams and springs make a door's load swing once or twice.
	leastTurns = 3.5

	// halfTooth is by how much of a turn a damaged place of a gear is at most
	// uncertain: gears have ten teeth and more (common practice, no source), and
	// the place lies at one of them.
	halfTooth = 0.05

	// soundSwing is the slowest speed over the usual one of a sound gear that
	// is cut or seated a little off its centre (common practice, no source).
	soundSwing = 0.8

	// usualPlay is the share of the span by which the places of the two
	// directions may lie apart: by the play of the gears between, up to 3 %
	// (common practice, no source).
	usualPlay = 0.03

	// turnHarmonics are the most that describe the shape of a slow place.
	turnHarmonics = 6

	// turnTrend is the degree of the polynomial that takes up springs, weights
	// and a crooked track, which bend the speed less often than leastTurns.
	turnTrend = 3
)

// turn is a pattern of the dwell profile that repeats along the way.
type turn struct {
	period float64    // cells
	at     [2]float64 // cells, a slow place of each direction
	half   float64    // cells, half of a slow place's width
	known  [2]bool    // directions that crossed enough of the way
	p      float64    // chance of so good a fit, over all periods tried
	coef   [2][]float64
}

// findGearTurn reports a speed that swings once per turn of a gear. A pattern
// counts that no scatter makes, that is deeper than a sound gear's, and that
// comes again in other passes: at the same places in its direction, and after
// the same distances in the other. A gear's places stand still. Those of dry
// friction wander along the way and from pass to pass, however even they look:
// each slip begins where the one before ended.
//
// Beside the tooth it may be off by what the capture resolves, uniform over it
// and averaged over two places: 0.67 sqrt(1/12/2) = 0.14 of it at the median.
func (w *work) findGearTurn() {
	if !w.findTurnByPasses() {
		w.findEvenStands()
	}
}

// findTurnByPasses is findGearTurn by the dwell profile of several passes.
func (w *work) findTurnByPasses() bool {
	p := w.dwells()
	if p == nil {
		return false
	}
	t := p.findTurn()
	if t == nil || t.p > w.lim.Significance || t.wander(p) > halfTooth+0.14*w.dwellFinest()/(t.period*p.cell) {
		return false
	}
	f := w.turnFinding(p, t)
	slow, _ := f.Measure(slowestOverUsual)
	places, _ := f.Measure(MeasurePlaces)
	// Three places are evenly spaced now and then; but not as narrow as a tooth,
	// each of them, in pass after pass and both ways.
	three := places == 3 && t.known[0] && t.known[1] && f.Seen >= 3 && t.half < t.period/8 && slow < soundSwing*soundSwing
	if f.Seen >= 2 && 3*f.Seen >= 2*f.Passes && (places >= 4 || three) && slow < soundSwing {
		w.found = append(w.found, f)
		return true
	}
	return false
}

// slowestOverUsual is the name of a measure.
const slowestOverUsual = "slowest speed over the usual"

// turnFinding walks over all places where the pattern says slow. In each pass
// that crossed two or more, most of them must be.
func (w *work) turnFinding(p *dwellProfile, t *turn) Finding {
	f := Finding{Kind: GearTurn, Tie: TiedToPosition, TieP: t.p, Event: "turn", Volts: noInterval(), Time: w.drivenTime()}
	seen := map[int]bool{}
	slow, crossed, sum := 0, 0, 0.0
	for d, passes := range p.pass {
		for _, q := range passes {
			n, hits := 0, 0
			for k := math.Floor(-t.at[d] / t.period); ; k++ {
				at := t.at[d] + k*t.period
				if at > float64(p.cells) {
					break
				}
				y := q.over(at, t.half)
				if math.IsNaN(y) {
					continue
				}
				n++
				sum += y
				if y*soundSwing > 1 {
					hits++
				}
				seen[int(math.Round((at-t.at[0])/t.period))] = true
				v := p.from + at*p.cell
				f.Volts = f.Volts.widen(v)
				if o, ok := w.visitIn(&w.moves[q.move], Interval{v - t.half*p.cell, v + t.half*p.cell}); ok {
					f.Places = append(f.Places, o)
				}
			}
			slow, crossed = slow+hits, crossed+n
			if n < 2 {
				continue
			}
			f.Passes++
			if 3*hits >= 2*n {
				f.Seen++
			}
		}
	}
	speed := float64(crossed) / sum
	// At a sound gear's swing it is none; twice that swing is no longer a gear
	// off its centre.
	f.Strength = math.Min(1, (soundSwing-speed)/(1-soundSwing)) * (1 - t.p)
	f.Measures = []Measure{
		{MeasureSpacing, t.period * p.cell, w.unit()},
		{MeasureSpacingOfSpan, 100 * t.period / float64(p.cells), "%"},
		{MeasurePlaces, float64(len(seen)), ""},
		{slowestOverUsual, speed, ""},
		{"places slow", float64(slow), ""}, {"places crossed", float64(crossed), ""},
	}
	if t.known[0] && t.known[1] {
		apart := math.Mod(t.at[1]-t.at[0], t.period) / t.period
		f.Measures = append(f.Measures, Measure{MeasurePlacesApart, math.Abs(apart-math.Round(apart)) * t.period * p.cell, w.unit()})
	}
	if w.madeInSteps(&f, speed) {
		f.Form = madeInSteps
	}
	return f
}

// over is the mean dwell of a pass around a place, NaN where it did not cross
// all of it.
func (q *dwellPass) over(at, half float64) float64 {
	a, b := int(math.Round(at-half)), int(math.Round(at+half))
	b = max(b, a+1)
	if a < 0 || b > len(q.y) {
		return math.NaN()
	}
	sum := 0.0
	for _, y := range q.y[a:b] {
		sum += y
	}
	return sum / float64(b-a)
}

// joinTurn joins to a damaged gear what its slow places look like on their
// own: slow zones, catches, stands and jumps that lie at them.
func (w *work) joinTurn() {
	i := slices.IndexFunc(w.found, func(f Finding) bool { return f.Kind == GearTurn })
	if i < 0 {
		return
	}
	turn := &w.found[i]
	if turn.Form == madeInSteps {
		return
	}
	for k := range w.found {
		switch f := &w.found[k]; f.Kind {
		case GearSlip:
			// Teeth that let go say more than their slow places do.
			turn.Event = f.Event
			return
		case SlowZone, StickSlip, Pauses, Jam, DeadSpot, NoisyTrack, BentLine:
			// What springs on faster than the motor turns no gear drives.
			if f.Event != stairway && turn.explains(f) {
				f.Event = turn.Event
				f.Strength *= 0.2 // the gear says where they come from
			}
		}
	}
}

// explains tells whether a finding lies at the slow places of a gear: a whole
// spacing or more of it does, and of stands two of three must.
func (f *Finding) explains(g *Finding) bool {
	spacing, _ := f.Measure(MeasureSpacing)
	if g.Kind == Jam && g.Form != jamPassed && g.Form != jamOnce && g.Form != jamScattered || g.Kind == DeadSpot && g.Form != heldAndJumped {
		return false
	}
	near := func(o Interval, d Direction) bool {
		return slices.ContainsFunc(f.Places, func(p Occurrence) bool {
			return (d == None || p.Direction == d) && math.Abs(p.Volts.Mid()-o.Mid()) < spacing/4+o.Width()/2 && o.Width() < spacing
		})
	}
	if g.Kind == SlowZone && g.Form == "" || g.Kind == NoisyTrack || g.Kind == BentLine {
		return g.Volts.Overlaps(f.Volts) && (g.Volts.Width() >= spacing || near(g.Volts, g.Direction))
	}
	n := 0
	for _, o := range g.Places {
		if near(o.Volts, o.Direction) {
			n++
		}
	}
	return len(g.Places) > 0 && 3*n >= 2*len(g.Places)
}

// turnTitle says it in one sentence.
func (f *Finding) turnTitle(spacing string) string {
	if f.Form == madeInSteps {
		return f.stepsTitle(spacing)
	}
	return fmt.Sprintf("Slow once per turn of a gear: every %s (%.1f %% of the span) at %.0f places, %.0f %% of the usual speed there, in %d of %s.",
		spacing, f.value(MeasureSpacingOfSpan), f.value(MeasurePlaces), 100*f.value(slowestOverUsual), f.Seen, counted(f.Passes, "pass"))
}
