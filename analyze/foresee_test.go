package analyze

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// settings are instruments and actuators from poor to fine.
func settings() []Setup {
	base := Setup{Reference: 5, Span: 4, Sweeps: 3, Hold: 1, Bits: 12, Range: 5, Noise: 0.002}
	var out []Setup
	for _, c := range []struct {
		rate, transit float64
		bits          int
		volts         float64
	}{{20, 5, 12, 5}, {20, 12, 10, 10}, {50, 5, 10, 10}, {100, 5, 8, 10}, {100, 5, 12, 5}, {100, 12, 10, 6}, {250, 5, 12, 5}, {1000, 12, 8, 6}} {
		s := base
		s.Rate, s.Transit, s.Bits, s.Range = c.rate, c.transit, c.bits, c.volts
		out = append(out, s)
	}
	return out
}

// drawn is a draft of the planned capture, before it is driven.
func (s *Setup) drawn(seed uint64) *draft {
	d := newDraft(seed)
	d.dt, d.noise, d.quantum, d.rate = 1/s.Rate, s.Noise, s.Range/math.Exp2(float64(s.Bits)), s.Span/s.Transit
	return d
}

// What a plan promises is found, at a third more than promised; at a third of
// it, it is not, or not every time. Drawn from straight lines, so neither the
// rig nor the finders made it.
func TestForeseeHoldsItsPromises(t *testing.T) {
	t.Parallel()
	spot := func(held bool) func(d *draft, at, width float64) {
		return func(d *draft, at, width float64) {
			last := d.x
			d.read = func(d *draft) float64 {
				if math.Abs(d.x-at) >= width/2 {
					last = d.x
					return d.x
				}
				if held {
					return last
				}
				return 0
			}
		}
	}
	for _, c := range []struct {
		what  string
		kinds []Kind  // any of them tells; the first is its own
		below float64 // of the promise, where it must not be found every time
		put   func(d *draft, at, size float64)
	}{
		{"lost contact", []Kind{DeadSpot}, 0.05, spot(false)},
		{"held reading", []Kind{DeadSpot, NoisyTrack, StickSlip}, 0.2, spot(true)},
		{"noise of the track", []Kind{NoisyTrack, DeadSpot}, 0.33, func(d *draft, at, size float64) {
			d.read = func(d *draft) float64 {
				if math.Abs(d.x-at) < 0.16 && d.volts != 0 {
					return d.x + size*d.rng.NormFloat64()
				}
				return d.x
			}
		}},
		{"slow place", []Kind{SlowZone}, 0.33, func(d *draft, at, size float64) {
			d.speed = func(d *draft, _ float64) float64 {
				if math.Abs(d.x-at) < size/2 {
					return 0.6
				}
				return 1
			}
		}},
		{"drift", []Kind{SpanDrift}, 0.33, func(d *draft, _, size float64) {
			visits, up := 0.0, false
			d.read = func(d *draft) float64 {
				if up && d.volts < 0 {
					visits++
				}
				if d.volts != 0 {
					up = d.volts > 0
				}
				return d.x - size*visits*(d.x-d.lo)/(d.hi-d.lo)
			}
		}},
	} {
		t.Run(c.what, func(t *testing.T) {
			t.Parallel()
			for _, s := range settings() {
				sight, ok := Foresee(s, Defaults().Limits).Sight(c.what)
				if !ok {
					t.Errorf("%+v promises nothing", s)
					continue
				}
				found := func(size float64, kinds ...Kind) (n int, said []string) {
					for seed := range uint64(4) {
						d := s.drawn(seed)
						c.put(d, 1.30217+0.41391*float64(seed), size) // between the rows
						got, v := look(t, d.sweeps(s.Sweeps))
						for _, k := range kinds {
							if showsKind(got, k) {
								n++
								break
							}
						}
						said = append(said, say(got, v))
					}
					return n, said
				}
				if n, said := found(1.33*sight.Least, c.kinds...); n < 4 {
					t.Errorf("%v rows a second, %d bits over %v V, %v s: %s promised from %.4f on, seen %d of 4 at a third more: %s", s.Rate, s.Bits, s.Range, s.Transit, c.what, sight.Least, n, strings.Join(said, " | "))
				}
				if n, said := found(c.below*sight.Least, c.kinds[0]); n == 4 {
					t.Errorf("%v rows a second, %d bits over %v V, %v s: %s promised from %.4f on, seen %d of 4 far below: %s", s.Rate, s.Bits, s.Range, s.Transit, c.what, sight.Least, n, strings.Join(said, " | "))
				}
			}
		})
	}
}

