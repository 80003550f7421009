package main

import (
	"bytes"
	"io"
	"mime"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"unicode"

	"threewire/analyze"
	"threewire/plots"
)

// size of a picture in mm.
type size struct{ Width, Height int }

// phone is the size of the picture for a phone: so narrow that its type is
// read without zooming at 360 pixels, and as tall as panels and words need.
func (d *drawn) phone() size {
	s := size{100, 145}
	if n := len(d.figs); n > 2 {
		s.Height = 30 + 42*n // one below the other, each half as high as wide
		return s
	}
	if len(d.figs) > 1 {
		s.Height += 90 // two captures laid over each other
	}
	for i, f := range d.figs[0].Capture.Findings {
		if i < 6 { // the picture numbers no more
			s.Height += 5 * (1 + len(f.Title)/40)
		}
	}
	has := func(kinds ...analyze.Kind) bool {
		return slices.ContainsFunc(d.figs[0].Capture.Findings, func(f analyze.Finding) bool { return slices.Contains(kinds, f.Kind) })
	}
	if len(d.figs) == 1 && has(analyze.Hunting) {
		s.Height += 120 // a close-up, and speeds below it
	}
	if len(d.figs) == 1 && has(analyze.SpanDrift, analyze.TravelChange, analyze.Heating) {
		s.Height += 50 // sweep by sweep
	}
	return s
}

// output is something made of a result, to look at or to keep.
type output struct {
	kind string // media type
	name string // after the capture's name
	show bool   // in the browser, rather than saved
	make func(p *page, k *kept, d *drawn, asked url.Values, w io.Writer) error
}

// outputs are all of them, by the last word of the path.
func outputs() map[string]output {
	picture := func(format string, o func(d *drawn) plots.Options) func(*page, *kept, *drawn, url.Values, io.Writer) error {
		return func(_ *page, _ *kept, d *drawn, _ url.Values, w io.Writer) error {
			return plots.Draw(w, format, d.figs, o(d))
		}
	}
	report := func(format string) func(*page, *kept, *drawn, url.Values, io.Writer) error {
		return func(p *page, k *kept, d *drawn, asked url.Values, w io.Writer) error {
			o := p.report
			o.Date, o.Job = k.when.Format("2 January 2006"), jobLine(asked.Get("job"))
			return plots.Report(w, format, d.report, d.all(), o)
		}
	}
	wide := func(*drawn) plots.Options { return plots.Options{} }
	narrow := func(d *drawn) plots.Options {
		s := d.phone()
		return plots.Options{Width: float64(s.Width), Height: float64(s.Height)}
	}
	return map[string]output{
		"view.svg":    {"image/svg+xml", "", true, picture("svg", wide)},
		"phone.svg":   {"image/svg+xml", "", true, picture("svg", narrow)},
		"picture.svg": {"image/svg+xml", ".svg", false, picture("svg", wide)},
		"picture.png": {"image/png", ".png", false, picture("png", wide)},
		"picture.pdf": {"application/pdf", ".pdf", false, picture("pdf", wide)},
		"report.pdf":  {"application/pdf", "-report.pdf", false, report("pdf")},
		"report.html": {"text/html; charset=utf-8", "-report.html", true, report("html")},
		"result.json": {"application/json", ".json", false, func(_ *page, _ *kept, d *drawn, _ url.Values, w io.Writer) error { return writeJSON(w, d.judged) }},
	}
}

// longestJob is the most characters of a job line that a form sends: two lines on the
// report.
const longestJob = 160

// jobLine is the job of a report as it was typed, in one line and not endless.
func jobLine(typed string) string {
	r := []rune(strings.Join(strings.Fields(strings.ToValidUTF8(typed, "")), " "))
	return string(r[:min(len(r), longestJob)])
}

// output makes and sends one.
func (p *page) output(w http.ResponseWriter, r *http.Request) {
	o, ok := outputs()[r.PathValue("output")]
	if !ok {
		p.refuse(w, r, errNothing)
		return
	}
	k, d := p.keep.get(r.PathValue("id"))
	if k == nil {
		p.refuse(w, r, errNotKept)
		return
	}
	d, err := p.drawnOf(r.Context(), k, d)
	var b bytes.Buffer // whole or not at all
	if err == nil {
		err = p.atWork(r.Context(), func() error { return o.make(p, k, d, r.URL.Query(), &b) })
	}
	if err != nil {
		p.refuse(w, r, err)
		return
	}
	h := w.Header()
	h.Set("Content-Type", o.kind)
	h.Set("Content-Security-Policy", outputPolicy)
	if !o.show {
		h.Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": plainName(k.files[0].name) + o.name}))
	}
	w.Write(b.Bytes())
}

// plainName is a capture's name for a file on any system.
func plainName(name string) string {
	return strings.Map(func(r rune) rune {
		if r == '.' || r == '-' || r == '_' || r < 0x80 && (unicode.IsLetter(r) || unicode.IsDigit(r)) {
			return r
		}
		return '-'
	}, bareName(name))
}
