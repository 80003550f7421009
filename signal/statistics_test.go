package signal

import (
	"strings"
	"testing"
)

func TestStatisticsAboveData(t *testing.T) {
	plain := timed("Time (s)", func(i int) string { return "" })
	head, _, _ := strings.Cut(plain, "\n")
	rows := timed("Time (s)", count(1))
	rows = rows[strings.IndexByte(rows, '\n')+1:]
	for _, figures := range []string{"", "Min,0,-13.00,0.500\nMax,2999,13.00,12.5\nMean,1500,0.02,6.4\n", "Maximum,,13.00,12.5\n"} {
		l, err := Inspect(strings.NewReader(head+"\n"+figures+rows), Options{})
		if err != nil || l.Problem != "" {
			t.Errorf("%q: %v %+v", figures, err, l)
			continue
		}
		if l.NamesLine != 1 || l.Rows != 3000 || *l.Columns[1].Max != 13 {
			t.Errorf("%q: names in line %d, %d rows, motor up to %g", figures, l.NamesLine, l.Rows, *l.Columns[1].Max)
		}
	}
}
