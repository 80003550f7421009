package plots

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"

	"threewire/analyze"
	"threewire/fixtures"
)

// figure simulates a capture, cheap enough for many tests: the pocket logger
// writes 20 to 100 rows a second.
func figure(t testing.TB, spec fixtures.Spec) Figure {
	t.Helper()
	c, err := fixtures.Make(spec)
	if err != nil {
		t.Fatal(err)
	}
	tr := c.Trace()
	tr.Source = "rig-4-left-temperature.csv"
	opt := analyze.Defaults()
	opt.Free = spec.Free
	m, err := analyze.Examine(tr, opt)
	if err != nil {
		t.Fatal(err)
	}
	return Figure{Trace: tr, Capture: m, Report: analyze.Judge(m)}
}

// cases are captures that fill the panels in different ways.
func cases() map[string]fixtures.Spec {
	const slow = "pocket-logger"
	return map[string]fixtures.Spec{
		"healthy":       {Fault: fixtures.Healthy, Seed: 3, Instrument: slow},
		"dead spot":     {Fault: fixtures.DeadSpot, Severity: 1, Seed: 1, Controller: "nudge-bang", Instrument: slow},
		"hunting":       {Fault: fixtures.EndLoss, Severity: 1, Seed: 1, Controller: "nudge-bang", Instrument: "two-channel-logger"},
		"jam":           {Fault: fixtures.Jam, Severity: 1, Seed: 1, Controller: "pulse-look", Instrument: slow},
		"binding":       {Fault: fixtures.Binding, Severity: 1, Seed: 3, Controller: "bench-hand", Instrument: slow},
		"no drive":      {Fault: fixtures.NoDrive, Severity: 1, Seed: 2, Instrument: slow},
		"drift by hand": {Fault: fixtures.SpanDrift, Severity: 1, Seed: 4, Controller: "bench-hand", Instrument: slow, Duration: 100},
		"pulsed":        {Fault: fixtures.PWM, Seed: 6, Instrument: "board-counts"},
	}
}

// Simulating takes longer than drawing, so the figures are made once.
func TestPictures(t *testing.T) {
	figs := map[string]Figure{}
	for name, spec := range cases() {
		figs[name] = figure(t, spec)
	}
	free := cases()["binding"]
	free.Free = true
	figs["free"] = figure(t, free)
	for _, c := range []struct {
		name string
		test func(*testing.T, map[string]Figure)
	}{
		{"labels do not overlap", labelsDoNotOverlap},
		{"labels of many captures do not overlap", labelsOfManyCaptures},
		{"blank matches answer", blankMatchesAnswer},
		{"same input same bytes", sameInputSameBytes},
		{"svg stays small and speaks", svgStaysSmallAndSpeaks},
		{"svg of noise stays small", svgOfNoiseStaysSmall},
		{"refusals", refusals},
		{"window zooms", windowZooms},
		{"reports", reports},
	} {
		t.Run(c.name, func(t *testing.T) { c.test(t, figs) })
	}
}

func labelsDoNotOverlap(t *testing.T, figs map[string]Figure) {
	for name, fig := range figs {
		for _, use := range []Use{Slide, Handout} {
			for _, panels := range [][]Panel{{Auto}, {Time}, {Rate}, {Sweeps}, {Hunt}, {Time, Sweeps, Rate}} {
				o := Options{Use: use, Panels: panels, Answer: len(panels) == 1 && panels[0] == Time, Date: "2026-03-09", Caption: strings.Repeat("A caption of many words. ", 8),
					Notes: []Note{{4, 1, "look here"}, {4.2, 1.1, "and here, where the reading turns round"}, {9, 4, "third"}}}
				d, err := compose([]Figure{fig}, o)
				if errors.Is(err, ErrNothing) {
					continue
				}
				if err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				s := newSheet(new(recorder.Canvas), d.f, &d.o)
				d.draw(s)
				checkLabels(t, fmt.Sprintf("%s, %s, %v", name, use, panels), s)
			}
		}
	}
}

