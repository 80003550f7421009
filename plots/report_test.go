package plots

import (
	"bytes"
	"compress/zlib"
	"errors"
	"io"
	"regexp"
	"strings"
	"testing"
	"unicode/utf16"

	"gonum.org/v1/plot/vg/recorder"

	"threewire/analyze"
	"threewire/signal"
)

func reports(t *testing.T, made map[string]Figure) {
	figs := map[string]Figure{}
	for _, name := range []string{"healthy", "hunting", "dead spot", "no drive"} {
		figs[name] = made[name]
	}
	for name, fig := range figs {
		o := ReportOptions{Shop: "Millbrook Technical College <b>", Date: "9 March 2026"}
		for _, paper := range []Paper{A4, Letter} {
			o.Paper = paper
			var a, b bytes.Buffer
			for _, w := range []*bytes.Buffer{&a, &b} {
				if err := Report(w, "pdf", fig.Report, []*signal.Trace{fig.Trace}, o); err != nil {
					t.Fatalf("%s: %v", name, err)
				}
			}
			if !bytes.Equal(a.Bytes(), b.Bytes()) {
				t.Errorf("%s: two PDF reports differ", name)
			}
			if n := len(regexp.MustCompile(`/Type /Page\b`).FindAll(a.Bytes(), -1)); n != 1 {
				t.Errorf("%s: %d pages, want 1", name, n)
			}
			text := pdfText(t, a.Bytes())
			for _, want := range []string{"Actuator check", "9 March 2026", "What was found", "Recommended next step", "How sure", "Cautions"} {
				if !strings.Contains(text, want) {
					t.Errorf("%s: the PDF has no text %q", name, want)
				}
			}
		}
		var h bytes.Buffer
		if err := Report(&h, "html", fig.Report, []*signal.Trace{fig.Trace}, o); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		s := h.String()
		for _, want := range []string{"Millbrook Technical College &lt;b&gt;", "<svg class=\"wide\" role=\"img\"", "<svg class=\"narrow\" role=\"img\"", "<desc id=\"d0\">Verdict: ", "width=device-width", "@media print", "lang=\"en\"", "What was tested", "Cautions"} {
			if !strings.Contains(s, want) {
				t.Errorf("%s: the HTML lacks %q", name, want)
			}
		}
		// One file that needs no other: nothing is fetched from anywhere.
		if m := regexp.MustCompile(`(?i)(src=|href=|url\(|@import|<script|<link)[^>]{0,40}`).FindString(s); m != "" {
			t.Errorf("%s: the HTML reaches outside: %s", name, m)
		}
		for _, f := range inFull(fig.Report.Verdict.Absent).Items[:min(1, len(fig.Report.Verdict.Absent))] {
			for _, part := range strings.SplitAfter(f, "ead spot") { // behind which it is said what that is
				if !strings.Contains(s, strings.ReplaceAll(part, "'", "&#39;")) {
					t.Errorf("%s: the HTML does not say %q", name, part)
				}
			}
		}
	}

	// A pair shows both captures, in either format.
	a, b := made["binding"], made["free"]
	pair := analyze.Judge(a.Capture, b.Capture)
	pair.Compared = &analyze.Comparison{Text: "What shows with the door on does not show with the door off."}
	for _, format := range []string{"pdf", "html"} {
		var out bytes.Buffer
		if err := Report(&out, format, pair, []*signal.Trace{a.Trace, b.Trace}, ReportOptions{}); err != nil {
			t.Fatal(err)
		}
		text := out.String()
		if format == "pdf" {
			text = pdfText(t, out.Bytes())
		}
		for _, want := range []string{"Coupled against free", "Coupled: ", "with the door off"} {
			if !strings.Contains(text, want) {
				t.Errorf("the %s report of a pair lacks %q", format, want)
			}
		}
		ids := map[string]bool{}
		for _, m := range regexp.MustCompile(` id="[^"]*"`).FindAllString(text, -1) {
			if ids[m] {
				t.Errorf("the %s report has %s twice", format, m)
			}
			ids[m] = true
		}
	}

	fig := figs["healthy"]
	for _, c := range []struct {
		format string
		rep    *analyze.Report
		traces []*signal.Trace
		o      ReportOptions
		want   string
	}{
		{"txt", fig.Report, []*signal.Trace{fig.Trace}, ReportOptions{}, "expected pdf or html"},
		{"pdf", fig.Report, nil, ReportOptions{}, "0 traces for 1 captures"},
		{"pdf", &analyze.Report{}, nil, ReportOptions{}, "no capture"},
		{"pdf", fig.Report, []*signal.Trace{fig.Trace}, ReportOptions{Paper: "a3"}, "--paper"},
	} {
		var b bytes.Buffer
		err := Report(&b, c.format, c.rep, c.traces, c.o)
		if err == nil || !strings.Contains(err.Error(), c.want) || b.Len() > 0 {
			t.Errorf("got %v and %d bytes, want an error with %q and none", err, b.Len(), c.want)
		}
	}

	// Labels of the report keep apart too.
	for name, fig := range figs {
		d, err := compose([]Figure{fig}, Options{Panels: []Panel{Time}})
		if err != nil {
			t.Fatal(err)
		}
		d.marks = d.marks[:min(len(d.marks), maxFound)]
		w := wordsOf(fig.Report, 0, ReportOptions{Shop: strings.Repeat("A long name of a shop ", 9), Date: "9 March 2026"})
		for _, size := range []float64{10, 9, 8, 7} {
			s := &sheet{c: new(recorder.Canvas), f: d.f, th: Light.theme(), size: size, page: box{0, 0, mm(210), mm(297)}}
			switch err := d.report(s, &w, 0); {
			case errors.Is(err, errTooLong) && size > 7:
				continue
			case err != nil:
				t.Errorf("%s: at %g pt: %v", name, size, err)
			default:
				checkLabels(t, name+", report", s)
			}
		}
	}
}

// pdfText unpacks the page's streams and gives the text shown, which this
// package writes as two bytes a sign.
func pdfText(t *testing.T, file []byte) string {
	t.Helper()
	var out strings.Builder
	for _, part := range bytes.Split(file, []byte("stream\n")) {
		r, err := zlib.NewReader(bytes.NewReader(part))
		if err != nil {
			continue
		}
		raw, err := io.ReadAll(r)
		if err != nil || !bytes.Contains(raw, []byte(" Tj ET")) {
			continue
		}
		for _, m := range regexp.MustCompile(`(?s)Td \((.*?)\) Tj ET`).FindAllSubmatch(raw, -1) {
			b := regexp.MustCompile(`(?s)\\(.)`).ReplaceAll(m[1], []byte("$1"))
			var u []uint16
			for i := 0; i+1 < len(b); i += 2 {
				u = append(u, uint16(b[i])<<8|uint16(b[i+1]))
			}
			out.WriteString(string(utf16.Decode(u)) + "\n")
		}
	}
	return out.String()
}
