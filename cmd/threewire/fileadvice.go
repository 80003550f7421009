package main

import (
	"errors"
	"fmt"
	"io/fs"
	"syscall"
)

// toRead adds to a refusal of the system what to do about it.
func toRead(err error) error {
	if errors.Is(err, fs.ErrPermission) {
		return fmt.Errorf("%w: ask its owner for the right to read it, or have a copy given to you", err)
	}
	return err
}

// toWrite adds the same where a file could not be written.
func toWrite(err error) error {
	switch {
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%w: name a place that you may write to", err)
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT), errors.Is(err, syscall.EFBIG):
		return fmt.Errorf("%w: make room there, or name a place on another disk", err)
	case errors.Is(err, syscall.EROFS):
		return fmt.Errorf("%w: name a place on another disk", err)
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%w: make its folder first, or name another", err)
	}
	return err
}
