//go:build unix

package main

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// Ctrl-C ends a command that waits for input, however it comes.
func TestInterruptedWhileWaiting(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe.csv")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	held := filepath.Join(t.TempDir(), "held.csv")
	if err := syscall.Mkfifo(held, 0o600); err != nil {
		t.Fatal(err)
	}
	w, err := os.OpenFile(held, os.O_RDWR, 0) // both ends: nobody waits to open it
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { w.Close() })
	for _, args := range [][]string{
		{"check", "-"}, {"columns", "-"}, {"draw", "-", "--out", "-", "--format", "svg"}, {"batch", "-"}, {"profile", "-", "--out", "-"},
		{"check", pipe}, {"check", held},
	} {
		t.Run(strings.Join(args[:2], " "), func(t *testing.T) {
			t.Parallel()
			// A signal that comes before the program listens ends it at once:
			// then it gets more time.
			for wait := 300 * time.Millisecond; ; wait *= 2 {
				code, errs := interruptedAfter(t, wait, args)
				if code == -1 && wait < 5*time.Second {
					continue
				}
				if code != exitUsage || !strings.Contains(errs, "interrupted") {
					t.Errorf("exit %d, %q", code, errs)
				}
				return
			}
		})
	}
}

// interruptedAfter starts the program, with nothing on its standard input,
// and interrupts it.
func interruptedAfter(t *testing.T, wait time.Duration, args []string) (code int, stderr string) {
	t.Helper()
	cmd, errs := program(t, args...)
	stdin, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	defer stdin.Close()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	time.Sleep(wait)
	cmd.Process.Signal(os.Interrupt)
	select {
	case <-ended:
	case <-time.After(10 * time.Second):
		cmd.Process.Kill()
		t.Fatal("it goes on waiting")
	}
	return cmd.ProcessState.ExitCode(), errs.String()
}
