package analyze

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"threewire/analyze/stats"
)

// byPace is the form of a drift that shows by passes whose pace goes with how far apart
// the stops read.
const byPace = "scale, by the pace"

// A commonPass is a pass of one direction: how far apart the stops read when it was made,
// and how fast the reading went over what all passes of its direction have in common.
type commonPass struct {
	move   int
	lo, hi float64 // V, what it went over
	span   float64 // V, between the stops nearest in time
	pace   float64 // V/s for each volt of the drive
	volts  float64 // of the drive, unsigned
}

// findScaleByPace tells a sensor whose scale changes by less than the stops' order or the
// strokes alone could show, from passes that are cut short too: one that reads a twentieth
// less from stop to stop reads each piece of it a twentieth slower, up as well as down.
// A stop that lies nearer lets the shaft run at its pace up to there, and a motor that
// tires reaches its stops.
func (w *work) findScaleByPace() {
	const (
		least = 0.025             // relative range of the distance of the stops: sound stops give by 2 %
		flat  = 0.35              // a slope that is still a scale's
		even  = 1.5 * evenStrokes // of a pass from the middle of its direction
		wave  = 6.0               // as for the strokes
		sure  = 0.05              // of its being no travel's; what is less sure weighs less
	)
	var x, y []float64
	spread, uneven, both := 0.0, 0.0, 0
	when := noInterval()
	for _, dir := range []Direction{Down, Up} {
		passes := w.commonPasses(dir)
		if len(passes) < 2 {
			continue
		}
		both++
		var l, t []float64
		for _, p := range passes {
			l, t = append(l, math.Log(p.span)), append(t, math.Log(p.span/p.pace))
			m := &w.moves[p.move]
			when = when.widen(m.Time.From).widen(m.Time.To)
		}
		lo, hi := extremes(l)
		spread = math.Max(spread, hi-lo)
		ml, mt := mean(l), mean(t)
		for i := range l {
			x, y = append(x, l[i]-ml), append(y, t[i]-mt)
			uneven = math.Max(uneven, math.Abs(t[i]-mt))
		}
	}
	if both < 2 || spread < math.Max(least, wave*w.noise/w.span.Width()) || uneven > even {
		return
	}
	slope, off, travel := againstTravel(x, y)
	// A motor that warms up, or cools down, may change the pace besides.
	if slope > math.Max(flat, off) || slope < -math.Max(flat, 2*off) || travel > sure {
		return
	}
	if w.offsetThatComesAndGoes() > 0 {
		return
	}
	if w.furtherAtOnce() {
		return // a door that comes off lets the shaft go further, and faster, by chance as much
	}
	f := Finding{Kind: SpanDrift, Form: byPace, Time: when, Volts: w.span, Tie: TiedToTime, TieP: travel, Event: "drift", Strength: 1 - 6*travel,
		Seen: len(x), Passes: len(x), Measures: []Measure{
			{MeasureChangeOfSpan, 100 * (math.Exp(spread) - 1), "%"},
			{"change of time over change of travel", slope, ""},
		}}
	w.overrule(f.Event, Heating, Jam, SpanShift, SlowZone, WeakDrive, TravelChange, EndLoss)
	w.found = append(w.found, f)
}

// furtherAtOnce tells whether each stop that came to lie further out did so by eight tenths
// between two visits (chosen, not derived), as far as they were visited.
func (w *work) furtherAtOnce() bool {
	const atOnce = 0.8
	further := false
	for d, visits := range w.pressings(0) {
		out := float64(2*d - 1)
		if len(visits) < 2 {
			continue
		}
		whole, most := out*(visits[len(visits)-1].level-visits[0].level), 0.0
		least := 0.01 * w.span.Width() // no further than a sound stop gives
		if whole < -least {
			return false // nearer: nothing that comes off does that
		}
		if whole < least {
			continue
		}
		for i := 1; i < len(visits); i++ {
			most = math.Max(most, out*(visits[i].level-visits[i-1].level))
		}
		if most < atOnce*whole {
			return false
		}
		further = true
	}
	return further
}

