package analyze

import (
	"math"
	"slices"
)

// pressedNoise is the noise of a bin, in V, while the motor stalls: its current is then
// several times that of running, and so is what it sends into the wires. Interference is
// the same at both stops and teeth that slip are not, so the quieter of the two counts.
func (w *work) pressedNoise() float64 { return w.stallNoise.of(w.measurePressedNoise) }

func (w *work) measurePressedNoise() float64 {
	n := max(12, w.rows(0.15))
	stride := max(n, len(w.t)/2000)
	slowest := math.Min(w.rate[0], w.rate[1])
	if !(slowest > 0) {
		slowest = math.Max(w.rate[0], w.rate[1])
	}
	stood := map[int8][]float64{}
	for a := 0; a+n <= len(w.t); a += stride {
		p := w.d.pol[a]
		if p == 0 || w.d.pol[a+n/2] != p || w.d.pol[a+n-1] != p {
			continue
		}
		slope, _ := straightLine(w.t[a:a+n], w.v[a:a+n])
		took := float64(n) * w.tr.Step
		if s := w.scatterIn(a, a+n); math.Abs(slope)*took < 3*s && slowest*took > 6*s {
			stood[p] = append(stood[p], s)
		}
	}
	one := slices.Concat(stood[-1], stood[1])
	if len(one) < 4 {
		return w.moving()
	}
	pressed := medianOf(one)
	if len(stood[-1]) >= 2 && len(stood[1]) >= 2 {
		pressed = math.Min(medianOf(stood[-1]), medianOf(stood[1]))
	}
	// A motor draws a fifth of its stall current while it runs, a seventh at least (common
	// practice, no source), and is heard by as much then.
	const heard = 0.15
	if m := w.moving(); m*m-w.noise*w.noise < heard*heard*(pressed*pressed-w.noise*w.noise) {
		return m
	}
	return math.Max(w.moving(), pressed)
}
