package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threewire/fixtures"
)

func runSimulate(args ...string) (code int, stdout, stderr string) {
	var out, errs bytes.Buffer
	code = simulate(context.Background(), args, strings.NewReader(""), &out, &errs)
	return code, out.String(), errs.String()
}

func TestSimulateWritesCaptureAndTruth(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "door.csv.gz")
	args := []string{"--fault", "jam", "--instrument", "pocket-logger", "--duration", "20", "--seed", "4", "-o", path}
	if code, _, errs := runSimulate(args...); code != 0 {
		t.Fatalf("exit %d: %s", code, errs)
	}
	first, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.HasPrefix(first, []byte{0x1f, 0x8b}) {
		t.Error("a name ending in .gz was not compressed")
	}
	b, err := os.ReadFile(filepath.Join(dir, "door.truth.json"))
	if err != nil {
		t.Fatal(err)
	}
	var truth fixtures.Truth
	if err := json.Unmarshal(b, &truth); err != nil {
		t.Fatal(err)
	}
	if truth.Fault != "jam" || truth.Schema != fixtures.TruthSchema {
		t.Errorf("truth says %q in schema %q", truth.Fault, truth.Schema)
	}

	code, _, errs := runSimulate(args...)
	if code != exitUsage || !strings.Contains(errs, "--force") {
		t.Errorf("second run: exit %d, %q; want a refusal naming --force", code, errs)
	}
	if code, _, errs := runSimulate(append(args, "--force")...); code != 0 {
		t.Errorf("with --force: exit %d: %s", code, errs)
	}
	again, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(first, again) {
		t.Error("the same flags and seed gave other bytes")
	}
	only(t, dir, "door.csv.gz", "door.truth.json")
}

// A run that cannot write its capture leaves the truth of an earlier one.
func TestSimulateFailsWhole(t *testing.T) {
	dir := t.TempDir()
	path, truth := filepath.Join(dir, "e.csv"), filepath.Join(dir, "e.truth.json")
	os.Mkdir(path, 0o755)
	os.WriteFile(truth, []byte("old"), 0o600)
	if code, _, errs := runSimulate("--duration", "5", "--instrument", "pocket-logger", "-o", path, "--force"); code != exitUsage || !strings.Contains(errs, "e.csv is a directory") {
		t.Errorf("exit %d, %q", code, errs)
	}
	if b, _ := os.ReadFile(truth); string(b) != "old" {
		t.Errorf("the truth became %.40q", b)
	}
	only(t, dir, "e.csv", "e.truth.json")
}

func TestSimulateToStdout(t *testing.T) {
	code, out, errs := runSimulate("--shape", "plain", "--instrument", "two-channel-logger", "--duration", "10", "--out", "-")
	if code != 0 || errs != "" {
		t.Fatalf("exit %d: %s", code, errs)
	}
	if !strings.HasPrefix(out, "time_s,drive_V,feedback_V\n") {
		t.Errorf("starts with %.60q", out)
	}
}

func TestSimulateList(t *testing.T) {
	code, out, _ := runSimulate("--list")
	if code != 0 {
		t.Fatalf("exit %d", code)
	}
	for _, want := range []string{"end-loss", "bench-hand", "pocket-logger", "utf16"} {
		if !strings.Contains(out, want) {
			t.Errorf("the list lacks %q", want)
		}
	}
}

func TestSimulateRefuses(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{}, "--out"},
		{[]string{"--fault", "gremlin", "-o", "-"}, "dead-spot"},
		{[]string{"--controller", "x", "-o", "-"}, "bench-hand"},
		{[]string{"--instrument", "x", "-o", "-"}, "bench-scope"},
		{[]string{"--shape", "x", "-o", "-"}, "semicolon"},
		{[]string{"--severity", "2", "-o", "-"}, "0 to 1"},
		{[]string{"--severity", "NaN", "-o", "-"}, "0 to 1"},
		{[]string{"--duration", "0", "-o", "-"}, "1 to 3600"},
		{[]string{"--duration", "1e9", "-o", "-"}, "1 to 3600"},
		{[]string{"--duration", "3600", "--instrument", "deep-scope", "-o", "-"}, "shorter"},
		{[]string{"--channels", "colour", "-o", "-"}, "reference"},
		{[]string{"door.csv"}, "--out"},
		{[]string{"--bogus"}, "--help"},
		{[]string{"-o", filepath.Join("no", "such", "folder", "a.csv"), "--duration", "5", "--instrument", "pocket-logger"}, "no such"},
	} {
		code, out, errs := runSimulate(c.args...)
		if code != exitUsage || out != "" || !strings.Contains(errs, c.want) {
			t.Errorf("%v: exit %d, stdout %.40q, stderr %q; want exit 2 and %q", c.args, code, out, errs, c.want)
		}
	}
}

