package signal

import (
	"math"
	"testing"
)

// IEEE Std 181 histogram mode, as a public tool vendor documents it (standard
// text from memory): 40 samples low, a 9-sample ramp, 51 samples high; 100 bins
// of 0.0496 V put the modes at 0.0448 and 4.9552 V (own input, worked by hand).
func TestStateLevelsWorkedExample(t *testing.T) {
	var x []float32
	for range 40 {
		x = append(x, 0.02)
	}
	for i := 1; i <= 9; i++ {
		x = append(x, float32(0.02+4.96*float64(i)/10))
	}
	for range 51 {
		x = append(x, 4.98)
	}
	low, high, ok := StateLevels(x)
	if !ok || math.Abs(low-0.0448) > 1e-6 || math.Abs(high-4.9552) > 1e-6 {
		t.Fatalf("got %v %v %v, want 0.0448 4.9552 true", low, high, ok)
	}
	if half := 4.96 / 200; math.Abs(low-0.02) > half+1e-6 || math.Abs(high-4.98) > half+1e-6 {
		t.Fatalf("levels %v %v are further than half a bin from the truth", low, high)
	}
}

func TestStateLevelsNeedsARange(t *testing.T) {
	nan := float32(math.NaN())
	for _, x := range [][]float32{nil, {1}, {nan, nan}, {2, 2, nan, 2}} {
		if _, _, ok := StateLevels(x); ok {
			t.Errorf("StateLevels(%v) found two states", x)
		}
	}
}

func TestStateLevelsIgnoresNaN(t *testing.T) {
	nan := float32(math.NaN())
	a, b, _ := StateLevels([]float32{0, 0, nan, 5, 5, nan})
	c, d, _ := StateLevels([]float32{0, 0, 5, 5})
	if a != c || b != d {
		t.Fatalf("NaN changed the levels: %v %v against %v %v", a, b, c, d)
	}
}
