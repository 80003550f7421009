package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/pflag"

	"threewire/analyze"
	"threewire/fixtures"
)

// benchShelf writes captures of about 20,000 rows.
func benchShelf(b *testing.B) (dir string, paths []string) {
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
		paths = append(paths, path)
	}
	return dir, paths
}

// BenchmarkBatch is the whole command, output and table included.
func BenchmarkBatch(b *testing.B) {
	dir, paths := benchShelf(b)
	for _, workers := range []string{"1", "2"} {
		b.Run("workers="+workers, func(b *testing.B) {
			for n := 0; b.Loop(); n++ {
				var out, errs bytes.Buffer
				args := []string{dir, "--workers", workers, "--out", filepath.Join(b.TempDir(), fmt.Sprint(n))}
				if code := batch(context.Background(), args, strings.NewReader(""), &out, &errs); code != 0 {
					b.Fatal(errs.String())
				}
			}
			b.ReportMetric(float64(b.N*len(paths))/b.Elapsed().Seconds(), "captures/s")
		})
	}
}

// BenchmarkBatchSingle is what a core does alone: reading and judging one
// capture after the other, and nothing else.
func BenchmarkBatchSingle(b *testing.B) {
	_, paths := benchShelf(b)
	j := &judge{read: addReadFlags(pflag.NewFlagSet("", pflag.ContinueOnError)), opt: analyze.Defaults(), parsers: 1}
	for b.Loop() {
		for _, p := range paths {
			row := newRow(p, nameKey(p))
			if _, err := j.one(found{path: p}, row); err != nil {
				b.Fatal(err)
			}
		}
	}
	b.ReportMetric(float64(b.N*len(paths))/b.Elapsed().Seconds(), "captures/s")
}
