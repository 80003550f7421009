package plots

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"
)

func aBatch() Batch {
	b := Batch{
		Title:  "Rigs 1 to 12",
		Faults: []Tally{{"no fault", 60}, {"feedback sensor", 30}, {"door mechanism", 10}},
		Unit:   "V", Axis: "days",
	}
	x := []float64{0, 30, 61, 90, 120}
	for _, name := range []string{"mode door", "intake door", "left temperature door"} {
		b.Drifts = append(b.Drifts, Drift{Name: name, X: x, Y: []float64{4.5, 4.4, 4.3, 4.2, 4.1}, Slope: -0.1 / 30, Intercept: 4.5, Sure: name != "mode door"})
	}
	return b
}

func TestDrawBatchFormats(t *testing.T) {
	for _, c := range []struct{ format, begins string }{
		{"png", "\x89PNG"}, {"svg", "<?xml"}, {"pdf", "%PDF-"},
	} {
		var out bytes.Buffer
		if err := DrawBatch(&out, c.format, aBatch(), Options{}); err != nil {
			t.Errorf("%s: %v", c.format, err)
		} else if !strings.HasPrefix(out.String(), c.begins) {
			t.Errorf("%s begins with %q", c.format, out.String()[:20])
		}
	}
	var out bytes.Buffer
	if err := DrawBatch(&out, "tiff", aBatch(), Options{}); err == nil {
		t.Error("an unknown format was drawn")
	}
	if err := DrawBatch(&out, "png", Batch{}, Options{}); !errors.Is(err, ErrNothing) || out.Len() > 0 {
		t.Errorf("an empty batch: %v, %d bytes", err, out.Len())
	}
}

// Of drifts that may all be chance each is named, and drawn no larger than it is: on an
// axis that a real one would need.
func TestDrawBatchOfNoDrift(t *testing.T) {
	b := aBatch()
	b.Drifts = []Drift{{Name: "mode door, span", X: []float64{0, 30, 60}, Y: []float64{4, 4.0001, 4.0003}, Slope: 5e-6, Intercept: 4, Least: 0.06}}
	var out bytes.Buffer
	if err := DrawBatch(&out, "svg", b, Options{}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{">mode door, span<", ">0.06<", "change from the start of the trend, V"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("the picture lacks %q", want)
		}
	}
}

// The picture says its numbers, names sure drifts and only those.
func TestDrawBatchWords(t *testing.T) {
	for _, use := range []Use{Screen, Handout, Slide, Print} {
		var out bytes.Buffer
		if err := DrawBatch(&out, "svg", aBatch(), Options{Use: use}); err != nil {
			t.Fatal(err)
		}
		svg := out.String()
		for _, want := range []string{"60 (60 %, sum 60 %)", "30 (30 %, sum 90 %)", "10 (10 %, sum 100 %)", ">intake door<", ">left temperature door<", "2 of them more than chance"} {
			if !strings.Contains(svg, want) {
				t.Errorf("%s: the picture lacks %q", use, want)
			}
		}
		if strings.Contains(svg, ">mode door<") {
			t.Errorf("%s: a drift that may be chance is named", use)
		}
	}
}

// No two words of the picture lie on each other, and none leaves the page.
func TestDrawBatchLabelsKeepApart(t *testing.T) {
	f, err := loadFaces()
	if err != nil {
		t.Fatal(err)
	}
	for _, use := range []Use{Screen, Handout, Slide, Print} {
		o := Options{Use: use}
		if err := o.Check(); err != nil {
			t.Fatal(err)
		}
		s := newSheet(newPage(10, 10, ""), f, &o)
		b := aBatch()
		b.draw(s, 100)
		for i, p := range s.labels {
			if !s.page.holds(p.box) {
				t.Errorf("%s: %q leaves the page", use, p.text)
			}
			for _, q := range s.labels[:i] {
				if p.box.grow(-0.5).meets(q.box.grow(-0.5)) {
					t.Errorf("%s: %q lies on %q", use, p.text, q.text)
				}
			}
		}
	}
}

// Lines that are named look different in colour and in black and white, and their names
// stand beside the panel, not over the lines.
func TestDrawBatchLinesAreToldApart(t *testing.T) {
	f, err := loadFaces()
	if err != nil {
		t.Fatal(err)
	}
	for _, style := range []Style{Light, Mono} {
		o := Options{Style: style}
		if err := o.Check(); err != nil {
			t.Fatal(err)
		}
		s := newSheet(newPage(10, 10, ""), f, &o)
		seen := map[string]bool{}
		for k := range maxNamed {
			ink, dash := s.driftInk(k)
			seen[fmt.Sprint(ink, dash)] = true
		}
		if len(seen) != maxNamed && style == Light {
			t.Errorf("%s: %d looks for %d lines", style, len(seen), maxNamed)
		}
		b := aBatch()
		area := box{100, 100, 500, 400}
		b.drifts(s, area)
		n := 0
		for _, l := range s.labels {
			if strings.Contains(l.text, "door") {
				n++
				if l.box.x0 < area.x1-0.36*area.w()-s.size {
					t.Errorf("%s: %q stands over the lines, at %.0f", style, l.text, l.box.x0)
				}
			}
		}
		if n == 0 {
			t.Errorf("%s: no line is named", style)
		}
	}
}
