package main

import (
	"context"
	"io"
	"os"

	"threewire/signal"
)

// openCapture opens a capture, "-" being standard input, that reads no further
// once ctx is done.
func openCapture(ctx context.Context, path string, stdin io.Reader) (io.ReadCloser, error) {
	if err := ctx.Err(); err != nil {
		return nil, interrupted{err}
	}
	if path == "-" {
		return interruptible(ctx, io.NopCloser(stdin)), nil
	}
	// To open a pipe is to wait for its other end.
	type opened struct {
		f   *os.File
		err error
	}
	done := make(chan opened, 1)
	go func() {
		f, err := signal.OpenFile(path)
		done <- opened{f, err}
	}()
	select {
	case o := <-done:
		if o.err != nil {
			return nil, noSuchFile(path, o.err)
		}
		if st, err := o.f.Stat(); err != nil || !st.Mode().IsRegular() {
			return interruptible(ctx, o.f), nil
		}
		return readUntilDone{ctx, o.f}, nil
	case <-ctx.Done():
		return nil, interrupted{ctx.Err()}
	}
}

// interruptible reads from r until ctx is done, even while r keeps it waiting:
// what waits is left behind then.
func interruptible(ctx context.Context, r io.ReadCloser) io.ReadCloser {
	out, in := io.Pipe()
	go func() {
		_, err := io.Copy(in, r)
		in.CloseWithError(err) // nil is the end of the file
		r.Close()
	}()
	context.AfterFunc(ctx, func() { in.CloseWithError(interrupted{ctx.Err()}) })
	return out
}

// readUntilDone ends a long read when the user interrupts it.
type readUntilDone struct {
	ctx context.Context
	io.ReadCloser
}

func (r readUntilDone) Read(p []byte) (int, error) {
	if err := r.ctx.Err(); err != nil {
		return 0, interrupted{err}
	}
	return r.ReadCloser.Read(p)
}

// interrupted is the end of a context in the user's words.
type interrupted struct{ error }

func (interrupted) Error() string   { return "interrupted" }
func (i interrupted) Unwrap() error { return i.error }
