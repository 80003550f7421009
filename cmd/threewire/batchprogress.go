package main

import (
	"fmt"
	"io"
	"os"
	"runtime"
	"strings"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// progress says how far a batch is: a bar on a terminal, a line now and then
// elsewhere, nothing when quiet.
type progress struct {
	w     io.Writer                // lines; nil: none
	bar   *progressbar.ProgressBar // nil: none
	total int
	start time.Time
	shown time.Time
	n     int
}

// The pace of progress: often enough for an eye, seldom enough for a log.
const (
	barPace = 200 * time.Millisecond
	logPace = 10 * time.Second
)

func newProgress(w io.Writer, total int, quiet bool) *progress {
	p := &progress{total: total, start: time.Now()}
	p.shown = p.start
	if quiet {
		return p
	}
	// A terminal, not any character device: /dev/null is one of those.
	if f, ok := w.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		p.bar = newBar(w, total)
	} else {
		p.w = w
	}
	return p
}

// newBar is a bar with the count, the rate and the time left. Its rate is of
// the last moments: captures that are only compared after an interruption
// pass much faster than those that are checked.
func newBar(w io.Writer, total int) *progressbar.ProgressBar {
	options := []progressbar.Option{
		progressbar.OptionSetWriter(w),
		progressbar.OptionFullWidth(),
		progressbar.OptionShowCount(),
		progressbar.OptionShowTotalBytes(true), // here: the number of captures
		progressbar.OptionShowIts(),
		progressbar.OptionSetItsString("captures"),
		progressbar.OptionSetPredictTime(true),
		progressbar.OptionThrottle(barPace),
		progressbar.OptionUseANSICodes(os.Getenv("TERM") != "dumb"),
		progressbar.OptionClearOnFinish(),
	}
	if !showsBlocks() {
		options = append(options, progressbar.OptionSetTheme(progressbar.ThemeASCII))
	}
	return progressbar.NewOptions(total, options...)
}

// showsBlocks tells whether the terminal's character set has the bar's blocks: where a
// locale is given, one that says UTF-8; the first of the variables that is set holds
// (POSIX.1-2024, Base Definitions, sec. 8.2). A dumb terminal has but ASCII.
func showsBlocks() bool {
	if os.Getenv("TERM") == "dumb" {
		return false
	}
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := strings.ToLower(os.Getenv(name)); v != "" {
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return runtime.GOOS == "windows" // which knows no locale by these; else it is POSIX, ASCII
}

// add counts n more captures. A terminal that went away must not end the run,
// so nothing here fails.
func (p *progress) add(n int) {
	p.n += n
	if p.bar != nil {
		p.bar.Add(n)
		return
	}
	now := time.Now()
	if p.w == nil || now.Sub(p.shown) < logPace {
		return
	}
	p.shown = now
	took := now.Sub(p.start).Seconds()
	rate := float64(p.n) / took
	left := time.Duration(float64(p.total-p.n) / rate * float64(time.Second)).Round(time.Second)
	fmt.Fprintf(p.w, "%d of %d captures (%.0f %%), %.1f/s, %s left\n", p.n, p.total, 100*float64(p.n)/float64(p.total), rate, left)
}

// clear takes the bar off the terminal.
func (p *progress) clear() {
	if p.bar != nil {
		p.bar.Clear()
	}
}
