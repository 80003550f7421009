package analyze

import "testing"

// A motor that is to leave its stop and draws nothing is open, as one in the midst of its
// way. One that is pressed into its stop by a control, or runs so light that single rows of
// its current lie as low as the noise at rest, is not.
func TestOpensAtAnEnd(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		silent := false
		c := newCircuit(seed, func(float64) bool { return silent })
		c.sweeps(2) // and lies on the low stop
		for range 3 {
			silent = true
			c.run(12, 0.5).run(0, 0.5)
			silent = false
		}
		c.run(12, 6).run(0, 1)
		if form, r := brokenForm(t, c.trace()); form != brokenNoStart || r.Verdict.Conclusion != Motor && r.Verdict.Conclusion != WiringControl {
			t.Errorf("seed %d: off its stop: form %q, verdict %s %.2f", seed, form, r.Verdict.Conclusion, r.Verdict.Probability)
		}
	}
}

// See above: 0.04 A over a stretch in which the door pulls, of noise of 0.01 A.
func TestRunsLight(t *testing.T) {
	t.Parallel()
	for _, amps := range []float64{0.04, 0} {
		for seed := range uint64(3) {
			c := newCircuit(seed, func(float64) bool { return false })
			c.dt = 0.008
			read := c.read
			c.read = func(d *draft) float64 {
				x := read(d)
				i := &c.current[len(c.current)-1]
				switch {
				case d.volts == 0 || x == d.lo || x == d.hi:
				case x > 2 && x < 2.3:
					*i = amps
				default:
					*i = 0.1
				}
				*i += 0.01 * d.rng.NormFloat64()
				return x
			}
			if open := workOf(t, traced(c)).withoutCurrent(); (len(open) > 0) != (amps == 0) {
				t.Errorf("seed %d, %g A: %d stretches without current", seed, amps, len(open))
			}
		}
	}
}