// againstTravel is the slope of y on x, both with the mean of either direction taken off,
// its standard error, and the p-value of it being 1 rather than less. A pace that changes
// by more than the stops makes that no surer. How much passes of one actuator differ is
// taken to be evenStrokes as if two of them had shown it (chosen, not derived), and what
// those at hand show.
func againstTravel(x, y []float64) (slope, off, p float64) {
	const known = 2
	var xx, xy, rest float64
	for i := range x {
		xx += x[i] * x[i]
		xy += x[i] * y[i]
	}
	if xx == 0 {
		return math.Inf(1), 0, 1
	}
	slope = xy / xx
	for i := range x {
		d := y[i] - slope*x[i]
		rest += d * d
	}
	free := float64(len(x) - 3) // two means and the slope
	off = math.Sqrt((known*evenStrokes*evenStrokes + rest) / (known + free) / xx)
	return slope, off, distuv.UnitNormal.Survival((1 - math.Max(0, slope)) / off)
}

// commonPasses lists the even passes of a direction with their paces over the readings
// that all of them went over.
func (w *work) commonPasses(dir Direction) []commonPass {
	const (
		common = 0.2  // of the travel: the least they have to share
		ends   = 0.03 // of the travel: starts and soft stops
		alike  = 0.05 // of the drive: a load makes the pace go with more than the volts
	)
	width := w.span.Width()
	stops := w.pressings(0)
	var all []commonPass
	for k := range w.moves {
		m := &w.moves[k]
		c, ok := w.sweepOf(w.moves[k:k+1], dir)
		if m.Direction != dir || !ok || c.High-c.Low < (common+2*ends)*width || w.madeUp(m) {
			continue
		}
		if span, ok := w.spanAt(stops, k); ok {
			all = append(all, commonPass{move: k, lo: c.Low + ends*width, hi: c.High - ends*width, span: span})
		}
	}
	for len(all) >= 2 {
		lo, hi, narrow := math.Inf(-1), math.Inf(1), 0
		for i, p := range all {
			lo, hi = math.Max(lo, p.lo), math.Min(hi, p.hi)
			if p.hi-p.lo < all[narrow].hi-all[narrow].lo {
				narrow = i
			}
		}
		if hi-lo >= common*width {
			return w.withPaces(all, lo, hi, alike)
		}
		all = slices.Delete(all, narrow, narrow+1)
	}
	return nil
}

// withPaces measures the passes between two readings and keeps those that run evenly
// there, at alike volts.
func (w *work) withPaces(all []commonPass, lo, hi, alike float64) (out []commonPass) {
	var volts []float64
	for _, p := range all {
		if w.paceOver(&p, lo, hi) {
			out = append(out, p)
			volts = append(volts, p.volts)
		}
	}
	usual := medianOf(volts)
	return slices.DeleteFunc(out, func(p commonPass) bool { return math.Abs(p.volts/usual-1) > alike })
}

// paceOver measures the pace of a pass between two readings, and tells whether nothing
// held it on the way.
func (w *work) paceOver(p *commonPass, lo, hi float64) bool {
	const fewest = 8 // rows: fewer do not know the pace to a percent or two
	m := &w.moves[p.move]
	var t, v []float64
	sum := 0.0
	for _, g := range m.segs {
		for i := g.first; i < g.last; i++ {
			if w.v[i] < lo || w.v[i] > hi {
				continue
			}
			if g.state != track {
				return false
			}
			t, v = append(t, w.t[i]), append(v, w.v[i])
			sum += math.Abs(w.d.mean[i])
		}
	}
	if len(t) < fewest {
		return false
	}
	line, ok := stats.FitLine(t, v)
	p.volts = sum / float64(len(t))
	if !ok || p.volts <= 0 {
		return false
	}
	if !w.driveKnown() {
		p.volts = 1
	}
	p.pace = float64(m.Direction) * line.Slope / p.volts
	return p.pace > 0 && line.Residual/line.Spread < evenStrokes/2*math.Abs(line.Slope)
}

// spanAt is how far apart the stops read at a move: by the visit of each that is nearest.
// One that began the capture further out than the stop it set out from was visited later
// lay against that stop, or near it.
func (w *work) spanAt(stops [2][]pressing, move int) (float64, bool) {
	var level [2]float64
	m := &w.moves[move]
	for d, visits := range stops {
		best, later := math.MaxInt, false
		for _, v := range visits {
			// The stop a move sets out from was visited before it.
			if off := 2*max(v.move-move, move-v.move) + min(1, max(0, v.move-move)); off < best {
				best, level[d], later = off, v.level, v.move > move
			}
		}
		if best == math.MaxInt {
			return 0, false
		}
		if out := float64(2*d - 1); later && d == side(-m.Direction) && out*(m.Start-level[d]) > 0 {
			level[d] = m.Start
		}
	}
	return level[1] - level[0], level[1] > level[0]
}
