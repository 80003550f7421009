package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/analyze/stats"
)

// noisyBeyond is the form of a noisy track whose bad part reaches to the end of
// the travel.
const noisyBeyond = "beyond a place"

// storm is a stretch of time in which the reading is thrown about.
type storm struct {
	first, last int // bins [first, last)
	in, out     edgeOfStorm
}

// edgeOfStorm is where the shaft was, and which way it was driven, when a storm
// began or ended; known is false where the reading does not tell.
type edgeOfStorm struct {
	level float64 // V
	dir   Direction
	known bool
}

// findNoisyBeyond looks for a part of the track, at an end of the travel or
// wide, in which the contact is bad all the time, also while the wiper rests
// there: each time it begins when the shaft is driven past one place, and ends
// when it is driven back over it. What is loose in the wiring knows nothing of
// places: that n such moments all fall into one stretch of the travel has the
// chance of stats.RangePValue, twice that for the choice between its two edges.
func (w *work) findNoisyBeyond() {
	// Told with both its edges, or everywhere, it needs no more than losses at rest
	// explained.
	told := slices.ContainsFunc(w.found, func(f Finding) bool { return f.Kind == NoisyTrack && f.Strength > 0.5 })
	if told && !w.looseAtRest() {
		return
	}
	if told || !w.noisyBeyond(w.storms()) {
		w.noisyBeyond(w.wildRuns())
	}
}

// noisyBeyond is findNoisyBeyond by the storms given, and tells whether they are that.
func (w *work) noisyBeyond(all []storm) bool {
	// Bursts of a few hundredths of a second are a contact that bounces.
	const lasts = 0.1
	var storms []storm
	for _, s := range all {
		if lapse(w.t[s.last-1], w.t[s.first]) >= lasts {
			storms = append(storms, s)
		}
	}
	if 2*len(storms) <= len(all) || w.followDrive(storms) {
		return false
	}
	var edge [2][]float64 // levels at which it goes in downward, or out upward; and the reverse
	still := 0
	for _, s := range storms {
		for i, e := range []edgeOfStorm{s.in, s.out} {
			switch d := int(e.dir); {
			case !e.known:
			case e.level < bareRail*w.ref || e.level > (1-bareRail)*w.ref:
				return false // where no wiper is
			case d == 0:
				still++
			default:
				d *= 1 - 2*i
				edge[side(Direction(d))] = append(edge[side(Direction(d))], e.level)
			}
		}
	}
	dir := Down
	if len(edge[1]) > len(edge[0]) || len(edge[1]) == len(edge[0]) && spreadOf(edge[1]) < spreadOf(edge[0]) {
		dir = Up
	}
	levels := edge[side(dir)]
	n := len(levels)
	if len(storms) < 2 || n < 3 || 3*still > n {
		return false
	}
	lo, hi := extremes(levels)
	if hi-lo > math.Max(0.15*w.span.Width(), 3*w.resolution()) {
		return false
	}
	p := math.Min(1, 2*stats.RangePValue(w.drivenShare(lo, hi), n))
	if p > w.lim.Significance {
		return false
	}
	band := Interval{lo, hi}
	// Where it ends on the far side as well, at a stop or on the way, that is the
	// other edge.
	if other := edge[side(-dir)]; len(other) >= 2 && spreadOf(other) < math.Max(0.15*w.span.Width(), 3*w.resolution()) {
		band = Interval{math.Min(medianOf(levels), medianOf(other)), math.Max(medianOf(levels), medianOf(other))}
		dir = None
	}
	f := Finding{Kind: NoisyTrack, Form: noisyBeyond, Direction: dir, Tie: TiedToPosition, TieP: p, Event: "beyond", Strength: 1 - p,
		Volts: band, Time: noInterval(), Seen: len(storms), Passes: len(storms),
		Measures: []Measure{{MeasureEdge, medianOf(levels), w.unit()}, {"moments that fit", float64(n), ""}}}
	for _, s := range storms {
		o := Occurrence{Interval{w.t[s.first], w.t[s.last-1]}, band, dir}
		f.Places = append(f.Places, o)
		f.Time = f.Time.widen(o.Time.From).widen(o.Time.To)
	}
	w.overrule(f.Event, Dropouts, DeadSpot, NoisyTrack, EndLoss, Pauses, StickSlip, Jam, Hunting, GearSlip, SlowZone, OneWay, WeakDrive, AtRail, SelfMotion, LastingLeap)
	w.found = append(w.found, f)
	return true
}

