package signal

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// A factor may be given to a column as the file names it, with its unit or without, or by its
// number: it is that of the column's role.
func TestScaleByColumn(t *testing.T) {
	text := "t (s),Motor A (V),Motor B (V),pot,I\n" + newRec(200, 0.02).rows(func(i int, s, d, v float64) string {
		return strings.Join([]string{short(s), short(max(d, 0) / 10), short(max(-d, 0) / 10), short(v), short(100 * math.Abs(d))}, ",")
	})
	tr := mustRead(t, text, Options{ScaleColumns: map[string]float64{"Motor A (V)": 10, "motor b": 10, "5": 0.001}})
	if _, hi := bulk(tr.Drive.Mean, 100); math.Abs(hi-12) > 0.5 {
		t.Errorf("drive up to %.3g V, want 12", hi)
	}
	if tr.Current == nil || tr.Current.Unit != "A" || math.Abs(tr.Current.Stats.Max-1.2) > 0.1 {
		t.Errorf("current %+v, want 1.2 A", tr.Current)
	}
	for _, c := range []struct {
		name string
		o    Options
		want string
	}{
		{"no such column", Options{ScaleColumns: map[string]float64{"door": 10}}, "no column has this name"},
		{"the time", Options{ScaleColumns: map[string]float64{"t": 0.001}}, "time=0.001"},
		{"two factors", Options{Scale: map[Role]float64{Current: 0.01}, ScaleColumns: map[string]float64{"I": 0.001}}, "has the factor 0.01 already"},
		{"turned", Options{ScaleColumns: map[string]float64{"pot": -1}}, "leave the minus out"},
		{"no factor", Options{ScaleColumns: map[string]float64{"I": 0}}, "expected a factor"},
	} {
		if _, err := Read(strings.NewReader(text), c.o); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want %q in it", c.name, err, c.want)
		}
	}
}

func short(x float64) string { return strconv.FormatFloat(x, 'f', 3, 64) }
