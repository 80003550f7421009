package analyze

import (
	"fmt"
	"math"
	"testing"
)

// look examines and judges a draft.
func look(t *testing.T, d *draft) (*Capture, Verdict) {
	t.Helper()
	c, err := Examine(d.trace(), Defaults())
	if err != nil {
		t.Fatal(err)
	}
	return c, Judge(c).Verdict
}

func say(c *Capture, v Verdict) string {
	s := fmt.Sprintf("%s %.2f | moves %d sweeps %d stops %d span %.2f..%.2f noise %.4f seen %.2f\n", v.Conclusion, v.Probability, len(c.Moves), len(c.Sweeps), len(c.Stops), c.Span.From, c.Span.To, c.Noise, c.seen)
	for _, f := range c.Findings {
		s += fmt.Sprintf("  %s [%.2f] %s\n", f.Kind, f.Strength, f.Title)
	}
	for _, n := range c.Notes {
		s += "  note: " + n + "\n"
	}
	return s
}

// cases are drafts of clear faults, one mechanism each.
func cases() map[string]struct {
	make func(seed uint64) *draft
	want Fault
	kind Kind
} {
	type entry = struct {
		make func(seed uint64) *draft
		want Fault
		kind Kind
	}
	return map[string]entry{
		"healthy": {func(s uint64) *draft { return newDraft(s).sweeps(3) }, NoFault, ""},
		"healthy slow logger": {func(s uint64) *draft {
			d := newDraft(s)
			d.dt, d.quantum = 0.05, 0.02
			return d.sweeps(3)
		}, NoFault, ""},
		"healthy noisy": {func(s uint64) *draft {
			d := newDraft(s)
			d.dt, d.noise = 0.001, 0.04
			return d.sweeps(3)
		}, NoFault, ""},
		"healthy door weight": {func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 { return 1 - 0.15*dir + 0.1*math.Sin(4*d.x) }
			return d.sweeps(3)
		}, NoFault, ""},
		"healthy targets": {func(s uint64) *draft {
			d := newDraft(s)
			d.sweeps(1)
			for _, x := range []float64{2, 3.5, 1, 4, 2.5, 3} {
				dir := math.Copysign(12, x-d.x)
				d.run(dir, math.Abs(x-d.x)/d.rate).run(0, 1.5)
			}
			return d
		}, NoFault, ""},
		"dead spot held": {func(s uint64) *draft {
			d := newDraft(s)
			held := 2.0
			d.read = func(d *draft) float64 {
				if d.x > 2.2 && d.x < 2.6 {
					return held
				}
				held = d.x
				return d.x
			}
			return d.sweeps(3)
		}, FeedbackSensor, DeadSpot},
		"dead spot open low": {func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if d.x > 3.1 && d.x < 3.25 {
					return 0.01
				}
				return d.x
			}
			return d.sweeps(3)
		}, FeedbackSensor, DeadSpot},
		"dead spot slow logger": {func(s uint64) *draft {
			d := newDraft(s)
			d.dt, d.quantum = 0.05, 0.01
			d.read = func(d *draft) float64 {
				if d.x > 3.1 && d.x < 3.4 {
					return 4.98
				}
				return d.x
			}
			return d.sweeps(3)
		}, FeedbackSensor, DeadSpot},
		"noisy patch": {func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if d.x > 1.5 && d.x < 1.9 {
					return d.x + 0.08*d.rng.NormFloat64()
				}
				return d.x
			}
			return d.sweeps(3)
		}, FeedbackSensor, NoisyTrack},
		"end loss": {func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 { return math.Min(d.x, 4.0) }
			return d.sweeps(3)
		}, FeedbackSensor, EndLoss},
		"hunting high": {func(s uint64) *draft {
			d := newDraft(s)
			d.sweeps(1)
			d.run(0, 2).run(12, 4.9)
			for range 10 {
				d.run(12, 0.25).run(-12, 0.25)
			}
			return d
		}, FeedbackSensor, Hunting},
		"span drift high end": {func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 { return 0.5 + (d.x-0.5)*(1-0.002*d.t) }
			return d.sweeps(6)
		}, FeedbackSensor, SpanDrift},
		"jam": {func(s uint64) *draft {
			d := newDraft(s)
			d.sweeps(1)
			d.block = func(d *draft, dir float64) bool { return dir > 0 && d.x >= 3.1 }
			return d.sweeps(3)
		}, DoorMechanism, Jam},
		"binding": {func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 {
				if d.x > 2 && d.x < 2.6 {
					return 0.35
				}
				return 1
			}
			full := (d.hi-d.lo)/d.rate + 3
			for range 3 {
				d.run(12, full).run(0, 0.5).run(-12, full).run(0, 0.5)
			}
			return d
		}, DoorMechanism, SlowZone},
		"heating": {func(s uint64) *draft {
			d := newDraft(s)
			d.speed = func(d *draft, dir float64) float64 { return 1 / (1 + 0.006*d.t) }
			for range 5 {
				d.run(12, 8).run(0, 0.5).run(-12, 8).run(0, 0.5)
			}
			return d
		}, Motor, Heating},
		"gear slip": {func(s uint64) *draft {
			d := newDraft(s)
			last := 0.0
			d.speed = func(d *draft, dir float64) float64 {
				if dir > 0 && d.x > 3.0 && d.x < 4.2 && d.t-last > 0.4 {
					last = d.t
					d.x -= 0.2
				}
				return 1
			}
			for range 3 {
				d.run(12, 9).run(0, 0.5).run(-12, 6).run(0, 0.5)
			}
			return d
		}, Motor, GearSlip},
		"scattered stands": {func(s uint64) *draft {
			d := newDraft(s)
			until := 0.0
			d.block = func(d *draft, dir float64) bool {
				if d.rng.Float64() < 0.3*d.dt {
					until = d.t + 0.3 + 0.5*d.rng.Float64()
				}
				return d.t < until
			}
			for range 4 {
				d.run(12, 8).run(0, 0.5).run(-12, 8).run(0, 0.5)
			}
			return d
		}, Motor, Pauses},
		"drop-outs": {func(s uint64) *draft {
			d := newDraft(s)
			until := 0.0
			d.read = func(d *draft) float64 {
				if d.rng.Float64() < 0.25*d.dt {
					until = d.t + 0.02 + 0.1*d.rng.Float64()
				}
				if d.t < until {
					return 0.02
				}
				return d.x
			}
			return d.sweeps(4).run(0, 5)
		}, WiringControl, Dropouts},
		"stuck": {func(s uint64) *draft {
			d := newDraft(s)
			d.block = func(*draft, float64) bool { return true }
			d.x = 2.1
			return d.sweeps(2)
		}, CannotTell, NoMotion},
		"never driven": {func(s uint64) *draft { return newDraft(s).run(0, 10) }, CannotTell, NoDrive},
		"tiny move": {func(s uint64) *draft {
			d := newDraft(s)
			return d.run(0, 1).run(12, 0.4).run(0, 1)
		}, CannotTell, ""},
		"one polarity": {func(s uint64) *draft {
			d := newDraft(s)
			d.run(0, 1).run(12, 6)
			for range 5 {
				d.run(0, 1).run(12, 1.5)
			}
			return d
		}, WiringControl, HalfDrive},
	}
}

func TestClearCases(t *testing.T) {
	t.Parallel()
	for name, c := range cases() {
		t.Run(name, func(t *testing.T) {
			for seed := range uint64(5) {
				got, v := look(t, c.make(seed))
				ok := v.Conclusion == c.want
				if c.kind != "" {
					found := false
					for _, f := range got.Findings {
						found = found || f.Kind == c.kind
					}
					ok = ok && found
				}
				if !ok {
					t.Errorf("seed %d: want %s by %q, got %s", seed, c.want, c.kind, say(got, v))
				}
				if sum := func() (s float64) {
					for _, x := range v.Chances {
						s += x.Probability
					}
					return
				}(); math.Abs(sum-1) > 1e-9 {
					t.Errorf("probabilities add up to %v", sum)
				}
			}
		})
	}
}