// More rows, more bits, a narrower range, a slower sweep: never less is seen.
func TestForeseeIsMonotone(t *testing.T) {
	t.Parallel()
	lim := Defaults().Limits
	for _, s := range settings() {
		was := Foresee(s, lim)
		for name, change := range map[string]func(*Setup){
			"rate": func(s *Setup) { s.Rate *= 3 }, "bits": func(s *Setup) { s.Bits += 2 },
			"range": func(s *Setup) { s.Range = 5 }, "sweeps": func(s *Setup) { s.Sweeps += 3 },
		} {
			to := s
			change(&to)
			is := Foresee(to, lim)
			for _, a := range was.Sights {
				b, ok := is.Sight(a.What)
				worse := b.Least > 1.01*a.Least // noise spreads over fine steps
				if a.What == "hunting" {
					worse = b.Least < a.Least
				}
				if !ok || worse {
					t.Errorf("%+v with more %s: %s %v after %v", s, name, a.What, b.Least, a.Least)
				}
			}
		}
	}
}

// Numbers by hand: 100 rows a second and 5 s are 500 rows a travel, so 0.2 % a
// row; 8 bits over 10 V are 39.06 mV, 0.98 % of 4 V; four rows a cycle are 25
// Hz, more than a gear motor does.
func TestForeseeByHand(t *testing.T) {
	t.Parallel()
	p := Foresee(Setup{Rate: 100, Bits: 8, Range: 10, Reference: 5, Span: 4, Transit: 5, Sweeps: 3, Hold: 1}, Defaults().Limits)
	for what, want := range map[string]float64{"lost contact": 0.008, "step of the reading": 0.0390625, "hunting": 10, "loss of signal": 0.01} {
		if got, ok := p.Sight(what); !ok || math.Abs(got.Least-want) > 1e-9 {
			t.Errorf("%s from %v, expected %v", what, got.Least, want)
		}
	}
	// 2 s before and after, 6 times 5.5 + 1 + 0.5 s.
	if p.Duration != 46 || p.Rows != 4600 || math.Abs(p.Travel-500) > 1e-9 {
		t.Errorf("%v s, %v rows, %v a travel", p.Duration, p.Rows, p.Travel)
	}
	// Two of forty stretches of the travel, where the instrument is fine enough.
	if got, _ := Foresee(situation().Setup, Defaults().Limits).Sight("slow place"); math.Abs(got.Least-0.2) > 1e-9 {
		t.Errorf("slow place from %v", got.Least)
	}
	// Beyond 2 kHz rows are averaged to a millisecond.
	if p := Foresee(Setup{Rate: 1e6, Bits: 8, Range: 10, Reference: 5, Span: 4, Transit: 5, Sweeps: 1, Hold: 1}, Defaults().Limits); p.Step != 0.001 {
		t.Errorf("step %v", p.Step)
	} else if _, ok := p.Sight("drift"); ok {
		t.Error("one sweep shows no drift")
	}
}

func situation() Situation {
	return Situation{Setup: Setup{Rate: 100, Bits: 12, Range: 6, Reference: 5, Span: 4, Transit: 5, Sweeps: 3, Hold: 1}, Channels: 4}
}

// Which signal comes first depends on the complaint and on what is at hand.
func TestPlanChannels(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		symptom      string
		channels     int
		probe, clamp bool
		want         string
	}{
		{"", 3, false, false, "lead-a lead-b feedback"},
		{"", 4, false, false, "lead-a lead-b feedback reference"},
		{"", 4, false, true, "lead-a lead-b feedback current"},
		{"", 2, true, true, "drive feedback"},
		{"hunts at one end", 5, false, true, "lead-a lead-b feedback current reference"},
		{"works sometimes", 4, false, true, "lead-a lead-b feedback reference"},
		{"works sometimes", 4, true, true, "drive feedback reference current"},
		{"slow", 4, true, false, "drive feedback supply reference"},
		{"nothing moves", 8, false, true, "lead-a lead-b feedback current supply reference"},
	} {
		s := situation()
		s.Symptom, s.Channels, s.Probe, s.Clamp = c.symptom, c.channels, c.probe, c.clamp
		p, err := PlanCapture(s, Defaults().Limits)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, x := range p.Channels {
			got = append(got, x.Flag)
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%q with %d channels: %q, expected %q", c.symptom, c.channels, got, c.want)
		}
		if (len(p.Looks) == 0) != (c.symptom == "") {
			t.Errorf("%q: %q", c.symptom, p.Looks)
		}
		if !strings.Contains(strings.Join(p.Cautions, " "), "ground clip") {
			t.Errorf("no caution about the leads: %q", p.Cautions)
		}
	}
}

