package signal

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

func TestUnsetRatio(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{
		{"Wiper (V, probe 1:10 not set)", 10},
		{"probe 1:10 on feedback, channel left at 1:1 - multiply by 10", 10},
		{"Feedback (V) divider x20 not applied", 20},
		{"probe 10x, uncorrected", 10},
		{"divider 1/3 not corrected", 3},
		{"probe 1:10", 0}, // mostly it was entered
		{"probe not set", 0},
		{"Feedback (V)", 0},
		{"multiply by 10", 0},
	} {
		if got := unsetRatio(c.text); got != c.want {
			t.Errorf("%q: %g, want %g", c.text, got, c.want)
		}
	}
	for text, want := range map[string]string{
		"Wiper (V, probe 1:10 not set)":       "Wiper (V)",
		"Wiper (V) probe 1:10 not set":        "Wiper (V)",
		"Wiper (V probe x10 not set) of door": "Wiper (V) of door",
		"Wiper (divider x10 not set) V":       "Wiper V",
		"probe":                               "probe",
	} {
		if got := withoutProbe(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// A divider that was not entered, by the header or the preamble, is counted on the
// channels that it was on, and on no other.
func TestUnsetProbe(t *testing.T) {
	rows := func(drive, feedback float64) string {
		var b strings.Builder
		f := 0.5
		for i := range 900 {
			d := 0.0
			switch {
			case i > 100 && i < 400:
				d, f = 12, f+0.012
			case i > 500 && i < 800:
				d, f = -12, f-0.012
			}
			fmt.Fprintf(&b, "%.2f,%.4f,%.5f\n", float64(i)/100, d*drive, (f+0.001*float64(i%3))*feedback)
		}
		return b.String()
	}
	for _, c := range []struct {
		name, text      string
		drive, feedback float64 // highest volts
		noted           bool
	}{
		{"none", "time (s),Drive (V),Wiper (V)\n" + rows(1, 1), 12, 4.1, false},
		{"header", "time (s),Drive (V),Wiper (V probe 1:10 not set)\n" + rows(1, .1), 12, 4.1, true},
		{"quoted header", "time (s),Drive (V),\"Wiper (V, probe 1:10 not set)\"\n" + rows(1, .1), 12, 4.1, true},
		{"preamble, one", "# probe 1:10 on feedback, channel left at 1:1 - multiply by 10\ntime (s),Drive (V),Wiper (V)\n" + rows(1, .1), 12, 4.1, true},
		{"preamble, all", "# probe 1:10 on all voltage channels, channel left at 1:1 - multiply by 10\ntime (s),Drive (V),Wiper (V)\n" + rows(.1, .1), 12, 4.1, true},
		{"entered", "# probe 1:10 on feedback\ntime (s),Drive (V),Wiper (V)\n" + rows(1, 1), 12, 4.1, false},
	} {
		tr := mustRead(t, c.text, Options{})
		if math.Abs(tr.Drive.Stats.Max-c.drive) > 0.1 || math.Abs(tr.Feedback.Stats.Max-c.feedback) > 0.1 {
			t.Errorf("%s: drive up to %g, feedback up to %g; want %g, %g", c.name, tr.Drive.Stats.Max, tr.Feedback.Stats.Max, c.drive, c.feedback)
		}
		if noted := slices.ContainsFunc(tr.Notes, func(n Note) bool { return n.Code == "probe-not-set" }); noted != c.noted {
			t.Errorf("%s: noted %v: %v", c.name, noted, tr.Notes)
		}
	}
	// The user's factor is taken instead of the file's remark, not on top of it.
	tr := mustRead(t, "time (s),Drive (V),Wiper (V probe 1:10 not set)\n"+rows(1, .1), Options{Scale: map[Role]float64{Feedback: 10}})
	if math.Abs(tr.Feedback.Stats.Max-4.1) > 0.1 {
		t.Errorf("with a factor of 10 given: feedback up to %g V, want 4.1", tr.Feedback.Stats.Max)
	}
}

// Channels that read a tenth of what must be there are put right; a reference or a supply
// that fails is left as it is.
func TestTenths(t *testing.T) {
	text := func(drive, feedback, ref, supply float64, still bool) string {
		var b strings.Builder
		b.WriteString("time (s),Drive (V),Feedback (V),Reference (V),Supply (V)\n")
		f := 0.5
		for i := range 900 {
			d := 0.0
			switch {
			case i > 100 && i < 400:
				d = 12
			case i > 500 && i < 800:
				d = -12
			}
			if !still {
				f += 0.001 * d
			}
			fmt.Fprintf(&b, "%.2f,%.4f,%.5f,%.4f,%.4f\n", float64(i)/100, d*drive, (f+0.001*float64(i%3))*feedback, 5*ref+0.001*float64(i%2), 13.5*supply+0.002*float64(i%2))
		}
		return b.String()
	}
	for _, c := range []struct {
		name                       string
		drive, feedback, ref, sup  float64
		still                      bool
		wantD, wantF, wantR, wantS float64
	}{
		{"good", 1, 1, 1, 1, false, 12, 4.1, 5, 13.5},
		{"all", .1, .1, .1, .1, false, 12, 4.1, 5, 13.5},
		{"reference alone", 1, 1, .1, 1, false, 12, 4.1, 5, 13.5},
		{"supply alone", 1, 1, 1, .1, false, 12, 4.1, 5, 13.5},
		{"sensor's channels", 1, .1, .1, 1, false, 12, 4.1, 5, 13.5},
		{"reference gone", 1, .02, .02, 1, false, 12, .084, .1, 13.5},
		{"no supply", 1, 1, 1, .1, true, 12, .5, 5, 1.35},
		{"low battery", .6, 1, 1, .6, false, 7.2, 4.1, 5, 8.1},
	} {
		tr := mustRead(t, text(c.drive, c.feedback, c.ref, c.sup, c.still), Options{})
		for _, x := range []struct {
			name      string
			got, want float64
		}{{"drive", tr.Drive.Stats.Max, c.wantD}, {"feedback", tr.Feedback.Stats.Max, c.wantF}, {"reference", tr.Reference.Stats.Max, c.wantR}, {"supply", tr.Supply.Stats.Max, c.wantS}} {
			if math.Abs(x.got-x.want) > 0.02*x.want+0.03 {
				t.Errorf("%s: %s up to %g V, want %g", c.name, x.name, x.got, x.want)
			}
		}
	}
	// A factor that the user gives is kept.
	tr := mustRead(t, text(1, 1, 1, .1, false), Options{Scale: map[Role]float64{Supply: 1}})
	if tr.Supply.Stats.Max > 2 {
		t.Errorf("supply up to %g V, although a factor was given", tr.Supply.Stats.Max)
	}
}
