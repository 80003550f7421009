package main

import (
	"fmt"
	"io"
	"os"
)

// textFile is a kind of file that a person writes, for a flag.
type textFile struct{ flag, what string }

var (
	profileFile = textFile{"profile", "an actuator profile (threewire profile GOOD.csv -o FILE makes one)"}
	pricesFile  = textFile{"prices", "a page of prices (threewire check --help shows one)"}
)

// open reads the file at path.
func (k textFile) open(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("--%s: %w", k.flag, toRead(err))
	}
	defer f.Close()
	return k.read(f, path)
}

// read reads the file that name stands for in messages. What is longer than a
// megabyte was not written by hand.
func (k textFile) read(r io.Reader, name string) ([]byte, error) {
	const longest = 1 << 20
	text, err := io.ReadAll(io.LimitReader(r, longest+1))
	if err != nil {
		return nil, fmt.Errorf("--%s %s: %w", k.flag, name, err)
	}
	if len(text) > longest {
		return nil, fmt.Errorf("--%s %s: longer than a megabyte, expected %s", k.flag, name, k.what)
	}
	return text, nil
}
