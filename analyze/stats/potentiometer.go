package stats

import "math"

// Linearity is a straight line through the output of a potentiometer and the
// largest departure from it. The output ratio is wiper voltage over applied
// voltage; travel is a fraction of the electrical travel.
type Linearity struct {
	Slope     float64 // output ratio per unit of travel
	Intercept float64 // output ratio at travel 0
	Max       float64 // largest |departure|, as a fraction of the applied voltage
	At        float64 // travel where it is reached (the first such place)
}

// AbsoluteLinearity compares the output ratio r at the travels x with the line
// r = x, without any fit. The travels must be counted from the index point.
//
// No points, or NaN or infinity, give NaN in every field. It panics if the
// lengths differ; both hold for all functions of this file.
//
// Source: terms of VRCI-P-100A as restated by public supplier glossaries.
func AbsoluteLinearity(x, r []float64) Linearity { return measured(x, r, 1, 0) }

// TerminalBased compares r with the line through the points of least and
// greatest travel. All points at one travel give NaN.
//
// Source: as [AbsoluteLinearity].
func TerminalBased(x, r []float64) Linearity {
	first, last, ok := ends(x, r)
	if !ok {
		return measured(x, r, math.NaN(), math.NaN())
	}
	slope := (r[last] - r[first]) / (x[last] - x[first])
	return measured(x, r, slope, r[first]-slope*x[first])
}

// ZeroBased compares r with the line through the point of least travel whose
// slope makes the largest departure least. All points at one travel give NaN.
//
// Source: as [AbsoluteLinearity].
func ZeroBased(x, r []float64) Linearity {
	first, _, ok := ends(x, r)
	if !ok {
		return measured(x, r, math.NaN(), math.NaN())
	}
	// Adding the mirror image of every point about the fixed one forces the
	// best line through it: if slope P with offset Q is best for a symmetric
	// set so is P with -Q, and by convexity P with 0.
	var xs, ys []float64
	for i := range x {
		dx, dr := x[i]-x[first], r[i]-r[first]
		xs = append(xs, dx, -dx)
		ys = append(ys, dr, -dr)
	}
	slope, _ := minimax(xs, ys)
	return measured(x, r, slope, r[first]-slope*x[first])
}

// IndependentLinearity compares r with the line that makes the largest
// departure least. It is not the least-squares line, which overstates the
// departure. Found exactly, in O(n log n): of the two parallel lines that
// enclose all points with least vertical distance one carries an edge of the
// convex hull. All points at one travel give NaN.
//
// Source: as [AbsoluteLinearity].
func IndependentLinearity(x, r []float64) Linearity {
	if _, _, ok := ends(x, r); !ok {
		return measured(x, r, math.NaN(), math.NaN())
	}
	slope, intercept := minimax(x, r)
	return measured(x, r, slope, intercept)
}

// Departures stores in dst the output ratio less the line l.
func (l Linearity) Departures(dst, x, r []float64) []float64 {
	mustMatch(len(x), len(r))
	dst = useDst(dst, len(x))
	for i := range x {
		dst[i] = r[i] - (l.Slope*x[i] + l.Intercept)
	}
	return dst
}

func measured(x, r []float64, slope, intercept float64) Linearity {
	l := Linearity{Slope: slope, Intercept: intercept}
	dep := l.Departures(nil, x, r)
	if len(dep) == 0 || !finite(dep) {
		v := math.NaN()
		return Linearity{v, v, v, v}
	}
	l.Max = -1
	for i, d := range dep {
		if math.Abs(d) > l.Max {
			l.Max, l.At = math.Abs(d), x[i]
		}
	}
	return l
}

// ends returns the indices of least and greatest x. ok is false if they are
// the same, or if there is anything but finite numbers.
func ends(x, r []float64) (first, last int, ok bool) {
	mustMatch(len(x), len(r))
	if len(x) < 2 || !finite(x) || !finite(r) {
		return 0, 0, false
	}
	for i, v := range x {
		if v < x[first] {
			first = i
		}
		if v > x[last] {
			last = i
		}
	}
	return first, last, x[first] < x[last]
}

// minimax returns the line with the least largest departure; x must hold two
// different values.
func minimax(x, y []float64) (slope, intercept float64) {
	xs, ys := sortedByX(x, y)
	upper := hull(xs, ys, 1)
	lower := hull(xs, ys, -1)
	best := math.Inf(1)
	for _, side := range [][]int{upper, lower} {
		for i := 1; i < len(side); i++ {
			a, b := side[i-1], side[i]
			s := (ys[b] - ys[a]) / (xs[b] - xs[a])
			top, bottom := support(xs, ys, upper, s, 1), support(xs, ys, lower, s, -1)
			if height := top - bottom; height < best {
				best, slope, intercept = height, s, bottom+height/2
			}
		}
	}
	return slope, intercept
}

