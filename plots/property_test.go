package plots

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg/recorder"

	"threewire/analyze"
	"threewire/fixtures"
	"threewire/signal"
)

// Whatever is wrong with an actuator, and whoever drove and logged it: words
// stay apart and on the page, an SVG stays small, and a report takes one page. Seeds were not picked.
func TestAnyCapture(t *testing.T) {
	slow := []string{"pocket-logger", "polarity-logger", "board-counts"}
	controllers := fixtures.Controllers()
	channels := []string{"", "reference,supply,current", "none"}
	uses := []Use{Screen, Slide, Print, Handout}
	for n, fault := range fixtures.Faults() {
		severity := []float64{1, 0.6}[n%2]
		spec := fixtures.Spec{
			Fault: fixtures.Fault(fault.Name), Severity: severity, Seed: uint64(n), Range: fixtures.Wide,
			Controller: controllers[n%len(controllers)].Name, Instrument: slow[n%len(slow)],
			Channels: channels[n%len(channels)], Duration: []float64{0, 7, 45}[n%3],
		}
		name := fmt.Sprintf("%s, severity %g, seed %d", fault.Name, severity, n)
		fig := figure(t, spec)
		o := Options{Use: uses[n%len(uses)], Style: []Style{Light, Dark, Mono}[n%3]}
		for _, p := range []Panel{Auto, Time, Rate, Sweeps, Hunt} {
			o.Panels = []Panel{p}
			d, err := compose([]Figure{fig}, o)
			if errors.Is(err, ErrNothing) && p != Auto && p != Time {
				continue
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			s := newSheet(new(recorder.Canvas), d.f, &d.o)
			d.draw(s)
			checkLabels(t, name+", "+string(p), s)
		}
		o.Panels = nil
		var b bytes.Buffer
		if err := Draw(&b, "svg", []Figure{fig}, o); err != nil || b.Len() > 300_000 {
			t.Errorf("%s: %v, SVG of %d bytes, at most 300 000", name, err, b.Len())
		}
		onePage(t, name, fig.Report, []*signal.Trace{fig.Trace})
	}
}

// onePage fails for a report that takes more than a page, as PDF or printed
// from a browser.
func onePage(t *testing.T, name string, rep *analyze.Report, traces []*signal.Trace) {
	t.Helper()
	d, main, err := composeReport(rep, traces, Light)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	w := wordsOf(rep, main, ReportOptions{Shop: "Millbrook Technical College", Address: strings.Repeat("Mill Lane ", 30), Date: "9 March 2026"})
	fits(t, name, d, &w)
}

func fits(t *testing.T, name string, d *drawing, w *reportWords) {
	t.Helper()
	for _, paper := range []struct{ w, h float64 }{{mm(210), mm(297)}, {612, 792}} {
		size, spare, err := d.fit(w, paper.w, paper.h, []float64{10, 9.5, 9, 8.5, 8, 7.5})
		if err != nil {
			t.Errorf("%s: no PDF of one page: %v", name, err)
			continue
		}
		s := &sheet{c: new(recorder.Canvas), f: d.f, th: Light.theme(), size: size, page: box{0, 0, paper.w, paper.h}}
		if err := d.report(s, w, math.Min(spare, mostGrown*paper.h)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		checkLabels(t, name+", report", s)
	}
	size, err := d.printSize(w)
	if err != nil {
		t.Errorf("%s: no print of one page: %v", name, err)
		return
	}
	for _, paper := range []struct {
		name string
		w, h float64
	}{{"A4", mm(210), mm(297)}, {"Letter", 612, 792}} {
		margins := 2 * mm(11) // as @page says
		if got := printHeight(d, w, size, paper.w-margins); got > paper.h-margins {
			t.Errorf("%s: printed at %g pt on %s it takes %.0f of %.0f pt", name, size, paper.name, got, paper.h-margins)
		}
	}
}

// printHeight is the height in points of the HTML report printed in a column
// of the width, by the rules of its style sheet.
func printHeight(d *drawing, w *reportWords, em, width float64) float64 {
	const line = 1.25
	rows := func(t string, size, width float64) float64 {
		return line * size * float64(max(1, len(d.f.wrap(t, size, false, width))))
	}
	heading := (1*line+0.5+0.3)*em + 1
	list := func(items []string, width float64) float64 {
		h := 0.4 * em
		for _, t := range items {
			h += rows(t, em, width-1.3*em)
		}
		return h
	}
	total := 1.5*line*em + 2*line*em // title; shop, address and date wrap to two lines at worst
	inner := width - (2.8+1+1.6)*em - 4
	total += (0.4+0.3)*2*em + 3 + max(2.8*em, rows(w.Headline, 1.25*em, inner)+rows(w.Meaning, em, inner))
	total += heading + list(w.Tested, width)
	pictures, _ := d.strips(w)
	for _, p := range pictures {
		var pw, ph float64
		s := string(p)
		if !strings.Contains(s, `class="wide"`) {
			continue
		}
		fmt.Sscanf(s[strings.Index(s, "viewBox="):], `viewBox="0 0 %g %g"`, &pw, &ph)
		total += em + width*ph/pw
	}
	column := (width - 1.6*em) / 2
	parts := []float64{
		heading + list(w.Found, column) + list([]string{w.More}, column) + list(w.Compared, column),
		heading + rows(w.SureText, em, column) + 0.4*em + float64(len(w.Sure))*(line+0.2)*em,
		heading + rows(w.Step, 1.1*em, column) + rows(w.Test, em, column) + 0.8*em + list(lines(w.Procedure), column),
	}
	for _, l := range []shortened{w.RulesOut, w.Unknown, w.Cautions} {
		if len(l.Items) > 0 {
			parts = append(parts, heading+list(lines(l), column))
		}
	}
	best, run, sum := 0.0, 0.0, 0.0
	for _, h := range parts {
		sum += h
	}
	best = sum
	for _, h := range parts {
		run += h
		best = min(best, max(run, sum-run))
	}
	return total + best + (0.8+line)*em + 1
}

// lines are the lines of a list.
func lines(l shortened) []string {
	if t := l.More(); t != "" {
		return append(l.Items[:len(l.Items):len(l.Items)], t)
	}
	return l.Items
}

// The longest words that the lists allow, with two pictures.
func TestLongestReportFitsOnePage(t *testing.T) {
	one, two := drawn(false), drawn(true)
	long := func(n int, text string) []string {
		var out []string
		for range n {
			out = append(out, strings.TrimSpace(strings.Repeat(text+" ", 5)))
		}
		return out
	}
	for i := range one.Capture.Findings {
		one.Capture.Findings[i].Title = long(1, "A finding of many words in a row.")[0]
	}
	rep := one.Report
	rep.Captures = []*analyze.Capture{one.Capture, two.Capture}
	for range 9 {
		one.Capture.Findings = append(one.Capture.Findings, one.Capture.Findings[0])
	}
	one.Capture.Source = strings.Repeat("left-temperature-door-", 9) + ".csv"
	rep.Verdict.Absent = long(9, "no fault of this kind anywhere")
	rep.Verdict.Unknown = long(9, "a thing that was not logged at all")
	rep.Verdict.Cautions = long(9, "Keep fingers out of the linkages.")
	rep.Verdict.Next = []analyze.NextTest{{Name: "Log for longer", Minutes: 30, Procedure: long(9, "Do this and that for a while.")}}
	rep.Compared = &analyze.Comparison{Text: "What shows with the door on (dead spot) does not show with the door off."}
	d, _, err := composeReport(rep, []*signal.Trace{one.Trace, two.Trace}, Light)
	if err != nil {
		t.Fatal(err)
	}
	w := wordsOf(rep, 0, ReportOptions{Shop: strings.Repeat("Shop ", 60), Address: strings.Repeat("Lane ", 60), Date: strings.Repeat("March ", 30)})
	fits(t, "longest", d, &w)
	if n := len(w.Cautions.Items); n < leastCautions || len(w.Found) == 0 {
		t.Errorf("%d cautions and %d findings are left, want %d cautions and one finding at least", n, len(w.Found), leastCautions)
	}
	for name, l := range map[string]shortened{"cautions": w.Cautions, "unknowns": w.Unknown, "ruled out": w.RulesOut, "steps": w.Procedure} {
		if n := len(l.Items); n+len(l.Out) != 9 || l.More() == "" {
			t.Errorf("of the %s %d are shown and %d said to be left out, of 9", name, n, len(l.Out))
		}
	}
}
