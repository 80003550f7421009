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

// A whole number without a mark stands in a column of decimal commas as well; hundreds
// beside parted thousands stay what they are.
func TestWholeNumbersAmongDecimalCommas(t *testing.T) {
	b := "Time;Motor (V);Feedback (V)\n"
	for i := range 1000 {
		d, v := shuttle(float64(i) / 50)
		cell := strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.2f", v), "0"), ".")
		b += fmt.Sprintf("%.2f;%.1f;%s\n", float64(i)/50, d, strings.ReplaceAll(cell, ".", ","))
	}
	if !strings.Contains(b, ";4\n") || !strings.Contains(b, ",") {
		t.Fatal("the text has no whole number, or no comma")
	}
	tr := mustRead(t, b, Options{})
	if math.Abs(tr.Feedback.Stats.Max-4) > 1e-6 || tr.Drive.Stats.Max != 12 || tr.Feedback.Stats.Valid != 1000 {
		t.Errorf("%d readings, feedback to %g, drive to %g", tr.Feedback.Stats.Valid, tr.Feedback.Stats.Max, tr.Drive.Stats.Max)
	}
	b = "Time (s);Motor (mV);Feedback (mV)\n"
	for i := range 1000 {
		d, v := shuttle(float64(i) / 50)
		cell := fmt.Sprintf("%d,%03d", int(1000*v)/1000, int(1000*v)%1000)
		if v < 1 {
			cell = fmt.Sprintf("%.0f", 1000*v)
		}
		b += fmt.Sprintf("%.2f;%.0f;%s\n", float64(i)/50, 1000*d, cell)
	}
	if tr := mustRead(t, b, Options{}); math.Abs(tr.Feedback.Stats.Max-4) > 1e-6 {
		t.Errorf("thousands: feedback to %g V", tr.Feedback.Stats.Max)
	}
}
