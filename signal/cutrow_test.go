package signal

import (
	"strings"
	"testing"
)

// A last row that breaks off and is numbers all the same is left out, and that is said;
// a last line that is whole only wants its line end.
func TestLastRowCut(t *testing.T) {
	head := "time,drive,feedback,supply\n"
	row := func(feedback, supply string) string { return "1.60,12," + feedback + "," + supply }
	rows := func(supply string) string {
		return strings.ReplaceAll(rowsOf(0, 80), "\n", ","+supply+"\n")
	}
	for _, c := range []struct {
		name, supply, last string
		cut                bool
	}{
		{"whole", "12.10", row("1.05", "12.10"), false},
		{"whole, with its line end", "12.10", row("1.05", "12.10") + "\n", false},
		{"within the last number", "12.10", row("1.05", "12.1"), true},
		{"at its point", "12.10", row("1.05", "12"), true},
		{"before the last cell", "12.10", row("1.05", ""), true},
		{"short, but with its line end", "12.10", row("1.05", "12.1") + "\n", false},
		{"counts, one digit less", "1000", row("1.05", "999"), false},
		{"counts, cut", "1000", row("1.05", "10"), true},
	} {
		for _, block := range []int{0, 64, 700} {
			tr := mustRead(t, head+rows(c.supply)+c.last, Options{block: block})
			said := ""
			for _, n := range tr.Notes {
				if n.Code == "cut-line" {
					said = n.Text
				}
			}
			want := int64(81)
			if c.cut {
				want = 80
			}
			if (said != "") != c.cut || tr.Rows != want {
				t.Errorf("%s, blocks of %d: %d rows, said %q", c.name, block, tr.Rows, said)
			}
			if c.cut && !strings.Contains(said, "last line (82)") {
				t.Errorf("%s: %q names the wrong line", c.name, said)
			}
		}
	}
}
