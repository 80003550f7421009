package analyze

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"threewire/analyze/stats"
)

// findBentLine takes wide slow zones back that are no band at all: where the
// rate changes gradually from end to end and alike both ways, the reading's
// line is bent. A leak from the wiper to a rail loads the potentiometer and
// bends it so, v = x/(1+kx(1-x)) (the loaded divider; textbook), a crooked
// track does, and a load that grows along the way looks the same without the
// motor's current. A parabola through the rates must fit better than two
// levels with sharp edges.
func (w *work) findBentLine() {
	var x, y []float64
	for _, p := range w.prof {
		if p == nil || len(p.Points) < 8 {
			continue
		}
		typical := w.typicalRate(p)
		for _, q := range p.Points {
			at := (q.Position - w.span.From) / w.span.Width()
			if at > 2*w.lim.EndZone && at < 1-2*w.lim.EndZone {
				x, y = append(x, at), append(y, q.Rate/typical)
			}
		}
	}
	if len(x) < 12 || !(parabolaError(x, y) < bandError(x, y)) {
		return
	}
	wide := func(f *Finding) bool {
		return f.Kind == SlowZone && f.Form == "" && f.Volts.Width() > 0.25*w.span.Width()
	}
	// Where one way is slow and the other is not, a load grows along the way: a spring, a
	// weight, something that is pressed together. A line bends the same both ways.
	for _, f := range w.found {
		if !wide(&f) {
			continue
		}
		down, up := besideRate(w.prof[0], f.Volts), besideRate(w.prof[1], f.Volts)
		if math.Max(down, up)-math.Min(down, up) > (1-math.Min(down, up))/2 {
			return
		}
	}
	var bent *Finding
	out := w.found[:0]
	for _, f := range w.found {
		if !wide(&f) {
			out = append(out, f)
			continue
		}
		if bent == nil || f.Volts.Width() > bent.Volts.Width() {
			g := f
			bent = &g
		}
	}
	w.found = out
	if bent != nil {
		bent.Kind, bent.Direction, bent.Event = BentLine, None, "bent"
		if off := w.lineOff(); !math.IsNaN(off) {
			bent.Measures = append(bent.Measures, Measure{MeasureLinearity, 100 * off, "% of span"})
		}
		w.found = append(w.found, *bent)
	}
}

// lineOff is how far at most, as a share of the span, the reading lies off a straight
// line over the shaft's way, taken for one driven at an even speed: the independent
// linearity, of the way in which less of it shows. NaN where neither way is known.
func (w *work) lineOff() float64 {
	off := math.NaN()
	for _, p := range w.prof {
		if p == nil {
			continue
		}
		var at, way []float64
		for i, q := range p.Points {
			if q.Rate <= 0 {
				continue
			}
			s := 0.0
			if i > 0 && len(way) > 0 {
				s = way[len(way)-1] + (q.Position-at[len(at)-1])/q.Rate
			}
			at, way = append(at, q.Position), append(way, s)
		}
		if x := stats.IndependentLinearity(way, at) / w.span.Width(); math.IsNaN(off) || x < off {
			off = x
		}
	}
	return off
}

// besideRate is the median rate of a profile within a band over that of all of its other
// cells: where half of the way is slow, which rate is the usual one hangs on a few cells,
// and may be the one going up and the other going down. NaN where nothing passed.
func besideRate(p *Profile, band Interval) float64 {
	if p == nil || len(p.Points) < 5 {
		return math.NaN()
	}
	var in, out []float64
	for _, q := range p.Points {
		if band.Has(q.Position) {
			in = append(in, q.Rate)
		} else {
			out = append(out, q.Rate)
		}
	}
	return medianOf(in) / medianOf(out)
}

// parabolaError is the residual sum of squares of y about the best parabola in
// x.
func parabolaError(x, y []float64) float64 {
	a := mat.NewDense(len(x), 3, nil)
	for i, v := range x {
		a.SetRow(i, []float64{1, v, v * v})
	}
	b := mat.NewVecDense(len(y), y)
	var c, r mat.VecDense
	if c.SolveVec(a, b) != nil {
		return math.Inf(1)
	}
	r.MulVec(a, &c)
	r.SubVec(b, &r)
	return mat.Dot(&r, &r)
}

// bandError is the residual sum of squares of y about the best band: one level
// inside, another outside, over all edges on a grid of a twenty-fifth.
func bandError(x, y []float64) float64 {
	const steps = 25
	best := math.Inf(1)
	for a := range steps {
		for b := a + 1; b <= steps; b++ {
			lo, hi := float64(a)/steps, float64(b)/steps
			var sum, two [2]float64
			var n [2]int
			for i, v := range x {
				k := 0
				if v >= lo && v < hi {
					k = 1
				}
				sum[k] += y[i]
				two[k] += y[i] * y[i]
				n[k]++
			}
			e := 0.0
			for k := range n {
				if n[k] > 0 {
					e += two[k] - sum[k]*sum[k]/float64(n[k])
				}
			}
			best = math.Min(best, e)
		}
	}
	return best
}
