package signal

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// clusters is the shuttle as a logger of 200 rows/s writes it that keeps the rows keep tells
// to, with the row written last.
func clusters(noise float64, keep func(i int, drive, reading, lastDrive, lastReading float64) bool) string {
	rng := rand.New(rand.NewPCG(1, 2))
	var b strings.Builder
	b.WriteString("time (s),drive (V),feedback (V)\n")
	type sample struct{ t, d, v float64 }
	last, before, lastAt := sample{}, sample{}, -1
	for i := range 16000 {
		t := float64(i) / 200
		d, v := shuttle(t)
		now := sample{t, d, math.Round((v+noise*rng.NormFloat64())/0.02) * 0.02}
		if keep(i-lastAt, now.d, now.v, last.d, last.v) || lastAt < 0 {
			if lastAt >= 0 && i > lastAt+1 {
				fmt.Fprintf(&b, "%.3f,%.1f,%.3f\n", before.t, before.d, before.v)
			}
			fmt.Fprintf(&b, "%.3f,%.1f,%.3f\n", now.t, now.d, now.v)
			last, lastAt = now, i
		}
		before = now
	}
	return b.String()
}

// A logger that writes a row at a change, the row before it and one every 0.12 s, and one
// that takes bursts, leave no gaps: their pauses are their pace.
func TestRowsInClusters(t *testing.T) {
	for name, keep := range map[string]func(n int, d, v, ld, lv float64) bool{
		"change": func(n int, d, v, ld, lv float64) bool { return d != ld || math.Abs(v-lv) > 0.05 || n >= 24 },
		"bursts": func(n int, _, _, _, _ float64) bool { return n >= 20 },
	} {
		tr := mustRead(t, clusters(0.004, keep), Options{})
		if !hasNote(tr, "uneven-rows") || hasNote(tr, "gap") || hasNote(tr, "irregular") || len(tr.Gaps) > 0 {
			t.Fatalf("%s: %d bins, step %g s, gaps %v, notes %v", name, tr.Len(), tr.Step, tr.Gaps, tr.Notes)
		}
		for i, x := range tr.Time {
			if math.Abs(x-float64(i)*tr.Step) > 1e-6 {
				t.Fatalf("%s: bin %d at %g s, step %g s", name, i, x, tr.Step)
			}
			d, v := shuttle(x)
			was, _ := shuttle(x - 0.13)
			if math.Abs(float64(tr.Feedback.Mean[i])-v) > 0.08 || math.Abs(float64(tr.Drive.Mean[i])-d) > 0.1 && math.Abs(float64(tr.Drive.Mean[i])-was) > 0.1 && i > 0 {
				t.Fatalf("%s: at %.2f s drive %g feedback %g, want %g and %g", name, x, tr.Drive.Mean[i], tr.Feedback.Mean[i], d, v)
			}
		}
	}
}

// Rows that are lost here and there, all in one long pause, or every second one leave the
// others as they are.
func TestLostRowsAreNoClusters(t *testing.T) {
	for name, lost := range map[string]func(i int) bool{
		"none":        func(int) bool { return false },
		"every third": func(i int) bool { return i%3 == 2 },
		"a fifth":     func(i int) bool { return i%100 >= 80 },
		"one pause":   func(i int) bool { return i > 300 && i < 3000 },
	} {
		var b strings.Builder
		b.WriteString("time (s),drive (V),feedback (V)\n")
		for i := range 4000 {
			if !lost(i) {
				d, v := shuttle(float64(i) / 50)
				fmt.Fprintf(&b, "%.2f,%.1f,%.4f\n", float64(i)/50, d, v)
			}
		}
		if tr := mustRead(t, b.String(), Options{}); hasNote(tr, "uneven-rows") {
			t.Errorf("%s: notes %v", name, tr.Notes)
		}
	}
}

// A long pause among clusters stays a gap.
func TestGapAmongClusters(t *testing.T) {
	var b strings.Builder
	b.WriteString("time (s),drive (V),feedback (V)\n")
	for i := range 16000 {
		if x := float64(i) / 200; i%20 < 3 && !(x > 30 && x < 34) {
			d, v := shuttle(x)
			fmt.Fprintf(&b, "%.3f,%.1f,%.4f\n", x, d, v)
		}
	}
	tr := mustRead(t, b.String(), Options{})
	if !hasNote(tr, "uneven-rows") || len(tr.Gaps) != 1 || math.Abs(tr.Gaps[0].From-30) > 0.1 || math.Abs(tr.Gaps[0].To-34) > 0.1 {
		t.Errorf("gaps %v, notes %v", tr.Gaps, tr.Notes)
	}
}
