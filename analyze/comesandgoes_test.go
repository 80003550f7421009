package analyze

import (
	"math"
	"testing"
)

// byTurns draws sweeps at 12 V, and at few volts in spells of time, of pulses or not. Where
// own, the control chooses them: before each stop, or for its first half second.
func byTurns(few float64, spells []Interval, own string, pulsed bool) *draft {
	d := newDraft(9)
	d.dt = 0.004
	d.run(0, 1)
	for k := range 6 {
		dir := 1 - 2*float64(k%2)
		from := d.t
		for (dir > 0 && d.x < d.hi) || (dir < 0 && d.x > d.lo) {
			volts, left := 12.0, d.hi-d.x
			if dir < 0 {
				left = d.x - d.lo
			}
			for _, s := range spells {
				if s.Has(d.t) {
					volts = few
				}
			}
			switch {
			case own == "before stops" && left < 1.2, own == "at starts" && d.t-from < 0.7:
				volts = few
			case pulsed && left < 1:
				volts *= math.Mod(math.Floor(d.t/d.dt), 2)
			}
			d.run(dir*volts, d.dt)
		}
		d.run(dir*12, 0.4).run(0, 0.6)
	}
	return d
}

// sagsUnderWay draws sweeps in which the volts fall for a while, each time to another level:
// at one place of each way, or at another in each.
func sagsUnderWay(places []float64) *draft {
	levels := []float64{5.5, 8.4, 6.8, 7.6, 6.1, 8}
	d := newDraft(9)
	d.dt = 0.004
	d.run(0, 1)
	for k := range 6 {
		dir := 1 - 2*float64(k%2)
		at := places[k%len(places)]
		for (dir > 0 && d.x < d.hi) || (dir < 0 && d.x > d.lo) {
			volts := 12.0
			if d.x > at && d.x < at+0.6 {
				volts = levels[k]
			}
			d.run(dir*volts, d.dt)
		}
		d.run(dir*12, 0.4).run(0, 0.6)
	}
	return d
}

// A loose contact takes now more and now less; what takes the volts at one place in each
// pass is the shaft's load.
func TestVoltsFallToAnyLevel(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		places []float64
		sag    bool
	}{
		{"at any place", []float64{1.2, 2.9, 2.1, 1.5, 3.1, 2.4}, true},
		{"at one place", []float64{2.2}, false},
	} {
		got, v := look(t, sagsUnderWay(c.places))
		if (formed(got, SupplySag, comesAndGoes) != nil) != c.sag || c.sag && v.Conclusion != WiringControl {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// Volts so few that the shaft stands amid its way are no load of its own where it is held at
// the stops with all of them; where it is not, what holds it takes them. (Drawn.)
func TestVoltsTooFewToMove(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		stops float64 // V
		speed float64 // at few volts, of that at all of them
		from  []float64
		sag   bool
	}{
		{"held at full volts", 12, 0, []float64{1.2, 3.1, 2, 2.6}, true},
		{"held at few as well", 4, 0, []float64{1.2, 3.1, 2, 2.6}, false},
		{"as fast as else, by a control that holds its speed", 12, 1, []float64{1.2, 3.1, 2, 2.6}, false},
		{"twice", 12, 0, []float64{1.2, 3.1}, false},
	} {
		d := newDraft(9)
		d.dt = 0.01
		d.speed = func(d *draft, _ float64) float64 {
			if d.volts != 0 && math.Abs(d.volts) < 5 {
				return c.speed * 12 / math.Abs(d.volts)
			}
			return 1
		}
		d.run(0, 1)
		for k := range 6 {
			dir := 1 - 2*float64(k%2)
			stood := k >= len(c.from)
			for (dir > 0 && d.x < d.hi) || (dir < 0 && d.x > d.lo) {
				if !stood && (d.x-c.from[k])*dir > 0 {
					stood = true
					d.run(dir*4, 0.82)
				}
				d.run(dir*12, d.dt)
			}
			d.run(dir*c.stops, 0.7).run(0, 0.6)
		}
		got, v := lookAt(t, d.trace())
		if (formed(got, SupplySag, comesAndGoes) != nil) != c.sag || c.sag && v.Conclusion != WiringControl {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// Volts that fall by half for seconds and come back on the way, whatever the shaft does.
func TestVoltsComeAndGo(t *testing.T) {
	t.Parallel()
	loose := []Interval{{3, 4.2}, {8, 11.5}, {17, 18.1}, {26, 29}}
	for _, c := range []struct {
		name   string
		few    float64
		spells []Interval
		own    string
		pulsed bool
		want   Fault
	}{
		{"by half", 6.3, loose, "", false, WiringControl},
		{"by half, of pulses", 6.3, loose, "", true, WiringControl},
		{"an engine is cranked", 6.3, loose[:1], "", false, NoFault},
		{"another load by a sixth", 10, loose, "", false, NoFault},
		{"slowed down before its stops", 6.3, nil, "before stops", false, NoFault},
		{"started gently", 6.3, nil, "at starts", false, NoFault},
	} {
		got, v := look(t, byTurns(c.few, c.spells, c.own, c.pulsed))
		if v.Conclusion != c.want || (formed(got, SupplySag, comesAndGoes) != nil) != (c.want == WiringControl) {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// A control that eases off as it nears its targets, and is given the next one before it got
// there: the volts go down by and by and come back at once, under one drive. A contact's go
// down at once. (Drawn.)
func TestControlThatEasesOff(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		near float64 // V from the target at which it eases off
		sag  bool
	}{
		{"eases off", 0.8, false},
		{"breaks down", 0, true},
	} {
		d := newDraft(9)
		d.dt = 0.004
		d.run(0, 1)
		for k := range 8 {
			dir := 1 - 2*float64(k%2)
			for _, target := range []float64{2.1 + 0.1*float64(k), 2.9 + dir*1.2} {
				if dir < 0 {
					target = 5 - target
				}
				from := d.t
				for left := dir * (target - d.x); left > 0.05 && d.t-from < 6; left = dir * (target - d.x) {
					volts := 12.0
					switch {
					case left < c.near:
						volts *= math.Max(0.45, left/c.near)
					case c.near == 0 && left < 0.6:
						volts *= 0.55
					}
					d.run(dir*volts, d.dt)
				}
			}
			d.run(0, 0.6)
		}
		got, v := look(t, d)
		if (formed(got, SupplySag, comesAndGoes) != nil) != c.sag {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// Each drive after the first two is chopped to one level, which the limit of a spell happens
// to meet: what comes and goes there is noise. (Drawn.)
func TestOneLevelDoesNotComeAndGo(t *testing.T) {
	t.Parallel()
	d := newDraft(9)
	d.dt = 0.01
	d.run(0, 1).run(12, 7).run(0, 1).run(-12, 7)
	for k := range 4 {
		volts := 12 * (1 - spellFall) * float64(1-2*(k%2))
		d.run(0, 1)
		for i := range 16 {
			d.run(volts+0.1*math.Sin(float64(5*i)), 0.4)
		}
	}
	if got, v := look(t, d.run(0, 1)); formed(got, SupplySag, comesAndGoes) != nil {
		t.Errorf("%s", say(got, v))
	}
}
