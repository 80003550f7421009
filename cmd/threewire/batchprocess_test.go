//go:build unix

package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"threewire/fixtures"
)

// asProgram makes the test binary the program itself, so that a test can
// start, stop and kill real processes.
const asProgram = "THREEWIRE_TEST_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main() // ends the process
	}
	os.Exit(m.Run())
}

// program is the command line of the program in a process of its own.
func program(t *testing.T, args ...string) (cmd *exec.Cmd, stderr *bytes.Buffer) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd, stderr = exec.Command(self, args...), &bytes.Buffer{}
	cmd.Env = append(os.Environ(), asProgram+"=1")
	cmd.Stderr = stderr
	return cmd, stderr
}

// longShelf makes n captures, 5 % of 150 damaged in one way or another.
func longShelf(t *testing.T, n int) (dir string) {
	t.Helper()
	dir = t.TempDir()
	var good []string
	for i := range 10 {
		path := filepath.Join(dir, "first")
		putCapture(t, path, fixtures.Spec{Seed: uint64(i), Severity: 0.8, Fault: []fixtures.Fault{fixtures.Healthy, fixtures.Jam, fixtures.DeadSpot}[i%3]})
		good = append(good, slurp(t, path))
		os.Remove(path)
	}
	for i := range n {
		text := good[i%len(good)] + strings.Repeat("\n", i/len(good))
		switch i {
		case 9:
			text = ""
		case 30:
			text = text[:100]
		case 48:
			text = strings.Repeat("\x00", 5000)
		case 77:
			text = "two doors\nand a list\n"
		case 95:
			text = strings.ReplaceAll(text, ",", "")
		case 112:
			text = text[:len(text)/2] + strings.Repeat("\x00", 4096) + text[len(text)/2:]
		case 130:
			text = "\x1f\x8b\x08\x00" + text[:2000]
		}
		put(t, filepath.Join(dir, fmt.Sprintf("rig %d", i%12), fmt.Sprintf("door-%03d.csv", i)), text)
	}
	return dir
}

// stopAt starts a batch, waits until its output has that many rows, and sends
// it the signal. It tells whether the process was still at work.
func stopAt(t *testing.T, out string, rows int, sig syscall.Signal, args ...string) (stopped bool, stderr string) {
	t.Helper()
	cmd, errs := program(t, args...)
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	done := make(chan error, 1)
	go func() { done <- cmd.Wait() }()
	for {
		select {
		case err := <-done:
			if err != nil {
				t.Fatalf("ended before it was stopped: %v: %s", err, errs)
			}
			return false, errs.String()
		case <-time.After(time.Millisecond):
		}
		if b, err := os.ReadFile(out); err == nil && bytes.Count(b, []byte{'\n'}) >= rows {
			break
		}
	}
	if err := cmd.Process.Signal(sig); err != nil && !errors.Is(err, os.ErrProcessDone) {
		t.Fatal(err)
	}
	return <-done != nil, errs.String()
}

func TestBatchKilledThreeTimes(t *testing.T) {
	const n = 150
	dir, tmp := longShelf(t, n), t.TempDir()
	whole, out := filepath.Join(tmp, "whole.jsonl"), filepath.Join(tmp, "out.jsonl")
	wantTable, _ := mustBatch(t, dir, "--out", whole, "--csv", whole+".csv")
	want := readOut(t, whole)
	failed := 0
	for _, r := range want {
		if r.Error != "" {
			failed++
		}
	}
	if len(want) != n || failed < 5 || failed > 8 {
		t.Fatalf("%d rows, %d not read: want %d and 5 to 8", len(want), failed, n)
	}
	args := []string{"batch", dir, "--out", out, "--workers", "2"}
	stops := []struct {
		rows int
		sig  syscall.Signal
	}{{15, syscall.SIGKILL}, {50, syscall.SIGKILL}, {80, syscall.SIGINT}, {100, syscall.SIGKILL}}
	for try := 0; len(stops) > 0; try++ {
		if try == 50 {
			t.Fatalf("a run always ended before it had %d rows and could be stopped", stops[0].rows)
		}
		stopped, errs := stopAt(t, out, stops[0].rows, stops[0].sig, args...)
		switch s := stops[0]; {
		case !stopped:
			// It was through before the signal came: take rows off again.
			if err := os.Truncate(out, int64(len(slurp(t, out))/10)); err != nil {
				t.Fatal(err)
			}
			continue
		case s.sig == syscall.SIGINT && !strings.Contains(errs, "run the same command again"):
			t.Errorf("interrupted it says %q", errs)
		case s.sig == syscall.SIGKILL && len(slurp(t, out)) >= len(slurp(t, whole)):
			t.Errorf("killed at %d rows, yet the output is whole", s.rows)
		}
		stops = stops[1:]
	}
	table, errs := mustBatch(t, dir, "--out", out, "--csv", out+".csv")
	if slurp(t, out) != slurp(t, whole) || slurp(t, out+".csv") != slurp(t, whole+".csv") || table != wantTable {
		t.Errorf("rows or tables differ from an undisturbed run; it says %q", errs)
	}
	if strings.Contains(errs, " 0 unchanged") {
		t.Errorf("says %q: the rows of the killed runs were not used", errs)
	}
	left, err := filepath.Glob(filepath.Join(tmp, ".threewire-*"))
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %q, %v", left, err)
	}
}

