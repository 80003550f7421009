package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Times in another unit than the header says give nonsense for every speed.
func TestOddClock(t *testing.T) {
	for _, c := range []struct {
		unit   string
		factor float64 // of the numbers written
		want   string
	}{
		{"s", 1, ""},
		{"ms", 1000, ""},
		{"s", 1000, "far smaller units"},
		{"ms", 1, "far larger units"},
	} {
		var b strings.Builder
		fmt.Fprintf(&b, "time (%s),drive (V),feedback (V)\n", c.unit)
		v, n := 0.5, 0
		for i := 0; i < 4000; i++ { // 100 rows a second: 5 s up, 2 s still, 5 s down, 2 s still
			drive, k := 0.0, i%1400
			switch {
			case k > 50 && k < 550:
				drive, v = 12, v+0.008
			case k > 750 && k < 1250:
				drive, v = -12, v-0.008
			}
			n++
			fmt.Fprintf(&b, "%.6f,%.1f,%.4f\n", c.factor*float64(i)/100, drive, v+0.002*float64(n%3-1))
		}
		path := filepath.Join(t.TempDir(), "c.csv")
		if err := os.WriteFile(path, []byte(b.String()), 0o600); err != nil {
			t.Fatal(err)
		}
		code, _, errs := call("", "check", path)
		if c.want == "" && code == exitUsage {
			t.Errorf("%v as %s: refused: %s", c.factor, c.unit, errs)
		}
		if c.want != "" && (code != exitUsage || !strings.Contains(errs, c.want)) {
			t.Errorf("%v as %s: exit %d, %q, want %q", c.factor, c.unit, code, errs, c.want)
		}
	}
}

// A file that is not there is named with the one that was probably meant.
func TestNearestFile(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "Door-left.csv"), []byte("a,b\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	_, _, errs := call("", "check", filepath.Join(dir, "door-lfet.csv"))
	if !strings.Contains(errs, "did you mean "+filepath.Join(dir, "Door-left.csv")) {
		t.Error(errs)
	}
	put(t, filepath.Join(dir, "e"), "a,b\n")
	// One letter is none to guess by.
	for _, name := range []string{"quite-another.csv", "d"} {
		if _, _, errs = call("", "check", filepath.Join(dir, name)); strings.Contains(errs, "did you mean") {
			t.Error(errs)
		}
	}
}