// An exercise that its capture cannot decide is called so, with what would decide it.
func TestSimulateSaysWhatCannotBeDecided(t *testing.T) {
	path := filepath.Join(t.TempDir(), "door.csv")
	for _, c := range []struct {
		args string
		said bool
	}{{"--fault stick-slip --seed 3", true}, {"--fault jam --severity 0.9 --seed 4", false}} {
		_, out, errs := runSimulate(append(strings.Fields(c.args), "--force", "-o", path)...)
		flat := strings.Join(strings.Fields(out), " ")
		if said := strings.Contains(flat, "cannot decide it: the jumps are smaller") && strings.Contains(flat, "another --seed or a higher --severity."); said != c.said || !c.said && strings.Contains(flat, "cannot decide") {
			t.Errorf("%s: %q %s", c.args, out, errs)
		}
	}
}

// An exercise that cannot be decided is passed over for the next that can, and the seed
// is told; where no seed can, that is.
func TestSimulateDecidable(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.csv")
	args := []string{"--fault", "jam", "--seed", "22", "--controller", "bench-hand", "--instrument", "data-recorder", "--shape", "plain", "--duration", "60", "-o", path}
	if _, out, _ := runSimulate(args...); !strings.Contains(out, "cannot decide it") {
		t.Fatalf("the first is no exercise that cannot be decided: %q", out)
	}
	code, out, errs := runSimulate(append(args, "--decidable", "--sheet", "--force")...)
	if code != 0 || strings.Contains(out, "cannot decide") || !strings.Contains(out, "Seed 2") || strings.Contains(out, "Seed 22") {
		t.Fatalf("exit %d: %q %s", code, out, errs)
	}
	sheet, err := os.ReadFile(filepath.Join(filepath.Dir(path), "x.answer.txt"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Answer to x.csv\n", "Fault         jam, severity 0.6\n", "Component     door mechanism\n", "Right answers door mechanism\n", "Where         object at "} {
		if !strings.Contains(string(sheet), want) {
			t.Errorf("the sheet lacks %q:\n%s", want, sheet)
		}
	}
	if code, _, errs := runSimulate(append(args, "--sheet")...); code != exitUsage || !strings.Contains(errs, "exists") {
		t.Errorf("files written over: exit %d: %s", code, errs)
	}
	// The command for the run off the door makes the same actuator.
	i := strings.Index(out, "threewire simulate ")
	if i < 0 {
		t.Fatalf("no command for the free run: %q", out)
	}
	if code, _, errs := runSimulate(strings.Fields(out[i:])[2:]...); code != 0 {
		t.Fatalf("the command for the free run fails: exit %d: %s", code, errs)
	}
	var pair [2]fixtures.Truth
	for i, name := range []string{"x", "x-free"} {
		b, err := os.ReadFile(filepath.Join(filepath.Dir(path), name+".truth.json"))
		if err == nil {
			err = json.Unmarshal(b, &pair[i])
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if a, b := &pair[0], &pair[1]; a.Seed != b.Seed || a.Fault != b.Fault || a.TravelTime != b.TravelTime || a.Free || !b.Free || b.Instrument != "data-recorder" {
		t.Errorf("the free run is of another actuator: seeds %d and %d, travel %g and %g s", a.Seed, b.Seed, a.TravelTime, b.TravelTime)
	}
	// Uncoupled from it, a fault of the door shows in no capture.
	for _, c := range []struct{ args, want string }{
		{"--fault jam --free", "a capture with the door on"}, {"--fault no-stop", "reaches both stops"}, {"--fault dead-motor", "off the door beside it"},
	} {
		code, out, errs := runSimulate(append(strings.Fields(c.args), "--decidable", "--force", "-o", path)...)
		if code != exitUsage || out != "" || !strings.Contains(errs, "whatever the seed") || !strings.Contains(errs, c.want) || strings.Contains(errs, "severity") {
			t.Errorf("%s: exit %d: %s", c.args, code, errs)
		}
	}
	if code, _, errs := runSimulate("--sheet", "-o", "-"); code != exitUsage || !strings.Contains(errs, "--sheet needs a file") {
		t.Errorf("exit %d: %s", code, errs)
	}
}
