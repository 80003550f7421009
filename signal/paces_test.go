package signal

import (
	"math"
	"testing"
)

// evenly is a trace whose rows come every step(t) seconds; it runs up and down for 5 s
// with 5 s of rest between.
func evenly(until float64, step func(t float64) float64) *Trace {
	tr := &Trace{RowsPerBin: 1}
	for t := 0.0; t < until; t += step(t) {
		d, v := 0.0, 1.0
		switch phase := math.Mod(t, 20); {
		case phase < 5:
			d, v = 12, 1+0.6*phase
		case phase < 10:
			v = 4
		case phase < 15:
			d, v = -12, 4-0.6*(phase-10)
		}
		tr.Time = append(tr.Time, t)
		tr.Drive.Mean = append(tr.Drive.Mean, float32(d))
		tr.Feedback.Mean = append(tr.Feedback.Mean, float32(v))
	}
	tr.Drive.Min, tr.Drive.Max = tr.Drive.Mean, tr.Drive.Mean
	tr.Feedback.Min, tr.Feedback.Max = tr.Feedback.Mean, tr.Feedback.Mean
	tr.Drive.Stats.bound(tr.Drive.Mean)
	tr.Step = medianStep(tr.Time)
	tr.RowStep = tr.Step
	return tr
}

func TestOnePace(t *testing.T) {
	const fast = 0.02
	from := func(at, slow float64) func(float64) float64 {
		return func(t float64) float64 {
			if t >= at {
				return slow
			}
			return fast
		}
	}
	for _, c := range []struct {
		name          string
		step          func(float64) float64
		want          float64 // pace of all, 0 as it was
		tooSlow, slow int     // stretches
	}{
		{"one pace", from(100, 1), 0, 0, 0},
		{"slow to the end", from(40, 0.1), 0.1, 0, 1},
		{"slow at first", func(t float64) float64 { return 0.12 - from(60, 0.1)(t) }, 0.1, 0, 1},
		{"twice as slow shows no row missing", from(40, 2*fast), 0, 0, 0},
		{"slow at rest only", func(t float64) float64 {
			if phase := math.Mod(t, 10); phase > 5.2 && phase < 9.7 {
				return 0.2
			}
			return fast
		}, 0, 0, 0},
		{"too slow", from(40, 1), 0, 1, 0},
		{"too slow in nearly all", from(3, 1), 1, 0, 1},
		{"rows missing", func(t float64) float64 {
			if math.Mod(t, 3) < fast {
				return 0.5
			}
			return fast
		}, 0, 0, 0},
	} {
		tr := evenly(80, c.step)
		one, p := tr.OnePace()
		if len(p.TooSlow) != c.tooSlow || len(p.Slow) != c.slow {
			t.Errorf("%s: %+v", c.name, p)
		}
		switch {
		case c.want == 0 && c.tooSlow == 0 && one != tr:
			t.Errorf("%s: changed", c.name)
		case c.want > 0 && (math.Abs(medianStep(one.Time)-c.want) > 0.01*c.want || math.Abs(one.Step-c.want) > 0.01*c.want || one.RowsPerBin < 2):
			t.Errorf("%s: one row every %g s, %d rows a bin", c.name, one.Step, one.RowsPerBin)
		case c.tooSlow > 0 && (one.Time[one.Len()-1] > 41 || p.Unjudged < 0.3 || p.Unjudged > 0.5):
			t.Errorf("%s: %g s are left, %g unjudged", c.name, one.Time[one.Len()-1], p.Unjudged)
		}
	}
}

// What is short keeps its extremes where fast rows are brought to a slower pace.
func TestOnePaceKeepsExtremes(t *testing.T) {
	tr := evenly(80, func(t float64) float64 {
		if t < 40 {
			return 0.02
		}
		return 0.1
	})
	tr.Feedback.Mean[100] = 0
	one, _ := tr.OnePace()
	lo := float32(9)
	for _, v := range one.Feedback.Min {
		lo = min(lo, v)
	}
	if lo != 0 {
		t.Errorf("the lowest reading is %g, want 0", lo)
	}
}
