package main

import (
	"fmt"
	"io"
	"os"
	"time"
)

// progress says how far a batch is: one line that is written over on a
// terminal, a line now and then elsewhere.
type progress struct {
	w        io.Writer // nil: silent
	terminal bool
	total    int
	start    time.Time
	shown    time.Time
	n        int
}

// The pace of progress: often enough for an eye, seldom enough for a log.
const (
	terminalPace = 200 * time.Millisecond
	logPace      = 10 * time.Second
)

func newProgress(w io.Writer, total int, quiet bool) *progress {
	p := &progress{total: total, start: time.Now()}
	p.shown = p.start
	if quiet {
		return p
	}
	p.w = w
	if f, ok := w.(*os.File); ok {
		st, err := f.Stat()
		p.terminal = err == nil && st.Mode()&os.ModeCharDevice != 0
	}
	return p
}

// add counts n more captures.
func (p *progress) add(n int) {
	p.n += n
	pace := logPace
	if p.terminal {
		pace = terminalPace
	}
	now := time.Now()
	if p.w == nil || now.Sub(p.shown) < pace {
		return
	}
	p.shown = now
	took := now.Sub(p.start).Seconds()
	rate := float64(p.n) / took
	left := time.Duration(float64(p.total-p.n) / rate * float64(time.Second)).Round(time.Second)
	text := fmt.Sprintf("%d of %d captures (%.0f %%), %.1f/s, %s left", p.n, p.total, 100*float64(p.n)/float64(p.total), rate, left)
	if p.terminal {
		const width = 30
		full := width * p.n / p.total
		bar := make([]byte, width)
		for i := range bar {
			bar[i] = ' '
			if i < full {
				bar[i] = '#'
			}
		}
		fmt.Fprintf(p.w, "\r\x1b[K[%s] %s", bar, text)
		return
	}
	fmt.Fprintln(p.w, text)
}

// clear takes the line off the terminal.
func (p *progress) clear() {
	if p.terminal {
		fmt.Fprint(p.w, "\r\x1b[K")
	}
}
