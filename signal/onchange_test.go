package signal

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// shuttle is the drive and the reading of a shaft that runs up and down in 3 s, is pressed
// against each stop for 2 s more and rests for 3.
func shuttle(t float64) (drive, reading float64) {
	switch phase := math.Mod(t, 16); {
	case phase < 1:
		return 0, 1
	case phase < 6:
		return 12, math.Min(4, 1+(phase-1))
	case phase < 9:
		return 0, 4
	case phase < 14:
		return -12, math.Max(1, 4-(phase-9))
	}
	return 0, 1
}

// written is the shuttle as a logger of 50 rows/s writes it that keeps the rows which keep
// tells to, with the last row written; cells that have not changed are empty where blanks is.
func written(blanks bool, noise float64, keep func(drive, reading, lastDrive, lastReading, t float64) bool) string {
	var b strings.Builder
	b.WriteString("time (s),drive (V),feedback (V)\n")
	lastDrive, lastReading := math.Inf(1), math.Inf(1)
	for i := range 4000 {
		t := float64(i) / 50
		d, v := shuttle(t)
		v += noise * math.Sin(float64(i*i))
		if !keep(d, v, lastDrive, lastReading, t) {
			continue
		}
		ds, vs := fmt.Sprintf("%.1f", d), fmt.Sprintf("%.4f", v)
		if blanks && d == lastDrive {
			ds = ""
		}
		if blanks && math.Abs(v-lastReading) < 0.025 {
			vs = ""
		} else {
			lastReading = v
		}
		lastDrive = d
		fmt.Fprintf(&b, "%.2f,%s,%s\n", t, ds, vs)
	}
	return b.String()
}

func onChange(d, v, lastDrive, lastReading, _ float64) bool {
	return d != lastDrive || math.Abs(v-lastReading) >= 0.025
}

func TestRowsOnChange(t *testing.T) {
	for _, blanks := range []bool{false, true} {
		tr := mustRead(t, written(blanks, 0.002, onChange), Options{})
		if tr.Len() < 1900 || !hasNote(tr, "on-change") || hasNote(tr, "gap") || hasNote(tr, "irregular") {
			t.Fatalf("blanks %v: %d bins, notes %v", blanks, tr.Len(), tr.Notes)
		}
		for i, x := range tr.Time {
			d, v := shuttle(x)
			if x > 78 { // no row tells when the last rest ended
				break
			}
			if math.Abs(float64(tr.Feedback.Mean[i])-v) > 0.04 || math.Abs(float64(tr.Drive.Mean[i])-d) > 0.1 && i > 0 {
				t.Fatalf("blanks %v: at %.2f s drive %g feedback %g, want %g and %g", blanks, x, tr.Drive.Mean[i], tr.Feedback.Mean[i], d, v)
			}
		}
	}
}

// Rows that are missing for another reason stay missing.
func TestMissingRowsAreNotHeld(t *testing.T) {
	for name, keep := range map[string]func(d, v, lastDrive, lastReading, t float64) bool{
		"every row":              func(_, _, _, _, _ float64) bool { return true },
		"rows only under drive":  func(d, _, _, _, _ float64) bool { return d != 0 },
		"a recorder that stops":  func(_, _, _, _, t float64) bool { return math.Mod(t, 7) > 1 },
		"stops at ends of drive": func(_, _, _, _, t float64) bool { return math.Mod(t, 16) < 5 || math.Mod(t, 16) > 7 },
	} {
		for _, noise := range []float64{0, 0.002} {
			tr := mustRead(t, written(false, noise, keep), Options{})
			if hasNote(tr, "on-change") || int64(tr.Len()) != tr.Rows {
				t.Errorf("%s, noise %g: %d bins of %d rows, notes %v", name, noise, tr.Len(), tr.Rows, tr.Notes)
			}
		}
	}
}

// Numbers in a few cells at the top, beside the data, are no channel; the same number of
// them here and there is one.
func TestSparseColumnHereAndThere(t *testing.T) {
	text := func(filled func(i int) bool) string {
		b := "time (s),drive (V),feedback (V)\n"
		for i := range 1000 {
			d, v := shuttle(float64(i) / 50)
			ds := ""
			if filled(i) {
				ds = fmt.Sprintf("%.1f", d)
			}
			b += fmt.Sprintf("%.2f,%s,%.3f\n", float64(i)/50, ds, v)
		}
		return b
	}
	if tr := mustRead(t, text(func(i int) bool { return i%150 == 60 && i < 700 }), Options{}); tr.Columns[1].Role != Drive {
		t.Errorf("read as %v", tr.Columns[1])
	}
	if tr, err := Read(strings.NewReader(text(func(i int) bool { return i < 5 })), Options{}); err == nil {
		t.Errorf("read as %v", tr.Columns[1])
	}
}

func hasNote(tr *Trace, code string) bool {
	return slices.ContainsFunc(tr.Notes, func(n Note) bool { return n.Code == code })
}

// Rows that come evenly are looked at no further; one row in a thousand may be late tenfold.
func TestPauses(t *testing.T) {
	even := make([]float64, 1000)
	for i := range even {
		even[i] = 0.01 * float64(i)
	}
	all := func(int) bool { return true }
	if pauses(even, all) {
		t.Error("a pause in even rows")
	}
	if !pauses(even, func(i int) bool { return i < 500 || i > 515 }) {
		t.Error("no pause where rows tell nothing of the reading")
	}
	late := slices.Clone(even)
	for i := 700; i < len(late); i++ {
		late[i] += 0.2
	}
	if !pauses(late, all) {
		t.Error("no pause where a row comes late")
	}
	if pauses(even, func(i int) bool { return i == 7 }) {
		t.Error("a pause in one row")
	}
}
