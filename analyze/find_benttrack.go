package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/analyze/stats"
)

// hurried is how many times its usual speed a shaft cannot reach both ways at
// one place. A motor without load turns 1/(1-q) times as fast as with the share
// q of its stall torque, and doors ask for a fifth as a rule (see usualLoad): a
// quarter faster. A weight, a spring or an over-centre link that pushes more
// pushes one way and brakes the other.
const hurried = 1.5

// quickened is the same beside a stretch that is slow by as much as takes the time
// won: some load may spare a shaft a quarter of its time at a place, but not both
// ways, and not what it loses right beside that.
const quickened = 1.3

// bend is a stretch of the track that is crossed slowly and the one beside it
// that is crossed faster than the shaft can turn.
type bend struct {
	slow, fast       Interval // cells, whole
	size             float64  // cells by which the reading lies off its line, at most
	slowing, hurries float64  // speed there over the usual
	seen, passes     [2]int
}

// findBentTrack reports a place where the reading is slow and, right beside it,
// faster than the shaft can turn, in both directions, so that both together take
// the usual time: there the track does not tell where the shaft is, but makes up
// for it. No door does that.
//
// At an end of the travel half of it lies beyond the stop. What is left reads as
// an end of the track that is lost (findEnds) where it is twice as fast as
// elsewhere; less than that springs and seals make of a sound one.
func (w *work) findBentTrack() {
	p := w.dwells()
	if p == nil || slices.ContainsFunc(w.found, func(f Finding) bool { return f.Kind == Dropouts && f.Seen > 1 }) {
		return // a contact that comes and goes shifts the reading anywhere
	}
	b := w.findBend(p)
	if b == nil {
		return
	}
	volts := func(r Interval) Interval { return Interval{p.from + r.From*p.cell, p.from + r.To*p.cell} }
	slow, fast := volts(b.slow), volts(b.fast)
	all := slow.widen(fast.From).widen(fast.To)
	if w.tellsNothing(all) {
		return
	}
	f := Finding{Kind: BentTrack, Tie: TiedToPosition, Volts: all, Event: w.eventAt("track", all, finePlace)}
	f.Seen, f.Passes = b.seen[0]+b.seen[1], b.passes[0]+b.passes[1]
	f.Time, f.Places = w.visits(all)
	// At twice the usual speed no load is small enough.
	f.Strength = math.Min(1, 0.6+0.4*(b.hurries-quickened)/(w.lim.Fast-quickened))
	f.Measures = []Measure{
		{MeasureSpeedInStretch, b.slowing, ""},
		{fastOverElsewhere, b.hurries, ""},
		{"slow from", slow.From, w.unit()}, {"slow to", slow.To, w.unit()},
		{"reading off its line", b.size * p.cell, w.unit()},
	}
	w.found = append(w.found, f)
	w.joinBent(&w.found[len(w.found)-1], slow)
}

// tellsNothing tells whether the track was found not to tell the place
// somewhere in a stretch, which is more than to tell it wrongly.
func (w *work) tellsNothing(volts Interval) bool {
	return slices.ContainsFunc(w.found, func(f Finding) bool {
		return (f.Kind == DeadSpot || f.Kind == EndLoss) && f.Volts.Overlaps(volts)
	})
}

// fastOverElsewhere is the name of a measure.
const fastOverElsewhere = "speed in the fast stretch over speed elsewhere"

