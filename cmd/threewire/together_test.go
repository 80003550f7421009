package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A repair is proven, not proven or unclear, in words, in JSON and in the exit
// code.
func TestRepairOnTheCommandLine(t *testing.T) {
	dir := t.TempDir()
	spot := simulated(t, dir, "spot.csv", "--fault", "dead-spot", "--severity", "0.7")
	again := simulated(t, dir, "again.csv", "--fault", "dead-spot", "--severity", "0.7", "--take", "2")
	good := simulated(t, dir, "good.csv", "--take", "3")
	clean := simulated(t, dir, "clean.csv", "--take", "4")
	for _, c := range []struct {
		before, after string
		code          int
		line          string
	}{
		{spot, good, exitNoFault, "REPAIR PROVEN. What was wrong is gone (dead spot"},
		{spot, again, exitFault, "REPAIR NOT PROVEN. Still there: dead spot"},
		{clean, good, exitCannotTell, "REPAIR: CANNOT TELL."},
	} {
		code, out, errs := call("", "check", "--before", c.before, c.after)
		lines := strings.SplitN(out, "\n", 4)
		if code != c.code || errs != "" || !strings.Contains(strings.Join(lines[1:3], "\n"), c.line) {
			t.Errorf("%s then %s ended with %d:\n%s%s", c.before, c.after, code, out, errs)
		}
		if !strings.Contains(out, c.before+", before the repair") {
			t.Errorf("how %s was read is not said", c.before)
		}
		code, out, _ = call("", "check", "--brief", "--before", c.before, c.after)
		if code != c.code || strings.Count(out, "\n") != 2 {
			t.Errorf("--brief ended with %d: %q", code, out)
		}
	}
	code, out, _ := call("", "check", "--json", spot, "--before", again, "--good-side", good)
	var rep struct {
		Repair struct {
			Result   string
			Findings []struct{ State string }
		}
		Before  []struct{ Source string } `json:"before_repair"`
		Good    []struct{ Source string } `json:"good_side"`
		Sides   struct{ Used bool }
		Columns [][]any
		Beside  [][]any `json:"columns_beside"`
	}
	if err := json.Unmarshal([]byte(out), &rep); err != nil {
		t.Fatal(err)
	}
	if code != exitFault || rep.Repair.Result != "repair not proven" || rep.Repair.Findings[0].State != "still there" || rep.Before[0].Source != again || rep.Good[0].Source != good || !rep.Sides.Used || len(rep.Columns) != 1 || len(rep.Beside) != 2 {
		t.Errorf("ended with %d: %+v", code, rep)
	}
}

// Captures over months, and captures of two actuators.
func TestSeveralCaptures(t *testing.T) {
	dir := t.TempDir()
	one, two := simulated(t, dir, "one.csv"), simulated(t, dir, "two.csv", "--take", "2")
	if code, out, _ := call("", "check", one, two, simulated(t, dir, "three.csv", "--take", "3")); code != exitNoFault || !strings.Contains(out, "3 captures reached both stops: a trend of the span over captures needs 5") || !strings.Contains(out, "Order (as given): "+one) {
		t.Errorf("ended with %d:\n%s", code, out)
	}
	if code, _, errs := call("", "check", one, "--before", one); code != exitUsage || !strings.Contains(errs, "given twice") {
		t.Errorf("ended with %d: %s", code, errs)
	}
	copied := filepath.Join(dir, "copy.csv")
	put(t, copied, slurp(t, one))
	link := filepath.Join(dir, "link.csv")
	os.Symlink("one.csv", link)
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"check", one, dir + "/./one.csv"}, "are one file"},
		{[]string{"check", one, link}, "are one file"},
		{[]string{"check", one, copied}, "are the same recording: one capture is no second piece of evidence"},
		{[]string{"check", one, "--free", copied}, "are the same recording"},
		{[]string{"check", one, "--before", copied}, "are the same recording"},
		{[]string{"check", one, "--good-side", copied}, "are the same recording"},
		{[]string{"profile", one, copied, "-o", "-"}, "are the same recording"},
	} {
		if code, out, errs := call("", c.args...); code != exitUsage || out != "" || !strings.Contains(errs, c.want) {
			t.Errorf("%v ended with %d: %.60q, %s", c.args, code, out, errs)
		}
	}
	if code, _, errs := call("", "check", "--before", one); code != exitUsage || !strings.Contains(errs, "no capture given of after the repair") {
		t.Errorf("ended with %d: %s", code, errs)
	}
	if code, out, _ := call("", "check", one, "--good-side", two); code != exitNoFault || !strings.Contains(out, "are like the good side's") {
		t.Errorf("ended with %d:\n%s", code, out)
	}
}
