package plots

import (
	"bytes"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg/recorder"

	"threewire/analyze"
)

// A jam has a mark in the panel of speeds at its place and a word in the legend; a slow
// zone moves, and a picture without findings, or with none to be seen, has neither.
func TestStandsInThePanelOfSpeeds(t *testing.T) {
	place := func(at float64, dir analyze.Direction) analyze.Occurrence {
		return analyze.Occurrence{Time: analyze.Interval{From: 3, To: 4}, Volts: analyze.Interval{From: at, To: at}, Direction: dir}
	}
	for _, c := range []struct {
		name   string
		kind   analyze.Kind
		places []analyze.Occurrence
		blank  bool
		marks  int
	}{
		{"jam", analyze.Jam, []analyze.Occurrence{place(2, analyze.Up), place(2.01, analyze.Up), place(2, analyze.Down), place(3.5, analyze.Up)}, false, 3},
		{"pauses", analyze.Pauses, []analyze.Occurrence{place(1, analyze.Down)}, false, 1},
		{"slow zone", analyze.SlowZone, []analyze.Occurrence{place(2, analyze.Up)}, false, 0},
		{"blank", analyze.Jam, []analyze.Occurrence{place(2, analyze.Up)}, true, 0},
		{"no place", analyze.StickSlip, nil, false, 0},
	} {
		fig := drawn(true)
		fig.Capture.Findings = []analyze.Finding{{Kind: c.kind, Title: "It stands.", Volts: analyze.Interval{From: 1, To: 3}, Time: analyze.Interval{From: 1, To: 9}, Places: c.places}}
		o := Options{Panels: []Panel{Rate}, Blank: c.blank}
		var b bytes.Buffer
		if err := Draw(&b, "svg", []Figure{fig}, o); err != nil {
			t.Fatal(err)
		}
		if told := strings.Contains(b.String(), "stands under drive"); told != (c.marks > 0) {
			t.Errorf("%s: the legend tells of stands: %v", c.name, told)
		}
		if c.blank {
			continue
		}
		s := &sheet{c: new(recorder.Canvas), size: 9}
		f := &frame{s: s, area: box{0, 0, 400, 200}, x0: 0, x1: 5, y0: 0, y1: 1}
		spots := s.standSpots(f, &fig.Capture.Findings[0])
		if len(spots) != c.marks {
			t.Errorf("%s: %d marks, want %d", c.name, len(spots), c.marks)
		}
		for _, p := range spots {
			if at := p.x / 80; at < 0.9 || at > 3.6 {
				t.Errorf("%s: a mark at %.2f V", c.name, at)
			}
		}
	}
}
