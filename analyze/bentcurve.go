package analyze

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// findBentPlaces takes slow places back that are no places: where the speeds elsewhere,
// both ways, lie on one smooth curve, and the place lies on it too. A line of the reading
// that is bent changes its slope along all of the travel and alike both ways (a resistor
// from the wiper to a rail loads the track; a lever between shaft and wiper goes by a
// sine), and is flattest at an end or in the middle, without any edge. What binds begins
// and ends somewhere: beside it the shaft runs as it does elsewhere.
func (w *work) findBentPlaces() {
	var bent *Finding
	out := w.found[:0]
	for _, f := range w.found {
		if isSlowBand(f) && !f.has(builtLaw) && w.onOneCurve(f.Volts) {
			if bent == nil || f.Volts.Width() > bent.Volts.Width() {
				g := f
				bent = &g
			}
			continue
		}
		out = append(out, f)
	}
	w.found = out
	if bent != nil {
		bent.Kind, bent.Direction, bent.Event = BentLine, None, "bent"
		w.found = append(w.found, *bent)
	}
}

// onOneCurve tells whether a parabola through the speeds of both ways outside a band
// explains most of what varies there, and foretells those within it.
func (w *work) onOneCurve(band Interval) bool {
	const (
		enough = 8       // cells each way: three parameters, and as many again to tell that they fit
		part   = 2.0 / 3 // of what varies is the curve's (chosen, not derived)
	)
	span, end := w.span.Width(), w.lim.EndZone*w.span.Width()
	var outside, inside []curvePoint
	for d, p := range w.prof {
		if p == nil {
			return false
		}
		usual, n, within := w.typicalRate(p), 0, 0
		cell := math.Inf(1)
		for i := 1; i < len(p.Points); i++ {
			cell = math.Min(cell, p.Points[i].Position-p.Points[i-1].Position)
		}
		for _, q := range p.Points {
			if !(q.Position > w.span.From+end && q.Position < w.span.To-end) || !(q.Rate > 0) {
				continue
			}
			at := curvePoint{(q.Position - w.span.From) / span, math.Log(q.Rate / usual), d}
			switch {
			case band.Has(q.Position):
				inside = append(inside, at)
				within++
			case q.Position < band.From-cell || q.Position > band.To+cell:
				outside = append(outside, at)
				n++
			}
		}
		if n < enough || within == 0 {
			return false
		}
	}
	c, ok := fitCurve(outside)
	if !ok {
		return false
	}
	left, all := 0.0, 0.0
	var m [2]float64
	for d := range m {
		m[d] = meanOf(outside, d)
	}
	for _, p := range outside {
		left += math.Pow(p.y-c.at(p), 2)
		all += math.Pow(p.y-m[p.way], 2)
	}
	if left > (1-part)*all {
		return false
	}
	for d := range m {
		var off []float64
		for _, p := range inside {
			if p.way == d {
				off = append(off, p.y-c.at(p))
			}
		}
		if !(medianOf(off) > math.Log(w.lim.Slow)) {
			return false
		}
	}
	return true
}

// curvePoint is the speed of one cell of one way's profile: where, in shares of the
// travel, and the logarithm of its share of the usual one.
type curvePoint struct {
	x, y float64
	way  int
}

// curve is a parabola in the logarithm of the speed, of one shape both ways.
type curve struct {
	base        [2]float64
	slope, bend float64
}

func (c curve) at(p curvePoint) float64 { return c.base[p.way] + c.slope*p.x + c.bend*p.x*p.x }

// fitCurve lays one shape of parabola through the points of both ways.
func fitCurve(points []curvePoint) (curve, bool) {
	a, b := mat.NewDense(len(points), 4, nil), mat.NewVecDense(len(points), nil)
	for i, p := range points {
		a.Set(i, p.way, 1)
		a.Set(i, 2, p.x)
		a.Set(i, 3, p.x*p.x)
		b.SetVec(i, p.y)
	}
	var c mat.VecDense
	if c.SolveVec(a, b) != nil {
		return curve{}, false
	}
	return curve{[2]float64{c.AtVec(0), c.AtVec(1)}, c.AtVec(2), c.AtVec(3)}, true
}

func meanOf(points []curvePoint, way int) float64 {
	sum, n := 0.0, 0.0
	for _, p := range points {
		if p.way == way {
			sum += p.y
			n++
		}
	}
	return sum / n
}
