// Threewire reads logged voltage traces of a three-wire actuator and says what
// is broken.
package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
)

func main() {
	// Memory is bounded by the reader's bins; a tighter collector keeps the
	// process near that bound at a few percent of time.
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(40)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	context.AfterFunc(ctx, stop) // a second Ctrl-C ends the process at once
	code := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}
