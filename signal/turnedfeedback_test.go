package signal

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// A feedback below ground throughout was read the wrong way round, its reference too; one
// that reads down where others read up, one that dips below nought, and a dead one that
// lies a little below it are left alone.
func TestFeedbackTurned(t *testing.T) {
	file := func(feedback func(v float64) float64, ref float64) string {
		var b strings.Builder
		b.WriteString("time (s),drive (V),feedback (V),sensor reference (V)\n")
		for i := range 1600 {
			d, v := 12.0, 0.5+4*float64(i%400)/400
			if i/400%2 == 1 {
				d, v = -12, 4.5-4*float64(i%400)/400
			}
			fmt.Fprintf(&b, "%.2f,%g,%.4f,%.3f\n", float64(i)/50, d, feedback(v)+0.001*float64(i%3), ref+0.001*float64(i%2))
		}
		return b.String()
	}
	for _, c := range []struct {
		name     string
		feedback func(v float64) float64
		ref      float64
		turned   bool
		top      float64
		refTop   float64
	}{
		{"as it is", func(v float64) float64 { return v }, 5, false, 4.5, 5},
		{"inverted sensor", func(v float64) float64 { return 5 - v }, 5, false, 4.5, 5},
		{"turned probe", func(v float64) float64 { return -v }, 5, true, 4.5, 5},
		{"both turned", func(v float64) float64 { return -v }, -5, true, 4.5, 5},
		{"about nought", func(v float64) float64 { return v - 2 }, 5, false, 2.5, 5},
		{"dead", func(float64) float64 { return -0.05 }, 5, false, -0.05, 5},
	} {
		tr := mustRead(t, file(c.feedback, c.ref), Options{})
		noted := slices.ContainsFunc(tr.Notes, func(n Note) bool { return n.Code == "feedback-turned" })
		if _, hi := bulk(tr.Feedback.Mean, 100); noted != c.turned || math.Abs(hi-c.top) > 0.06 {
			t.Errorf("%s: turned %v, up to %.3g V; want %v, %.3g V", c.name, noted, hi, c.turned, c.top)
		}
		if tr.Reference == nil || math.Abs(tr.Reference.Stats.Max-c.refTop) > 0.01 {
			t.Errorf("%s: the reference is %+v", c.name, tr.Reference)
		}
	}
}