func TestBatchTwoRunsOnOneOutput(t *testing.T) {
	dir, tmp := longShelf(t, 60), t.TempDir()
	whole, out := filepath.Join(tmp, "whole.jsonl"), filepath.Join(tmp, "out.jsonl")
	mustBatch(t, dir, "--out", whole)
	first, errs := startHeld(t, out, slurp(t, whole), "batch", dir, "--out", out, "--workers", "1")
	before := slurp(t, out)
	second, said := program(t, "batch", dir, "--out", out)
	err := second.Run()
	if after := slurp(t, out); after != before && !strings.HasPrefix(after, before) {
		t.Error("the second run changed the output of the first")
	}
	if err := first.Process.Signal(syscall.SIGCONT); err != nil {
		t.Fatal(err)
	}
	if second.ProcessState.ExitCode() != exitUsage || !strings.Contains(said.String(), "another run is writing "+out) {
		t.Errorf("second run: %v, %q", err, said)
	}
	if err := first.Wait(); err != nil {
		t.Fatalf("first run: %v: %s", err, errs)
	}
	if slurp(t, out) != slurp(t, whole) {
		t.Error("the first run's rows differ from those of a run alone")
	}
}

// startHeld starts a batch and holds it still while it has the output's lock,
// which it takes before the first row and keeps to the last.
func startHeld(t *testing.T, out, whole string, args ...string) (cmd *exec.Cmd, stderr *bytes.Buffer) {
	t.Helper()
	for range 50 {
		cmd, errs := program(t, args...)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		for end := time.Now().Add(time.Minute); ; time.Sleep(time.Millisecond) {
			if b, err := os.ReadFile(out); err == nil && bytes.IndexByte(b, '\n') >= 0 {
				break
			}
			if time.Now().After(end) {
				t.Fatalf("no row in a minute: %s", errs)
			}
		}
		if err := cmd.Process.Signal(syscall.SIGSTOP); err != nil {
			t.Fatal(err)
		}
		if len(slurp(t, out)) < len(whole)/2 {
			return cmd, errs
		}
		// It was nearly through before the signal came: once more.
		cmd.Process.Kill()
		cmd.Wait()
		os.Remove(out)
	}
	t.Fatal("a run always ended before it could be held")
	return nil, nil
}

// A folder may hold what nobody can read. As root no permission keeps a file
// from being read, so the file is one whose reading fails.
func TestBatchUnreadable(t *testing.T) {
	dir, n := shelf(t)
	bad := map[string]bool{}
	add := func(name string) string {
		bad[name] = true
		return filepath.Join(dir, name)
	}
	if err := syscall.Mkfifo(add("pipe.csv"), 0o644); err != nil {
		t.Fatal(err)
	}
	if runtime.GOOS == "linux" {
		if err := os.Symlink("/proc/self/mem", add("memory.csv")); err != nil {
			t.Fatal(err)
		}
	}
	if os.Geteuid() != 0 {
		put(t, add("secret.csv"), "time,drive\n")
		if err := os.Chmod(filepath.Join(dir, "secret.csv"), 0); err != nil {
			t.Fatal(err)
		}
	}
	out := filepath.Join(t.TempDir(), "o.jsonl")
	for range 2 { // what could not be read is tried again
		mustBatch(t, dir, "--out", out)
		rows := readOut(t, out)
		if len(rows) != n+len(bad) {
			t.Errorf("%d rows, want %d", len(rows), n+len(bad))
		}
		for _, r := range rows {
			if name := filepath.Base(r.Path); bad[name] && (r.Error == "" || r.SHA256 != "" || !strings.Contains(r.Error, name)) {
				t.Errorf("%s: error %q, hash %q: want an error with the name and no hash", name, r.Error, r.SHA256)
			}
		}
	}
}
