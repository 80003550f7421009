package analyze

import "testing"

// Where no stop was pressed, and no current logged, the volts of the first moments of the
// starts must lie where the line of the loads under way ends. A bench supply's limit and a
// control that starts and lands gently lower the starts, and have no such line.
func TestFeedByLoadsAndStarts(t *testing.T) {
	t.Parallel()
	midway := []float64{3.8, 1.2, 3.6, 1.1, 3.9, 1.4}
	for _, c := range []struct {
		name string
		is   loadedMotor
		lost bool
	}{
		{"over a hump", loadedMotor{feed: 12, up: 0.1, down: 0.1, hump: 0.07}, true},
		{"a hump and wires of 3 ohm", loadedMotor{feed: 3, up: 0.1, down: 0.1, hump: 0.07}, false},
		{"a bench supply's limit", loadedMotor{feed: 1, limit: 0.33, up: 0.1, down: 0.1, hump: 0.07}, false},
		{"a soft start over a hump", loadedMotor{feed: 1, soft: 0.3, up: 0.1, down: 0.1, hump: 0.07}, false},
		{"starts and lands on 8 V where a spring pulls", loadedMotor{feed: 1, up: 0.06, down: 0.06, spring: 0.1, low: 8, near: 0.8, kick: true}, false},
	} {
		c.is.dt, c.is.targets = 0.001, midway
		for seed := range uint64(2) {
			tr := c.is.draw(seed).trace()
			tr.Current = nil
			got, v := lookAt(t, tr)
			if (formed(got, SupplySag, sagByLoads) != nil) != c.lost || c.lost != (v.Conclusion == WiringControl) {
				t.Errorf("seed %d, %s: %s", seed, c.name, say(got, v))
			}
		}
	}
}
