package analyze

import (
	"slices"
	"strings"
	"testing"
)

// Rows in which all channels fall to one share of what they were are the instrument's; a
// reading that is lost alone, or as often where the drive was there to be lost with it, is
// the sensor's or its wires'. (Drawn.)
func TestFailedRows(t *testing.T) {
	t.Parallel()
	rows := map[int]float64{551: 0.5, 1402: 0, 2010: 0, 640: 0.3}
	for _, c := range []struct {
		name  string
		drive func(row int, share float64) float64
		told  bool
	}{
		{"all by the same", func(_ int, share float64) float64 { return share }, true},
		{"the reading alone", func(int, float64) float64 { return 1 }, false},
		{"once with the drive, else alone", func(row int, share float64) float64 {
			if row == 551 {
				return share
			}
			return 1
		}, false},
	} {
		d := newDraft(4)
		row := -1
		d.read = func(d *draft) float64 {
			row++
			if share, ok := rows[row]; ok {
				return d.x * share
			}
			return d.x
		}
		d.run(0, 1).sweeps(3)
		for r, share := range rows {
			d.drive[r] *= c.drive(r, share)
		}
		got, v := look(t, d)
		told := slices.ContainsFunc(got.Notes, func(s string) bool {
			return strings.Contains(s, "4 times the reading falls for one row, wherever it is driven together with the drive")
		})
		if told != c.told || c.told && (v.Conclusion != NoFault || len(got.Findings) > 0) || !c.told && len(got.Findings) == 0 {
			t.Errorf("%s: told %v, %s", c.name, told, say(got, v))
		}
	}
}
