package plots

import (
	"bytes"
	"html/template"
	"io"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"
)

// reportPage is the whole page. Colours of text keep 4.5:1 against theirs.
const reportPage = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Actuator check: {{.Headline}}</title>
<style>
:root { color-scheme: light; }
body { font: 16px/1.4 'Liberation Sans', Arial, Helvetica, sans-serif; color: #111111; background: #ffffff; margin: 0 auto; padding: 1em; max-width: 62em; }
header { display: flex; flex-wrap: wrap; align-items: baseline; gap: 0 1em; }
h1 { font-size: 1.5em; margin: 0; }
header p { margin: 0; }
header .date { margin-left: auto; }
.verdict { display: flex; gap: 1em; align-items: center; border: 2px solid #111111; background: #f3f3f3; padding: .6em .8em; margin: .7em 0; }
.verdict svg { flex: none; width: 2.8em; height: 2.8em; }
.verdict strong { font-size: 1.25em; display: block; }
h2 { font-size: 1em; border-bottom: 1px solid #c9ced3; margin: .8em 0 .3em; }
ul, ol { margin: .2em 0; padding-left: 1.3em; }
figure { margin: .5em 0; }
figure svg { display: block; width: 100%; height: auto; }
.columns { display: grid; grid-template-columns: 1fr; gap: 0 1.6em; }
table { border-collapse: collapse; width: 100%; }
th { font-weight: normal; text-align: left; padding: 0 .5em 0 0; white-space: nowrap; }
td { padding: .1em 0; }
td:last-child { text-align: right; white-space: nowrap; padding-left: .5em; }
td svg { display: block; width: 100%; height: .8em; overflow: visible; }
footer { border-top: 1px solid #c9ced3; margin-top: .8em; color: #4a4f55; font-size: .85em; }
@media (min-width: 44em) { .columns { grid-template-columns: 1fr 1fr; } }
@page { margin: 11mm; }
@media print {
  body { font-size: {{.PrintSize}}pt; line-height: 1.25; padding: 0; max-width: none; }
  .columns { grid-template-columns: 1fr 1fr; }
  figure svg { max-height: 95mm; }
  h2 { margin-top: .5em; }
  .verdict { margin: .4em 0; padding: .3em .6em; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
}
</style>
</head>
<body>
<header><h1>Actuator check</h1>{{with .Shop}}<p>{{.}}</p>{{end}}{{with .Date}}<p class="date">{{.}}</p>{{end}}</header>
<main>
<div class="verdict">{{.Sign}}<div><strong>{{.Headline}}</strong>{{.Meaning}}</div></div>
<h2>What was tested</h2>
{{if eq (len .Tested) 1}}<p style="margin:.2em 0">{{index .Tested 0}}</p>{{else}}<ul>{{range .Tested}}<li>{{.}}</li>{{end}}</ul>{{end}}
<figure>{{.Picture}}</figure>
<div class="columns">
<div>
<h2>What was found</h2>
{{if .Found}}<ol>{{range .Found}}<li>{{.}}</li>{{end}}</ol>{{else}}<p style="margin:.2em 0">Nothing unusual in what was logged.</p>{{end}}
{{with .More}}<p style="margin:.2em 0">{{.}}</p>{{end}}
<h2>How sure</h2>
<p style="margin:.2em 0">{{.SureText}}</p>
<table>{{range .Sure}}<tr><th scope="row">{{.Name}}</th><td style="width:50%"><svg viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true"><rect x="0.3" y="0.3" width="99.4" height="7.4" fill="none" stroke="#6b7178" stroke-width="0.6"/><rect width="{{printf "%.1f" .Percent}}" height="8" fill="#0072b2"/></svg></td><td>{{.Text}}</td></tr>{{end}}</table>
</div>
<div>
<h2>Recommended next step</h2>
<p style="margin:.2em 0"><strong>{{.Step}}</strong></p>
{{with .Test}}<p style="margin:.2em 0">To be surer: {{.}}</p>{{end}}
{{with .Procedure}}<ul>{{range .}}<li>{{.}}</li>{{end}}</ul>{{end}}
{{with .RulesOut}}<h2>What this rules out</h2><ul>{{range .}}<li>{{.}}</li>{{end}}</ul>{{end}}
{{with .Unknown}}<h2>What it cannot tell</h2><ul>{{range .}}<li>{{.}}</li>{{end}}</ul>{{end}}
<h2>Cautions</h2><ul>{{range .Cautions}}<li>{{.}}</li>{{end}}</ul>
</div>
</div>
</main>
<footer>{{.Foot}}</footer>
</body>
</html>
`

func reportHTML(w io.Writer, d *drawing, words *reportWords) error {
	t, err := template.New("report").Parse(reportPage)
	if err != nil {
		return err
	}
	pic, err := d.strip(words)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	err = t.Execute(&b, struct {
		*reportWords
		Picture, Sign template.HTML
		PrintSize     float64
	}{words, template.HTML(pic), template.HTML(signSVG(faultSymbol(words.Fault))), d.printSize(words)})
	if err != nil {
		return err
	}
	_, err = w.Write(b.Bytes())
	return err
}

// strip is the time panel as an SVG to put into a page, drawn narrow with
// large type so that it can be read on a phone.
func (d *drawing) strip(words *reportWords) (string, error) {
	const w, h, size = 430, 270, 10
	var b strings.Builder
	th := Light.theme()
	err := render(&b, "svg", w, h, 72, th, "Drive and feedback against time", altReport(words), func(c vg.Canvas) error {
		s := &sheet{c: c, f: d.f, th: th, size: size, page: box{0, 0, w, h}}
		s.fill(s.page, th.paper)
		d.timePanel(s, box{2, 2.2 * size, w - 2, h - 2})
		d.signs(s, box{2, 0, w - 2, h}, 2)
		return nil
	})
	if err != nil {
		return "", err
	}
	svg := b.String()
	return svg[strings.Index(svg, "<svg"):], nil
}

// printSize is the size of type at which the page prints on one sheet: the
// one the PDF takes, which holds the same words.
func (d *drawing) printSize(words *reportWords) float64 {
	for _, try := range []float64{9.5, 9, 8.5, 8, 7.5} {
		s := &sheet{c: new(recorder.Canvas), f: d.f, th: Light.theme(), size: try, page: box{0, 0, 595, 792}}
		if d.report(s, words) == nil {
			// A browser leaves more space around headings and lists.
			return math.Max(7, try-0.7)
		}
	}
	return 7
}

// signSVG is a symbol as an SVG of its own; the words beside it say the same.
func signSVG(sym string) string {
	var b strings.Builder
	b.WriteString(`<svg viewBox="-0.7 -0.7 11.4 11.4" aria-hidden="true"><g transform="translate(0 10) scale(1 -1)" fill="none" stroke="#111111" stroke-width="0.7">`)
	for _, run := range strings.Split(sym, "|") {
		b.WriteString(`<polyline points="` + run + `"/>`)
	}
	b.WriteString(`</g></svg>`)
	return b.String()
}
