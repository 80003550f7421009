package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"os"
	ossignal "os/signal"
	"runtime"
	"sync"
	"syscall"
	"time"

	"github.com/spf13/pflag"

	"threewire/analyze/cost"
	"threewire/plots"
)

const serveUsage = `Usage: threewire serve [flags]

Opens the local page: start it, open the printed address in a browser, drop a
capture onto the page and read the verdict there, with the picture, the
evidence, the next test and buttons for the report. Nothing leaves this
computer. Ctrl-C ends it.

  threewire serve
  threewire serve --settings shop.txt --prices shop-prices.txt
  threewire serve --listen 127.0.0.1:0            any free port, printed
  threewire serve --listen 0.0.0.0:31205          for a class: everybody in the
                                                  network can use it then

The page keeps the last 20 results. Uploaded files lie in a folder of their own
in the folder for temporary files (TMPDIR), readable by you alone, and are
removed with their result and at the end.

Exit codes: 0 ended by Ctrl-C, 2 wrong use or an address that cannot be had.

Flags:
`

// The port is ours by 3 wires, 12 V and 05 V; no service is registered for it
// (looked up in Debian's /etc/services).
const defaultListen = "127.0.0.1:31205"

// Bounds of the page. Times are those of a person on a slow network, not of a
// program: none is reached on the computer itself.
const (
	keepResults   = 20
	keepUploads   = 4         // times the largest upload, of all that is kept
	keepMemory    = 256 << 20 // bytes of measured captures kept for pictures
	uploadsAtOnce = 16
	headerTime    = 10 * time.Second
	stallTime     = 30 * time.Second // an upload may stand still for
	uploadTime    = 30 * time.Minute
	writeTime     = 2 * time.Minute
	endTime       = 10 * time.Second // for requests under way at the end
)

// serve opens the local page until it is interrupted.
func serve(ctx context.Context, args []string, _ io.Reader, stdout, stderr io.Writer) int {
	fs := pflag.NewFlagSet("serve", pflag.ContinueOnError)
	fs.SetOutput(io.Discard)
	listen := fs.String("listen", defaultListen, "`ADDRESS` and port; port 0 is any free one")
	largest := fs.Int("largest", 1000, "largest upload in `MB`, all files of it together")
	costs := fs.String("prices", "", "`FILE` with your own prices and hours, for every capture that brings none")
	settings := fs.String("settings", "", "`FILE` with shop, address, paper and style for reports (see threewire check --help)")
	fail := func(err error) int {
		fmt.Fprintf(stderr, "threewire serve: %v\n", err)
		return exitUsage
	}
	if err := fs.Parse(args); err != nil {
		if errors.Is(err, pflag.ErrHelp) {
			fmt.Fprint(stdout, serveUsage+flagHelp(fs))
			return 0
		}
		return fail(flagError(fs, err))
	}
	if fs.NArg() > 0 {
		return fail(fmt.Errorf("unexpected argument %q: captures are given on the page (or to threewire check)", fs.Arg(0)))
	}
	if *largest < 1 || *largest > 1_000_000 {
		return fail(fmt.Errorf("--largest %d: expected 1 to 1000000 MB", *largest))
	}
	if _, _, err := net.SplitHostPort(*listen); err != nil {
		return fail(fmt.Errorf("--listen %s: expected ADDRESS:PORT, for example %s", *listen, defaultListen))
	}
	report, err := shopReport(*settings, fs.Changed("settings"))
	if err != nil {
		return fail(err)
	}
	var prices *cost.Prices
	if fs.Changed("prices") {
		if prices, err = readPrices(*costs); err != nil {
			return fail(err)
		}
	}
	ln, err := net.Listen("tcp", *listen)
	if err != nil {
		return fail(fmt.Errorf("cannot listen there: %w; if the port is taken, perhaps by another threewire serve, end that one or take any free port with --listen 127.0.0.1:0", err))
	}
	hosts := hostsOf(*listen, ln.Addr())
	if !hosts.local {
		fmt.Fprintf(stderr, "threewire serve: warning: everybody in the network who can reach %s can use the page and fill this computer's disk up to its limits; end it when you are done\n", ln.Addr())
	}
	dir, err := os.MkdirTemp("", "threewire-page-")
	if err != nil {
		ln.Close()
		return fail(fmt.Errorf("no folder for uploads: %w", err))
	}
	defer os.RemoveAll(dir)
	// A closed window or a shutdown must not leave captures behind either.
	ctx, stop := ossignal.NotifyContext(ctx, endings()...)
	defer stop()
	context.AfterFunc(ctx, stop) // a second one ends the process at once
	p := newPage(dir, int64(*largest)*1e6, report, log.New(stderr, "threewire serve: ", 0))
	p.prices = prices
	fmt.Fprintf(stdout, "threewire serve: open %s in a browser; Ctrl-C ends it\n", hosts.url())
	if err := p.run(ctx, ln, hosts); err != nil {
		return fail(err)
	}
	return 0
}

