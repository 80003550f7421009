package main

import (
	"context"
	"crypto/sha256"
	"fmt"
	"io"
	"os"

	"threewire/analyze"
	"threewire/signal"
)

// onlyOnce refuses a capture that is named twice, under whatever names.
func onlyOnce(paths []string) error {
	var files []os.FileInfo
	for i, p := range paths {
		st, err := os.Stat(p)
		if p == "-" || err != nil {
			st = nil // reading it will say what is wrong
		}
		for j, q := range paths[:i] {
			switch {
			case p == q:
				return fmt.Errorf("%s is given twice: %s", p, noSecond)
			case st != nil && files[j] != nil && os.SameFile(st, files[j]):
				return fmt.Errorf("%s and %s are one file: %s", q, p, noSecond)
			}
		}
		files = append(files, st)
	}
	return nil
}

const noSecond = "one capture is no second piece of evidence"

// recordings are the captures read so far, by the SHA-256 of their bytes: a
// copy is no second recording. Nil keeps no account.
type recordings map[[sha256.Size]byte]string

// accountOf is for so many captures: one alone needs none.
func accountOf(captures int) recordings {
	if captures < 2 {
		return nil
	}
	return recordings{}
}

// examine reads and measures one capture, see [analyze.ExamineParts]; so.Source names it in messages.
func (r recordings) examine(ctx context.Context, path string, stdin io.Reader, so signal.Options, opt analyze.Options) (*analyze.Parts, error) {
	src, err := openCapture(ctx, path, stdin)
	if err != nil {
		return nil, err
	}
	defer src.Close()
	t, err := r.read(src, so)
	if err != nil {
		return nil, err
	}
	parts, err := examineTrace(t, opt)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", so.Source, err)
	}
	return parts, nil
}

// examineTrace measures what was read of one file and refuses what cannot be so.
func examineTrace(t *signal.Trace, opt analyze.Options) (*analyze.Parts, error) {
	if err := swapped(t); err != nil {
		return nil, err
	}
	parts, err := analyze.ExamineParts(t, opt)
	if err != nil {
		return nil, err
	}
	for _, p := range parts.List {
		if err := oddClock(p.Trace, p.Capture); err != nil {
			return nil, err
		}
	}
	return parts, nil
}

// read reads a capture and refuses it when its bytes were read before.
func (r recordings) read(src io.Reader, o signal.Options) (*signal.Trace, error) {
	if r == nil {
		return signal.Read(src, o)
	}
	h := sha256.New()
	src = io.TeeReader(src, h)
	t, err := signal.Read(src, o)
	if err != nil {
		return nil, err
	}
	if _, err := io.Copy(io.Discard, src); err != nil {
		return nil, err
	}
	sum := [sha256.Size]byte(h.Sum(nil))
	if first, ok := r[sum]; ok {
		return nil, fmt.Errorf("%s and %s are the same recording: %s", first, o.Source, noSecond)
	}
	r[sum] = o.Source
	return t, nil
}