// hull returns the indices of the upper (sign 1) or lower (sign -1) convex hull
// of points sorted by x, with strictly rising x.
func hull(x, y []float64, sign float64) []int {
	var h []int
	for i := range x {
		if len(h) > 0 && x[h[len(h)-1]] == x[i] {
			if sign*y[i] <= sign*y[h[len(h)-1]] {
				continue
			}
			h = h[:len(h)-1]
		}
		for len(h) > 1 {
			a, b := h[len(h)-2], h[len(h)-1]
			if sign*((y[b]-y[a])*(x[i]-x[a])-(y[i]-y[a])*(x[b]-x[a])) > 0 {
				break
			}
			h = h[:len(h)-1]
		}
		h = append(h, i)
	}
	return h
}

// support returns the largest (sign 1) or least (sign -1) y - s*x over a hull,
// along which that value first improves and then falls off.
func support(x, y []float64, hull []int, s, sign float64) float64 {
	value := func(i int) float64 { return sign * (y[hull[i]] - s*x[hull[i]]) }
	lo, hi := 0, len(hull)-1
	for lo < hi {
		mid := (lo + hi) / 2
		if value(mid) < value(mid+1) {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return sign * value(lo)
}

// Roughness is the output smoothness of a track.
type Roughness struct {
	Departure   float64 // largest |departure|, fraction of the applied voltage
	DepartureAt float64 // its travel
	PeakToPeak  float64 // largest spread inside any window of travel, same unit
	PeakAt      float64 // travel in the middle of that window's two extremes
}

// Smoothness judges departures from the ideal output (see
// [Linearity.Departures]; fractions of the applied voltage) at the travels x:
// the largest single one, and the largest peak-to-peak inside any window of
// travel. The standards' window is 0.01, 1 % of the theoretical electrical
// travel.
//
// No points, or NaN or infinity, give NaN in every field. It panics if the
// lengths differ or window is negative.
//
// Source: largest departure as in public potentiometer handbooks; window form
// of VRCI-P-100A from memory.
func Smoothness(x, departure []float64, window float64) Roughness {
	mustMatch(len(x), len(departure))
	if !(window >= 0) {
		panic("stats: negative window")
	}
	if len(x) == 0 || !finite(x) || !finite(departure) {
		v := math.NaN()
		return Roughness{v, v, v, v}
	}
	xs, ds := sortedByX(x, departure)
	r := Roughness{Departure: -1, PeakAt: xs[0]}
	var high, low []int // candidates for the extremes, best first
	for i, d := range ds {
		if math.Abs(d) > r.Departure {
			r.Departure, r.DepartureAt = math.Abs(d), xs[i]
		}
		high = pushExtreme(high, ds, i, 1)
		low = pushExtreme(low, ds, i, -1)
		for xs[high[0]] < xs[i]-window {
			high = high[1:]
		}
		for xs[low[0]] < xs[i]-window {
			low = low[1:]
		}
		if spread := ds[high[0]] - ds[low[0]]; spread > r.PeakToPeak {
			r.PeakToPeak, r.PeakAt = spread, (xs[high[0]]+xs[low[0]])/2
		}
	}
	return r
}

func pushExtreme(queue []int, v []float64, i int, sign float64) []int {
	for len(queue) > 0 && sign*v[queue[len(queue)-1]] <= sign*v[i] {
		queue = queue[:len(queue)-1]
	}
	return append(queue, i)
}

// Gap is the difference between two passes over the same travels.
type Gap struct {
	Max  float64 // largest |up - down|, fraction of the applied voltage
	At   float64 // its travel
	Mean float64 // mean |up - down|; over the slope it is backlash in travel
}

// Hysteresis compares the output ratios of a rising and a falling pass at the
// same travels x. No points, or NaN or infinity, give NaN in every field. It
// panics if the lengths differ.
//
// Source: common definition, from memory.
func Hysteresis(x, up, down []float64) Gap {
	mustMatch(len(x), len(up))
	mustMatch(len(x), len(down))
	if len(x) == 0 || !finite(x) || !finite(up) || !finite(down) {
		v := math.NaN()
		return Gap{v, v, v}
	}
	g := Gap{Max: -1}
	for i := range x {
		d := math.Abs(up[i] - down[i])
		g.Mean += d / float64(len(x))
		if d > g.Max {
			g.Max, g.At = d, x[i]
		}
	}
	return g
}
