//go:build unix

package main

import (
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
)

// New files have the rights that the user's umask leaves them.
func TestFilesObeyTheUmask(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	for _, args := range [][]string{
		{"draw", demo, "--out", in("p.png")},
		{"simulate", "--duration", "5", "--instrument", "pocket-logger", "--out", in("e.csv")},
	} {
		cmd, errs := program(t, args...)
		sh := exec.Command("sh", append([]string{"-c", `umask 077 && exec "$0" "$@"`, cmd.Path}, args...)...)
		sh.Env, sh.Stderr = cmd.Env, errs
		if err := sh.Run(); err != nil {
			t.Fatalf("%v: %v, %s", args, err, errs)
		}
	}
	for _, name := range []string{"p.png", "e.csv", "e.truth.json"} {
		if st, err := os.Stat(in(name)); err != nil || st.Mode().Perm() != 0o600 {
			t.Errorf("%s: %v, %v", name, st, err)
		}
	}
}

// A pipe is written to and stays a pipe.
func TestSimulateIntoAPipe(t *testing.T) {
	dir := t.TempDir()
	pipe := filepath.Join(dir, "p.csv")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	got := make(chan int, 1)
	go func() {
		f, err := os.Open(pipe)
		if err != nil {
			got <- -1
			return
		}
		defer f.Close()
		b, _ := io.ReadAll(f)
		got <- len(b)
	}()
	if code, _, errs := runSimulate("--duration", "5", "--instrument", "pocket-logger", "--out", pipe, "--force"); code != 0 {
		os.OpenFile(pipe, os.O_WRONLY|syscall.O_NONBLOCK, 0) // lets the reader go
		t.Fatalf("exit %d: %s", code, errs)
	}
	if st, err := os.Lstat(pipe); err != nil || st.Mode()&os.ModeNamedPipe == 0 {
		t.Fatalf("the pipe became %v (%v)", st.Mode(), err)
	}
	if n := <-got; n < 100 {
		t.Errorf("%d bytes came through", n)
	}
	only(t, dir, "p.csv", "p.truth.json")
}
