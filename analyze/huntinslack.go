package analyze

import (
	"math"
	"slices"
)

// lostEachTurn is the measure of a hunting in which the shaft follows each drive that was
// turned over only after the motor has turned through the same travel, V.
const lostEachTurn = "lost after each turn"

// turnLoss is what became of a drive after it was turned over, in V of the reading at the
// usual speed.
type turnLoss struct {
	driven float64 // what the motor turned by
	moved  float64 // what the shaft moved by, up to the turning point
	stands bool    // the reading stood first, instead of following slowly or going on
}

// lost is what the motor turned by and the shaft did not move.
func (t turnLoss) lost() float64 { return math.Max(0, t.driven-t.moved) }

// turnLosses are those of the moves after move i, up to move j, each of which goes the
// other way than the one before.
func (w *work) turnLosses(i, j int) []turnLoss {
	var out []turnLoss
	for k := i + 1; k < j; k++ {
		m := &w.moves[k]
		r := w.rate[side(m.Direction)]
		t := turnLoss{driven: r * math.Min(1, math.Abs(m.DriveMean)/w.d.amp) * m.Duration()}
		// The shaft turns over where the drive does, or coasts on: the turning points tell,
		// the later one of the smoothed reading half a window late.
		from, to := extremes(w.smooth[m.first:min(m.last+w.window/2, len(w.smooth))])
		t.moved = to - from
		t.stands = r > 0 && w.keepsLevel(m.Time.From, t.lost()/r)
		out = append(out, t)
	}
	return out
}

// keepsLevel tells whether the reading stands for so many seconds from a time on: from two
// fifths of them to seven tenths, where the smoothed reading has nothing of what moved before
// or after.
func (w *work) keepsLevel(from, seconds float64) bool {
	a, b := indexAt(w.t, from+0.4*seconds), indexAt(w.t, from+0.7*seconds)
	if a >= b || b >= len(w.smooth) {
		return false
	}
	lo, hi := extremes(w.smooth[a : b+1])
	return hi-lo < 2*w.visible()
}

// lostAlike is what the shaft loses after each turn of the drive in moves [i, j), V, NaN
// where it does not lose the same each time, follows not at all, or loses no more than
// noise and the start of a good motor take ([deadTime]). A backlash in the loop makes a
// limit cycle (Nordin and Gutman 2002, doi:10.1016/S0005-1098(02)00047-X, from
// memory).
func (w *work) lostAlike(i, j int) float64 {
	const fewest = 4 // reversals, the least that hunting has
	var lost []float64
	for _, t := range w.turnLosses(i, j) {
		// Swings wider than what is lost are not for the play's sake: a motor that starts
		// slowly loses as much at each turn.
		if t.moved < 2*w.visible() || t.moved > t.lost() || !t.stands {
			continue
		}
		lost = append(lost, t.lost())
	}
	if len(lost) < fewest || 5*len(lost) < 4*(j-i-1) {
		return math.NaN()
	}
	slices.Sort(lost)
	middle := medianOf(lost)
	if lost[0] < playAlike*middle || lost[len(lost)-1] > middle/playAlike {
		return math.NaN()
	}
	if middle < 4*w.visible() || middle < deadTime*math.Max(w.rate[0], w.rate[1]) {
		return math.NaN()
	}
	return middle
}

// joinSlack ties the travel that seems lost at an end, in turns of a hunting alone, to that
// hunting where the same is lost after each of its turns, whichever way: off no end as well.
func (w *work) joinSlack() {
	for _, h := range w.found {
		if h.Kind != Hunting || !h.has(lostEachTurn) {
			continue
		}
		for i := range w.found {
			if f := &w.found[i]; f.Kind == EndLoss && within(f, []Interval{h.Time}) {
				f.Event, f.Strength = h.Event, 0.3*f.Strength
			}
		}
	}
}

// joinPlay ties hunting to the play that was found, where its drives are taken up by just
// that play: each moves the shaft by so much less as was left of it to go through, or not at
// all where it is shorter. The control hunts because of the play, wherever it does.
func (w *work) joinPlay() {
	p := slices.IndexFunc(w.found, func(f Finding) bool { return f.Kind == Play && f.Strength > 0.5 })
	if p < 0 {
		return
	}
	play, _ := w.found[p].Measure(MeasureLostTravel)
	for i := range w.found {
		f := &w.found[i]
		if f.Kind != Hunting || f.has(readingLeaps) {
			continue
		}
		from, to := w.movesOf(f)
		turns, taken, room := w.turnLosses(from, to), 0, play
		for _, t := range turns {
			slack := math.Min(t.driven, room)
			if t.lost() > playAlike*slack-w.visible() && t.lost() < slack/playAlike+w.visible() {
				taken++
			}
			room = play - (room - slack) // to the other side
		}
		if 5*taken >= 4*len(turns) {
			f.Event, f.Strength = w.found[p].Event, 0.3*f.Strength
		}
	}
}
