package analyze

import (
	"math"
	"testing"
)

// fedMotor draws the motor of which feedUnderWay gives the equations, with its own
// resistance R and a load that is a current either way, from a feed of Vs = 12 V:
//
//	under way  V = Vs - I*Rs,  n ~ V - I*R
//	at a stop  V = Vs * R/(R+Rs), with resistance in the feed
//	           V = R * limit, from a bench supply at its current limit
//
// All volts, speeds and stalls that are drawn come from these.
func fedMotor(seed uint64, up, down, feed, limit float64) *draft {
	return fedSweeps(4, seed, up, down, feed, limit)
}

// fedSweeps draws so many sweeps each way of it.
func fedSweeps(sweeps int, seed uint64, up, down, feed, limit float64) *draft {
	const vs, r = 12.0, 24.0 // V, ohm: half an ampere against a stop
	d := newDraft(seed)
	d.dt = 0.01
	stop := vs * r / (r + feed)
	if limit > 0 {
		stop = r * limit
	}
	load := func(dir float64) float64 {
		if dir > 0 {
			return up
		}
		return down
	}
	under := func(dir float64) float64 { return vs - load(dir)*feed }
	d.speed = func(d *draft, dir float64) float64 {
		return (under(dir) - load(dir)*r) / under(dir) // of what the volts alone would give
	}
	d.run(0, 1)
	for range sweeps {
		for _, dir := range []float64{1, -1} {
			n := under(dir) - load(dir)*r
			d.run(dir*under(dir), (d.hi-d.lo)/(d.rate*n/12)).run(dir*stop, 1.5).run(0, 0.7)
		}
	}
	return d
}

// At the stops a resistance in the feed and a bench supply's current limit look alike.
// Under way the door's weight tells them apart: the first gives way in proportion to the
// current, the second holds its volts. (Drawn from the motor's equations.)
func TestFeedUnderWay(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		up, down float64 // A
		feed     float64 // ohm
		limit    float64 // A, 0 for none
		says     string
		want     Fault
	}{
		{"8 ohm in the feed", 0.12, 0.06, 8, 0, givesUnderWay, WiringControl},
		{"16 ohm in the feed", 0.09, 0.05, 16, 0, givesUnderWay, WiringControl},
		{"a limit of 0.3 A", 0.12, 0.06, 0, 0.3, holdsUnderWay, NoFault},
		{"a limit of 0.38 A, the weight the other way", 0.06, 0.12, 0, 0.38, holdsUnderWay, NoFault},
		// Loaded alike, both give the motor the same volts either way.
		{"16 ohm, loaded alike", 0.09, 0.09, 16, 0, "", CannotTell},
		{"a limit of 0.25 A, loaded alike", 0.09, 0.09, 0, 0.25, "", CannotTell},
	} {
		for seed := range uint64(2) {
			got, v := look(t, fedMotor(seed, c.up, c.down, c.feed, c.limit))
			f, says := finding(got, SupplySag), ""
			for _, how := range []MeasureName{givesUnderWay, holdsUnderWay} {
				if f != nil && f.has(how) {
					says += string(how)
				}
			}
			if f == nil || says != c.says || v.Conclusion != c.want {
				t.Errorf("seed %d, %s: says %q, %s", seed, c.name, says, say(got, v))
			}
		}
	}
}

