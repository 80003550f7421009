package signal

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// twiceLines draws n rows of a shaft that goes to and fro, 4 of the readings missing.
func twiceLines(n int, stamp func(i int) string) []string {
	rows := make([]string, n)
	for i := range rows {
		v := fmt.Sprintf("%.3f", 1+0.01*float64((i*7)%301))
		if i%(n/4) == 3 {
			v = ""
		}
		rows[i] = fmt.Sprintf("%s,%d,%s", stamp(i), 12-24*(i/300%2), v)
	}
	return rows
}

func twiceFile(rows []string) string {
	return "time (s),Motor (V),Feedback (V)\n" + strings.Join(rows, "\n") + "\n"
}

// again writes the m rows before row at a second time.
func again(rows []string, at, m int) []string {
	return slices.Concat(rows[:at], rows[at-m:at], rows[at:])
}

// A capture whose logger wrote blocks of rows twice reads as if it had not, at any time
// format, whatever the blocks of text, and says so.
func TestWrittenTwice(t *testing.T) {
	const n = 6000
	stamps := map[string]func(i int) string{
		"seconds":        func(i int) string { return fmt.Sprintf("%.3f", float64(i)*0.004) },
		"falling":        func(i int) string { return fmt.Sprintf("%.3f", float64(n-i)*0.004) },
		"rounded":        func(i int) string { return fmt.Sprintf("%.2f", float64(i)*0.004) },
		"over midnight":  func(i int) string { return clockOf(86390_000 + 4*i) },
		"date and clock": func(i int) string { return "2021-03-04 " + clockOf(36000_000+4*i) },
	}
	for name, stamp := range stamps {
		rows := twiceLines(n, stamp)
		twice := again(again(again(rows, 5003, 200), 3000, 34), 3000, 34)
		twice = again(twice, 40, 40) // the first block of all
		for _, block := range []int{0, 3000, 70000} {
			want := mustRead(t, twiceFile(rows), Options{block: block})
			got := mustRead(t, twiceFile(twice), Options{block: block})
			if got.Rows != n || !sameTimes(got.Time, want.Time) || !reflect.DeepEqual(got.Gaps, want.Gaps) {
				t.Fatalf("%s, blocks of %d: %d rows, %d gaps, times to %.9g; want %d, %d, %.9g", name, block, got.Rows, len(got.Gaps), got.Time[len(got.Time)-1], want.Rows, len(want.Gaps), want.Time[len(want.Time)-1])
			}
			if g, w := got.Feedback, want.Feedback; g.Stats != w.Stats || g.Stats.Missing != 4 {
				t.Errorf("%s, blocks of %d: feedback %+v, want %+v", name, block, g.Stats, w.Stats)
			}
			note := "lines 42 to 81, and 3 blocks further on, repeat rows already read, cell for cell: read once"
			if !slices.ContainsFunc(got.Notes, func(n Note) bool { return strings.Contains(n.Text, note) }) {
				t.Errorf("%s, blocks of %d: notes %v", name, block, got.Notes)
			}
		}
	}
}

// sameTimes compares to a tenth of a step: the step of rounded times is learned from the
// first block of text, which holds fewer rows where some are there twice.
func sameTimes(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(x, y float64) bool { return math.Abs(x-y) < 0.0004 })
}

func clockOf(ms int) string {
	ms %= 86400_000
	return fmt.Sprintf("%02d:%02d:%02d.%03d", ms/3600000, ms/60000%60, ms/1000%60, ms%1000)
}

// The file may end within the block that is written again.
func TestWrittenTwiceAtTheEnd(t *testing.T) {
	rows := twiceLines(600, func(i int) string { return fmt.Sprintf("%.2f", float64(i)*0.05) })
	tr := mustRead(t, twiceFile(append(slices.Clone(rows), rows[500:530]...)), Options{})
	if tr.Rows != 600 {
		t.Errorf("%d rows", tr.Rows)
	}
}

// Rows that differ in one cell, that do not reach the newest row, or that were read too
// long ago are no block written twice.
func TestNotWrittenTwice(t *testing.T) {
	rows := twiceLines(12000, func(i int) string { return fmt.Sprintf("%.3f", float64(i)*0.004) })
	other := again(rows, 700, 60)
	other[730] = strings.Replace(other[730], ",12,", ",11,", 1)
	other[730] = strings.Replace(other[730], ",-12,", ",-11,", 1)
	for name, c := range map[string]struct {
		rows []string
		line int
	}{
		"one cell differs": {other, 702},
		"rows left out":    {slices.Concat(rows[:700], rows[640:680], rows[700:]), 702},
		"too long ago":     {again(rows, 9000, twiceRows+1), 9002},
	} {
		for _, block := range []int{0, 900_000} {
			_, err := Read(strings.NewReader(twiceFile(c.rows)), Options{Source: "x.csv", block: block})
			if err == nil || !strings.Contains(err.Error(), fmt.Sprintf("x.csv:%d:1: time runs backwards", c.line)) {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
	if tr := mustRead(t, twiceFile(again(rows, 9000, twiceRows)), Options{}); tr.Rows != 12000 {
		t.Errorf("the longest block: %d rows", tr.Rows)
	}
}

// A log that was started anew at the same place begins with the same rows: these are
// not left out. Only where all of it is the same is it the same log, see [reducer.dropCopies].
func TestStartedAnewIsNotTwice(t *testing.T) {
	rows := twiceLines(600, func(i int) string { return fmt.Sprintf("%.2f", float64(i)*0.05) })
	second := slices.Clone(rows)
	for i := 300; i < len(second); i++ {
		second[i] += "1"
	}
	if tr := mustRead(t, twiceFile(append(slices.Clone(rows), second...)), Options{}); tr.Rows != 1200 {
		t.Errorf("the same for long: %d rows", tr.Rows)
	}
}
