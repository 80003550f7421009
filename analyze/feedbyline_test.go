package analyze

import (
	"math"
	"testing"
)

// loadedMotor is a motor of 24 ohm by its equations, V = Vs - I*feed and n = (V - I*R)/Ke,
// under loads of its way, each given as a current.
type loadedMotor struct {
	feed, limit float64 // ohm in the feed; A of a bench supply, 0 for none
	up, down    float64 // A, the load either way
	hump        float64 // A, what holds the shaft back midway, either way
	spring      float64 // A at either end, what a spring about the middle costs
	low, near   float64 // V that the control lands with, V of the reading from a target on
	soft        float64 // s in which the volts come
	behind      float64 // s, what the current's channel is behind
	scaleUp     float64 // what the one lead reads of its volts, 1 if 0
	dt          float64
	targets     []float64
}

func (c *loadedMotor) load(x, dir float64) float64 {
	out := c.down
	if dir > 0 {
		out = c.up
	}
	middle := (x - 2.5) / 2
	return out + c.hump*math.Exp(-40*middle*middle) + c.spring*math.Abs(middle)
}

func (c *loadedMotor) draw(seed uint64) *circuit {
	const vs, r = 12.0, 24.0
	d := newCircuit(seed, nil)
	d.dt, d.noise, d.x = c.dt, 0.002, 2
	amps, shown, share := 0.0, 0.0, 1.0
	d.block = nil
	d.speed = func(_ *draft, _ float64) float64 { return share }
	d.read = func(x *draft) float64 {
		shown += (amps - shown) * math.Min(1, c.dt/math.Max(c.dt, c.behind))
		d.current = append(d.current, shown+0.003*d.rng.NormFloat64())
		return x.x
	}
	d.run(0, 1)
	for _, x := range c.targets {
		dir := math.Copysign(1, x-d.x)
		stop := x >= d.hi || x <= d.lo
		since, held := 0.0, 0.0
		for ; held < 1.5 && (stop || d.x*dir < x*dir); since += d.dt {
			wish := vs
			if c.near > 0 {
				wish = c.low + (vs-c.low)*math.Min(1, math.Abs(x-d.x)/c.near)
			}
			wish *= math.Min(1, (since+d.dt)/math.Max(d.dt, c.soft))
			most := wish / (r + c.feed)
			load := c.load(d.x, dir)
			amps = math.Min(most, load+math.Max(0, most-load)*math.Exp(-since/0.03))
			if d.x*dir >= x*dir {
				amps = most
				held += d.dt
			}
			v := wish - amps*c.feed
			if c.limit > 0 && amps > c.limit {
				amps = c.limit
				v = math.Min(v, amps*r)
			}
			share = math.Max(0, (v-amps*r)/v)
			if dir > 0 && c.scaleUp > 0 {
				share /= c.scaleUp
				v *= c.scaleUp
			}
			d.run(dir*v, d.dt)
		}
		amps = 0
		d.run(0, 0.8)
	}
	return d
}

// Volts that lie on one line over the current, on the way as wherever the current is another,
// are a resistance's. What a control, a bench supply or a probe takes of them lies on none.
func TestFeedByLine(t *testing.T) {
	t.Parallel()
	oneStop := []float64{4.5, 2, 4.5, 1.5, 4}
	midway := []float64{3.8, 1.2, 3.6, 1.1, 3.9, 1.4}
	stops := []float64{4.5, 0.5, 4.5, 0.5}
	for _, c := range []struct {
		name string
		is   loadedMotor
		lost bool
	}{
		{"heavy one way, rows too few for a start", loadedMotor{feed: 12, up: 0.06, down: 0.12, dt: 0.04, targets: oneStop}, true},
		{"over a hump, no stop", loadedMotor{feed: 15, up: 0.1, down: 0.1, hump: 0.07, dt: 0.004, targets: midway}, true},
		{"a hump and wires of 3 ohm", loadedMotor{feed: 3, up: 0.1, down: 0.1, hump: 0.07, dt: 0.004, targets: midway}, false},
		{"heavy one way, wires of 3 ohm", loadedMotor{feed: 3, up: 0.06, down: 0.12, dt: 0.04, targets: oneStop}, false},
		{"lands on 8 V", loadedMotor{feed: 1, up: 0.06, down: 0.12, low: 8, near: 0.3, dt: 0.04, targets: stops}, false},
		{"lands on 8 V where a spring pulls", loadedMotor{feed: 1, up: 0.06, down: 0.06, spring: 0.1, low: 8, near: 0.6, soft: 0.3, dt: 0.004, targets: stops}, false},
		{"a bench supply's limit", loadedMotor{feed: 1, limit: 0.33, up: 0.06, down: 0.14, dt: 0.04, targets: oneStop}, false},
		{"a soft start with a heavy way", loadedMotor{feed: 1, up: 0.06, down: 0.2, soft: 0.8, dt: 0.004, targets: midway}, false},
		{"leads of unlike scale and a heavy way", loadedMotor{feed: 1, up: 0.14, down: 0.06, scaleUp: 0.8, dt: 0.004, targets: midway}, false},
		{"the same, rows too few for a start", loadedMotor{feed: 1, up: 0.14, down: 0.06, scaleUp: 0.8, dt: 0.04, targets: midway}, false},
		{"the same, ways hardly unlike", loadedMotor{feed: 1, up: 0.103, down: 0.1, scaleUp: 0.8, dt: 0.04, targets: midway}, false},
		{"the same, stop to stop", loadedMotor{feed: 1, up: 0.14, down: 0.06, scaleUp: 0.8, dt: 0.04, targets: stops}, false},
		{"a current that is behind", loadedMotor{feed: 2, up: 0.06, down: 0.14, hump: 0.05, behind: 0.2, dt: 0.004, targets: midway}, false},
	} {
		for seed := range uint64(2) {
			got, v := lookAt(t, c.is.draw(seed).trace())
			if (formed(got, SupplySag, "drive, by the current") != nil) != c.lost || c.lost != (v.Conclusion == WiringControl) {
				t.Errorf("seed %d, %s: %s", seed, c.name, say(got, v))
			}
		}
	}
}
