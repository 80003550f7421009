package analyze

import (
	"fmt"
	"math"
	"slices"

	"threewire/signal"
)

// unlikeTalk is what the feedback must leave of the reference's changes at the most, as a
// share of their power, for the reference to go by nothing else.
const unlikeTalk = 0.1

// withoutReferenceTalk takes off the logged reference what the instrument leaves on it of
// the feedback read before, see [work.withoutCrossTalk]: a reference that rises and falls
// with the place of the wiper, and with nothing else. A track takes the same current
// wherever its wiper is, and what a wiper's input draws pulls the reference down, not up,
// as the reading rises.
func (w *work) withoutReferenceTalk(t *signal.Trace) *signal.Trace {
	r := t.Reference
	if r == nil || r.Unit != t.Feedback.Unit {
		return t
	}
	k := shareOnReference(t)
	if !(k > 0) || k > mostTalk {
		return t
	}
	out, s := *t, *r
	s.Mean, s.Min, s.Max = slices.Clone(r.Mean), slices.Clone(r.Min), slices.Clone(r.Max)
	for i, v := range t.Feedback.Mean {
		for _, x := range [][]float32{s.Mean, s.Min, s.Max} {
			x[i] = (x[i] - float32(k)*v) / float32(1-k)
		}
	}
	out.Reference = &s
	w.doubt(CrossTalk, fmt.Sprintf("the reference rises and falls with the feedback, by %.1f %% of it, up as well as down and with nothing else: that is cross-talk from one input of the instrument to the next, for no wiper lifts its reference. It was taken off before judging; to be sure, record again without the reference", 100*k))
	return &out
}

// shareOnReference is how much of the feedback's volts the reference goes by; 0 where it
// does not, goes by something else too, or only one way: a drift does that.
func shareOnReference(t *signal.Trace) float64 {
	var x, y []float64
	for i, v := range t.Feedback.Mean {
		if r := float64(t.Reference.Mean[i]); !math.IsNaN(r) && !math.IsNaN(float64(v)) {
			x, y = append(x, float64(v)), append(y, r)
		}
	}
	if len(x) < 40 {
		return 0
	}
	mx, my := mean(x), mean(y)
	var xx, xy, yy float64
	for i := range x {
		xx, xy, yy = xx+(x[i]-mx)*(x[i]-mx), xy+(x[i]-mx)*(y[i]-my), yy+(y[i]-my)*(y[i]-my)
	}
	if !(xx > 0) || !(yy > 0) || xy*xy < (1-unlikeTalk)*xx*yy {
		return 0
	}
	k := xy / xx
	// Steps of a hundredth of the capture, rising and falling ones apart.
	n := max(1, len(x)/100)
	var by, with [2]float64
	for i := n; i < len(x); i += n {
		s := 0
		if x[i] > x[i-n] {
			s = 1
		}
		by[s], with[s] = by[s]+x[i]-x[i-n], with[s]+y[i]-y[i-n]
	}
	for s := range by {
		if math.Abs(with[s]-k*by[s]) > 0.3*k*math.Abs(by[s]) || by[s] == 0 {
			return 0
		}
	}
	return k
}