// joinBent joins to a bent place what it looks like on its own.
func (w *work) joinBent(bent *Finding, slow Interval) {
	edge := 0.02 * w.span.Width()
	for k := range w.found {
		f := &w.found[k]
		// Slow only beside the fast stretch is the usual speed.
		if f.Kind == SlowZone && !(w.medianRate(f.Volts, bent.Volts) < w.lim.Slow*w.medianRate(w.span, bent.Volts)) {
			f.Event = bent.Event
			f.Strength *= 0.2
			continue
		}
		if f.Volts.From < slow.From-edge-f.Volts.Width()/2 || f.Volts.To > slow.To+edge+f.Volts.Width()/2 {
			continue
		}
		switch f.Kind {
		case SlowZone, BentLine, Pauses, NoisyTrack:
			f.Event = bent.Event
			f.Strength *= 0.2 // the two stretches together say more than one
		case Jam:
			if f.Form == jamPassed || f.Form == jamOnce {
				f.Event = bent.Event
				f.Strength *= 0.2
			}
		}
	}
}

// medianRate is the median rate of both profiles' cells in a stretch, less another,
// in V/s; NaN where there are none.
func (w *work) medianRate(in, without Interval) float64 {
	var r []float64
	for _, p := range w.prof {
		if p == nil {
			continue
		}
		for _, q := range p.Points {
			if at := q.Position; at >= in.From && at <= in.To && (at < without.From || at > without.To) {
				r = append(r, q.Rate)
			}
		}
	}
	if len(r) == 0 {
		return math.NaN()
	}
	return medianOf(r)
}

// findBend looks for the bend that takes the reading furthest off its line, or
// returns nil where none does so clearly, or where another is half as large: a
// grain all along the track is no bent place.
func (w *work) findBend(p *dwellProfile) *bend {
	ex := [2]*excess{newExcess(p, 0), newExcess(p, 1)}
	best := w.largestBend(p, ex, Interval{-1, -1})
	if best == nil {
		return nil
	}
	all := best.slow.widen(best.fast.From).widen(best.fast.To)
	if other := w.largestBend(p, ex, all); other != nil && 2*other.size > best.size {
		return nil
	}
	for _, e := range ex {
		if !e.clear(best.slow, all) || !e.clear(best.fast, all) {
			return nil
		}
	}
	best.slowing = 1 / (1 + (ex[0].over(best.slow)+ex[1].over(best.slow))/2/best.slow.Width())
	best.hurries = 1 / math.Max(0.1, 1+(ex[0].over(best.fast)+ex[1].over(best.fast))/2/best.fast.Width())
	for d, passes := range p.pass {
		for i := range passes {
			q := &passes[i]
			slow, fast := q.over(best.slow.Mid(), best.slow.Width()/2), q.over(best.fast.Mid(), best.fast.Width()/2)
			if math.IsNaN(slow) || math.IsNaN(fast) {
				continue
			}
			best.passes[d]++
			if slow*w.lim.Slow > 1 && fast*quickened < 1 {
				best.seen[d]++
			}
		}
	}
	for d := range best.seen {
		if best.seen[d] == 0 || 3*best.seen[d] < 2*best.passes[d] {
			return nil
		}
	}
	return best
}

// excess is the dwell of one direction above the usual, summed up to each cell.
type excess struct {
	sum     []float64
	unknown []int // cells that no pass crossed, up to each
	passes  []int
}

func newExcess(p *dwellProfile, d int) *excess {
	e := &excess{make([]float64, p.cells+1), make([]int, p.cells+1), p.count[d]}
	for c := range p.cells {
		y, n := 0.0, 0
		for _, q := range p.pass[d] {
			if !math.IsNaN(q.y[c]) {
				y += q.y[c]
				n++
			}
		}
		e.sum[c+1], e.unknown[c+1] = e.sum[c], e.unknown[c]
		if n == 0 {
			e.unknown[c+1]++
			continue
		}
		e.sum[c+1] += y/float64(n) - 1
	}
	return e
}

// over is the excess of the cells r, NaN where not all were crossed.
func (e *excess) over(r Interval) float64 {
	a, b := int(r.From), int(r.To)
	if e.unknown[b] > e.unknown[a] {
		return math.NaN()
	}
	return e.sum[b] - e.sum[a]
}

