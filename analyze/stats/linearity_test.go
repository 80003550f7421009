package stats

import (
	"math"
	"testing"
)

// The definition is the published one of independent linearity (MIL-PRF-39002 para.
// 4.6.8 and suppliers' glossaries that restate the VRCI terms); the readings are ours,
// and the line of least deviation was found with scipy.optimize.linprog.
func TestIndependentLinearity(t *testing.T) {
	const volts = 5
	var x []float64
	for i := range 11 {
		x = append(x, float64(i)/10)
	}
	up := []float64{0.02, 0.52, 1.04, 1.53, 2.01, 2.50, 2.97, 3.48, 4.01, 4.52, 4.97}
	if got := 100 * IndependentLinearity(x, up) / volts; math.Abs(got-0.585714) > 1e-6 {
		t.Errorf("independent linearity %.6f %%, want 0.585714", got)
	}
	// That of the line of least squares over-states it (0.64 %).
	line, _ := FitLine(x, up)
	worst := 0.0
	for i := range x {
		worst = math.Max(worst, math.Abs(up[i]-line.Intercept-line.Slope*x[i]))
	}
	if got := 100 * worst / volts; math.Abs(got-0.64) > 0.005 {
		t.Errorf("deviation from the line of least squares %.4f %%, want 0.64", got)
	}
}

func TestIndependentLinearityOfALine(t *testing.T) {
	if got := IndependentLinearity([]float64{0, 1, 3}, []float64{1, 3, 7}); math.Abs(got) > 1e-12 {
		t.Errorf("a straight line is off itself by %g", got)
	}
	if got := IndependentLinearity([]float64{1}, []float64{1}); !math.IsNaN(got) {
		t.Errorf("one point gave %g", got)
	}
	// A loaded divider, v = x/(1+k x(1-x)) with k = 1, bows by a little under 0.1 at
	// most: half of the bow, to either side, is what the best line leaves.
	var x, v []float64
	for i := range 1001 {
		s := float64(i) / 1000
		x, v = append(x, s), append(v, s/(1+s*(1-s)))
	}
	bow := 0.0
	for i := range x {
		bow = math.Max(bow, x[i]-v[i])
	}
	if got := IndependentLinearity(x, v); got < 0.48*bow || got > bow/2+1e-9 {
		t.Errorf("independent linearity %.4f of a bow of %.4f", got, bow)
	}
}
