package analyze

import (
	"slices"
	"strings"
	"testing"
)

// Rows in which all channels jump by the same volts are the instrument's; a reference that
// gives way for rows takes the reading's share with it, and is a finding. (Drawn.)
func TestCommonJumps(t *testing.T) {
	t.Parallel()
	rows := map[int]float64{151: 0.7, 402: -1.06, 640: 0.5}
	for _, c := range []struct {
		name  string
		share func(x float64) float64 // of the jump of the reference, what the reading does
		told  bool
	}{
		{"all by the same", func(float64) float64 { return 1 }, true},
		{"the reading by its share", func(x float64) float64 { return x / 5 }, false},
		{"the reference alone", func(float64) float64 { return 0 }, false},
	} {
		d := newDraft(4)
		d.dt = 0.02
		d.x = 2
		var refs []float64
		d.read = func(d *draft) float64 {
			jump := rows[len(refs)]
			refs = append(refs, 5+jump+0.002*d.rng.NormFloat64())
			return d.x + jump*c.share(d.x)
		}
		tr := d.run(0, 1).sweeps(2).trace()
		tr.Reference = beside("reference", "V", refs)
		got, v := lookAt(t, tr)
		told := slices.ContainsFunc(got.Notes, func(s string) bool {
			return strings.Contains(s, "3 times the reading and the reference jump by the same volts")
		})
		found := slices.ContainsFunc(got.Findings, func(f Finding) bool { return f.Kind == RefLoss })
		if told != c.told || found == c.told || c.told && v.Conclusion != NoFault {
			t.Errorf("%s: told %v, %s", c.name, told, say(got, v))
		}
	}
}
