package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// A flag that fits no capture is wrong use, quiet or not, the first time and again; one
// that fits some is told; captures that are bad themselves stay rows.
func TestBatchSaysWhatFlagsDoNotFit(t *testing.T) {
	dir := t.TempDir()
	good, bad, out := filepath.Join(dir, "door.csv"), filepath.Join(dir, "bad.csv"), filepath.Join(dir, "o.jsonl")
	other := filepath.Join(dir, "other.csv")
	put(t, good, drawCSV())
	put(t, bad, "no numbers\n")
	put(t, other, "time,motor,feedback\n"+strings.SplitN(drawCSV(), "\n", 2)[1])
	for _, c := range []struct {
		code int
		args []string
		want string
	}{
		{exitUsage, []string{good, bad, "--drive", "nosuch"}, `none of 2 captures could be read, and of 1 a flag is the reason: ` + good + `: --drive "nosuch": no column`},
		{exitUsage, []string{good, bad, "--drive", "nosuch"}, "none of 2 captures"},
		{exitUsage, []string{good, "--lead-a", "2"}, "together"},
		{exitUsage, []string{good, "--drive", "nosuch", "--shard", "1/1"}, "none of 1 capture"},
		{0, []string{good, other, "--drive", "motor"}, "1 of 2 captures could not be read because of a flag: " + good},
		{0, []string{bad}, "none of 1 capture could be read"},
		{0, []string{good, bad}, ""},
		{0, []string{good, bad, "--key", "zz(?P<actuator>q)"}, "--key matches the path of 0 of 2 captures, not " + bad},
		{0, []string{good, bad, "--key", "(?P<actuator>door)"}, "--key matches the path of 1 of 2 captures, not " + bad},
		{0, []string{good, "--key", "(?P<actuator>door)"}, ""},
		{0, []string{good, "--preamble-key", "^Title,(?P<actuator>.+)"}, "--preamble-key matches the first lines of 0 of 1 capture"},
	} {
		code, _, errs := runBatch(t, "", append(c.args, "--quiet", "--out", out)...)
		if code != c.code || !strings.Contains(errs, c.want) || c.want == "" && errs != "" {
			t.Errorf("%q: exit %d, %q; want %d and %q", c.args, code, errs, c.code, c.want)
		}
	}
	// A part of the captures may be of another instrument alone.
	for _, k := range []string{"1/2", "2/2"} {
		if code, _, errs := runBatch(t, "", good, "--drive", "nosuch", "--shard", k, "--csv", "-", "--quiet"); code != 0 {
			t.Errorf("part %s: exit %d, %q", k, code, errs)
		}
	}
}
