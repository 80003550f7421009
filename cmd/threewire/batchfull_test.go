//go:build linux

package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// fullDisk runs a batch that runs out of room in the folder of out, gives it
// room, and runs it again.
func fullDisk(t *testing.T, dir, out string, limited func(args ...string) (code int, stderr string), makeRoom func()) {
	t.Helper()
	whole := filepath.Join(t.TempDir(), "whole.jsonl")
	mustBatch(t, dir, "--out", whole)
	want := slurp(t, whole)
	code, errs := limited("batch", dir, "--out", out, "--workers", "2")
	if code != exitUsage || !strings.Contains(errs, "cannot write "+out) || !strings.Contains(errs, "make room there, or name a place on another disk; ") {
		t.Errorf("exit %d, %q: want 2 and what to do", code, errs)
	}
	rows := readOut(t, out)
	if got := slurp(t, out); len(rows) == 0 || len(got) >= len(want) || !strings.HasPrefix(want, got) {
		t.Errorf("%d rows are left, %d bytes: want the first whole rows of %d bytes", len(rows), len(got), len(want))
	}
	makeRoom()
	mustBatch(t, dir, "--out", out)
	if slurp(t, out) != want {
		t.Error("with room again the rows differ from those of an undisturbed run")
	}
}

// A limit on the size of files is met as a full disk is: a write fails after a
// part of it. It needs no rights.
func TestBatchNoRoomForAFile(t *testing.T) {
	dir, out := longShelf(t, 40), filepath.Join(t.TempDir(), "o.jsonl")
	limited := func(args ...string) (int, string) {
		cmd, errs := program(t, args...)
		// In blocks of 512 bytes.
		sh := exec.Command("sh", append([]string{"-c", `ulimit -f 20 && exec "$0" "$@"`, cmd.Path}, args...)...)
		sh.Env, sh.Stderr = cmd.Env, errs
		sh.Run()
		return sh.ProcessState.ExitCode(), errs.String()
	}
	fullDisk(t, dir, out, limited, func() {})
	// The table is another file: whole or not there, and the rows stay.
	before := slurp(t, out)
	sheet := filepath.Join(filepath.Dir(out), "o.csv")
	if code, errs := limited("batch", dir, "--out", out, "--csv", sheet); code != exitUsage || !strings.Contains(errs, "file too large") {
		t.Errorf("no room for the table: exit %d, %q", code, errs)
	}
	if _, err := os.Stat(sheet); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("half a table was left: %v", err)
	}
	if slurp(t, out) != before {
		t.Error("the rows changed")
	}
}

// The same on a real file system that is full, where one may be mounted.
func TestBatchFullDisk(t *testing.T) {
	disk := t.TempDir()
	if err := syscall.Mount("tmpfs", disk, "tmpfs", 0, "size=12k"); err != nil {
		// TestBatchNoRoomForAFile has seen the same failure of a write.
		t.Logf("no file system may be mounted here (%v): /dev/full stands in for it", err)
		full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
		if err != nil {
			t.Fatal(err)
		}
		defer full.Close()
		dir, _ := shelf(t)
		cmd, errs := program(t, "batch", dir, "--out", "-", "--quiet")
		cmd.Stdout = full
		cmd.Run()
		if cmd.ProcessState.ExitCode() != exitUsage || !bytes.Contains(errs.Bytes(), []byte("no space left")) {
			t.Errorf("exit %d, %q", cmd.ProcessState.ExitCode(), errs)
		}
		return
	}
	defer syscall.Unmount(disk, syscall.MNT_DETACH)
	dir, out := longShelf(t, 40), filepath.Join(disk, "o.jsonl")
	limited := func(args ...string) (int, string) {
		cmd, errs := program(t, args...)
		cmd.Run()
		if !strings.Contains(errs.String(), "no space left on device") {
			t.Errorf("says %q", errs)
		}
		return cmd.ProcessState.ExitCode(), errs.String()
	}
	fullDisk(t, dir, out, limited, func() {
		if err := syscall.Mount("tmpfs", disk, "tmpfs", syscall.MS_REMOUNT, "size=4m"); err != nil {
			t.Fatal(err)
		}
	})
}
