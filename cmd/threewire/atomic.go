package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// writeAtomic writes a file whole or not at all: to a temporary neighbour,
// then renamed into place. Without force it refuses to replace a file. A path
// that is no regular file (a pipe, /dev/stdout) is written directly.
func writeAtomic(path string, force bool, write func(io.Writer) error) error {
	mode := fs.FileMode(0o644)
	switch st, err := os.Stat(path); {
	case err == nil && st.IsDir():
		return fmt.Errorf("%s is a directory: name a file", path)
	case err == nil && !st.Mode().IsRegular():
		f, err := os.OpenFile(path, os.O_WRONLY, 0)
		if err != nil {
			return err
		}
		return errors.Join(write(f), f.Close())
	case err == nil && !force:
		return fmt.Errorf("%s exists: give another name, or --force to replace it", path)
	case err == nil:
		mode = st.Mode().Perm()
	case !errors.Is(err, fs.ErrNotExist):
		return err
	}
	// A link is followed, so that it keeps pointing at the new file.
	if to, err := filepath.EvalSymlinks(path); err == nil {
		path = to
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".threewire-*")
	if err != nil {
		// The name of the temporary neighbour means nothing to the user.
		if at := new(fs.PathError); errors.As(err, &at) {
			err = at.Err
		}
		return fmt.Errorf("cannot write %s: %w", path, err)
	}
	defer os.Remove(f.Name()) // after the rename there is nothing left to remove
	w := bufio.NewWriter(f)
	err = write(w)
	if err == nil {
		err = w.Flush()
	}
	if err == nil {
		err = f.Chmod(mode)
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// keepInputs refuses an output that is one of the inputs, whatever it is
// called there.
func keepInputs(out string, inputs []string) error {
	o, err := os.Stat(out)
	if err != nil {
		return nil // nothing there to lose
	}
	for _, p := range inputs {
		if in, err := os.Stat(p); err == nil && os.SameFile(in, o) {
			return fmt.Errorf("%s is one of the inputs: give another name", out)
		}
	}
	return nil
}
