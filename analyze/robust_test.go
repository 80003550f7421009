package analyze

import (
	"math"
	"slices"
	"testing"

	"threewire/signal"
)

// finding returns the first finding of a kind, nil if there is none.
func finding(c *Capture, k Kind) *Finding {
	for i := range c.Findings {
		if c.Findings[i].Kind == k {
			return &c.Findings[i]
		}
	}
	return nil
}

// What instruments and sites do to a healthy reading must not become a fault,
// and must not hide one.
func TestInterference(t *testing.T) {
	t.Parallel()
	spikes := func(both bool, level func(d *draft) float64) func(d *draft) float64 {
		return func(d *draft) float64 {
			if d.rng.Float64() > 0.004 {
				return d.x
			}
			if level != nil {
				return level(d)
			}
			s := 0.1 + 0.2*d.rng.Float64()
			if both && d.rng.Float64() < 0.5 {
				s = -s
			}
			return d.x + s
		}
	}
	for seed := range uint64(5) {
		d := newDraft(seed)
		d.read = spikes(true, nil)
		c, v := look(t, d.sweeps(4))
		if v.Conclusion != NoFault {
			t.Errorf("seed %d, spikes to both sides: %s", seed, say(c, v))
		}
		// To one level, whatever the position: a contact.
		d = newDraft(seed)
		d.read = spikes(false, func(*draft) float64 { return 0.02 })
		c, v = look(t, d.sweeps(4))
		if v.Conclusion != WiringControl || finding(c, Dropouts) == nil {
			t.Errorf("seed %d, losses to one level: %s", seed, say(c, v))
		}
		// A floating level in mid range lies to both sides of the line.
		d = newDraft(seed)
		d.read = spikes(false, func(*draft) float64 { return 2.5 })
		c, v = look(t, d.sweeps(4))
		if v.Conclusion == NoFault {
			t.Errorf("seed %d, losses to a floating level: %s", seed, say(c, v))
		}
		// Mains hum of five times the noise, at the stops as well.
		d = newDraft(seed)
		d.dt, d.noise = 0.001, 0.002
		d.read = func(d *draft) float64 { return d.x + 0.01*math.Sin(2*math.Pi*50*d.t) }
		c, v = look(t, d.sweeps(3))
		if v.Conclusion != NoFault || len(c.Stops) != 2 {
			t.Errorf("seed %d, hum: %s", seed, say(c, v))
		}
		// A converter so coarse that the reading is a staircase.
		d = newDraft(seed)
		d.dt, d.noise, d.quantum = 0.005, 0.0005, 0.08
		if c, v = look(t, d.sweeps(4)); v.Conclusion != NoFault {
			t.Errorf("seed %d, coarse steps: %s", seed, say(c, v))
		}
	}
}

// A track that is open from a place on: the control hunts over the edge.
func TestOpenBeyond(t *testing.T) {
	t.Parallel()
	for seed := range uint64(5) {
		d := newDraft(seed)
		d.read = func(d *draft) float64 {
			if d.x > 4.1 {
				return 0.03
			}
			return d.x
		}
		d.run(0, 1).run(12, 4.6).run(0, 0.3)
		for range 6 {
			d.run(-12, 0.3).run(0, 0.4).run(12, 0.4).run(0, 0.4)
		}
		d.run(-12, 5).run(0, 1)
		c, v := look(t, d)
		f := finding(c, DeadSpot)
		if v.Conclusion != FeedbackSensor || f == nil || f.Form != "open beyond" || math.Abs(f.Volts.Mid()-4.1) > 0.06 || f.Direction != Up {
			t.Errorf("seed %d: %s", seed, say(c, v))
		}
	}
}

// A track broken through: one part hangs on the supply, the other on ground.
func TestCrack(t *testing.T) {
	t.Parallel()
	for seed := range uint64(5) {
		d := newDraft(seed)
		d.read = func(d *draft) float64 {
			if d.x > 2.3 {
				return 4.97
			}
			return 0.03
		}
		c, v := look(t, d.sweeps(3))
		if f := finding(c, DeadSpot); v.Conclusion != FeedbackSensor || f == nil || f.Form != "rail to rail" {
			t.Errorf("seed %d: %s", seed, say(c, v))
		}
	}
}

