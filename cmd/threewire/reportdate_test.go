package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// A day as people write it is printed as it is; what is none is refused before anything is
// read.
func TestDateOnTheReport(t *testing.T) {
	for _, s := range []string{"", "2026-03-09", "2026/3/9", "9.3.2026", "09. 03. 26", "9 March 2026", "9th March 2026", "March 9, 2026", "3/25/2026", "9. März 2026", "9 de marzo de 2026", "1er mars 2026", "9 Mar. 26"} {
		if !isDate(s) {
			t.Errorf("%q is refused", s)
		}
	}
	for _, s := range []string{"blah", "2026", "99 March 2026", "2026-13-40", "March", "12", "tomorrow 9", "0.0.2026"} {
		if isDate(s) {
			t.Errorf("%q is taken", s)
		}
	}
	path := filepath.Join(t.TempDir(), "r.html")
	if code, out, errs := call("", "check", "gone.csv", "--report", path, "--date", "blah"); code != exitUsage || out != "" || !strings.Contains(errs, "as in 2026-03-09") {
		t.Errorf("%d, %q, %q", code, out, errs)
	}
}

// Who asks for a report is told that it is there, and where; on a line of its own beside
// the result. Two forms of the result are not given at once.
func TestReportIsToldOf(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r.html")
	_, with, errs := call("", "check", demo, "--report", path)
	if errs != "threewire check: report written to "+path+"\n" {
		t.Errorf("%q", errs)
	}
	if _, without, errs := call("", "check", demo); without != with || errs != "" {
		t.Errorf("the result differs, or %q", errs)
	}
	if code, out, errs := call("", "check", "--brief", "--json", demo); code != exitUsage || out != "" || !strings.Contains(errs, "--brief and --json") {
		t.Errorf("%d, %q, %q", code, out, errs)
	}
}
