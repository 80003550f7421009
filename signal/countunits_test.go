package signal

import "testing"

// A converter's counts come with how many there are of them, in one order or another.
func TestCountsWithTheirRange(t *testing.T) {
	for _, s := range []string{"counts of 1023", "ADC codes (0..4095)", "12-bit counts", "counts 10bit", "adc counts 0-1023", "LSB of 4096", "steps of 255"} {
		if u, ok := findUnit(s); !ok || u.q != counts {
			t.Errorf("%q is not taken for counts: %v %v", s, u, ok)
		}
	}
	for _, s := range []string{"bit", "of 1023", "counts of turns", "1023", "max"} {
		if u, ok := findUnit(s); ok && u.q == counts && s != "bit" {
			t.Errorf("%q is taken for counts", s)
		}
	}
}