// A record too short for the sweeps is taken more slowly, never cut off.
func TestPlanMemory(t *testing.T) {
	t.Parallel()
	s := situation()
	s.Memory = 1000
	p, err := PlanCapture(s, Defaults().Limits)
	if err != nil || p.Situation.Rate != 21 || p.Prospect.Rows > s.Memory || !strings.Contains(p.Settings[0], "1000 rows hold no more of 46 s") {
		t.Errorf("%v: %v rows a second, %+v", err, p.Situation.Rate, p.Settings)
	}
}

// What another setting shows is told only where it shows more.
func TestPlanRaises(t *testing.T) {
	t.Parallel()
	s := situation()
	s.Rate, s.Bits, s.Range = 20, 8, 20
	p, err := PlanCapture(s, Defaults().Limits)
	if err != nil || len(p.Raise) != 5 || !strings.HasPrefix(p.Raise[0].Change, "at 100 rows a second instead of 20") {
		t.Errorf("%v %+v", err, p.Raise)
	}
	s.Rate, s.Bits, s.Range, s.Sweeps = 1000, 16, 5, 6
	if p, err = PlanCapture(s, Defaults().Limits); err != nil || len(p.Raise) != 0 {
		t.Errorf("%v %+v", err, p.Raise)
	}
}

// What cannot decide is refused, with the setting and what to do.
func TestPlanRefuses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		change  func(*Situation)
		setting string
		want    string
	}{
		{func(s *Situation) { s.Rate = math.NaN() }, "rate", "expected rows a second"},
		{func(s *Situation) { s.Rate = 0 }, "rate", "expected rows a second"},
		{func(s *Situation) { s.Rate = 1 }, "rate", "5 rows for one travel of 5 s"},
		{func(s *Situation) { s.Bits = 2 }, "bits", "expected the bits"},
		{func(s *Situation) { s.Range = 4 }, "range", "choose 5 or the next wider one"},
		{func(s *Situation) { s.Range = math.Inf(1) }, "range", "expected all volts"},
		{func(s *Situation) { s.Transit = 0.2 }, "transit", "time one with a watch"},
		{func(s *Situation) { s.Reference = -5 }, "reference-volts", "expected the sensor's supply"},
		{func(s *Situation) { s.Span = 6 }, "span", "at most the sensor's supply"},
		{func(s *Situation) { s.Noise = -1 }, "noise", "expected volts rms"},
		{func(s *Situation) { s.Sweeps = 0 }, "sweeps", "expected full sweeps"},
		{func(s *Situation) { s.Hold = math.NaN() }, "stop-seconds", "expected the seconds"},
		{func(s *Situation) { s.Memory = -1 }, "memory", "expected the rows"},
		{func(s *Situation) { s.Memory = 50 }, "memory", "the sweeps take 46 s"},
		{func(s *Situation) { s.Channels = 1 }, "channels", "one channel at least"},
		{func(s *Situation) { s.Channels, s.Probe = 1, true }, "channels", "2 or more"},
		{func(s *Situation) { s.Coupled, s.Free = true, true }, "free", "exclude each other"},
		{func(s *Situation) { s.Symptom = "smells" }, "symptom", "hunts at one end; no air at one outlet"},
	} {
		s := situation()
		c.change(&s)
		_, err := PlanCapture(s, Defaults().Limits)
		var pe *PlanError
		if !errors.As(err, &pe) || pe.Setting != c.setting || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "--"+c.setting+" ") {
			t.Errorf("%v, expected --%s ... %q", err, c.setting, c.want)
		}
	}
}
