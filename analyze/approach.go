package analyze

import "math"

// Where a controller slows down before its target, neither a logged polarity says
// so nor volts whose pulses fall between the rows, and the shaft is slow wherever
// targets lie. What belongs to the target
// returns at every target; what binds stays at its place.
const (
	approachSlow   = 0.8  // share of the usual rate below which an end counts as approached slowly
	approachUsual  = 0.06 // share of the span that any move takes to come to rest
	approachPlaces = 3    // ends that lie apart, see approach
	approachPassed = 2    // of them, where others of the same direction pass at speed
)

// approach is how far before the end of a move the control slows the shaft down,
// in V; 0 where it does not. It takes targets at three places, ways counted
// apart, of which most are approached slowly: a band that binds lies before one
// or two of them. Where it slows down before either stop as before its targets,
// slowsAtStops says so: then a seal does not show.
func (w *work) approach() float64 {
	span := w.span.Width()
	cell := math.Max(span/100, 2*w.dwellFinest())
	if !(span > 0) || !(w.rate[0] > 0) || !(w.rate[1] > 0) || cell > span/8 {
		return 0
	}
	type target struct {
		dir   Direction
		at    float64
		slow  int
		moves int
		long  float64 // V, the longest slow end
	}
	var seen []target
	var atStop, slowStop [2]int // ends at the stops, and slow ones of them
	var allSlow [2][]float64    // V, ways to a stand that were slow nearly all along
	var long []float64
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction == None || m.last >= len(w.v)-1 {
			continue
		}
		end, l := w.slowEnd(m, cell)
		if math.IsNaN(l) {
			// Slow nearly all the way: where that is short, it may be all approach.
			if way := math.Abs(m.End - m.Start); m.Stalled > 0 && way > approachUsual*span {
				allSlow[side(m.Direction)] = append(allSlow[side(m.Direction)], way)
			}
			continue
		}
		if end < w.span.From+0.02*span || end > w.span.To-0.02*span {
			// A stop slows too.
			if atStop[side(m.Direction)]++; l > approachUsual*span {
				slowStop[side(m.Direction)]++
			}
			continue
		}
		i := 0
		for i < len(seen) && (seen[i].dir != m.Direction || math.Abs(seen[i].at-end) > approachUsual*span) {
			i++
		}
		if i == len(seen) {
			seen = append(seen, target{dir: m.Direction, at: end})
		}
		seen[i].moves++
		if l > approachUsual*span {
			seen[i].slow++
			seen[i].long = math.Max(seen[i].long, l)
			long = append(long, l)
		}
	}
	if len(long) > 0 {
		reach := quantileOf(long, 0.9) + cell
		for d := range allSlow {
			for _, way := range allSlow[d] {
				if way < 1.3*reach {
					atStop[d], slowStop[d] = atStop[d]+1, slowStop[d]+1
				}
			}
		}
	}
	places, passed := 0, 0
	for _, s := range seen {
		if 2*s.slow > s.moves {
			places++
			if s.slow >= 2 && w.passedAtSpeed(s.dir, s.at, s.long) {
				passed++
			}
		}
	}
	// What is slow before either stop and before all targets between, both ways, is no
	// band that binds either.
	stops := atStop[0] > 0 && atStop[1] > 0 && 3*slowStop[0] > 2*atStop[0] && 3*slowStop[1] > 2*atStop[1]
	everywhere := places >= 2 && places == len(seen) && stops
	if places < approachPlaces && passed < approachPassed && !everywhere || 3*places < 2*len(seen) {
		return 0
	}
	w.slowsAtStops = stops
	return math.Min(quantileOf(long, 0.9)+cell, span/2)
}

// passedAtSpeed tells whether another move in a direction goes at speed over the stretch
// in which those that end at a place are slow: nothing binds there.
func (w *work) passedAtSpeed(dir Direction, at, long float64) bool {
	rate := w.rate[side(dir)]
	far := at - float64(dir)*long
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction != dir {
			continue
		}
		if lo, hi := w.tracked(m); dir == Up && hi < at+long || dir == Down && lo > at-long {
			continue // it ends there as well
		}
		a, b := -1, -1
		for i := m.first; i < m.last; i++ {
			if x := float64(dir) * (w.smooth[i] - far); a < 0 && x >= 0 {
				a = i
			}
			if b < 0 && float64(dir)*(w.smooth[i]-at) >= 0 {
				b = i
			}
		}
		if a > m.first && b > a && long > approachSlow*rate*(w.t[b]-w.t[a]) {
			return true
		}
	}
	return false
}

// slowEnd is where a move ends and how far before, in V, it gets slow for good;
// NaN for one that is slow nearly all the way, or too short to tell.
func (w *work) slowEnd(m *Move, cell float64) (end, long float64) {
	a, b := m.last, m.first
	for _, g := range m.segs {
		if g.state == track {
			a, b = min(a, g.first), max(b, min(g.last, len(w.smooth)))
		}
	}
	if b-a < 3 {
		return 0, math.NaN()
	}
	end = w.smooth[b-1]
	way := math.Abs(end - w.smooth[a])
	if way < 3*approachUsual*w.span.Width() {
		return end, math.NaN()
	}
	rate := w.rate[side(m.Direction)]
	i := b - 1
	for i > a {
		j := i
		for j > a && math.Abs(w.smooth[i]-w.smooth[j]) < cell {
			j--
		}
		// At full drive: where the volts tell that it was turned down, that is all
		// there is to it.
		took, went := 0.0, math.Abs(w.smooth[i]-w.smooth[j])
		for k := j; k < i; k++ {
			gain := 1.0
			if !w.d.pulsed { // of pulses the rows tell little
				gain = math.Abs(m.gain[k-m.first])
			}
			took += gain * (w.t[k+1] - w.t[k])
		}
		if !(went < approachSlow*rate*took) {
			break
		}
		i = j
	}
	if long = math.Abs(end - w.smooth[i]); long > 0.8*way {
		return end, math.NaN()
	}
	return end, long
}

// comesSoftly tells whether the shaft slowed down on its way to a stand as it does
// before every target: what stands in its way stops it at full speed.
func (w *work) comesSoftly(s stall) bool {
	if w.slows == 0 {
		return false
	}
	span := w.span.Width()
	_, long := w.slowEnd(&w.moves[s.move], math.Max(span/100, 2*w.dwellFinest()))
	return long > approachUsual*span && long < 1.3*w.slows
}