// Friction takes speed from both directions, a spring gives to one what it
// takes from the other, and a loaded potentiometer bends the whole line.
func TestSlowOrBent(t *testing.T) {
	t.Parallel()
	in := func(d *draft) bool { return d.x > 2 && d.x < 2.8 }
	for seed := range uint64(5) {
		d := newDraft(seed)
		d.speed = func(d *draft, dir float64) float64 {
			if in(d) {
				return 0.5
			}
			return 1
		}
		c, v := look(t, d.sweeps(3))
		if f := finding(c, SlowZone); v.Conclusion != DoorMechanism || f == nil || f.Direction != None {
			t.Errorf("seed %d, friction: %s", seed, say(c, v))
		}
		d = newDraft(seed)
		d.speed = func(d *draft, dir float64) float64 {
			if in(d) {
				return 1 - 0.35*dir
			}
			return 1
		}
		if c, v = look(t, d.sweeps(3)); v.Conclusion == DoorMechanism || finding(c, SlowZone) != nil {
			t.Errorf("seed %d, spring: %s", seed, say(c, v))
		}
		// Slow over half of the travel: the rest is the motor's own pace.
		d = newDraft(seed)
		d.speed = func(d *draft, dir float64) float64 {
			if d.x > 1.4 && d.x < 3.6 {
				return 0.4
			}
			return 1
		}
		d.run(0, 1)
		for range 3 {
			d.run(12, 10.5).run(0, 0.5).run(-12, 10.5).run(0, 0.5)
		}
		c, v = look(t, d)
		if f := finding(c, SlowZone); v.Conclusion != DoorMechanism || f == nil || math.Abs(f.Volts.From-1.4) > 0.2 || math.Abs(f.Volts.To-3.6) > 0.2 {
			t.Errorf("seed %d, wide band: %s", seed, say(c, v))
		}
		// The loaded divider v = x/(1+kx(1-x)).
		d = newDraft(seed)
		d.read = func(d *draft) float64 {
			x := d.x / 5
			return 5 * x / (1 + 3*x*(1-x))
		}
		if c, v = look(t, d.sweeps(3)); v.Conclusion == DoorMechanism || finding(c, BentLine) == nil {
			t.Errorf("seed %d, bent line: %s", seed, say(c, v))
		}
	}
}

// What the drive itself shows.
func TestDriveFaults(t *testing.T) {
	t.Parallel()
	for seed := range uint64(5) {
		// The other polarity comes with two volts.
		d := newDraft(seed)
		d.block = func(d *draft, dir float64) bool { return dir < 0 }
		d.x = 1
		d.run(0, 1)
		for range 8 {
			d.run(12, 0.4).run(0, 0.6).run(-2, 0.4).run(0, 0.6)
		}
		c, v := look(t, d)
		if f := finding(c, OneWay); v.Conclusion != WiringControl || f == nil || f.Form != "few volts" {
			t.Errorf("seed %d, few volts: %s", seed, say(c, v))
		}
		// After each drive into the stop the wound-up gears turn the motor back.
		d = newDraft(seed)
		d.run(0, 1).run(12, 6)
		for range 5 {
			d.run(-3, 0.2).run(0, 0.8).run(12, 1.5)
		}
		c, v = look(t, d)
		if finding(c, HalfDrive) == nil || v.Conclusion != WiringControl {
			t.Errorf("seed %d, generated: %s", seed, say(c, v))
		}
		// The feed gives way at every stall, more going up than going down.
		d = newDraft(seed)
		d.run(0, 1)
		for range 4 {
			d.run(11, 5.6).run(8.8, 1.5).run(0, 0.5).run(-12, 5.2).run(-9.3, 1.5).run(0, 0.5)
		}
		c, v = look(t, d)
		if finding(c, SupplySag) == nil || v.Conclusion != WiringControl {
			t.Errorf("seed %d, sag: %s", seed, say(c, v))
		}
		// A supply that rises and falls by itself gives way to nothing.
		for _, load := range []float64{0, 1.6} {
			tr := newDraft(seed).sweeps(3).trace()
			x := make([]float32, tr.Len())
			for i, t := range tr.Time {
				x[i] = float32(12.6 + 1.2*math.Sin(2*math.Pi*t/19))
				if tr.Drive.Mean[i] > 1 || tr.Drive.Mean[i] < -1 {
					x[i] -= float32(load)
				}
			}
			tr.Supply = &signal.Series{Name: "supply", Unit: "V", Mean: x, Min: x, Max: x}
			c, err := Examine(tr, Defaults())
			if err != nil {
				t.Fatal(err)
			}
			if (finding(c, SupplySag) != nil) != (load > 0) {
				t.Errorf("seed %d, supply that wanders, %g V less under load: %s", seed, load, say(c, Judge(c).Verdict))
			}
		}
		// As deep as that it may be the current limit of a bench supply.
		d = newDraft(seed)
		d.run(0, 1)
		for range 4 {
			d.run(11, 5.6).run(7, 1.5).run(0, 0.5).run(-12, 5.2).run(-8, 1.5).run(0, 0.5)
		}
		c, v = look(t, d)
		if finding(c, SupplySag) == nil || v.Conclusion == WiringControl {
			t.Errorf("seed %d, limit: %s", seed, say(c, v))
		}
		// A controller that turns down before the stop does the same to the volts.
		d = newDraft(seed)
		d.run(0, 1)
		for range 4 {
			d.run(12, 4.2).run(8, 2.5).run(0, 0.5).run(-12, 4.2).run(-8, 2.5).run(0, 0.5)
		}
		if c, v = look(t, d); finding(c, SupplySag) != nil || v.Conclusion != NoFault {
			t.Errorf("seed %d, turned down: %s", seed, say(c, v))
		}
	}
}

