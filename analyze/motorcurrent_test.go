package analyze

import (
	"math"
	"testing"
)

// ammeter draws a capture with the current of its motor: held, it draws its volts over its
// resistance, and as much for a moment at each start from rest; running, what amps says.
type ammeter struct {
	*circuit
	held    float64                    // A at 12 V
	running float64                    // A
	amps    func(d *draft) float64     // A, NaN: as the shaft moves; nil = NaN
	offset  func(i float64) float64    // what the instrument makes of it, nil = as it is
	shaft   func(d *draft) float64     // reading of the shaft, nil = x
	since   float64                    // s since the drive came on
	before  struct{ x, volts float64 } // of the row before
}

func newAmmeter(seed uint64) *ammeter {
	a := &ammeter{circuit: &circuit{draft: newDraft(seed)}, held: 0.5, running: 0.12}
	a.draft.read = func(d *draft) float64 {
		if d.volts != a.before.volts {
			a.since = 0
		}
		i := 0.0
		if d.volts != 0 {
			i = a.running
			if d.x == a.before.x {
				i = a.held
			}
			if a.amps != nil {
				if x := a.amps(d); !math.IsNaN(x) {
					i = x
				}
			}
			if i > 0 {
				i += math.Max(0, a.held-i) * math.Exp(-a.since/0.02)
			}
		}
		a.since += d.dt
		a.before.x, a.before.volts = d.x, d.volts
		if a.offset != nil {
			i = a.offset(i)
		}
		a.current = append(a.current, i+0.002*d.rng.NormFloat64())
		if a.shaft != nil {
			return a.shaft(d)
		}
		return d.x
	}
	return a
}

// waits blocks the shaft at a place for some seconds each time it comes there.
func waits(at, seconds float64) func(d *draft, dir float64) bool {
	return waitsFor(at, func() float64 { return seconds })
}

// waitsFor blocks the shaft at a place for as long as seconds says each time.
func waitsFor(at float64, seconds func() float64) func(d *draft, dir float64) bool {
	left, was := 0.0, math.NaN()
	return func(d *draft, dir float64) bool {
		if (was-at)*(d.x-at) <= 0 && left == 0 && was != d.x {
			left = seconds()
		}
		was = d.x
		left = math.Max(0, left-d.dt)
		return left > 0
	}
}

