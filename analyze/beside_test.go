package analyze

import (
	"testing"

	"threewire/signal"
)

// beside is a channel logged beside the drive and the feedback.
func beside(name, unit string, x []float64) *signal.Series {
	m := make([]float32, len(x))
	for i, v := range x {
		m[i] = float32(v)
	}
	lo, hi := extremes(x)
	return &signal.Series{Name: name, Unit: unit, Mean: m, Min: m, Max: m, Stats: signal.Stats{Valid: int64(len(x)), Min: lo, Max: hi}}
}

// lookAt examines and judges a trace.
func lookAt(t *testing.T, tr *signal.Trace) (*Capture, Verdict) {
	t.Helper()
	c, err := Examine(tr, Defaults())
	if err != nil {
		t.Fatal(err)
	}
	return c, Judge(c).Verdict
}

// formed is the finding of that kind and form, nil where there is none.
func formed(c *Capture, k Kind, form string) *Finding {
	for i := range c.Findings {
		if f := &c.Findings[i]; f.Kind == k && f.Form == form {
			return f
		}
	}
	return nil
}
