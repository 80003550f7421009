package plots

import (
	"fmt"
	"strings"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// faces are the two cuts of the embedded Liberation Sans and the advance
// widths met so far, in ems.
type faces struct {
	regular, bold *opentype.Font
	width         [2]map[rune]float64
}

func loadFaces() (*faces, error) {
	r, err := opentype.Parse(liberationsansregular.TTF)
	if err != nil {
		return nil, fmt.Errorf("reading the embedded regular font: %w", err)
	}
	b, err := opentype.Parse(liberationsansbold.TTF)
	if err != nil {
		return nil, fmt.Errorf("reading the embedded bold font: %w", err)
	}
	return &faces{regular: r, bold: b, width: [2]map[rune]float64{{}, {}}}, nil
}

func (f *faces) face(size float64, bold bool) font.Face {
	c := font.Font{Typeface: "Liberation", Variant: "Sans", Size: vg.Length(size)}
	if !bold {
		return font.Face{Font: c, Face: f.regular}
	}
	c.Weight = xfont.WeightBold
	return font.Face{Font: c, Face: f.bold}
}

// measure is the width of a line of text in points. Kerning is left out: it
// only ever narrows a line, and not every format has it.
func (f *faces) measure(s string, size float64, bold bool) float64 {
	k := 0
	if bold {
		k = 1
	}
	sum := 0.0
	for _, r := range s {
		w, ok := f.width[k][r]
		if !ok {
			one := f.face(1000, bold)
			w = one.Width(string(r)).Points() / 1000
			f.width[k][r] = w
		}
		sum += w
	}
	return sum * size
}

// printable replaces what the font has no sign for, and control characters,
// by a question mark.
func (f *faces) printable(s string) string {
	var buf sfnt.Buffer
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return ' '
		case r < ' ':
			return -1
		}
		if i, err := f.regular.GlyphIndex(&buf, r); err != nil || i == 0 {
			return '?'
		}
		return r
	}, s)
}

// wrap breaks text into lines no wider than width, at spaces but not at
// [bound]; a word wider than a line is cut.
func (f *faces) wrap(s string, size float64, bold bool, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.FieldsFunc(s, func(r rune) bool { return r == ' ' }) {
		for f.measure(word, size, bold) > width {
			if line != "" {
				lines, line = append(lines, line), ""
			}
			cut := 0
			for i := range word {
				if i > 0 && f.measure(word[:i], size, bold) > width {
					break
				}
				cut = i
			}
			if cut == 0 { // not even one sign fits
				break
			}
			lines, word = append(lines, word[:cut]), word[cut:]
		}
		switch next := line + " " + word; {
		case line == "":
			line = word
		case f.measure(next, size, bold) <= width:
			line = next
		default:
			lines, line = append(lines, line), word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// shorten cuts a line to the width, with dots in the middle: the end of a
// file name often tells more than its middle.
func (f *faces) shorten(s string, size float64, bold bool, width float64) string {
	if f.measure(s, size, bold) <= width {
		return s
	}
	r := []rune(s)
	for n := len(r) - 1; n > 0; n-- {
		t := string(r[:n-n/2]) + "…" + string(r[len(r)-n/2:])
		if f.measure(t, size, bold) <= width {
			return t
		}
	}
	return ""
}
