package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// A verdict is printed although its report could not be written: only Linux has /dev/full.
func TestVerdictWithoutItsReport(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r.pdf")
	linkTo(t, "/dev/full", path)
	code, out, errs := call("", "check", demo, "--report", path)
	if code != exitUsage || !strings.HasPrefix(out, "FEEDBACK SENSOR") || !strings.Contains(errs, "no space left") {
		t.Errorf("exit %d, %.40q, %q", code, out, errs)
	}
}