// clear tells whether the excess of r is beyond what stretches as wide have
// elsewhere: three standard deviations, by the median absolute one. Two stretches
// and two directions that are so at one place are no chance, wherever they are
// looked for.
func (e *excess) clear(r, without Interval) bool {
	var other []float64
	for a := range len(e.sum) - int(r.Width()) {
		x := Interval{float64(a), float64(a) + r.Width()}
		if x.To > without.From && x.From < without.To {
			continue
		}
		if y := e.over(x); !math.IsNaN(y) {
			other = append(other, y)
		}
	}
	return len(other) > 0 && math.Abs(e.over(r)-medianOf(other)) > 3*stats.MAD(other)
}

// largestBend tries all fast stretches of up to a third of the span with a slow
// one on either side, clear of the cells without.
func (w *work) largestBend(p *dwellProfile, ex [2]*excess, without Interval) *bend {
	var best *bend
	sharpest := math.Inf(-1)
	widest := p.cells / 3
	for a := range p.cells {
		for b := a + 1; b <= min(p.cells, a+widest); b++ {
			fast := Interval{float64(a), float64(b)}
			if without.Overlaps(fast) {
				break
			}
			// The best stretch begins and ends with fast cells; trying only
			// those saves most of the work.
			if !(ex[0].over(fast) < (1/quickened-1)*fast.Width()) || !(ex[1].over(fast) < (1/quickened-1)*fast.Width()) {
				continue
			}
			for c := 1; c <= widest; c++ {
				for _, slow := range [2]Interval{{fast.To, fast.To + float64(c)}, {fast.From - float64(c), fast.From}} {
					if slow.From < 0 || slow.To > float64(p.cells) || without.Overlaps(slow) {
						continue
					}
					size, sharp := w.bendSize(p, ex, slow, fast)
					if size > 0 && sharp > sharpest {
						best, sharpest = &bend{slow: slow, fast: fast, size: size}, sharp
					}
				}
			}
		}
	}
	return best
}

// bendSize is by how many cells the reading is off its line between a slow and
// a fast stretch, the smaller of both directions; 0 where they are no bend. How
// sharp it is says which edges fit: those beyond which cells are less than half
// as slow, or as fast, as they must be.
func (w *work) bendSize(p *dwellProfile, ex [2]*excess, slow, fast Interval) (size, sharp float64) {
	size, sharp = math.Inf(1), math.Inf(1)
	for _, e := range ex {
		lost, won := e.over(slow), -e.over(fast)
		// Load may change the speed over the whole place by as much as makes no
		// slow zone.
		if !(lost > (1/w.lim.Slow-1)*slow.Width()) || !(won > 0) || math.Abs(lost-won) > (1/w.lim.Slow-1)*math.Max(lost, won) {
			return 0, 0
		}
		// Each edge is known to what the capture resolves, by its passes.
		passes := float64(e.passes[int(slow.From)])
		if math.Min(lost, won)*p.cell < 4*w.dwellFinest()/math.Sqrt(passes) {
			return 0, 0
		}
		size = math.Min(size, math.Min(lost, won))
		sharp = math.Min(sharp, lost+won-(1/w.lim.Slow-1)/2*slow.Width()-(1-1/quickened)/2*fast.Width())
	}
	return size, sharp
}

// bentTitle says it in one sentence.
func (f *Finding) bentTitle(band, passes string) string {
	if f.Form == runsBack {
		return fmt.Sprintf("Track bent %s: the reading runs back there while the drive goes on, both ways%s.", band, passes)
	}
	if f.Form == steepTrack {
		return fmt.Sprintf("Track steep %s: the reading moves at %.0f %% of its speed elsewhere, the same both ways%s.", band, 100*f.value(fastOverElsewhere), passes)
	}
	return fmt.Sprintf("Track bent %s: the reading moves at %.0f %% of its speed elsewhere and right beside that at %.0f %%, the same both ways%s.",
		band, 100*f.value(MeasureSpeedInStretch), 100*f.value(fastOverElsewhere), passes)
}
