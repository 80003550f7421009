package plots

import (
	"image/color"
	"math"
)

// The eight colours of the palette of Okabe and Ito ("Color Universal
// Design", 2008 revision), made to stay apart for the common kinds of colour
// blindness.
func okabeIto(name string) color.NRGBA {
	switch name {
	case "orange":
		return rgb(0xE69F00)
	case "sky blue":
		return rgb(0x56B4E9)
	case "bluish green":
		return rgb(0x009E73)
	case "yellow":
		return rgb(0xF0E442)
	case "blue":
		return rgb(0x0072B2)
	case "vermillion":
		return rgb(0xD55E00)
	case "reddish purple":
		return rgb(0xCC79A7)
	}
	return rgb(0x000000)
}

func rgb(x uint32) color.NRGBA {
	return color.NRGBA{R: uint8(x >> 16), G: uint8(x >> 8), B: uint8(x), A: 255}
}

// mix is share of a over b, both opaque.
func mix(a, b color.NRGBA, share float64) color.NRGBA {
	m := func(x, y uint8) uint8 { return uint8(math.Round(share*float64(x) + (1-share)*float64(y))) }
	return color.NRGBA{m(a.R, b.R), m(a.G, b.G), m(a.B, b.B), 255}
}

// Contrast is the contrast ratio of two opaque colours, 1..21, as WCAG 2.2
// defines it (relative luminance of sRGB, plus 0.05 for stray light).
func Contrast(a, b color.Color) float64 {
	x, y := luminance(a), luminance(b)
	if x < y {
		x, y = y, x
	}
	return (x + 0.05) / (y + 0.05)
}

// luminance is the relative luminance of WCAG 2.2, 0..1.
func luminance(c color.Color) float64 {
	r, g, b, _ := c.RGBA()
	lin := func(v uint32) float64 {
		s := float64(v) / 0xffff
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(r) + 0.7152*lin(g) + 0.0722*lin(b)
}

// theme is the set of colours of one style. Every colour is opaque.
type theme struct {
	paper, ink, faint, grid color.NRGBA // background, text, lesser text, grid lines
	panel                   color.NRGBA // background of the data area
	feedback, drive         color.NRGBA // the two traces
	second                  color.NRGBA // the other capture of an overlay
	mark                    color.NRGBA // outlines and brackets of findings
	band                    color.NRGBA // fill of a finding's place
	up, down                color.NRGBA // tints of moves, apart in lightness too: on a grey print no hue is left
	upInk, downInk          color.NRGBA // arrowheads and profile lines
	stop                    color.NRGBA // hatching of stops
	note                    color.NRGBA // box of hand-written notes
	badge, badgeInk         color.NRGBA // numbered callouts
}

// theme returns the colours of the style.
func (s Style) theme() theme {
	white, black := rgb(0xFFFFFF), rgb(0x000000)
	switch s {
	case Dark:
		paper := rgb(0x14181D)
		return theme{
			paper: paper, ink: rgb(0xF2F2F2), faint: rgb(0xB9C0C8), grid: rgb(0x343B44), panel: rgb(0x1A1F26),
			feedback: okabeIto("sky blue"), drive: rgb(0xD0D0D0), second: okabeIto("orange"),
			mark: okabeIto("yellow"), band: mix(okabeIto("yellow"), rgb(0x1A1F26), 0.22),
			up: mix(okabeIto("sky blue"), rgb(0x1A1F26), 0.07), down: mix(okabeIto("orange"), rgb(0x1A1F26), 0.2),
			upInk: okabeIto("sky blue"), downInk: okabeIto("orange"),
			stop: rgb(0x98A2AD), note: rgb(0x2B2A1A), badge: okabeIto("yellow"), badgeInk: black,
		}
	case Mono:
		return theme{
			paper: white, ink: black, faint: rgb(0x404040), grid: rgb(0xDDDDDD), panel: white,
			feedback: black, drive: rgb(0x404040), second: rgb(0x6A6A6A),
			mark: black, band: rgb(0xCFCFCF), up: white, down: rgb(0xEFEFEF),
			upInk: black, downInk: rgb(0x505050),
			stop: rgb(0x606060), note: white, badge: black, badgeInk: white,
		}
	}
	return theme{
		paper: white, ink: rgb(0x111111), faint: rgb(0x4A4F55), grid: rgb(0xE3E6E9), panel: white,
		feedback: okabeIto("blue"), drive: rgb(0x333333), second: okabeIto("vermillion"),
		mark: okabeIto("vermillion"), band: mix(okabeIto("orange"), white, 0.38),
		up: mix(okabeIto("sky blue"), white, 0.09), down: mix(okabeIto("reddish purple"), white, 0.25),
		upInk: okabeIto("blue"), downInk: rgb(0x9A4A78), // reddish purple, darkened to 3:1 on white
		stop: rgb(0x6B7178), note: rgb(0xFFFBE0), badge: rgb(0x111111), badgeInk: white,
	}
}
