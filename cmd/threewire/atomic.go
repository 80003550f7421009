package main

import (
	"bufio"
	"bytes"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// writeAtomic writes a file whole or not at all: to a temporary neighbour, on
// the disk, then renamed into place. Without force it refuses to replace a
// file. A path that is no regular file (a pipe, /dev/stdout) is written
// directly.
func writeAtomic(path string, force bool, write func(io.Writer) error) error {
	s, err := stage(path, force, write)
	if err != nil {
		return err
	}
	defer s.discard()
	return s.place()
}

// staged is a file that is whole on the disk, beside its place. The zero value
// is one that needs no placing.
type staged struct{ temp, path string }

// stage writes all of a file but does not touch what stands in its place.
func stage(path string, force bool, write func(io.Writer) error) (*staged, error) {
	old, err := mayWrite(path, force)
	if err != nil {
		return nil, err
	}
	if old != nil && !old.Mode().IsRegular() {
		f, err := os.OpenFile(path, os.O_WRONLY, 0)
		if err != nil {
			return nil, err
		}
		return &staged{}, errors.Join(fill(f, write), f.Close())
	}
	s := &staged{path: followed(path)}
	f, err := neighbour(s.path, old)
	if err == nil {
		s.temp = f.Name()
		if err = fill(f, write); err == nil {
			err = f.Sync()
		}
		err = errors.Join(err, f.Close())
	}
	if err != nil {
		s.discard()
		return nil, cannotWrite(path, err)
	}
	return s, nil
}

func (s *staged) place() error {
	if s.temp == "" {
		return nil
	}
	if err := os.Rename(s.temp, s.path); err != nil {
		return cannotWrite(s.path, err)
	}
	return nil
}

// discard removes what was not placed.
func (s *staged) discard() {
	if s.temp != "" {
		os.Remove(s.temp) // after place there is nothing of this name
	}
}

func fill(f *os.File, write func(io.Writer) error) error {
	w := bufio.NewWriter(f)
	if err := write(w); err != nil {
		return err
	}
	return w.Flush()
}

// mayWrite gives what stands at path, nil where nothing does, unless it is
// not to be written to.
func mayWrite(path string, force bool) (old fs.FileInfo, err error) {
	switch st, err := os.Stat(path); {
	case err == nil && st.IsDir():
		return nil, fmt.Errorf("%s is a directory: name a file", path)
	case err == nil && st.Mode().IsRegular() && !force:
		return nil, fmt.Errorf("%s exists: give another name, or --force to replace it", path)
	case err == nil:
		return st, nil
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	default:
		return nil, err
	}
}

// followed is where a chain of links leads, whether something is there or
// not, so that a link keeps pointing at the new file.
func followed(path string) string {
	for range 40 { // as many as Linux follows (path_resolution(7))
		to, err := os.Readlink(path)
		if err != nil {
			break
		}
		if !filepath.IsAbs(to) {
			dir := filepath.Dir(path)
			// "..", in a link, is the parent of where the folder really is.
			if real, err := filepath.EvalSymlinks(dir); err == nil {
				dir = real
			}
			to = filepath.Join(dir, to)
		}
		path = to
	}
	return path
}

// neighbour makes a temporary file beside path, with the rights of old, the
// file that it will replace, or those of any new file where old is nil.
func neighbour(path string, old fs.FileInfo) (*os.File, error) {
	mode := fs.FileMode(0o666) // less the umask
	if old != nil {
		mode = old.Mode().Perm()
	}
	f, err := os.OpenFile(filepath.Join(filepath.Dir(path), ".threewire-"+rand.Text()), os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil || old == nil {
		return f, err
	}
	if err := f.Chmod(mode); err != nil {
		f.Close()
		os.Remove(f.Name())
		return nil, err
	}
	return f, nil
}

// cannotWrite names the file that was to be written in the place of its
// temporary neighbour, whose name means nothing to the user.
func cannotWrite(path string, err error) error {
	if at := new(fs.PathError); errors.As(err, &at) {
		return fmt.Errorf("cannot write %s: %w", path, toWrite(at.Err))
	}
	if at := new(os.LinkError); errors.As(err, &at) { // of a rename
		return fmt.Errorf("cannot write %s: %w", path, at.Err)
	}
	return err
}

// checkTarget refuses, before any work is done, an output that writeAtomic
// could not write in the end, or that is one of the inputs.
func checkTarget(path string, force bool, inputs []string) error {
	if err := keepInputs(path, inputs); err != nil {
		return err
	}
	old, err := mayWrite(path, force)
	if err != nil || old != nil && !old.Mode().IsRegular() {
		return err
	}
	f, err := neighbour(followed(path), nil)
	if err != nil {
		return cannotWrite(path, err)
	}
	return errors.Join(f.Close(), os.Remove(f.Name()))
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

// printWhole prints what write makes in one piece: nothing when it fails, and
// an error when not all of it could be printed.
func printWhole(to io.Writer, write func(io.Writer) error) error {
	var b bytes.Buffer
	if err := write(&b); err != nil {
		return err
	}
	if _, err := to.Write(b.Bytes()); err != nil {
		return toWrite(err)
	}
	return nil
}
