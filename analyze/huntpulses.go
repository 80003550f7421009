package analyze

import "math"

// pulsesFollowed is the measure of a hunting in small corrections: by short pulses, each
// of which the reading follows from one rest to the next, and ended in a rest: how many.
const pulsesFollowed = "short pulses that the reading follows one by one"

// Controls brake by a short pulse the other way, seat their door by a small reversal after
// a move, or come to a target by short pulses to and fro (common practice, no source). The
// shaft goes a little with each, and the reading with it.
const (
	shortPulse   = 0.15 // s at full drive: a motor hardly comes up to speed (two mechanical time constants)
	smallestStep = 0.04 // of a usual travel: what a control means by "there", or less
	pulseRest    = 1.0  // s without drive: it is content
)

// followsPulses counts the pulses of moves [i, j) that the reading follows, where that are
// nearly all of them and they end in a rest; else 0. A place of the track that fails throws
// the reading about or holds it; against an obstacle, or with a motor that fails, it stays.
func (w *work) followsPulses(i, j int) int {
	// A last drive that sets out from a rest is the next thing that is asked for.
	for j-i > 4 && w.moves[j-1].Time.From-w.moves[j-2].Time.To >= pulseRest {
		j--
	}
	if w.sense == 0 || j-i < 4 || j < len(w.moves) && w.moves[j].Time.From-w.moves[j-1].Time.To < pulseRest {
		return 0
	}
	if j == len(w.moves) && lapse(w.t[len(w.t)-1], w.moves[j-1].Time.To) < pulseRest {
		return 0
	}
	followed, made := 0, 0
	for k := i + 1; k < j; k++ {
		m := &w.moves[k]
		if m.Duration()*w.shareOfDrive(m) > shortPulse {
			return 0
		}
		before, after, ok := w.aboutPulse(k)
		if !ok {
			continue
		}
		made++
		step := (after - before) * float64(m.Direction)
		if math.Abs(step) > smallestStep*math.Max(w.span.Width(), w.usualTravel()) {
			return 0
		}
		if step > 0 && step >= math.Max(2*w.noise, w.quantum/2) {
			followed++
		}
	}
	// One in ten may fall within a step of the converter, or into its slack.
	if made < 3 || 10*followed < 9*made {
		return 0
	}
	return followed
}

// aboutPulse gives the reading just before a pulse and before the next one, when the shaft
// has run out; false where too few rows tell.
func (w *work) aboutPulse(k int) (before, after float64, ok bool) {
	m := &w.moves[k]
	until := m.Time.To + 0.3 // s, in which a motor coasts (chosen, not derived)
	if k+1 < len(w.moves) {
		until = math.Min(until, w.moves[k+1].Time.From)
	}
	level := func(from, to float64) float64 {
		a, b := indexAt(w.t, from), indexAt(w.t, to)
		a, b = max(0, a), min(len(w.v), b+1)
		if b-a < 2 {
			return math.NaN()
		}
		return medianOf(w.v[a:b])
	}
	const short = 0.04 // s: two periods of mains at 50 Hz, whose hum a median then leaves out
	n := math.Max(short, 2*w.tr.Step)
	before, after = level(m.Time.From-n, m.Time.From), level(until-n, until)
	return before, after, !math.IsNaN(before) && !math.IsNaN(after)
}
