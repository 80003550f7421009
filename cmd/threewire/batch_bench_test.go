//go:build unix

package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/spf13/pflag"

	"threewire/analyze"
	"threewire/fixtures"
)

// benchShelf writes captures of about 20,000 rows.
func benchShelf(b *testing.B) (dir string, paths []string, size int64) {
	b.Helper()
	dir = b.TempDir()
	faults := []fixtures.Fault{fixtures.Healthy, fixtures.DeadSpot, fixtures.WeakMotor, fixtures.Jam}
	for i := range 24 {
		s := fixtures.Spec{Seed: uint64(i), Severity: 0.8, Fault: faults[i%len(faults)], Instrument: "two-channel-logger", Shape: "plain", Duration: 10}
		c, err := fixtures.Make(s)
		if err != nil {
			b.Fatal(err)
		}
		s.Duration *= 20000 / float64(len(c.Time))
		if c, err = fixtures.Make(s); err != nil {
			b.Fatal(err)
		}
		var text bytes.Buffer
		if err := c.WriteCSV(&text, ""); err != nil {
			b.Fatal(err)
		}
		path := filepath.Join(dir, fmt.Sprintf("rig-%d.csv", i))
		if err := os.WriteFile(path, text.Bytes(), 0o644); err != nil {
			b.Fatal(err)
		}
		paths, size = append(paths, path), size+int64(text.Len())
	}
	return dir, paths, size
}

// processorTime is what the process has used of all cores, in s.
func processorTime(b *testing.B) float64 {
	b.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano()).Seconds()
}

// report gives captures a second and, since neighbours slow a clock but not
// the processor's, the processor time of one.
func report(b *testing.B, captures int, start float64) {
	n := float64(b.N * captures)
	b.ReportMetric(n/b.Elapsed().Seconds(), "captures/s")
	b.ReportMetric(1000*(processorTime(b)-start)/n, "cpu-ms/capture")
}

// BenchmarkBatch is the whole command, output and table included.
func BenchmarkBatch(b *testing.B) {
	dir, paths, size := benchShelf(b)
	for _, workers := range []string{"1", "2"} {
		b.Run("workers="+workers, func(b *testing.B) {
			b.SetBytes(size)
			start := processorTime(b)
			for n := 0; b.Loop(); n++ {
				var out, errs bytes.Buffer
				args := []string{dir, "--workers", workers, "--out", filepath.Join(b.TempDir(), fmt.Sprint(n))}
				if code := batch(context.Background(), args, strings.NewReader(""), &out, &errs); code != 0 {
					b.Fatal(errs.String())
				}
			}
			report(b, len(paths), start)
		})
	}
}

// BenchmarkBatchSingle is what a core does alone: reading and judging one
// capture after the other, and nothing else.
func BenchmarkBatchSingle(b *testing.B) {
	_, paths, size := benchShelf(b)
	b.SetBytes(size)
	defer collectSeldom(1, len(paths))()
	j := &judge{read: addReadFlags(pflag.NewFlagSet("", pflag.ContinueOnError)), opt: analyze.Defaults(), parsers: 1}
	start := processorTime(b)
	for b.Loop() {
		for _, p := range paths {
			row := newRow(p, nameKey(p))
			if _, err := j.one(found{path: p}, row); err != nil {
				b.Fatal(err)
			}
		}
	}
	report(b, len(paths), start)
}
