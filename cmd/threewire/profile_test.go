package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const goodCapture = "../../fixtures/captures/rig1-left-temperature-door-healthy.csv"

// simulated writes a capture made by the rig and returns its path.
func simulated(t *testing.T, dir, name string, args ...string) string {
	t.Helper()
	path := filepath.Join(dir, name)
	args = append([]string{"simulate", "--controller", "bench-hand", "--instrument", "pocket-logger", "--shape", "plain", "--seed", "5", "--duration", "60", "--out", path}, args...)
	if code, _, errs := call("", args...); code != 0 {
		t.Fatal(errs)
	}
	return path
}

// A profile made of a good capture clears the good and shows the weak motor
// that a capture alone cannot.
func TestProfileThenCheck(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "left-door.profile")
	good, again := simulated(t, dir, "good.csv"), simulated(t, dir, "again.csv", "--take", "2")
	weak := simulated(t, dir, "weak.csv", "--fault", "weak-motor", "--severity", "0.8", "--take", "3")
	code, out, errs := call("", "profile", good, "--out", file)
	if code != 0 || errs != "" || !strings.Contains(out, "wrote "+file) {
		t.Fatalf("ended with %d, said %q and %q", code, out, errs)
	}
	text, err := os.ReadFile(file)
	if err != nil || !strings.HasPrefix(string(text), "threewire actuator profile 1\n# "+good) {
		t.Fatalf("%v: %s", err, text)
	}
	if code, out, _ := call("", "check", again, "--profile", file); code != exitNoFault || !strings.Contains(out, "where the profile's are") || strings.Contains(out, "compared only with itself") {
		t.Errorf("a good one against its profile ended with %d:\n%s", code, out)
	}
	if code, out, _ := call("", "check", weak); code == exitFault {
		t.Errorf("a weak motor was found without a profile; the test needs another capture:\n%s", out)
	}
	if code, out, _ := call("", "check", weak, "--profile", file); code != exitFault || !strings.HasPrefix(out, "MOTOR") || !strings.Contains(out, "known good speed") {
		t.Errorf("a weak motor against a profile ended with %d:\n%s", code, out)
	}
	// Standard output instead of a file, and the same text.
	if code, out, _ := call("", "profile", good, "-o", "-"); code != 0 || out != string(text) {
		t.Errorf("-o - ended with %d:\n%s", code, out)
	}
}

// A profile of a faulty capture is refused, and made when asked for.
func TestProfileRefusals(t *testing.T) {
	dir := t.TempDir()
	bad := "../../fixtures/captures/rig3-left-temperature-door-dead-spot.csv"
	short := "../../fixtures/captures/rig10-mode-door-cannot-tell-no-stop.csv"
	there := filepath.Join(dir, "there.profile")
	if err := os.WriteFile(there, []byte("threewire actuator profile 1\nlow stop: 0,5 V\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args []string
		code int
		want string
	}{
		{[]string{"profile"}, exitUsage, "no capture given"},
		{[]string{"profile", goodCapture}, exitUsage, "--out is missing"},
		{[]string{"profile", goodCapture, goodCapture, "-o", "-"}, exitUsage, "given twice"},
		{[]string{"profile", goodCapture, "-o", there}, exitUsage, "--force"},
		{[]string{"profile", goodCapture, "-o", goodCapture, "--force"}, exitUsage, "one of the inputs"},
		{[]string{"profile", "nothing.csv", "-o", filepath.Join(dir, "gone", "x.profile")}, exitUsage, "cannot write " + filepath.Join(dir, "gone", "x.profile")},
		{[]string{"profile", goodCapture, "-o", "-", "--reference-volts", "inf"}, exitUsage, "--reference-volts"},
		{[]string{"profile", goodCapture, "-o", "-", "--rail-band", "0.5"}, exitUsage, "--rail-band"},
		{[]string{"profile", "nothing.csv", "-o", "-"}, exitUsage, "nothing.csv"},
		{[]string{"profile", bad, "-o", "-"}, exitFault, "shows a fault: feedback sensor"},
		{[]string{"profile", short, "-o", "-"}, exitCannotTell, "stop was never run into"},
		{[]string{"profile", short, "-o", "-", "--despite-doubts"}, exitCannotTell, "stop was never run into"},
		{[]string{"check", goodCapture, "--profile", there}, exitUsage, there + ":2:11: found \"0,5 V\""},
		{[]string{"check", goodCapture, "--profile", "nothing.profile"}, exitUsage, "nothing.profile"},
	} {
		code, out, errs := call("", c.args...)
		if code != c.code || !strings.Contains(errs, c.want) || out != "" {
			t.Errorf("%v ended with %d, said %q and %q (expected %d and %q)", c.args, code, out, errs, c.code, c.want)
		}
	}
	code, out, errs := call("", "profile", bad, "-o", filepath.Join(dir, "bad.profile"), "--despite-doubts")
	if code != 0 || errs != "" || !strings.Contains(out, "in spite of: ") {
		t.Errorf("--despite-doubts ended with %d, said %q and %q", code, out, errs)
	}
}

// A batch judges against a profile too, and checks again when it changes.
func TestBatchAgainstProfile(t *testing.T) {
	dir := t.TempDir()
	file, rows := filepath.Join(dir, "left-door.profile"), filepath.Join(dir, "rows.jsonl")
	simulated(t, dir, "weak.csv", "--fault", "weak-motor", "--severity", "0.9", "--take", "3")
	if code, _, errs := call("", "profile", simulated(t, t.TempDir(), "good.csv"), "--out", file); code != 0 {
		t.Fatal(errs)
	}
	conclusion := func(args ...string) string {
		code, _, errs := call("", append([]string{"batch", dir, "--out", rows, "--quiet"}, args...)...)
		b, err := os.ReadFile(rows)
		if code != 0 || err != nil {
			t.Fatal(code, errs, err)
		}
		_, rest, _ := strings.Cut(string(b), `"conclusion":"`)
		word, _, _ := strings.Cut(rest, `"`)
		return word
	}
	if alone, with := conclusion(), conclusion("--profile", file); alone == "motor" || with != "motor" {
		t.Errorf("alone %q, against the profile %q", alone, with)
	}
	if code, _, errs := call("", "batch", dir, "--profile", rows, "--quiet", "--out", filepath.Join(dir, "x.jsonl")); code != exitUsage || !strings.Contains(errs, rows+":1:") {
		t.Errorf("rows as a profile ended with %d: %s", code, errs)
	}
}