func labelsOfManyCaptures(t *testing.T, made map[string]Figure) {
	var figs []Figure
	for len(figs) < 24 {
		for _, name := range []string{"healthy", "jam", "binding", "no drive", "hunting"} {
			figs = append(figs, made[name])
		}
	}
	pair := []Figure{made["binding"], made["free"]}
	for _, use := range []Use{Slide, Print, Handout, Screen} {
		for _, c := range []struct {
			panel Panel
			figs  []Figure
		}{{Contact, figs}, {Contact, figs[:2]}, {Overlay, pair}, {Compare, pair}, {Auto, pair}} {
			d, err := compose(c.figs, Options{Use: use, Panels: []Panel{c.panel}})
			if err != nil {
				t.Fatal(err)
			}
			s := newSheet(new(recorder.Canvas), d.f, &d.o)
			d.draw(s)
			checkLabels(t, fmt.Sprintf("%s, %s", use, c.panel), s)
		}
	}
}

// checkLabels fails for text that leaves the page or shares a spot with other
// text. A tenth of a point is rounding.
func checkLabels(t *testing.T, what string, s *sheet) {
	t.Helper()
	if len(s.labels) < 3 {
		t.Errorf("%s: only %d labels", what, len(s.labels))
	}
	for i, a := range s.labels {
		if !s.page.holds(a.box.grow(-0.1)) {
			t.Errorf("%s: %q leaves the page: %+v", what, a.text, a.box)
		}
		for _, b := range s.labels[i+1:] {
			if a.box.grow(-0.1).meets(b.box) {
				t.Errorf("%s: %q at %.1f overlaps %q at %.1f", what, a.text, a.box, b.text, b.box)
			}
		}
	}
}

// A blank picture must lie exactly under its answer: same axes in the same
// places, and no words of the answer.
func blankMatchesAnswer(t *testing.T, figs map[string]Figure) {
	for name, fig := range figs {
		labels := func(blank bool) (map[string]box, string) {
			d, err := compose([]Figure{fig}, Options{Use: Print, Title: "Exercise 1", Blank: blank, Answer: !blank})
			if err != nil {
				t.Fatal(err)
			}
			s := newSheet(new(recorder.Canvas), d.f, &d.o)
			d.draw(s)
			boxes, all := map[string]box{}, ""
			for _, l := range s.labels {
				all += l.text + "\n"
				boxes[fmt.Sprintf("%s@%.1f,%.1f", l.text, l.box.x0, l.box.y0)] = l.box
			}
			return boxes, all + d.alt()
		}
		blank, words := labels(true)
		answer, _ := labels(false)
		for k := range blank {
			if _, ok := answer[k]; !ok {
				t.Errorf("%s: label %s of the blank picture is not in the answer", name, k)
			}
		}
		for _, f := range fig.Capture.Findings {
			if strings.Contains(words, f.Title) {
				t.Errorf("%s: the blank picture tells %q", name, f.Title)
			}
		}
		if strings.Contains(words, "erdict") || strings.Contains(words, "rig-4") {
			t.Errorf("%s: the blank picture tells the verdict or the file name:\n%s", name, words)
		}
	}
}

func sameInputSameBytes(t *testing.T, figs map[string]Figure) {
	fig := figs["hunting"]
	for _, format := range Formats() {
		var a, b bytes.Buffer
		for _, w := range []*bytes.Buffer{&a, &b} {
			if err := Draw(w, format, []Figure{fig}, Options{Use: Handout, DPI: 60}); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s: two runs differ", format)
		}
		if format == "pdf" && (bytes.Contains(a.Bytes(), []byte("CreationDate")) || bytes.Contains(a.Bytes(), []byte("ModDate"))) {
			t.Error("pdf has a date")
		}
	}
}

func svgStaysSmallAndSpeaks(t *testing.T, figs map[string]Figure) {
	for name, fig := range figs {
		for _, use := range []Use{Print, Handout} {
			var b bytes.Buffer
			if err := Draw(&b, "svg", []Figure{fig}, Options{Use: use}); err != nil {
				t.Fatal(err)
			}
			// 300 KB is what a mail or a page bears without a thought.
			if b.Len() > 300_000 {
				t.Errorf("%s, %s: SVG of %d bytes, at most 300 000", name, use, b.Len())
			}
			for _, want := range []string{"<title id=\"t\">", "<desc id=\"d\">Motor drive and position feedback against time", "role=\"img\"", "Liberation Sans"} {
				if !strings.Contains(b.String(), want) {
					t.Errorf("%s: SVG lacks %q", name, want)
				}
			}
		}
	}
}

