package main

import (
	"os"
	"runtime/debug"
)

// The memory of a batch. A capture that is done leaves all its memory behind,
// so the collector has little to keep and much to gain from coming seldom: at
// main's 40 % it took a third of all time. A worker's largest capture keeps
// less than workerBytes alive (the reader's bins are bounded), a row in the
// table about half of rowBytes (measured); near the sum the collector comes
// more often again, whatever the percentage.
const (
	batchGCPercent = 400
	workerBytes    = 90 << 20
	rowBytes       = 2 << 10
)

// collectSeldom sets the collector for a batch until restore is called. What
// the user set in the environment stays.
func collectSeldom(workers, rows int) (restore func()) {
	if os.Getenv("GOGC") != "" || os.Getenv("GOMEMLIMIT") != "" {
		return func() {}
	}
	limit := debug.SetMemoryLimit(int64(max(2, workers))*workerBytes + int64(rows)*rowBytes)
	percent := debug.SetGCPercent(batchGCPercent)
	return func() {
		debug.SetGCPercent(percent)
		debug.SetMemoryLimit(limit)
	}
}
