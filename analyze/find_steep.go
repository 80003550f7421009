package analyze

import (
	"math"

	"threewire/analyze/stats"
)

// steepTrack is the form of a bent track whose reading goes too far in one
// stretch, without a slow one beside it that makes up for it.
const steepTrack = "steep"

// steep is a stretch of the track that the reading crosses faster than the shaft
// can turn, both ways, at one speed all along, as all the rest at another.
type steep struct {
	at           Interval   // cells, whole
	hurries      [2]float64 // by direction: speed there over elsewhere
	seen, passes int
}

// findSteepTrack reports a stretch in which the reading moves at one and a half
// times its speed elsewhere or more, in both directions (see [hurried]), while it
// keeps one speed on either side of it: there a volt of the track is less of a
// turn than elsewhere. A door that drags everywhere but there would have to drag
// alike on both sides and both ways. Seen on one side alone, the slow part may be
// a door that drags; unless the fast one would carry a usual travel in less time
// than any such motor does.
func (w *work) findSteepTrack() {
	p := w.dwells()
	if p == nil || w.covered(BentTrack, None) || w.loose() {
		return
	}
	s := w.steepest(p)
	if s == nil {
		return
	}
	volts := Interval{p.from + s.at.From*p.cell, p.from + s.at.To*p.cell}
	if w.tellsNothing(volts) {
		return
	}
	k := (s.hurries[0] + s.hurries[1]) / 2
	f := Finding{Kind: BentTrack, Form: steepTrack, Tie: TiedToPosition, Volts: volts, Event: w.eventAt("track", volts, finePlace), Seen: s.seen, Passes: s.passes,
		Strength: math.Min(1, 0.4+0.6*(k-hurried)/(w.lim.Fast-hurried)),
		Measures: []Measure{{fastOverElsewhere, k, ""}, {"going down", s.hurries[0], ""}, {"going up", s.hurries[1], ""}}}
	f.Time, f.Places = w.visits(volts)
	w.overrule(f.Event, SlowZone, BentLine, Play)
	w.found = append(w.found, f)
}

// steepest is the stretch that tells the dwells of both directions apart best,
// or nil where it is none.
func (w *work) steepest(p *dwellProfile) *steep {
	var sum [2][]float64
	var n [2][]int // known cells, up to each
	for d := range p.mean {
		sum[d], n[d] = make([]float64, p.cells+1), make([]int, p.cells+1)
		for c, y := range p.mean[d] {
			sum[d][c+1], n[d][c+1] = sum[d][c], n[d][c]
			if !math.IsNaN(y) {
				sum[d][c+1] += y
				n[d][c+1]++
			}
		}
		if n[d][p.cells] < 12 {
			return nil
		}
	}
	// The split of a row of values in two groups that leaves the least scatter
	// within them has the largest scatter between.
	best, at := 0.0, Interval{}
	least := max(3, p.cells/50)
	for a := range p.cells {
		for b := a + least; b <= p.cells; b++ {
			between := 0.0
			for d := range sum {
				in, all := float64(n[d][b]-n[d][a]), float64(n[d][p.cells])
				if in < float64(least) || all-in < 6 {
					between = 0
					break
				}
				x := (sum[d][b] - sum[d][a]) / in
				y := (sum[d][p.cells] - sum[d][b] + sum[d][a]) / (all - in)
				if y < hurried*x {
					between = 0
					break
				}
				between += in * (all - in) / all * (y - x) * (y - x)
			}
			if between > best {
				best, at = between, Interval{float64(a), float64(b)}
			}
		}
	}
	if best == 0 {
		return nil
	}
	s := &steep{at: at}
	sides := 0
	for d := range p.mean {
		in, left, right := p.stretch(d, at.From+1, at.To-1), p.stretch(d, 0, at.From-1), p.stretch(d, at.To+1, float64(p.cells))
		out := append(append([]float64(nil), left...), right...)
		if len(in) < 2 || len(out) < 6 {
			return nil
		}
		fast, slow := mean(in), mean(out)
		s.hurries[d] = slow / fast
		// Most of the time it goes at the other speed, and both are kept: single
		// cells scatter, eighths of the way do not.
		if fast*float64(len(in)) > slow*float64(len(out)) || !even(in, fast) || !even(out, slow) {
			return nil
		}
		if l, r := mean(left), mean(right); len(left) >= 3 && len(right) >= 3 && math.Max(l, r) < 4.0/3*math.Min(l, r) {
			sides++
		}
		// Clear of what a grain of the track makes of so few cells anywhere.
		if slow-fast < 5*math.Max(stats.MAD(in), stats.MAD(out))/math.Sqrt(float64(len(in))) {
			return nil
		}
	}
	if math.Max(s.hurries[0], s.hurries[1]) > 4.0/3*math.Min(s.hurries[0], s.hurries[1]) {
		return nil
	}
	if sides < 2 && w.usualTravel() > quickTransit*p.speed(w, at) {
		return nil
	}
	return w.steepPasses(p, s)
}

// quickTransit is the least time, in s, in which a door actuator crosses its
// travel at 12 V (common practice, no source: 3 to 15 s as a rule, seldom less
// than 2).
const quickTransit = 2.0

// speed is the mean speed in V/s over a stretch of cells, both ways.
func (p *dwellProfile) speed(w *work, at Interval) float64 {
	v := 0.0
	for d := range p.mean {
		v += w.rate[d] / mean(p.stretch(d, at.From, at.To)) / 2
	}
	return v
}

// stretch is the known mean dwells of one direction in cells [from, to).
func (p *dwellProfile) stretch(d int, from, to float64) []float64 {
	var out []float64
	for c := max(0, int(from)); c < min(p.cells, int(to)); c++ {
		if y := p.mean[d][c]; !math.IsNaN(y) {
			out = append(out, y)
		}
	}
	return out
}

// even tells whether seven eighths of a row of dwells, taken in eight parts, lie
// within a third of the usual one, and what their own scatter adds to that.
func even(y []float64, usual float64) bool {
	parts := min(8, len(y)/4)
	odd := 0
	for k := range parts {
		part := y[k*len(y)/parts : (k+1)*len(y)/parts]
		if math.Abs(mean(part)-usual) > usual/3+2*stats.MAD(y)/math.Sqrt(float64(len(part))) {
			odd++
		}
	}
	return 8*odd <= max(8, parts)
}

// steepPasses counts the passes over the stretch, and those that show it; nil
// where less than two of three do.
func (w *work) steepPasses(p *dwellProfile, s *steep) *steep {
	for d := range p.pass {
		for i := range p.pass[d] {
			var in, out []float64
			for c, y := range p.pass[d][i].y {
				switch {
				case math.IsNaN(y):
				case s.at.From <= float64(c) && float64(c) < s.at.To:
					in = append(in, y)
				default:
					out = append(out, y)
				}
			}
			if float64(len(in)) < s.at.Width()/2 || len(out) < 3 {
				continue
			}
			s.passes++
			if mean(out) > (1+hurried)/2*mean(in) {
				s.seen++
			}
		}
	}
	if s.passes < 2 || 3*s.seen < 2*s.passes {
		return nil
	}
	return s
}
