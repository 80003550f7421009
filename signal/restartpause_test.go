package signal

import (
	"fmt"
	"strings"
	"testing"
)

// Two recordings put one behind the other: the shaft had time to go elsewhere between
// them. One that was where it had been is drawn as before.
func TestPauseBetweenRecordings(t *testing.T) {
	file := func(from float64) string {
		var b strings.Builder
		b.WriteString("t (s),Motor (V),Feedback (V)\n")
		for part := range 2 {
			for i := range 200 {
				fmt.Fprintf(&b, "%.2f,%.1f,%.3f\n", float64(i)*0.05, 12.0, 1+float64(i)*0.01+(from+0.001*float64(i%3))*float64(part)) // no copy
			}
		}
		return b.String()
	}
	for from, want := range map[float64]float64{0: 10, 1.99: 0} {
		tr := mustRead(t, file(from), Options{})
		n := len(tr.Time)
		if got := tr.Time[n-1] - 19.9 - 0.3; got < want-0.1 || got > want+0.1 {
			t.Errorf("second part %+.2f V: the pause is %.2f s longer, want %.2f", from, got, want)
		}
		if g := tr.Gaps[0]; g.To-g.From < want || g.To != tr.Time[200] {
			t.Errorf("gap %v", g)
		}
	}
}
