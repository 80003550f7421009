package signal

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

func TestMixedDecimalMarks(t *testing.T) {
	text := func(form string, marks [3]string) string {
		b := "Time (s);Motor (V);Feedback (V)\n"
		for i := range 1000 {
			d, v := shuttle(float64(i) / 50)
			cells := []string{fmt.Sprintf("%.2f", float64(i)/50), fmt.Sprintf(form, d), fmt.Sprintf("%.3f", v)}
			for k := range cells {
				cells[k] = strings.ReplaceAll(cells[k], ".", marks[k])
			}
			b += strings.Join(cells, ";") + "\n"
		}
		return b
	}
	for _, delim := range []string{";", "\t"} {
		for _, marks := range [][3]string{{".", ".", "."}, {",", ".", "."}, {".", ",", "."}, {".", ".", ","}, {",", ",", "."}, {",", ".", ","}, {",", ",", ","}} {
			tr := mustRead(t, strings.ReplaceAll(text("%.3f", marks), ";", delim), Options{})
			if math.Abs(tr.Duration()-19.98) > 1e-6 || tr.Drive.Stats.Max != 12 || math.Abs(float64(tr.Feedback.Stats.Max)-4) > 1e-6 {
				t.Errorf("%q %q: %g s, drive to %g, feedback to %g", delim, marks, tr.Duration(), tr.Drive.Stats.Max, tr.Feedback.Stats.Max)
			}
		}
	}
	// Parted thousands stay thousands: millivolts, of which none has decimals.
	b := "Time (s);Motor (mV);Feedback (mV)\n"
	for i := range 1000 {
		d, v := shuttle(float64(i) / 50)
		b += fmt.Sprintf("%.2f;%.0f;%d,%03d\n", float64(i)/50, 1000*d, int(1000*v)/1000, int(1000*v)%1000)
	}
	if tr := mustRead(t, b, Options{}); math.Abs(tr.Feedback.Stats.Max-4) > 1e-6 {
		t.Errorf("thousands: feedback to %g V", tr.Feedback.Stats.Max)
	}
}