// followDrive tells whether half of the storms or more begin as a drive does, here
// and there: those are the motor's own doing, wherever the shaft is. A place is come
// to on the way, or is where it set out.
func (w *work) followDrive(storms []storm) bool {
	const soon = 0.3 // s
	n := 0
	at := noInterval()
	for _, s := range storms {
		if k := slices.IndexFunc(w.moves, func(m Move) bool {
			d := w.t[s.first] - m.Time.From
			return d > -0.02 && d < soon
		}); k >= 0 {
			n++
			at = at.widen(w.moves[k].Start)
		}
	}
	if 2*n < len(storms) || at.Width() < 0.3*w.span.Width() {
		return false
	}
	// Where drives follow one another all the time, so does chance.
	begun := 0.0
	for k := range w.moves {
		begun += math.Min(soon, w.moves[k].Duration())
	}
	return stats.BinomialTail(n, len(storms), math.Min(1, begun/w.tr.Duration())) < w.lim.Significance
}

// storms lists the stretches in which the reading departs from its running
// median again and again, by more than noise and by a fiftieth of the supply.
func (w *work) storms() []storm {
	const (
		pause = 0.7 // s, the longest lull within one
		least = 12  // departures that make one
	)
	half := max(2, min(30, w.rows(0.05)))
	limit := math.Max(w.tol, 0.02*w.ref)
	// Without leaps there is none: that is soon seen.
	leaps := 0
	for i := 1; i < len(w.raw); i++ {
		if math.Abs(w.raw[i]-w.raw[i-1]) > limit/2 {
			leaps++
		}
	}
	if leaps < 2*least {
		return nil
	}
	var win sortedWindow
	var out []storm
	count := 0
	last := -1
	for i := range w.raw {
		mid := win.median(w.raw, max(0, i-half), min(len(w.raw), i+half+1))
		if math.Abs(w.raw[i]-mid) <= limit {
			continue
		}
		if last >= 0 && lapse(w.t[i], w.t[last]) < pause {
			out[len(out)-1].last = i + 1
			count++
		} else {
			if len(out) > 0 && count < least {
				out = out[:len(out)-1]
			}
			out = append(out, storm{first: i, last: i + 1})
			count = 1
		}
		last = i
	}
	if len(out) > 0 && count < least {
		out = out[:len(out)-1]
	}
	for i := range out {
		s := &out[i]
		s.in = w.stormEdge(s.first, -1)
		s.out = w.stormEdge(s.last-1, 1)
	}
	return out
}

// stormEdge reads where the shaft was just before (way -1) or after (1) a bin.
func (w *work) stormEdge(bin, way int) edgeOfStorm {
	n := max(4, w.rows(0.25))
	a, b := bin-n-1, bin-1
	if way > 0 {
		a, b = bin+2, bin+2+n
	}
	if a < 0 || b > len(w.v) {
		return edgeOfStorm{} // the capture begins or ends in it
	}
	e := edgeOfStorm{level: medianOf(w.raw[a:b]), known: true}
	// The reading itself tells which way the shaft went; else the drive at that
	// moment does.
	m := max(3, (b-a)/2)
	if d := medianOf(w.raw[b-m:b]) - medianOf(w.raw[a:a+m]); math.Abs(d) > w.visible() {
		e.dir = Direction(int(math.Copysign(1, d)))
		return e
	}
	for i := max(0, bin-max(1, n/3)); i < min(len(w.d.pol), bin+max(1, n/3)+1); i++ {
		if p := w.d.pol[i]; p != 0 {
			e.dir = Direction(int(p) * w.sense)
			if way < 0 {
				return e
			}
		}
	}
	return e
}

func (f *Finding) beyondTitle(at, band string) string {
	if f.Direction == None {
		return fmt.Sprintf("Noisy track %s: each time it is driven through it the reading is thrown about, %s.", band, timesText(f.Seen))
	}
	return fmt.Sprintf("Noisy track beyond %s: each time it is driven %s past it the reading is thrown about until it is driven back, %s.", at, f.Direction, timesText(f.Seen))
}

// spreadOf is the range of values, infinite without any.
func spreadOf(x []float64) float64 {
	if len(x) == 0 {
		return math.Inf(1)
	}
	lo, hi := extremes(x)
	return hi - lo
}
