package analyze

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// A capture whose drive lost its sign must never blame a part: it says what is missing and how to log it.
func TestPolarityMissing(t *testing.T) {
	t.Parallel()
	magnitude := func(d *draft) *draft {
		for i, v := range d.drive {
			d.drive[i] = math.Abs(v)
		}
		return d
	}
	for name, c := range map[string]struct {
		make func(s uint64) *draft
		want string // in the summary; "" for a capture that has its polarity
	}{
		"magnitude": {func(s uint64) *draft { return magnitude(newDraft(s).sweeps(2)) }, "never negative"},
		"magnitude, both leads the wrong way": {func(s uint64) *draft {
			d := magnitude(newDraft(s).sweeps(2))
			for i := range d.drive {
				d.drive[i] = -d.drive[i]
			}
			return d
		}, "never positive"},
		"magnitude, slow logger": {func(s uint64) *draft {
			d := newDraft(s)
			d.dt, d.quantum = 0.05, 0.02
			return magnitude(d.sweeps(2))
		}, "never negative"},
		"magnitude, reversed without a rest": {func(s uint64) *draft {
			d := newDraft(s).run(0, 1)
			for range 3 {
				d.run(12, 6).run(-12, 6)
			}
			return magnitude(d)
		}, "never negative"},
		"magnitude, faulty track": {func(s uint64) *draft {
			d := newDraft(s)
			d.read = func(d *draft) float64 {
				if d.x > 2.2 && d.x < 2.5 {
					return 0
				}
				return d.x
			}
			return magnitude(d.sweeps(2))
		}, "never negative"},
		"signed":                       {func(s uint64) *draft { return newDraft(s).sweeps(2) }, ""},
		"one polarity, one way":        {func(s uint64) *draft { return newDraft(s).run(0, 1).run(12, 6).run(0, 1).run(12, 3) }, ""},
		"one polarity, gear slips":     {func(s uint64) *draft { return slipping(s) }, ""},
		"one polarity, door falls off": {func(s uint64) *draft { return falling(s) }, ""},
	} {
		t.Run(name, func(t *testing.T) {
			for seed := range uint64(3) {
				got, v := look(t, c.make(seed))
				missing := got.MissesPolarity()
				if c.want == "" {
					if missing != "" {
						t.Errorf("seed %d: said that the polarity is missing: %s", seed, say(got, v))
					}
					continue
				}
				if v.Conclusion != CannotTell || v.Part != "cannot tell" || !strings.Contains(v.Summary, c.want) || !strings.Contains(v.Summary, "--lead-a") {
					t.Errorf("seed %d: %q, %s", seed, v.Summary, say(got, v))
				}
				if len(v.Next) != 1 || v.Next[0].Name != "Log both motor leads" || !slices.Contains(v.Cautions, cautionGround) {
					t.Errorf("seed %d: next tests %v, cautions %v", seed, v.Next, v.Cautions)
				}
			}
		})
	}
}

// slipping is driven one way only; the gears let go again and again and the
// reading falls back by a third of the travel within a tenth of a second.
func slipping(s uint64) *draft {
	d := newDraft(s).run(0, 1)
	for range 6 {
		d.run(12, 2)
		for range 10 {
			d.x -= 0.13
			d.run(12, 0.01)
		}
	}
	return d.run(0, 1)
}

// falling is driven up only; without drive the door pulls it back at five
// times the speed of the motor.
func falling(s uint64) *draft {
	d := newDraft(s).run(0, 1)
	for range 4 {
		d.run(12, 4)
		for d.x > d.lo+0.02 {
			d.x -= 0.02
			d.run(0, d.dt)
		}
		d.run(0, 1)
	}
	return d
}

// Marks without a sign (OL both ways) leave no polarity; inf and -inf do not
// come here, the reader gives them volts.
func TestPolarityOverRange(t *testing.T) {
	t.Parallel()
	tr := newDraft(2).sweeps(3).trace()
	for i, x := range tr.Drive.Mean {
		if math.Abs(float64(x)) > 1 {
			tr.Drive.Mean[i] = float32(math.NaN())
			tr.Drive.Stats.Over++
		}
	}
	c, err := Examine(tr, Defaults())
	if err != nil {
		t.Fatal(err)
	}
	v := Judge(c).Verdict
	if v.Conclusion != CannotTell || !strings.Contains(v.Summary, "wider range") || len(v.Next) != 1 {
		t.Errorf("%s; next %v", say(c, v), v.Next)
	}
}
