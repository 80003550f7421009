//go:build !unix

package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// lockFile takes the lock that one output has: a neighbour named PATH.lock
// that must not exist yet. unlock removes it; a run that was killed leaves it
// behind.
func lockFile(path string) (unlock func(), err error) {
	name := path + ".lock"
	f, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return nil, fmt.Errorf("another run is writing %s: wait for it, or delete %s if there is none", path, name)
	}
	if err != nil {
		return nil, err
	}
	f.Close()
	return func() { os.Remove(name) }, nil
}
