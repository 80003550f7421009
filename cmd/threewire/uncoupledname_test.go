package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A capture that is uncoupled by its name and given as coupled is judged, and asked
// about, in the text and with --brief; given with --free nothing is asked.
func TestUncoupledByNameIsAsked(t *testing.T) {
	const free = "../../fixtures/captures/rig8-left-temperature-door-binding-free.csv"
	const ask = "is uncoupled by its name and was judged as coupled"
	for _, args := range [][]string{{free}, {"--brief", free}} {
		if _, out, _ := call("", append([]string{"check"}, args...)...); !strings.Contains(strings.Join(strings.Fields(out), " "), ask) {
			t.Errorf("%q says nothing of it:\n%s", args, out)
		}
	}
	for _, args := range [][]string{{"--free", free}, {demo}} {
		if _, out, _ := call("", append([]string{"check"}, args...)...); strings.Contains(out, "by its name") {
			t.Errorf("%q asks:\n%s", args, out)
		}
	}
}

// Of an uncoupled capture alone it is said under the verdict, not only far below, in the
// text as on the page.
func TestUncoupledAloneIsSaidUnderTheVerdict(t *testing.T) {
	const free = "../../fixtures/captures/rig8-left-temperature-door-binding-free.csv"
	const said = "No coupled capture was given"
	_, out, _ := call("", "check", "--free", free)
	head, _, _ := strings.Cut(out, "\n\n")
	if !strings.Contains(head, said) {
		t.Errorf("under the verdict: %q", head)
	}
	if _, out, _ := call("", "check", "--free", free, strings.Replace(free, "-free", "", 1)); strings.Contains(out, said) {
		t.Errorf("with a coupled one: %s", out)
	}
	rows, err := os.ReadFile(free)
	if err != nil {
		t.Fatal(err)
	}
	if a := startPage(t).upload(field{"free", "b-free.csv", string(rows)}); !strings.Contains(words(t, a.body), said) {
		t.Errorf("%d: %s", a.status, a.body)
	}
}

// A free run of evidently another actuator is named, left out, and weighed where the
// user insists.
func TestAnotherActuatorsFreeRun(t *testing.T) {
	const coupled = "../../fixtures/captures/rig8-left-temperature-door-binding.csv"
	rows, err := os.ReadFile("../../fixtures/captures/rig8-left-temperature-door-binding-free.csv")
	if err != nil {
		t.Fatal(err)
	}
	other := filepath.Join(t.TempDir(), "other-free.csv")
	_, alone, _ := call("", "check", "--brief", coupled)
	if err := os.WriteFile(other, []byte(turnedOver(string(rows))), 0o600); err != nil {
		t.Fatal(err)
	}
	_, out, errs := call("", "check", coupled, "--free", other)
	if flat := strings.Join(strings.Fields(out), " "); !strings.Contains(flat, "was left out of the verdict for that") || !strings.HasPrefix(out, strings.TrimSpace(alone)) {
		t.Errorf("%s%s\nalone: %s", out, errs, alone)
	}
	if _, out, _ := call("", "check", "--same-actuator", coupled, "--free", other); strings.Contains(out, "left out") {
		t.Errorf("left out all the same: %s", out)
	}
	if code, _, errs := call("", "check", "--same-actuator", coupled); code != exitUsage || !strings.Contains(errs, "--free") {
		t.Errorf("%d %q", code, errs)
	}
}

// turnedOver changes the sign of the third column of a table.
func turnedOver(csv string) string {
	lines := strings.Split(csv, "\n")
	for i, l := range lines {
		f := strings.Split(l, ";")
		if len(f) < 4 || i == 0 {
			continue
		}
		if f[2] = "-" + f[2]; strings.HasPrefix(f[2], "--") {
			f[2] = f[2][2:]
		}
		lines[i] = strings.Join(f, ";")
	}
	return strings.Join(lines, "\n")
}
