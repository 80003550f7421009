package analyze

import "testing"

// givenUp draws a motor of 24 ohm whose feed is as it should be for 2.4 s; then it has so
// many ohms, or a control turns the drive down to a share of its own.
func givenUp(seed uint64, ohms, share float64) *circuit {
	const vs, r, running = 12.0, 24.0, 0.12
	c := &circuit{draft: newDraft(seed)}
	c.dt = 0.02
	amps := 0.0
	c.read = func(d *draft) float64 {
		c.current = append(c.current, amps+0.002*d.rng.NormFloat64())
		return d.x
	}
	run := func(dir, i, s float64) {
		volts := vs * share
		if i == 0 { // held
			i = volts / (r + ohms)
		}
		amps = i
		c.run(dir*(volts-i*ohms), s)
	}
	c.run(0, 1)
	amps = running
	c.run(vs, 1.4)
	for _, dir := range []float64{1, -1, 1} {
		for (dir > 0 && c.x < c.hi) || (dir < 0 && c.x > c.lo) {
			run(dir, running, c.dt)
		}
		run(dir, 0, 1)
		amps = 0
		c.run(0, 0.6)
	}
	return c
}

// From one moment on the feed takes volts by the current, and the line of the two leads back
// to what the drive was before.
func TestFeedGivesFromOneMomentOn(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name        string
		ohms, share float64
		want        Fault
	}{
		{"20 ohm more", 20, 1, WiringControl},
		{"turned down by a fifth", 0, 0.8, NoFault},
		{"turned down by a third", 0, 0.67, NoFault},
		{"half an ohm more", 0.5, 1, NoFault},
	} {
		got, v := lookAt(t, givenUp(5, c.ohms, c.share).trace())
		if v.Conclusion != c.want || (finding(got, SupplySag) != nil) != (c.want == WiringControl) {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