// A capture as noisy as can be: every reading at another place.
func svgOfNoiseStaysSmall(t *testing.T, figs map[string]Figure) {
	fig := figs["healthy"]
	tr := *fig.Trace
	n := 200_000
	tr.Time, tr.Gaps = make([]float64, n), nil
	noise := func() []float32 {
		out := make([]float32, n)
		for i := range out {
			out[i] = float32(2.5 + 2*math.Sin(float64(i)*1.7)*math.Cos(float64(i)*0.31))
			tr.Time[i] = float64(i) * 1e-3
		}
		return out
	}
	x := noise()
	tr.Feedback.Mean, tr.Feedback.Min, tr.Feedback.Max = x, x, x
	tr.Drive.Mean, tr.Drive.Min, tr.Drive.Max = x, x, x
	fig.Trace = &tr
	var b bytes.Buffer
	if err := Draw(&b, "svg", []Figure{fig}, Options{Use: Slide}); err != nil {
		t.Fatal(err)
	}
	if b.Len() > 300_000 {
		t.Errorf("SVG of %d bytes, at most 300 000", b.Len())
	}
}

func refusals(t *testing.T, figs map[string]Figure) {
	fig := figs["healthy"]
	for _, c := range []struct {
		o      Options
		format string
		want   string
	}{
		{Options{}, "bmp", "expected png, svg, pdf"},
		{Options{Style: "neon"}, "png", "--style"},
		{Options{Use: "poster"}, "png", "--for"},
		{Options{Panels: []Panel{"pie"}}, "png", "--panel"},
		{Options{Panels: []Panel{Hunt}}, "png", "no hunting was found in rig-4"},
		{Options{Panels: []Panel{Overlay}}, "png", "--free"},
		{Options{Panels: []Panel{Compare}}, "png", "--after"},
		{Options{Panels: []Panel{Contact, Time}}, "png", "alone"},
		{Options{Width: 5}, "png", "--width"},
		{Options{Width: math.NaN()}, "png", "--width"},
		{Options{Width: 1900, Height: 1900, DPI: 600}, "png", "too large"},
		{Options{Window: &analyze.Interval{From: 1e4, To: 2e4}}, "png", "lies outside the capture"},
		{Options{Window: &analyze.Interval{From: 3, To: 2}}, "png", "--from and --to"},
		{Options{Volts: &analyze.Interval{From: 3, To: math.NaN()}}, "png", "--volts"},
		{Options{Volts: &analyze.Interval{From: 30, To: 50}}, "png", "outside the readings"},
	} {
		var b bytes.Buffer
		err := Draw(&b, c.format, []Figure{fig}, c.o)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: got %v, want an error with %q", c.o, err, c.want)
		}
		if b.Len() > 0 {
			t.Errorf("%+v: wrote %d bytes beside the error", c.o, b.Len())
		}
	}
}

func windowZooms(t *testing.T, figs map[string]Figure) {
	fig := figs["dead spot"]
	d, err := compose([]Figure{fig}, Options{Panels: []Panel{Time}, Window: &analyze.Interval{From: 5, To: 7}, Volts: &analyze.Interval{From: 1, To: 3}})
	if err != nil {
		t.Fatal(err)
	}
	s := newSheet(new(recorder.Canvas), d.f, &d.o)
	d.draw(s)
	var words []string
	for _, l := range s.labels {
		words = append(words, l.text)
	}
	all := strings.Join(words, " ")
	for _, want := range []string{"5.0", "7.0", "1.0", "3.0"} {
		if !strings.Contains(all, want) {
			t.Errorf("no tick %s among %q", want, all)
		}
	}
}

var _ vg.Canvas = (*page)(nil)

// A finding outside of the stretch drawn has no mark there, and the legend says so.
func TestOutsideOfTheStretch(t *testing.T) {
	fig := figure(t, cases()["dead spot"])
	var f *analyze.Finding
	for i := range fig.Capture.Findings {
		if x := &fig.Capture.Findings[i]; spotted(x) {
			f = x
			break
		}
	}
	if f == nil {
		t.Fatal("no finding with places")
	}
	first := f.Places[0].Time
	for _, c := range []struct {
		window  *analyze.Interval
		outside bool
	}{{nil, false}, {&analyze.Interval{From: first.From - 1, To: first.To + 1}, false}, {&analyze.Interval{From: -9, To: -8}, true}} {
		d := &drawing{o: Options{Window: c.window}}
		if got := strings.HasSuffix(d.said(f), "Outside of this stretch."); got != c.outside {
			t.Errorf("window %v: %q", c.window, d.said(f))
		}
	}
}
