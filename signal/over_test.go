package signal

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// A motor of 12 V on a range of 10 V: the marks stand for volts over the range,
// not for missing readings.
func TestDriveOverRange(t *testing.T) {
	text := func(drive, mark func(d float64) string, head string) string {
		var b strings.Builder
		b.WriteString(head)
		r := newRec(800, 0.01)
		for i := range r.t {
			cells := []string{fmt.Sprintf("%.3f", r.t[i])}
			if drive != nil {
				cells = append(cells, drive(r.d[i]))
			}
			if mark != nil {
				cells = append(cells, mark(r.d[i]), mark(-r.d[i]))
			}
			b.WriteString(strings.Join(append(cells, fmt.Sprintf("%.4f\n", r.v[i])), ","))
		}
		return b.String()
	}
	lead := func(over string) func(d float64) string {
		return func(d float64) string {
			if d > 1 {
				return over
			}
			return "0.02"
		}
	}
	signed := func(up, down string) func(d float64) string {
		return func(d float64) string {
			switch {
			case d > 1:
				return up
			case d < -1:
				return down
			}
			return fmt.Sprintf("%.2f", d/100)
		}
	}
	for _, c := range []struct {
		name, text string
		kept       bool
	}{
		{"leads, inf", text(nil, lead("inf"), "time_s,lead_A_V,lead_B_V,feedback_V\n"), true},
		{"leads, OL", text(nil, lead("OL"), "time_s,lead A (V),lead B (V),feedback (V)\n"), true},
		{"leads, 9.9E+37", text(nil, lead("9.9E+37"), "time_s,lead A (V),lead B (V),feedback (V)\n"), true},
		{"signed, inf and -inf", text(signed("inf", "-inf"), nil, "time_s,drive (V),feedback (V)\n"), true},
		{"signed, +OL and -OL", text(signed("+OL", "-OL"), nil, "time_s,drive (V),feedback (V)\n"), true},
		{"signed, OL both ways", text(signed("OL", "OL"), nil, "time_s,drive (V),feedback (V)\n"), false},
	} {
		for _, most := range []int{0, 256 * 4} { // each row a bin, and merged
			tr, err := Read(strings.NewReader(c.text), Options{MaxBins: most})
			if err != nil {
				t.Errorf("%s: %v", c.name, err)
				continue
			}
			r := newRec(800, 0.01)
			right, n := 0, 0
			for i, x := range tr.Time {
				want := r.d[min(len(r.d)-1, int(math.Round((x-tr.Time[0])/0.01)))]
				if math.Abs(want) < 1 {
					continue
				}
				n++
				if got := float64(tr.Drive.Mean[i]); got*want > 0 && math.Abs(got) >= 9 {
					right++
				}
			}
			if c.kept && right < n*95/100 || !c.kept && right > 0 || n < 100 {
				t.Errorf("%s, %d bins: %d of %d driven bins are driven", c.name, len(tr.Time), right, n)
			}
		}
	}
}

// The ends of a mark's way: cell, column of float64, series of float32.
func TestOverMark(t *testing.T) {
	for _, c := range []struct {
		text string
		want int
		told bool
	}{
		{"inf", 1, true}, {"+Inf", 1, true}, {"-inf", -1, true}, {"∞", 1, true}, {"-∞", -1, true}, {"1.#INF", 1, true}, {"-1.#INF", -1, true},
		{"9.9E+37", 1, true}, {"-9.9E+37", -1, true}, {"+OL", 1, true}, {"-OL", -1, true},
		{"OL", 1, false}, {"0L", 1, false}, {"---", 1, false}, {"-.--", 1, false}, {"####", 1, false}, {"over range", 1, false},
	} {
		_, k := readCell([]byte(c.text), '.')
		v := overMark([]byte(c.text))
		if s, told := overSign(float32(v)); k != cellOver || !isOver64(v) || v == v || s != c.want || told != c.told {
			t.Errorf("%s: kind %d, sign %d told %v, want %d, %v", c.text, k, s, told, c.want, c.told)
		}
	}
	for _, v := range []float64{math.NaN(), 0, 1, math.Inf(1)} {
		if s, _ := overSign(float32(v)); isOver64(v) || s != 0 {
			t.Errorf("%v is taken for a mark", v)
		}
	}
}
