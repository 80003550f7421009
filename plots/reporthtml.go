package plots

import (
	"bytes"
	"fmt"
	"html/template"
	"io"
	"strings"

	"gonum.org/v1/plot/vg"
)

// reportPage is the whole page. Colours of text keep 4.5:1 against theirs.
const reportPage = `{{define "rest"}}{{range .Out}}<li class="screen">{{.}}</li>{{end}}{{with .More}}<li class="paper">{{.}}</li>{{end}}{{end}}<!DOCTYPE html>
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
.lesser { color: #4a4f55; }
.verdict { display: flex; gap: 1em; align-items: center; border: 2px solid #111111; background: #f3f3f3; padding: .6em .8em; margin: .7em 0; }
.verdict svg { flex: none; width: 2.8em; height: 2.8em; }
.verdict h2 { font-size: 1.25em; border: 0; margin: 0; }
h2 { font-size: 1em; border-bottom: 1px solid #c9ced3; margin: .8em 0 .3em; }
ul, ol { margin: .2em 0; padding-left: 1.3em; }
figure { margin: .5em 0; }
figure svg { display: block; width: 100%; height: auto; }
figure .narrow { display: none; }
.columns { columns: 2; column-gap: 1.6em; }
section { break-inside: avoid; overflow: hidden; }
.columns p { margin: .2em 0; }
table { border-collapse: collapse; width: 100%; }
th { font-weight: normal; text-align: left; padding: 0 .5em 0 0; white-space: nowrap; }
td { padding: .1em 0; }
caption { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
thead th { color: #4a4f55; font-size: .85em; }
th:last-child { text-align: right; padding: 0; }
td:last-child { text-align: right; white-space: nowrap; padding-left: .5em; }
td svg { display: block; width: 100%; height: .8em; overflow: visible; }
footer { border-top: 1px solid #c9ced3; margin-top: .8em; color: #4a4f55; font-size: .85em; }
@media screen and (max-width: 44em) { .columns { columns: 1; } figure .wide { display: none; } figure .narrow { display: block; } }
.paper { display: none; }
@page { margin: 11mm; }
@media print {
  .screen { display: none; }
  .paper { display: revert; }
  body { font-size: {{.PrintSize}}pt; line-height: 1.25; padding: 0; max-width: none; }
  h2 { margin-top: .5em; }
  .verdict { margin: .4em 0; padding: .3em .6em; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
}
</style>
</head>
<body>
<header><h1>Actuator check</h1>{{with .Shop}}<p>{{.}}</p>{{end}}{{with .Address}}<p class="lesser">{{.}}</p>{{end}}{{with .Job}}<p class="lesser">{{.}}</p>{{end}}{{with .Date}}<p class="date">{{.}}</p>{{end}}</header>
<main>
<div class="verdict">{{.Sign}}<div><h2>{{.Headline}}</h2>{{.Meaning}}</div></div>
<h2>What was tested</h2>
{{if eq (len .Tested) 1}}<p style="margin:.2em 0">{{index .Tested 0}}</p>{{else}}<ul>{{range .Tested}}<li>{{.}}</li>{{end}}</ul>{{end}}
{{range .Pictures}}<figure>{{.}}</figure>
{{end}}<div class="columns">
<section><h2>What was found</h2>
{{if .Found}}<ol>{{range .Found}}<li>{{.}}</li>{{end}}{{range .Lesser}}<li class="screen">{{.}}</li>{{end}}</ol>{{else}}<p>{{.Nothing}}</p>{{end}}
{{with .More}}<p class="paper">{{.}}</p>{{end}}
{{range .Compared}}<p>{{.}}</p>{{end}}{{with .Why}}<p>{{.}}</p>{{end}}</section>
<section><h2>How sure</h2>
<p>{{.SureText}}</p>
<table><caption>Chance of each cause</caption><thead><tr><th scope="col">Cause</th><td></td><th scope="col">Chance</th></tr></thead><tbody>{{range .Sure}}<tr><th scope="row">{{.Name}}</th><td style="width:50%"><svg viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true"><rect x="0.3" y="0.3" width="99.4" height="7.4" fill="none" stroke="#6b7178" stroke-width="0.6"/><rect width="{{printf "%.1f" .Percent}}" height="8" fill="{{$.Bar}}"/></svg></td><td>{{.Text}}</td></tr>{{end}}</tbody></table></section>
<section><h2>Recommended next step</h2>
<p><strong>{{.Step}}</strong></p>
{{with .Test}}<p>{{.}}</p>{{end}}
{{with .Procedure.Items}}<ul>{{range .}}<li>{{.}}</li>{{end}}{{template "rest" $.Procedure}}</ul>{{end}}
{{with .Shows.Items}}<p>{{$.ShowsTitle}}</p><ul>{{range .}}<li>{{.}}</li>{{end}}{{template "rest" $.Shows}}</ul>{{end}}
{{with .Else}}<p>{{.}}</p>{{end}}</section>
{{with .RulesOut.Items}}<section><h2>Looked for and not found</h2><ul>{{range .}}<li>{{.}}</li>{{end}}{{template "rest" $.RulesOut}}</ul></section>{{end}}
{{with .Unknown.Items}}<section><h2>What it cannot tell</h2><ul>{{range .}}<li>{{.}}</li>{{end}}{{template "rest" $.Unknown}}</ul></section>{{end}}
<section><h2>Cautions</h2><ul>{{range .Cautions.Items}}<li>{{.}}</li>{{end}}{{template "rest" .Cautions}}</ul></section>
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
	// The words are fitted first: what does not fit on paper shows on a screen alone.
	size, err := d.printSize(words)
	if err != nil {
		return err
	}
	pictures, err := d.strips(words)
	if err != nil {
		return err
	}
	bar := "#0072b2"
	if d.o.Style == Mono {
		bar = "#111111"
	}
	var b bytes.Buffer
	err = t.Execute(&b, struct {
		*reportWords
		Pictures   []template.HTML
		Sign       template.HTML
		Bar        string
		PrintSize  float64
		ShowsTitle string
	}{words, pictures, template.HTML(signSVG(faultSymbol(words.Fault))), bar, size, showsTitle})
	if err != nil {
		return err
	}
	_, err = w.Write(b.Bytes())
	return err
}

// strip is one picture for the page, of w x h points with type of the size.
// class says on which screens it shows.
type strip struct {
	class, title, alt string
	w, h, size        float64
	draw              func(s *sheet)
}

// strips are the pictures as SVG: each once for a wide page and paper, and
// once narrow with larger type, so that it can be read on a phone.
func (d *drawing) strips(words *reportWords) ([]template.HTML, error) {
	timeOn := func(s *sheet) {
		in := s.page.grow(-2)
		if d.beside != nil {
			in = s.heading(s.f.shorten(d.pictured(), s.size, true, in.w()), in)
		}
		_, rows := d.signSpots(s, in.w())
		d.timePanel(s, box{in.x0, in.y0 + (signRow*float64(rows)+0.3)*s.size, in.x1, in.y1})
		d.signs(s, in, in.y0)
	}
	h := 270.0
	if d.beside != nil {
		h = 210
	}
	list := []strip{
		{"wide", "Drive and feedback against time", altReport(words), 640, h, 9.5, timeOn},
		{"narrow", "Drive and feedback against time", altReport(words), 310, 310, 10, timeOn},
	}
	if d.beside != nil {
		pairOn := func(s *sheet) {
			d.pairPanel(s, s.page.grow(-2), d.beside.a, d.beside.b, d.beside.first, d.beside.second)
		}
		title := upper(d.beside.first) + " against " + d.beside.second
		alt := title + ": feedback against time, and speed at each position, laid over each other. " + strings.Join(words.Compared, " ")
		list = append(list, strip{"wide", title, alt, 640, 165, 9.5, pairOn}, strip{"narrow", title, alt, 310, 330, 10, pairOn})
	}
	var out []template.HTML
	th := d.o.Style.theme()
	for i, p := range list {
		var b strings.Builder
		err := render(&b, "svg", p.w, p.h, 72, th, p.title, p.alt, func(c vg.Canvas) error {
			s := &sheet{c: c, f: d.f, th: th, mono: d.o.Style == Mono, size: p.size, page: box{0, 0, p.w, p.h}}
			s.fill(s.page, th.paper)
			p.draw(s)
			return nil
		})
		if err != nil {
			return nil, err
		}
		svg := b.String()
		svg = svg[strings.Index(svg, "<svg"):]
		// Several pictures in one page need names of their own.
		svg = strings.NewReplacer(
			`<svg role`, `<svg class="`+p.class+`" role`,
			`labelledby="t d"`, fmt.Sprintf(`labelledby="t%d d%d"`, i, i),
			`<title id="t"`, fmt.Sprintf(`<title id="t%d"`, i),
			`<desc id="d"`, fmt.Sprintf(`<desc id="d%d"`, i),
		).Replace(svg)
		out = append(out, template.HTML(svg))
	}
	return out, nil
}

// printSize is the size of type at which the page prints on one sheet of A4
// as well as of Letter: the one that the same words take in the PDF on a page
// of the one's width and the other's height.
func (d *drawing) printSize(words *reportWords) (float64, error) {
	const width, height = 595, 792
	size, _, err := d.fit(words, width, height, []float64{9.5, 9, 8.5, 8, 7.5})
	// A browser leaves more space around headings and lists.
	return size - 0.7, err
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
