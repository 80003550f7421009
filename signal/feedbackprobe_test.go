package signal

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// A wiper read through a probe of which the channel was told the wrong factor: ten times
// its volts are put right, a tenth of them is asked about. A wiper as it is, one with a
// unit that the file does not tell, and one whose factor was given are left alone.
func TestFeedbackThroughWrongProbe(t *testing.T) {
	file := func(head string, factor, drive float64) string {
		var b strings.Builder
		b.WriteString(head + "\n")
		v := 0.5
		for i := range 2000 {
			d := 0.0
			switch k := i % 1000; {
			case k >= 50 && k < 450:
				d, v = drive, v+0.01
			case k >= 550 && k < 950:
				d, v = -drive, v-0.01
			}
			fmt.Fprintf(&b, "%.2f,%.3f,%.5f\n", float64(i)/50, d+0.01*float64(i%3), factor*(v+0.002*float64(i%3)))
		}
		return b.String()
	}
	const volts = "time (s),drive (V),feedback (V)"
	for _, c := range []struct {
		name, text string
		scale      map[Role]float64
		code       string
		top        float64
	}{
		{"as it is", file(volts, 1, 12), nil, "", 4.5},
		{"ten times", file(volts, 10, 12), nil, "probe-factor", 4.5},
		{"ten times and told", file(volts, 10, 12), map[Role]float64{Feedback: 0.1}, "", 4.5},
		{"fed from the battery", file(volts, 2.4, 12), nil, "", 10.8},
		{"ten times without a unit", file("time (s),drive (V),feedback", 10, 12), nil, "", 45},
		{"a tenth", file(volts, 0.1, 12), nil, "probe-asked", 0.45},
		{"a tenth and told", file(volts, 0.1, 12), map[Role]float64{Feedback: 10}, "", 4.5},
		{"a fifth", file(volts, 0.2, 12), nil, "", 0.9},
	} {
		tr := mustRead(t, c.text, Options{Scale: c.scale})
		i := slices.IndexFunc(tr.Notes, func(n Note) bool { return strings.HasPrefix(n.Code, "probe") })
		switch {
		case i >= 0 && (tr.Notes[i].Code != c.code || !tr.Notes[i].Turns), i < 0 && c.code != "":
			t.Errorf("%s: notes %+v, want %q", c.name, tr.Notes, c.code)
		}
		if _, hi := bulk(tr.Feedback.Mean, 100); math.Abs(hi-c.top) > 0.02*c.top {
			t.Errorf("%s: up to %.3g V, want %.3g V", c.name, hi, c.top)
		}
	}
}
