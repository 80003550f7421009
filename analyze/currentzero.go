package analyze

import (
	"fmt"
	"math"
	"slices"
)

// zeroCurrent takes off a logged current what its channel reads while nothing drives: a motor
// that is not driven draws nothing, and what a clamp or an amplifier reads then is its zero,
// which is off by some tens of milliamperes unless it was set (common practice, no source).
// That is as much as such a motor takes to turn: signed currents would be larger one way and
// smaller the other, or stand as far from nothing driven as at rest. The rests must agree on
// it; what flows at some of them only, or is no small part of what is drawn driven, is a
// current.
func (w *work) zeroCurrent() {
	const (
		fewest = 2    // rests, or it may be what one of them has
		rows   = 10   // of each
		small  = 0.2  // of the most that is drawn driven: an inrush, or what a held motor draws
		told   = 0.02 // of it: less is within what clamps are good for
	)
	c := w.tr.Current
	if c == nil {
		return
	}
	var zeros []float64
	for _, r := range w.resting() {
		var x []float64
		for _, y := range c.Mean[r.first:r.last] {
			if !math.IsNaN(float64(y)) {
				x = append(x, float64(y))
			}
		}
		if len(x) >= rows {
			zeros = append(zeros, medianIn(x))
		}
	}
	if len(zeros) < fewest {
		return
	}
	zero := medianOf(zeros)
	var most []float64
	for i, p := range w.d.pol {
		if x := math.Abs(float64(c.Mean[i]) - zero); p != 0 && !math.IsNaN(x) {
			most = append(most, x)
		}
	}
	if len(most) == 0 || zero == 0 || slices.Max(zeros)-slices.Min(zeros) > math.Abs(zero)/2 || math.Abs(zero) > small*slices.Max(most) {
		return
	}
	t, s := *w.tr, *c
	shifted := func(list []float32) []float32 {
		out := make([]float32, len(list))
		for i, x := range list {
			out[i] = x - float32(zero)
		}
		return out
	}
	s.Mean, s.Min, s.Max = shifted(c.Mean), shifted(c.Min), shifted(c.Max)
	t.Current = &s
	w.tr = &t
	w.idleAmps = memo[float64]{} // of the current as it was
	if math.Abs(zero) > told*slices.Max(most) {
		w.notes = append(w.notes, fmt.Sprintf("at rest the current reads %.2g %s: a motor that is not driven draws none, so that was taken off, as the zero of the channel", zero, c.Unit))
	}
}
