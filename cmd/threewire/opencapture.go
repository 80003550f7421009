package main

import (
	"context"
	"io"

	"threewire/signal"
)

// openCapture opens a capture, "-" being standard input, that reads no further
// once ctx is done.
func openCapture(ctx context.Context, path string, stdin io.Reader) (io.ReadCloser, error) {
	if path == "-" {
		return readUntilDone{ctx, io.NopCloser(stdin)}, nil
	}
	f, err := signal.OpenFile(path)
	if err != nil {
		return nil, err
	}
	return readUntilDone{ctx, f}, nil
}

// readUntilDone ends a long read when the user interrupts it.
type readUntilDone struct {
	ctx context.Context
	io.ReadCloser
}

func (r readUntilDone) Read(p []byte) (int, error) {
	if err := r.ctx.Err(); err != nil {
		return 0, err
	}
	return r.ReadCloser.Read(p)
}
