package analyze

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"threewire/signal"
)

// withRows is a trace of the rows of another that are kept.
func withRows(t *signal.Trace, kept func(i int) bool) *signal.Trace {
	p := *t
	p.Time, p.Drive.Mean, p.Feedback.Mean = nil, nil, nil
	for i := range t.Time {
		if kept(i) {
			p.Time = append(p.Time, t.Time[i])
			p.Drive.Mean = append(p.Drive.Mean, t.Drive.Mean[i])
			p.Feedback.Mean = append(p.Feedback.Mean, t.Feedback.Mean[i])
		}
	}
	p.Drive.Min, p.Drive.Max = p.Drive.Mean, p.Drive.Mean
	p.Feedback.Min, p.Feedback.Max = p.Feedback.Mean, p.Feedback.Mean
	p.Rows, p.Uniform = int64(len(p.Time)), false
	return &p
}

// What a recording leaves out is nothing that the actuator did. (Drawn.)
func TestRowsThatAreMissingAreNoFault(t *testing.T) {
	t.Parallel()
	sound := func(seed uint64) *signal.Trace {
		d := newDraft(seed)
		d.dt = 0.01
		return d.sweeps(4).trace()
	}
	gaps := func(tr *signal.Trace, share float64, rows int, rng *rand.Rand) *signal.Trace {
		until := 0
		return withRows(tr, func(i int) bool {
			if i < until {
				return false
			}
			if rng.Float64() < share {
				until = i + rows
			}
			return true
		})
	}
	for seed := range uint64(4) {
		rng := rand.New(rand.NewPCG(seed, 3))
		blank := sound(seed)
		for i := range blank.Feedback.Mean {
			if rng.Float64() < 0.5 {
				blank.Feedback.Mean[i] = float32(math.NaN())
				blank.Feedback.Stats.Missing++
			}
		}
		held := sound(seed)
		for range 5 {
			for i, k := 1+rng.IntN(held.Len()-50), 0; k < 40; k++ {
				held.Drive.Mean[i+k], held.Feedback.Mean[i+k] = held.Drive.Mean[i-1], held.Feedback.Mean[i-1]
			}
		}
		for name, tr := range map[string]*signal.Trace{
			"gaps of 0.2 s":      gaps(sound(seed), 0.01, 20, rng),
			"gaps of 0.05 s":     gaps(sound(seed), 0.05, 5, rng),
			"rows at random":     withRows(sound(seed), func(int) bool { return rng.Float64() < 0.4 }),
			"empty cells":        blank,
			"a row written over": held,
		} {
			got, err := Examine(tr, Defaults())
			if err != nil {
				t.Fatal(err)
			}
			if v := Judge(got).Verdict; v.Conclusion != NoFault {
				t.Errorf("seed %d, %s: %s", seed, name, say(got, v))
			}
		}
	}
}

// A track that holds its last reading is one, though the reading has no noise there:
// the drive beside it has.
func TestHeldReadingBesideALiveDriveIsTheTrack(t *testing.T) {
	t.Parallel()
	d := newDraft(3)
	held := math.NaN()
	d.read = func(d *draft) float64 {
		if d.x > 2 && d.x < 2.3 {
			return held
		}
		held = d.x
		return d.x
	}
	tr := d.sweeps(4).trace()
	last := tr.Feedback.Mean[0]
	for i, x := range tr.Feedback.Mean {
		if i > 0 && math.Abs(float64(x)-2) < 0.02 || math.Abs(float64(x)-2.3) < 0.02 {
			tr.Feedback.Mean[i] = last
		} else {
			last = x
		}
	}
	got, err := Examine(tr, Defaults())
	if err != nil {
		t.Fatal(err)
	}
	if v := Judge(got).Verdict; v.Conclusion != FeedbackSensor {
		t.Error(say(got, v))
	}
}

// A control that goes by pulses went on while the logger wrote nothing: the reading is
// further on after that, and the drive is off before as after.
func TestMissingRowsBetweenPulses(t *testing.T) {
	t.Parallel()
	d := newDraft(6)
	d.dt = 0.09
	d.sweeps(1)
	d.run(12, 1.8)
	for range 3 {
		d.run(0, 0.27).run(12, 0.09)
	}
	d.run(0, 0.45)
	from := len(d.time)
	for range 2 {
		d.run(0, 0.09).run(12, 0.27)
	}
	to := len(d.time)
	d.run(0, 3)
	d.time = slices.Delete(d.time, from, to)
	d.drive = slices.Delete(d.drive, from, to)
	d.feed = slices.Delete(d.feed, from, to)
	if c, v := look(t, d); c.shows(Dropouts) {
		t.Errorf("%s", say(c, v))
	}
}
