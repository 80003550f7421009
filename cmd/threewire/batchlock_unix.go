//go:build unix

package main

import (
	"errors"
	"fmt"
	"os"
	"syscall"
)

// lockFile takes the lock that one output has: a neighbour named PATH.lock.
// The system lets go of it when the process ends, however it ends. unlock
// removes it.
func lockFile(path string) (unlock func(), err error) {
	name := path + ".lock"
	for {
		f, err := os.OpenFile(name, os.O_CREATE|os.O_RDWR, 0o644)
		if err != nil {
			return nil, err
		}
		switch err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); {
		case errors.Is(err, syscall.EWOULDBLOCK):
			f.Close()
			return nil, fmt.Errorf("another run is writing %s: wait for it, or name another --out", path)
		case err != nil:
			f.Close()
			return nil, fmt.Errorf("cannot lock %s: %w", name, err)
		}
		// A run that just ended may have removed the file between our
		// opening and our locking it: then this is a lock on nothing.
		mine, err1 := f.Stat()
		there, err2 := os.Stat(name)
		if err1 == nil && err2 == nil && os.SameFile(mine, there) {
			return func() {
				os.Remove(name)
				f.Close()
			}, nil
		}
		f.Close()
	}
}
