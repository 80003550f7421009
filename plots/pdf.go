package plots

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"io"
	"math"
	"regexp"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	pdf "codeberg.org/go-pdf/fpdf"
	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// page is a [vg.Canvas] that writes one PDF page. The canvas of gonum/plot
// dates its files, embeds whole fonts and knows only Western signs; this one
// writes no date, embeds the signs used, and keeps the text searchable in any
// script the font has.
type page struct {
	doc   *pdf.Fpdf
	h     float64
	state []pen
}

type pen struct {
	width  float64
	turned float64 // degrees, counted only for text
	at     vg.Point
}

func newPage(w, h float64, title string) *page {
	d := pdf.NewCustom(&pdf.InitType{UnitStr: "pt", Size: pdf.SizeType{Wd: w, Ht: h}})
	d.SetCatalogSort(true)
	d.SetCreationDate(noDate())
	d.SetModificationDate(noDate())
	d.SetProducer("threewire", true)
	d.SetTitle(title, true)
	d.SetLang("en")
	d.SetMargins(0, 0, 0)
	d.SetAutoPageBreak(false, 0)
	d.AddUTF8FontFromBytes("text", "", liberationsansregular.TTF)
	d.AddUTF8FontFromBytes("text", "B", liberationsansbold.TTF)
	d.AddPage()
	p := &page{doc: d, h: h, state: []pen{{}}}
	vg.Initialize(p)
	return p
}

// noDate stands in until [page.writeTo] takes the dates out.
func noDate() time.Time { return time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC) }

func (p *page) top() *pen { return &p.state[len(p.state)-1] }

func (p *page) SetLineWidth(w vg.Length) {
	p.top().width = w.Points()
	p.doc.SetLineWidth(w.Points())
}

func (p *page) SetLineDash(d []vg.Length, offset vg.Length) {
	out := make([]float64, len(d))
	for i, x := range d {
		out[i] = x.Points()
	}
	p.doc.SetDashPattern(out, offset.Points())
}

func (p *page) SetColor(c color.Color) {
	if c == nil {
		c = color.Black
	}
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	r, g, b := int(n.R), int(n.G), int(n.B)
	p.doc.SetFillColor(r, g, b)
	p.doc.SetDrawColor(r, g, b)
	p.doc.SetTextColor(r, g, b)
}

// Rotate and Translate count only for text: nothing else on a sheet is ever
// moved.
func (p *page) Rotate(rad float64)                  { p.top().turned += rad * 180 / math.Pi }
func (p *page) Translate(q vg.Point)                { p.top().at = p.top().at.Add(q) }
func (p *page) Scale(x, y float64)                  {}
func (p *page) Push()                               { p.state = append(p.state, *p.top()) }
func (p *page) Pop()                                { p.state = p.state[:len(p.state)-1] }
func (p *page) Stroke(path vg.Path)                 { p.path(path, "D") }
func (p *page) Fill(path vg.Path)                   { p.path(path, "F") }
func (p *page) DrawImage(vg.Rectangle, image.Image) {}

func (p *page) path(path vg.Path, how string) {
	if how == "D" && p.top().width <= 0 {
		return
	}
	for _, c := range path {
		x, y := c.Pos.X.Points(), p.h-c.Pos.Y.Points()
		switch c.Type {
		case vg.MoveComp:
			p.doc.MoveTo(x, y)
		case vg.LineComp:
			p.doc.LineTo(x, y)
		case vg.CloseComp:
			p.doc.ClosePath()
		}
	}
	p.doc.DrawPath(how)
}

func (p *page) FillString(f font.Face, at vg.Point, text string) {
	if f.Font.Size == 0 || text == "" {
		return
	}
	weight := ""
	if f.Font.Weight == xfont.WeightBold {
		weight = "B"
	}
	p.doc.SetFont("text", weight, f.Font.Size.Points())
	q := p.top().at.Add(at)
	x, y := q.X.Points(), p.h-q.Y.Points()
	if p.top().turned == 0 {
		p.doc.Text(x, y, text)
		return
	}
	p.doc.TransformBegin()
	p.doc.TransformRotate(p.top().turned, x, y)
	p.doc.Text(x, y, text)
	p.doc.TransformEnd()
}

// writeTo writes the file without dates.
func (p *page) writeTo(w io.Writer) error {
	var b bytes.Buffer
	if err := p.doc.Output(&b); err != nil {
		return fmt.Errorf("writing PDF: %w", err)
	}
	// Blanks of the same length keep the cross-reference table right.
	date := regexp.MustCompile(`/(CreationDate|ModDate) \(D:20000101000000\)`)
	out := date.ReplaceAllFunc(b.Bytes(), func(m []byte) []byte { return bytes.Repeat([]byte(" "), len(m)) })
	_, err := w.Write(out)
	return err
}
