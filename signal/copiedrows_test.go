package signal

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// shaftRows draws n rows of a shaft that goes to and fro, with noise that hangs on seed.
func shaftRows(n, seed int) string {
	var b strings.Builder
	for i := range n {
		d, v := 12.0, 0.5+4*float64(i%200)/200
		if i/200%2 == 1 {
			d, v = -12, 4.5-4*float64(i%200)/200
		}
		cell := fmt.Sprintf("%.4f", v+0.001*float64((i*seed)%17))
		if i == 3 {
			cell = ""
		}
		fmt.Fprintf(&b, "%.2f,%g,%s\n", float64(i)/50, d, cell)
	}
	return b.String()
}

// A file put behind itself, with its header or without, is one recording; another
// recording behind the first is not it, nor is the first a part of one row more.
func TestSameRecordingTwice(t *testing.T) {
	const head = "time (s),drive (V),feedback (V)\n"
	one := shaftRows(800, 7)
	alone := mustRead(t, head+one, Options{})
	for name, text := range map[string]string{
		"twice":       head + one + one,
		"with header": head + one + head + one,
		"four times":  head + one + one + one + one,
	} {
		tr := mustRead(t, text, Options{})
		noted := slices.ContainsFunc(tr.Notes, func(n Note) bool { return n.Code == "same-again" })
		restarted := slices.ContainsFunc(tr.Notes, func(n Note) bool { return n.Code == ClockRestarted })
		if tr.Rows != 800 || tr.Len() != alone.Len() || len(tr.Anew)+len(tr.Gaps) > 0 || !noted || restarted {
			t.Errorf("%s: %d rows, %v, %v, notes %+v", name, tr.Rows, tr.Anew, tr.Gaps, tr.Notes)
		}
		if tr.Feedback.Stats != alone.Feedback.Stats || !slices.Equal(tr.Time, alone.Time) {
			t.Errorf("%s: %+v, alone %+v", name, tr.Feedback.Stats, alone.Feedback.Stats)
		}
		if again := slices.ContainsFunc(tr.Notes, func(n Note) bool { return n.Code == "header-again" && strings.Contains(n.Text, "line 802") }); again != (name == "with header") {
			t.Errorf("%s: the header's repetition is told: %v", name, again)
		}
	}
	for name, text := range map[string]string{
		"another recording": head + one + shaftRows(800, 11),
		"a shorter one":     head + one + shaftRows(700, 7),
		"one, then others":  head + one + one + shaftRows(800, 11),
	} {
		tr := mustRead(t, text, Options{})
		if want := int64(strings.Count(text, "\n") - 1); tr.Rows != want || len(tr.Anew) == 0 {
			t.Errorf("%s: %d rows of %d, %v", name, tr.Rows, want, tr.Anew)
		}
	}
}

// Of two rows of names that do not agree the one above the data holds, and the verdict may
// hang on it; of two that agree it is said only; a title above the names is no such row.
func TestTwoRowsOfNames(t *testing.T) {
	const names = "time,drive,feedback\n"
	for _, c := range []struct {
		name, above, code string
		turns             bool
	}{
		{"contrary", "time,feedback,drive\n", "names-differ", true},
		{"other words", "time_s,motor_V,feedback_V\n", "names-twice", false},
		{"the same", names, "", false},
		{"none", "", "", false},
		{"a title", "Bench log,second day,Rig 3\n", "", false},
	} {
		tr := mustRead(t, c.above+names+shaftRows(800, 7), Options{})
		i := slices.IndexFunc(tr.Notes, func(n Note) bool { return strings.HasPrefix(n.Code, "names-") })
		switch {
		case i < 0 && c.code != "", i >= 0 && (tr.Notes[i].Code != c.code || tr.Notes[i].Turns != c.turns):
			t.Errorf("%s: %+v", c.name, tr.Notes)
		}
		if tr.Drive.Stats.Max != 12 {
			t.Errorf("%s: the drive goes to %g", c.name, tr.Drive.Stats.Max)
		}
	}
}
