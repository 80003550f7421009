package analyze

import "testing"

// A leak from the wiper to ground loads the track and bows its line (the loaded
// divider, v = x/(1+kx(1-x)); textbook). A bow that no sound track has is not "no
// fault", and one that cheap tracks have is.
func TestBowOfALoadedTrack(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		k     float64
		sound bool
	}{
		{"a leak of less than the track", 1.6, false},
		{"a leak of ten times the track", 0.1, true},
		{"none", 0, true},
	} {
		for seed := range uint64(3) {
			d := newDraft(seed)
			d.lo, d.hi, d.x = 0.3, 4.7, 0.3
			d.read = func(d *draft) float64 {
				x := d.x / 5
				return 5 * x / (1 + c.k*x*(1-x))
			}
			got := examineDraft(t, d.sweeps(3))
			v := judge([]*Capture{got}, nil).Verdict
			if (v.Conclusion == NoFault) != c.sound {
				t.Errorf("%s, seed %d: %s %.2f", c.name, seed, v.Conclusion, v.Probability)
			}
		}
	}
}

// Within what sound tracks keep to, a bow counts as before; the further beyond, the
// fewer sound actuators have it, down to those that are built so.
func TestBowBeyondSoundTracks(t *testing.T) {
	t.Parallel()
	last := 1.0
	for i, off := range []float64{3, 4, 5, 12} {
		got, _ := bentLineLikelihood(&Finding{Kind: BentLine, Measures: []Measure{{MeasureLinearity, off, "% of span"}}})
		if none := got[0]; none > last || i == 0 && none != .05 || none < builtBent {
			t.Errorf("%g %% off a line: likelihood of no fault %g after %g", off, none, last)
		} else {
			last = none
		}
	}
}