// A shaft that waits at a place: a door that catches holds the motor, teeth that are
// missing take its load away. Where only the polarity is logged, a held motor shows itself as
// before, and one that draws what it draws on the way turns, whatever the reading says. (Drawn.)
func TestCurrentOfAShaftThatWaits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		amps float64 // while it waits
		sign bool    // only the polarity is logged
		kind Kind
		want Fault
	}{
		{"teeth missing", 0.07, false, GearSlip, Motor},
		{"door catches", 0.5, false, SlowZone, DoorMechanism},
		{"flat piece of track, polarity only", 0.12, true, SlowZone, FeedbackSensor},
		{"door catches, polarity only", 0.5, true, SlowZone, DoorMechanism},
	} {
		a := newAmmeter(3)
		a.signOnly = c.sign
		hold := waits(2.2, 0.4)
		if c.sign {
			hold = waitsFor(2.2, func() float64 { return 0.4 + 0.6*a.rng.Float64() })
		}
		a.block = func(d *draft, dir float64) bool { return hold(d, dir) }
		a.amps = func(d *draft) float64 {
			if d.x == a.before.x && d.x > d.lo+0.1 && d.x < d.hi-0.1 {
				return c.amps
			}
			return math.NaN()
		}
		a.sweeps(3)
		got, err := Examine(a.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		if v := Judge(got).Verdict; finding(got, c.kind) == nil || v.Conclusion != c.want {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// A slow band: a motor that is loaded draws more, and one that is not leaves the track or
// the gears. (Drawn.)
func TestCurrentOfASlowBand(t *testing.T) {
	t.Parallel()
	in := func(x float64) bool { return x > 2 && x < 2.5 }
	for _, c := range []struct {
		name   string
		amps   float64 // in the band
		beside bool
		want   Fault
	}{
		{"door binds", 0.35, false, DoorMechanism},
		{"track tells too little", 0.12, true, FeedbackSensor},
		{"teeth let go", 0.07, false, Motor},
	} {
		a := newAmmeter(4)
		a.speed = func(d *draft, dir float64) float64 {
			if in(d.x) {
				return 0.35
			}
			return 1
		}
		a.amps = func(d *draft) float64 {
			if in(d.x) {
				return c.amps
			}
			return math.NaN()
		}
		a.sweeps(3)
		got, err := Examine(a.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		f := finding(got, SlowZone)
		if v := Judge(got).Verdict; v.Chances[0].Fault != c.want || c.beside && (f == nil || !f.has(currentBeside)) {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// A shaft that gets no further at a place, either way, while the motor draws what it
// draws on the way: the drive to it is gone there. At a stall it is held. (Drawn.)
func TestCurrentOfAShaftThatIsBarred(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		amps float64
		want Fault
	}{{"turns", 0.12, Motor}, {"held", 0.5, DoorMechanism}} {
		a := newAmmeter(5)
		// No stop is seen but this one, from either side: only the starts tell what the
		// motor draws when it is held.
		a.block = func(d *draft, dir float64) bool {
			return dir > 0 && math.Abs(d.x-2.5) < 0.01 && d.t < 40 || dir < 0 && math.Abs(d.x-2.51) < 0.01
		}
		a.amps = func(d *draft) float64 {
			if d.x == a.before.x {
				return c.amps
			}
			return math.NaN()
		}
		a.x = 1.5
		a.run(0, 1)
		for range 4 {
			a.run(12, 3).run(0, 1).run(-12, 1.5).run(0, 1)
		}
		a.run(0, 40-a.t).run(12, 3).run(0, 1)
		for range 4 {
			a.run(-12, 3).run(0, 1).run(12, 1.4).run(0, 1)
		}
		got, err := Examine(a.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		if v := Judge(got).Verdict; v.Conclusion != c.want {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// A motor that turns on end without a stall moves no shaft: it would have come to a stop.
// In less time than a travel takes it may as well be the sensor that lost its drive. (Drawn.)
func TestTurnsOnEndWithoutAStall(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		seconds float64
		motor   bool
	}{{16, true}, {3, false}} {
		a := newAmmeter(6)
		a.block = func(d *draft, dir float64) bool { return true }
		a.amps = func(d *draft) float64 { return a.running }
		a.x = 2
		a.run(0, 1).run(12, c.seconds).run(0, 1).run(-12, c.seconds).run(0, 1).run(12, c.seconds).run(0, 1)
		got, err := Examine(a.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		if v := Judge(got).Verdict; (v.Conclusion == Motor) != c.motor {
			t.Errorf("%.0f s each way: %s", c.seconds, say(got, v))
		}
	}
}

// A few mA that come at once and stay are neither a motor that turns nor one that is held;
// a few hundred are one that is held. (Drawn.)
func TestTooLittleForAMotor(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		amps float64
		want string
	}{{0.015, noCurrentFlows}, {0.3, stallCurrent}} {
		a := newAmmeter(7)
		a.held, a.running = c.amps, c.amps
		a.block = func(d *draft, dir float64) bool { return true }
		a.x = 2
		a.run(0, 2).run(12, 2).run(0, 1).run(-12, 2).run(0, 1).run(12, 2).run(0, 2)
		a.offset = nil
		got, err := Examine(a.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		f := finding(got, NoMotion)
		if f == nil || len(f.Form) < len(c.want) || f.Form[:len(c.want)] != c.want {
			t.Errorf("%v A: %s", c.amps, say(got, Judge(got).Verdict))
		}
	}
}

// What a motor takes to run over what it draws when it is held is its load's share of the
// torque. (Drawn.)
func TestShareOfTheStallTorque(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name          string
		running, held float64
		free, sign    bool
		starts        float64 // A at the first moment, 0: as when held
		want          Fault
		found         bool
	}{
		{"drags of itself", 0.33, 0.45, true, false, 0, Motor, true},
		{"drags of itself, polarity only", 0.33, 0.45, true, true, 0, Motor, true},
		{"good, on its own", 0.1, 0.45, true, false, 0, NoFault, false},
		{"good, a stiff door", 0.2, 0.45, false, false, 0, NoFault, false},
		{"drags with its door", 0.32, 0.45, false, false, 0, CannotTell, true},
		{"a supply set to 0.3 A", 0.2, 0.3, true, true, 0, NoFault, false},
		{"a supply that gives more at the start", 0.2, 0.35, true, true, 0.6, NoFault, false},
	} {
		a := newAmmeter(8)
		a.signOnly = c.sign
		a.running, a.held = c.running, c.held
		if c.starts > 0 {
			a.held = c.starts
			a.amps = func(d *draft) float64 {
				if d.x == a.before.x {
					return c.held
				}
				return math.NaN()
			}
		}
		a.sweeps(3)
		o := Defaults()
		o.Free = c.free
		got, err := Examine(a.trace(), o)
		if err != nil {
			t.Fatal(err)
		}
		v := Judge(got).Verdict
		if f := finding(got, HeavyDrag); (f != nil) != c.found || v.Conclusion != c.want {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// Held, a motor draws its volts over the resistance of its circuit. Where it draws less
// from one moment on and runs at the same current, there is more of it; where both fall it
// is the instrument. (Drawn.)
func TestResistanceFromOneMomentOn(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name          string
		held, running float64 // from then on, of what it was
		found         bool
	}{
		{"a contact", 0.5, 1, true},
		{"a clamp that was set to another range", 0.5, 0.5, false},
		{"warm copper", 0.85, 1, false},
	} {
		a := newAmmeter(9)
		a.sweeps(2)
		a.held, a.running = c.held*a.held, c.running*a.running
		if c.found {
			a.rate *= 0.75
		}
		a.sweeps(2)
		got, err := Examine(a.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		v := Judge(got).Verdict
		if f := finding(got, FeedResists); (f != nil) != c.found || c.found && v.Conclusion != WiringControl {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// A motor pressed against its stop draws no less than when it is held, unless its circuit
// opens. (Drawn.)
func TestOpensWhileHeld(t *testing.T) {
	t.Parallel()
	gone := func(from ...Interval) func(t float64) bool {
		return func(t float64) bool {
			for _, i := range from {
				if i.Has(t) {
					return true
				}
			}
			return false
		}
	}
	for _, c := range []struct {
		name  string
		sign  bool
		open  func(t float64) bool
		found bool
		want  func(v Verdict) bool
	}{
		{"opens at both stops, with the volts at the leads", false, gone(Interval{6.2, 6.5}, Interval{12.7, 12.9}), true, betweenMotorAndWiring},
		{"opens at both stops, polarity only", true, gone(Interval{6.2, 6.6}, Interval{12.7, 12.9}), true, func(v Verdict) bool { return v.Conclusion == WiringControl }},
		{"a driver that protects itself by its clock", true, gone(Interval{6.2, 6.4}, Interval{12.7, 12.9}), false, func(v Verdict) bool { return v.Conclusion != WiringControl }},
	} {
		a := newAmmeter(10)
		a.signOnly = c.sign
		a.amps = func(d *draft) float64 {
			if c.open(d.t) {
				return 0
			}
			return math.NaN()
		}
		a.sweeps(3)
		got, err := Examine(a.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		v := Judge(got).Verdict
		if f := finding(got, Broken); (f != nil) != c.found || !c.want(v) {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// A polarity that is logged for longer than it was driven is no circuit that opens.
// (Drawn.)
func TestPolarityLoggedLongerThanDriven(t *testing.T) {
	t.Parallel()
	a := newAmmeter(11)
	a.signOnly = true
	a.sweeps(2)
	var ends []float64
	for range 3 {
		ends = append(ends, a.t+2, a.t+5)
		over := func(t float64) bool {
			for _, e := range ends {
				if t > e-0.12 && t < e {
					return true
				}
			}
			return false
		}
		a.block = func(d *draft, dir float64) bool { return over(d.t) }
		a.amps = func(d *draft) float64 {
			if over(d.t) {
				return 0
			}
			return math.NaN()
		}
		a.run(12, 2).run(0, 1).run(-12, 2).run(0, 1)
	}
	got, err := Examine(a.trace(), Defaults())
	if err != nil {
		t.Fatal(err)
	}
	if v := Judge(got).Verdict; v.Conclusion != NoFault || finding(got, Broken) != nil {
		t.Error(say(got, v))
	}
}

// A slow band of a capture that has the drive's direction alone: the control may have
// turned it down there, but a door that binds loads the motor all the same. (Drawn.)
func TestCurrentOfASlowBandVoltsUnknown(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		amps float64 // in the band
		door bool
	}{
		{"door binds", 0.35, true},
		{"nothing loads it", 0.12, false},
		{"the drive was turned down", 0.10, false},
	} {
		for seed := range uint64(3) {
			a := newAmmeter(seed)
			a.signOnly = true
			bandAt(a.draft, 2, 2.7)
			a.amps = func(d *draft) float64 {
				if d.x > 2 && d.x < 2.7 {
					return c.amps
				}
				return math.NaN()
			}
			a.sweeps(3)
			got, err := Examine(a.trace(), Defaults())
			if err != nil {
				t.Fatal(err)
			}
			if v := Judge(got).Verdict; finding(got, SlowZone) == nil || (v.Conclusion == DoorMechanism) != c.door || !c.door && v.Chances[0].Fault == DoorMechanism {
				t.Errorf("%s: %s", c.name, say(got, v))
			}
		}
	}
}