// The current settles what the reading leaves open: less than while it runs is
// a motor that turns, none at all a circuit that is open.
func TestCurrentAtStands(t *testing.T) {
	t.Parallel()
	make := func(seed uint64, amps func(d *draft, volts float64) float64) *Capture {
		d := newDraft(seed)
		d.block = func(d *draft, dir float64) bool { return dir > 0 && d.x > 2.5 }
		var cur []float64
		run := func(volts, s float64) {
			n := len(d.time)
			d.run(volts, s)
			for i := n; i < len(d.time); i++ {
				x := d.x
				d.x = d.feed[i]
				cur = append(cur, amps(d, volts)+0.002*d.rng.NormFloat64())
				d.x = x
			}
		}
		run(0, 1)
		for range 3 {
			run(12, 4)
			run(0, 0.5)
			run(-12, 4)
			run(0, 0.5)
		}
		tr := d.trace()
		s := tr.Drive
		s.Name, s.Unit = "current", "A"
		s.Mean = nil
		for _, x := range cur {
			s.Mean = append(s.Mean, float32(x))
		}
		s.Min, s.Max = s.Mean, s.Mean
		tr.Current = &s
		c, err := Examine(tr, Defaults())
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	blocked := func(d *draft, v float64) float64 {
		if v > 0 && d.x > 2.48 || v < 0 && d.x < 0.52 {
			return math.Abs(v) / 12 * 0.5
		}
		return math.Abs(v) / 12 * 0.12
	}
	turning := func(d *draft, v float64) float64 {
		if v > 0 && d.x > 2.48 {
			return 0.05
		}
		return blocked(d, v)
	}
	for seed := range uint64(4) {
		if c := make(seed, blocked); finding(c, GearSlip) != nil {
			t.Errorf("seed %d, blocked: %s", seed, say(c, Judge(c).Verdict))
		}
		if c := make(seed, turning); finding(c, GearSlip) == nil || Judge(c).Verdict.Conclusion != Motor {
			t.Errorf("seed %d, turning: %s", seed, say(c, Judge(c).Verdict))
		}
	}
}

// An obstacle that gives way once, and one on one side far inside the supply.
func TestObstacles(t *testing.T) {
	t.Parallel()
	for seed := range uint64(5) {
		d := newDraft(seed)
		tries := 0
		d.block = func(d *draft, dir float64) bool { return dir > 0 && tries < 3 && d.x >= 2 && d.x < 2.1 }
		d.run(0, 1)
		for range 3 {
			d.run(12, 2.5).run(0, 0.4)
			tries++
		}
		d.run(12, 4).run(0, 0.5).run(-12, 6).run(0, 0.5).run(12, 6).run(0, 0.5).run(-12, 6)
		c, v := look(t, d)
		if f := finding(c, Jam); f == nil || f.Form != "passed later" || v.Chances[0].Fault != DoorMechanism {
			t.Errorf("seed %d, gave way: %s", seed, say(c, v))
		}
		d = newDraft(seed)
		d.hi = 2.3
		c, v = look(t, d.sweeps(3))
		if f := finding(c, Jam); f == nil || v.Conclusion == NoFault && v.Probability > 0.9 {
			t.Errorf("seed %d, one-sided travel: %s", seed, say(c, v))
		}
	}
}

// A finding that is a sign of one fault leaves the others the burden of having
// shown none.
func TestBurdenOfNoSign(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.rate = 0.12 // 33 s for the travel
		// So near its stall a motor makes much of what the door helps one way.
		d.speed = func(_ *draft, dir float64) float64 { return 1 - 0.15*dir }
		c, v := look(t, d.run(0, 1).run(12, 40).run(0, 1).run(-12, 40).run(0, 1).run(12, 40).run(0, 1).run(-12, 40))
		f := finding(c, WeakDrive)
		if f == nil {
			t.Fatalf("seed %d: %s", seed, say(c, v))
		}
		for _, x := range v.Chances {
			if x.Fault == FeedbackSensor && x.Probability > 0.05 {
				t.Errorf("seed %d: a slow motor does not speak for the sensor: %s", seed, say(c, v))
			}
		}
	}
}

