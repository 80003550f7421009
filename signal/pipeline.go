package signal

import (
	"bytes"
	"errors"
	"io"
	"runtime"
)

// blockSize is large enough to make the hand-over between goroutines cheap
// and small enough for text and numbers of a block to stay in the cache.
const blockSize = 256 << 10

// maxLine bounds the length of one line; no row of a capture comes near.
const maxLine = 1 << 20

// A feeder cuts a stream into blocks of whole lines.
type feeder struct {
	r     io.Reader
	carry []byte // start of a line that was cut by the last block
	err   error
	file  string
	size  int // of a block
}

// fill reads the next block; it returns false when there is none.
func (f *feeder) fill(b *block) bool {
	b.err, b.last, b.cut = nil, false, false
	// The last block may have grown to hold a long line and left more than a
	// block's worth behind it.
	if need := max(f.size, len(f.carry)+1) + pad; cap(b.buf) < need {
		b.buf = make([]byte, need)
	}
	b.buf = b.buf[:cap(b.buf)]
	if f.err != nil {
		return false
	}
	n := copy(b.buf, f.carry)
	f.carry = f.carry[:0]
	for {
		room := len(b.buf) - pad
		m, err := io.ReadFull(f.r, b.buf[n:room])
		n += m
		if err != nil {
			f.err = err
			b.last = true
			if !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
				b.err = readError(f.file, err)
			} else if isCutGzip(err, f.r) {
				b.err = readError(f.file, err)
			}
			break
		}
		if i := bytes.LastIndexByte(b.buf[:n], '\n'); i >= 0 {
			f.carry = append(f.carry, b.buf[i+1:n]...)
			n = i + 1
			break
		}
		if b.buf[0] == 0 && len(bytes.Trim(b.buf[:n], "\x00")) == 0 {
			n = 0 // a lost tail of zeros
			continue
		}
		if len(b.buf) > maxLine {
			b.err = &SyntaxError{File: f.file, Msg: "a line longer than 1 MB, expected rows of a table", Hint: "is this a CSV file?"}
			f.err = b.err
			break
		}
		b.buf = append(b.buf, make([]byte, len(b.buf))...)[:2*len(b.buf)]
	}
	if b.last && n > 0 && b.buf[n-1] != '\n' {
		b.cut = true
		if len(b.buf) < n+1+pad {
			b.buf = append(b.buf, make([]byte, pad+1)...)
		}
		b.buf[n] = '\n'
		n++
	}
	b.n = n
	clear(b.buf[n:min(len(b.buf), n+pad)])
	return n > 0 || b.err != nil
}

// isCutGzip tells a stream that was cut short from a plain end. ReadFull
// makes both io.ErrUnexpectedEOF, so the reader remembers.
func isCutGzip(err error, r io.Reader) bool {
	w, ok := r.(*endWatch)
	return ok && w.err != nil && errors.Is(w.err, io.ErrUnexpectedEOF)
}

// endWatch remembers how a stream ended, and ends it when nobody wants more.
type endWatch struct {
	r    io.Reader
	quit <-chan struct{} // closed when nobody wants more, nil for never
	err  error
}

func (w *endWatch) Read(p []byte) (int, error) {
	select {
	case <-w.quit:
		return 0, io.EOF
	default:
	}
	n, err := w.r.Read(p)
	if err != nil && err != io.EOF {
		w.err = err
	}
	return n, err
}

// run reads all blocks of r, parses them and hands them to fold in order.
// A fold that returns an error ends the run.
func run(r io.Reader, o *Options, q *parser, fold func(*block) error) error {
	quit := make(chan struct{})
	f := &feeder{r: &endWatch{r: r, quit: quit}, file: o.Source, size: o.block}
	if f.size <= 0 {
		f.size = blockSize
	}
	workers := o.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	if workers == 1 {
		b := &block{}
		for f.fill(b) {
			if b.err != nil {
				return b.err
			}
			q.parse(b)
			if err := fold(b); err != nil {
				return err
			}
		}
		return nil
	}
	return runParallel(f, quit, q, workers, fold)
}

// runParallel closes quit at the first error. The stream is the caller's again
// when it returns: it waits for the call of Read under way.
func runParallel(f *feeder, quit chan struct{}, q *parser, workers int, fold func(*block) error) error {
	n := 2*workers + 1
	free := make(chan *block, n)
	work := make(chan *block, n)
	order := make(chan *block, n)
	for range n {
		free <- &block{done: make(chan struct{}, 1)}
	}
	fed := make(chan struct{})
	defer func() {
		close(quit)
		<-fed
	}()
	go func() {
		defer close(fed)
		defer close(order)
		defer close(work)
		for {
			select {
			case <-quit:
				return
			case b := <-free:
				if !f.fill(b) {
					return
				}
				order <- b
				if b.err != nil {
					b.done <- struct{}{}
					return
				}
				work <- b
			}
		}
	}()
	for range workers {
		go func() {
			for b := range work {
				q.parse(b)
				b.done <- struct{}{}
			}
		}()
	}
	for b := range order {
		<-b.done
		if b.err != nil {
			return b.err
		}
		if err := fold(b); err != nil {
			return err
		}
		free <- b
	}
	return nil
}
