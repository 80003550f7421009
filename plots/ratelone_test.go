package plots

import (
	"testing"

	"gonum.org/v1/plot/vg/recorder"

	"threewire/analyze"
)

// A speed beyond the axis has no sign of its own cut in half at the edge of the panel.
func TestNoSignBeyondTheSpeedAxis(t *testing.T) {
	fills := func(rate float64) int {
		fig := drawn(false)
		p := &fig.Capture.Profiles[1]
		last := p.Points[len(p.Points)-1]
		p.Points = append(p.Points, analyze.ProfilePoint{Position: last.Position + 1, Rate: rate, Passes: 1})
		c := new(recorder.Canvas)
		d, err := compose([]Figure{fig}, Options{Panels: []Panel{Rate}, Blank: true})
		if err != nil {
			t.Fatal(err)
		}
		d.draw(newSheet(c, d.f, &d.o))
		n := 0
		for _, a := range c.Actions {
			if _, ok := a.(*recorder.Fill); ok {
				n++
			}
		}
		return n
	}
	if within, beyond := fills(1), fills(50); beyond != within-1 {
		t.Errorf("%d filled signs with a lone point on the axis, %d with one beyond it, want one less", within, beyond)
	}
}
