package signal

import (
	"math"
	"testing"
)

// The extremes of a combined channel pass over missing bins and count how
// many bins lie at them.
func TestBoundCountsExtremes(t *testing.T) {
	nan := float32(math.NaN())
	var st Stats
	st.bound([]float32{nan, 2, -1, 5, nan, 5, -1, -1})
	if st.Min != -1 || st.AtMin != 3 || st.Max != 5 || st.AtMax != 2 {
		t.Errorf("got %+v", st)
	}
	st.bound([]float32{nan})
	if !math.IsNaN(st.Min) || !math.IsNaN(st.Max) || st.AtMin != 0 || st.AtMax != 0 {
		t.Errorf("nothing read, got %+v", st)
	}
}