func TestMajority(t *testing.T) {
	t.Parallel()
	in := []state{track, track, track, still, track, still, still, back, still, still, still}
	want := []state{track, track, track, track, still, still, still, still, still, still, still}
	got := majority(in, []int{0, len(in)}, 4)
	for i := range want {
		if got[i] != want[i] && i != 3 && i != 4 { // the border may fall either way
			t.Errorf("bin %d: %d, want %d", i, got[i], want[i])
		}
	}
	// A jump keeps its label and is not looked across.
	in = []state{track, track, fast, still, still}
	got = majority(in, []int{0, 2, 5}, 4)
	for i, w := range in {
		if got[i] != w {
			t.Errorf("with a jump, bin %d: %d, want %d", i, got[i], w)
		}
	}
}

func TestParabolaAgainstBand(t *testing.T) {
	t.Parallel()
	var x, bent, band []float64
	for i := range 40 {
		u := float64(i) / 39
		x = append(x, u)
		bent = append(bent, 1-0.8*u*(1-u))
		b := 1.0
		if u >= 0.32 && u < 0.6 {
			b = 0.5
		}
		band = append(band, b)
	}
	if !(parabolaError(x, bent) < bandError(x, bent)) || !(bandError(x, band) < parabolaError(x, band)) {
		t.Error("a parabola and a band are taken for each other")
	}
	if parabolaError(x, bent) > 1e-18 || bandError(x, band) > 1e-12 {
		t.Errorf("own model not fitted: %g, %g", parabolaError(x, bent), bandError(x, band))
	}
}

// A reading that scatters whenever it is driven is said to do so: hundreds of single
// spikes are none.
func TestScatterWhileDrivenIsNoSpikes(t *testing.T) {
	t.Parallel()
	for _, k := range []struct {
		share, off float64
		want       string
	}{{0.5, 0.025, "while it is driven the reading scatters to both sides, by about 0.0"}, {0.01, 0.2, "single spikes to both sides"}} {
		d := newDraft(3)
		d.dt, d.noise = 0.01, 0.0003
		d.read = func(d *draft) float64 {
			if d.volts == 0 || d.rng.Float64() > k.share {
				return d.x
			}
			if d.rng.Float64() < 0.5 {
				return d.x - k.off
			}
			return d.x + k.off
		}
		c, _ := look(t, d.sweeps(4))
		if !slices.ContainsFunc(c.Notes, func(n string) bool { return contains(n, k.want) }) {
			t.Errorf("one in %g: notes %q", 1/k.share, c.Notes)
		}
	}
}
