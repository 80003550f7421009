package analyze

import (
	"fmt"
	"math"
)

// byStands is the form of a drift that shows while the shaft is pressed against both ends of
// its travel.
const byStands = "both ends alike, by the stands"

// findCreepAtStands reports a reading that creeps one way at one pace while the shaft is
// pressed against the one end of its travel and the other: what is pressed gives way in the
// direction it is pressed, so one of the two is no motion, and as the pace is the same neither
// is. A stall that lies short of an end, or of another one, by what has crept meanwhile is no
// obstacle.
func (w *work) findCreepAtStands() {
	const (
		enough = 3
		alike  = 2 // times: each pace is known from one stand
	)
	if w.sure(SpanDrift) {
		return
	}
	var ways [2]int
	var paces []float64
	for k := range w.moves {
		m := &w.moves[k]
		pace, ok := w.creepOf(m)
		if !ok {
			continue
		}
		if len(paces) > 0 && !(pace/paces[0] > 1./alike && pace/paces[0] < alike) {
			return
		}
		ways[side(m.Direction)]++
		paces = append(paces, pace)
	}
	if len(paces) < enough || ways[0] == 0 || ways[1] == 0 {
		return
	}
	over := Interval{w.t[0], w.t[len(w.t)-1]}
	change := medianOf(paces) * over.Width()
	f := Finding{Kind: SpanDrift, Form: byStands, Time: over, Volts: w.span, Tie: TiedToTime, TieP: math.Pow(0.5, float64(len(paces)-1)), Event: "drift",
		Strength: math.Min(1, math.Abs(change)/(0.02*w.span.Width())), Seen: len(paces), Passes: len(paces),
		Measures: []Measure{{creptInAll, change, w.unit()}}}
	w.overrule(f.Event, Jam, SpanShift, TravelChange, SpanDrift, SelfMotion)
	w.found = append(w.found, f)
}

// creptInAll is the name of a measure: how far a reading creeps over the whole capture.
const creptInAll = "creeps over the capture"

// creepOf is the pace, V/s, at which the reading creeps while the shaft stands under drive at
// the end of a move; false where it stands for less than two seconds, a filter and a springy
// stop left out, or where no creeping stands clear of the noise.
func (w *work) creepOf(m *Move) (float64, bool) {
	const (
		settled = 0.5 // s
		long    = 2   // s
	)
	if m.Stalled < settled+long {
		return 0, false
	}
	first := indexAt(w.t, m.Time.To-m.Stalled+settled)
	part := (m.last - first) / 4
	if part < 3 {
		return 0, false
	}
	a, b := medianOf(w.v[first:first+part]), medianOf(w.v[m.last-part:m.last])
	// The median of n readings scatters by 1.25 sigma/sqrt(n).
	scatter := 1.25 * math.Sqrt(2/float64(part)) * math.Max(w.noise, w.pressedNoise())
	if math.Abs(b-a) <= math.Max(w.quantum, w.lim.NoiseSigmas*scatter) {
		return 0, false
	}
	return (b - a) / lapse(w.t[m.last-1-part/2], w.t[first+part/2]), true
}

func (w *work) titleCreep(f *Finding) string {
	return fmt.Sprintf("The reading drifts: it creeps %s while the shaft is pressed against either end of its travel, by %s over the capture.", map[bool]string{true: "up", false: "down"}[f.value(creptInAll) > 0], amount(math.Abs(f.value(creptInAll)), w.unit()))
}
