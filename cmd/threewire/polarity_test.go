package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// A healthy capture that lost the sign of its drive, or one of its leads, is
// no fault: check, the report and the picture say what to log.
func TestPolarityNotLogged(t *testing.T) {
	b, err := os.ReadFile("../../fixtures/captures/rig1-left-temperature-door-healthy.csv")
	if err != nil {
		t.Fatal(err)
	}
	rows := strings.Split(strings.TrimSpace(string(b)), "\n")[1:]
	dir := t.TempDir()
	for name, c := range map[string]struct {
		head   string
		drive  func(v float64) float64
		code   int
		starts string
		want   string
		judged bool // what comes back shows the other lead
	}{
		"magnitude": {"time_s,drive_V,feedback_V", func(v float64) float64 { return max(v, -v) }, exitCannotTell, "CANNOT TELL. The ", "never negative", false},
		"one lead":  {"time_s,lead A,feedback_V", func(v float64) float64 { return max(v, 0) }, 0, "NO FAULT FOUND (8", "Only one motor lead was logged", true},
	} {
		var text strings.Builder
		fmt.Fprintln(&text, c.head)
		for _, r := range rows {
			cells := strings.Split(r, ",")
			v, err := strconv.ParseFloat(cells[1], 64)
			if err != nil {
				t.Fatal(err)
			}
			fmt.Fprintf(&text, "%s,%.3f,%s\n", cells[0], c.drive(v), cells[2])
		}
		page, picture := filepath.Join(dir, name+".html"), filepath.Join(dir, name+".svg")
		code, out, errs := call(text.String(), "check", "-", "--report", page)
		if code != c.code || errs != "threewire check: report written to "+page+"\n" || !strings.HasPrefix(out, c.starts) || !strings.Contains(out, c.want) || !strings.Contains(out, "Log both motor leads") {
			t.Errorf("%s: ended with %d and said %q, %q", name, code, out, errs)
		}
		if code, _, errs := call(text.String(), "draw", "-", "--out", picture); code != 0 {
			t.Errorf("%s: draw ended with %d and said %q", name, code, errs)
		}
		for _, p := range []string{page, picture} {
			b, err := os.ReadFile(p)
			if err != nil || strings.Contains(string(b), "the polarity of the drive was not logged") == c.judged || strings.Contains(string(b), "Nothing unusual") != c.judged {
				t.Errorf("%s: %s does not say whether it was judged (%v)", name, filepath.Base(p), err)
			}
		}
	}
}
