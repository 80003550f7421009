package plots

import (
	"bytes"
	"errors"
	"strings"
	"testing"
)

func someCurves() []Curve {
	return []Curve{
		{"narrow: error 0.021, n 512", []CurvePoint{{0.65, 0.7, 0.6, 0.8}, {0.95, 0.96, 0.93, 0.98}}},
		{"other: error 0.048, n 498", []CurvePoint{{0.7, 0.6, 0.5, 0.7}, {0.97, 0.9, 0.86, 0.93}}},
	}
}

func someDetection() []DetectionPanel {
	rates := []Curve{{"motor", []CurvePoint{{30, 0.2, 0.1, 0.4}, {500, 0.7, 0.6, 0.8}, {20000, 1, 0.8, 1}}}, {"wiring or control", nil}}
	return []DetectionPanel{
		{Heading: "by severity", Axis: "severity, 0 barely visible to 1 gross", Curves: someCurves()},
		{Heading: "by sampling rate", Axis: "sampling rate, Hz", Decades: true, Curves: rates},
	}
}

func TestDrawReliability(t *testing.T) {
	for _, format := range Formats() {
		var out, again bytes.Buffer
		for _, w := range []*bytes.Buffer{&out, &again} {
			if err := DrawReliability(w, format, "How often", []ReliabilityPanel{{"Component", someCurves()}}, Options{}); err != nil {
				t.Fatal(err)
			}
		}
		if out.Len() < 1000 || !bytes.Equal(out.Bytes(), again.Bytes()) {
			t.Errorf("%s: %d bytes, the same twice %v", format, out.Len(), bytes.Equal(out.Bytes(), again.Bytes()))
		}
	}
	var svg bytes.Buffer
	if err := DrawDetection(&svg, "svg", "Share named", someDetection(), Options{}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"by severity", "sampling rate, Hz", ">motor<", "other: error 0.048, n 498", ">10k<"} {
		if !strings.Contains(svg.String(), want) {
			t.Errorf("the picture lacks %q", want)
		}
	}
	if err := DrawReliability(&svg, "png", "x", []ReliabilityPanel{{"none", nil}}, Options{}); !errors.Is(err, ErrNothing) {
		t.Errorf("no curves give %v", err)
	}
}

// No two words of the picture lie on each other, and none leaves the page.
func TestReliabilityLabelsKeepApart(t *testing.T) {
	f, err := loadFaces()
	if err != nil {
		t.Fatal(err)
	}
	for _, use := range []Use{Screen, Slide, Print} {
		o := Options{Use: use}
		if err := o.Check(); err != nil {
			t.Fatal(err)
		}
		s := newSheet(newPage(10, 10, ""), f, &o)
		layCharts(s, "Share named", []chart{
			{heading: "a", curves: someCurves(), ax: axes{x: "probability stated", y: "share right"}, x0: 0.6, x1: 1, diagonal: true},
			{heading: "b", curves: someDetection()[1].Curves, ax: axes{x: "sampling rate, Hz", y: "share named"}, x0: 1.3, x1: 4.4, decades: true},
		})
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
