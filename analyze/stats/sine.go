package stats

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Sine is a fitted y = A*cos(2*pi*F*t) + B*sin(2*pi*F*t) + C.
type Sine struct {
	F         float64 // cycles per unit of t
	A, B, C   float64 // units of y
	Amplitude float64 // sqrt(A*A + B*B)
	Phase     float64 // y = Amplitude*cos(2*pi*F*t + Phase) + C, rad
	RMS       float64 // root of the mean squared residual, units of y
}

// SineFit3 fits a sine of known frequency f (cycles per unit of t) by least
// squares. ok is false with fewer than three samples, NaN or infinity, or
// samples that cannot tell the three parameters apart. It panics if the lengths
// differ.
//
// Source: IEEE Std 1057, three-parameter least-squares fit.
func SineFit3(t, y []float64, f float64) (s Sine, ok bool) {
	mustMatch(len(t), len(y))
	p, ok := sineSolve(t, y, Sine{F: f}, 3)
	if !ok {
		return Sine{}, false
	}
	return sineOf(t, y, f, p), true
}

// sineIterations bounds the four-parameter fit. From a start within half a
// cycle over the record it converges in four or five steps; one that has not
// done so in thirty started too far away.
const sineIterations = 30

// SineFit4 fits a sine of unknown frequency near f by least squares. The start
// must be within about half a cycle over the record, such as the peak of
// [LombScargle]. ok is false with fewer than four samples, NaN or infinity, or
// if the frequency does not settle at a positive value. It panics if the
// lengths differ.
//
// Source: IEEE Std 1057, four-parameter least-squares fit.
func SineFit4(t, y []float64, f float64) (s Sine, ok bool) {
	s, ok = SineFit3(t, y, f)
	if !ok {
		return Sine{}, false
	}
	for range sineIterations {
		p, ok := sineSolve(t, y, s, 4)
		if !ok {
			return Sine{}, false
		}
		step := p[3] / (2 * math.Pi)
		next, ok := SineFit3(t, y, s.F+step)
		if !ok || !(next.F > 0) {
			return Sine{}, false
		}
		s = next
		if math.Abs(step) <= 1e-12*s.F {
			return s, true
		}
	}
	return Sine{}, false
}

// sineSolve returns the least-squares coefficients of cosine, sine and
// constant, and with columns = 4 of the change of angular frequency about s.
func sineSolve(t, y []float64, s Sine, columns int) (p []float64, ok bool) {
	if len(t) < columns || !finite(t) || !finite(y) {
		return nil, false
	}
	// Scaled by the span of t, the fourth column is as large as the others.
	var span float64
	for _, at := range t {
		span = math.Max(span, math.Abs(at))
	}
	if span == 0 {
		return nil, false
	}
	m := mat.NewDense(len(t), columns, nil)
	for i, at := range t {
		sin, cos := math.Sincos(2 * math.Pi * s.F * at)
		m.Set(i, 0, cos)
		m.Set(i, 1, sin)
		m.Set(i, 2, 1)
		if columns == 4 {
			m.Set(i, 3, at/span*(s.B*cos-s.A*sin))
		}
	}
	var qr mat.QR
	qr.Factorize(m)
	if qr.Cond() > 1e12 {
		return nil, false
	}
	var solved mat.VecDense
	if err := qr.SolveVecTo(&solved, false, mat.NewVecDense(len(y), append([]float64(nil), y...))); err != nil {
		return nil, false
	}
	p = solved.RawVector().Data
	if columns == 4 {
		p[3] /= span
	}
	return p, finite(p)
}

func sineOf(t, y []float64, f float64, p []float64) Sine {
	s := Sine{F: f, A: p[0], B: p[1], C: p[2]}
	s.Amplitude = math.Hypot(s.A, s.B)
	s.Phase = math.Atan2(-s.B, s.A)
	var sum float64
	for i, at := range t {
		sin, cos := math.Sincos(2 * math.Pi * f * at)
		d := y[i] - s.A*cos - s.B*sin - s.C
		sum += d * d
	}
	s.RMS = math.Sqrt(sum / float64(len(y)))
	return s
}