// shopReport is what every report of the page carries.
func shopReport(path string, given bool) (plots.ReportOptions, error) {
	var s settings
	if given {
		var err error
		if s, err = readSettings(path); err != nil {
			return plots.ReportOptions{}, err
		}
	}
	return s.reportOptions(), nil
}

// endings are the signals that end the page. A hang-up that was ignored before
// (nohup) stays so.
func endings() []os.Signal {
	list := []os.Signal{os.Interrupt, syscall.SIGTERM}
	if !ossignal.Ignored(syscall.SIGHUP) {
		list = append(list, syscall.SIGHUP)
	}
	return list
}

// run answers requests until ctx is done, and returns once none is under way or after endTime.
func (p *page) run(ctx context.Context, ln net.Listener, h hosts) error {
	silent := silentConns{list: map[net.Conn]bool{}}
	s := &http.Server{
		ConnState:         silent.note,
		Handler:           p.guard(h, p.routes()),
		ReadHeaderTimeout: headerTime,
		ReadTimeout:       stallTime, // uploads move it on
		WriteTimeout:      writeTime,
		IdleTimeout:       time.Minute,
		MaxHeaderBytes:    16 << 10,
		ErrorLog:          p.log,
		BaseContext:       func(net.Listener) context.Context { return ctx },
	}
	done := make(chan error, 1)
	go func() { done <- s.Serve(ln) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	late, cancel := context.WithTimeout(context.WithoutCancel(ctx), endTime)
	defer cancel()
	silent.close()
	if s.Shutdown(late) != nil {
		s.Close()
	}
	p.waitUnder(endTime)
	return nil
}

// waitUnder waits for judgements under way, whose files are removed next, but no longer
// than so long: they cannot be broken off.
func (p *page) waitUnder(most time.Duration) {
	done := make(chan struct{})
	go func() {
		p.under.Wait()
		close(done)
	}()
	late := time.NewTimer(most)
	defer late.Stop()
	select {
	case <-done:
	case <-late.C:
		p.log.Print("ended with a judgement still under way")
	}
}

// silentConns are connections on which nothing has been asked yet. Browsers
// open some in advance, and a server waits seconds for them at its end.
type silentConns struct {
	mu   sync.Mutex
	list map[net.Conn]bool
	end  bool // new ones are closed at once
}

func (c *silentConns) note(conn net.Conn, state http.ConnState) {
	c.mu.Lock()
	defer c.mu.Unlock()
	switch {
	case state != http.StateNew:
		delete(c.list, conn)
	case c.end:
		conn.Close()
	default:
		c.list[conn] = true
	}
}

func (c *silentConns) close() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.end = true
	for conn := range c.list {
		conn.Close()
	}
}

// newPage makes the page; dir is for the uploads.
func newPage(dir string, largest int64, report plots.ReportOptions, l *log.Logger) *page {
	return &page{
		dir: dir, largest: largest, report: report, log: l, now: time.Now,
		looks:   parseLooks(),
		examine: recordings(nil).examine,
		keep:    &keeper{most: keepResults, bytes: keepUploads * largest, memory: keepMemory},
		work:    make(chan struct{}, runtime.GOMAXPROCS(0)),
		uploads: make(chan struct{}, uploadsAtOnce),
	}
}