// One stand each way is few; with the volts going with the load under way it is enough.
func TestFeedOfOneStandEachWay(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name        string
		feed, limit float64
		want        Fault
	}{
		{"16 ohm in the feed", 16, 0, WiringControl},
		{"a limit of 0.3 A", 0, 0.3, NoFault},
	} {
		if got, v := look(t, fedSweeps(1, 3, 0.13, 0.06, c.feed, c.limit)); v.Conclusion != c.want {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// intoSprings draws sweeps whose stops give way slowly, after so much of the way: in two seconds the load takes all
// of the speed, in steps of an eighth, and leaves the volts that volts gives for the part
// of the speed that is left.
func intoSprings(seed uint64, way float64, volts func(left float64) float64, left func(part float64) float64) *draft {
	d := newDraft(seed)
	d.dt = 0.01
	now := 1.0
	d.speed = func(d *draft, dir float64) float64 { return now * volts(1) / volts(now) }
	d.run(0, 1)
	for range 4 {
		for _, dir := range []float64{1, -1} {
			now = 1
			d.run(dir*volts(1), way*(d.hi-d.lo)/(d.rate*volts(1)/12))
			for part := 1.0; part > 0.1; part -= 0.125 {
				now = left(part)
				d.run(dir*volts(part), 0.25)
			}
			now = left(0)
			d.run(dir*volts(0), 4).run(0, 0.7)
		}
	}
	return d
}

// However slowly a stop takes the speed, resistance in the feed takes volts in proportion
// to it. A control that turns its drive down leaves the shaft running on fewer volts.
func TestFeedIntoSpringyStops(t *testing.T) {
	t.Parallel()
	all := func(part float64) float64 { return part }
	most := func(part float64) float64 { return 0.65 + 0.35*part }
	falls := func(by float64) func(float64) float64 {
		return func(left float64) float64 { return 12 * (1 - by*(1-left)) }
	}
	for _, c := range []struct {
		name  string
		way   float64
		volts func(float64) float64
		left  func(float64) float64
		want  bool
	}{
		{"a seventh in the feed", 0.8, falls(0.145), all, true},
		{"a fifth in the feed", 0.8, falls(0.2), all, true},
		{"a sound feed", 0.8, falls(0.08), all, false},
		{"turned down", 0.5, falls(0.2), most, false},
	} {
		for seed := range uint64(2) {
			if got, v := look(t, intoSprings(seed, c.way, c.volts, c.left)); (finding(got, SupplySag) != nil) != c.want {
				t.Errorf("seed %d, %s: %s", seed, c.name, say(got, v))
			}
		}
	}
}

// humped draws sweeps over a hump that holds the shaft back on its way up and helps it
// over, from a feed of 12 V: what loads it and what the motor gets at each place are those
// of the motor's equations in [fedMotor], with so much resistance in the feed; stop is what
// it gets at the stops, in V, 0 for what the feed leaves.
func humped(seed uint64, feed, stop float64) *draft {
	const vs, r = 12.0, 24.0 // V, ohm
	d := newDraft(seed)
	d.dt = 0.01
	if stop == 0 {
		stop = vs * r / (r + feed)
	}
	load := func(dir float64) float64 { return 0.1 + 0.07*dir*math.Sin((d.x-1.5)*math.Pi)*inRange(d.x, 1.5, 3.5) }
	d.speed = func(d *draft, dir float64) float64 { return (vs - load(dir)*(feed+r)) / vs }
	d.run(0, 1)
	for range 4 {
		for _, dir := range []float64{1, -1} {
			for d.x*dir < map[float64]float64{1: d.hi, -1: -d.lo}[dir] {
				under := vs - load(dir)*feed
				d.run(dir*vs, d.dt)
				d.drive[len(d.drive)-1] += dir * (under - vs)
			}
			d.run(dir*stop, 1.5).run(0, 0.7)
		}
	}
	return d
}

// inRange is 1 within and 0 without.
func inRange(x, lo, hi float64) float64 {
	if x >= lo && x <= hi {
		return 1
	}
	return 0
}

// Over a hump the volts of a feed with resistance follow the load, and the line of both
// leads to the volts at the stop. A feed that holds over the hump does not, whatever the
// motor gets at the stops, and what a sound harness takes is no fault.
func TestFeedOverHump(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name       string
		feed, stop float64
		lost       bool
	}{
		{"12 ohm in the feed", 12, 0, true},
		{"20 ohm in the feed", 20, 0, true},
		{"2 ohm, a sound harness", 2, 0, false},
		{"a control that turns down at the stops", 0, 8, false},
		{"12 ohm on the way and the full volts at the stops: no feed", 12, 11.5, false},
	} {
		for seed := range uint64(3) {
			got, v := look(t, humped(seed, c.feed, c.stop))
			if f := formed(got, SupplySag, sagByLoads); (f != nil) != c.lost || (v.Conclusion == WiringControl) != c.lost {
				t.Errorf("seed %d, %s: %s", seed, c.name, say(got, v))
			}
		}
	}
}
