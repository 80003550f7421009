package plots

import (
	"image/color"
	"math"
	"testing"
)

// Values computed from the definition by other means: black on white is 21 by
// construction; #767676 is the lightest grey that keeps 4.5:1 on white, and
// #777777 misses it (commonly quoted with WCAG, from memory).
func TestContrast(t *testing.T) {
	white := rgb(0xFFFFFF)
	if got := Contrast(white, rgb(0)); math.Abs(got-21) > 1e-9 {
		t.Errorf("black on white: %v, want 21", got)
	}
	if got := Contrast(rgb(0x767676), white); got < 4.5 || got > 4.6 {
		t.Errorf("#767676 on white: %v, want just above 4.5", got)
	}
	if got := Contrast(rgb(0x777777), white); got >= 4.5 {
		t.Errorf("#777777 on white: %v, want just below 4.5", got)
	}
	if Contrast(white, rgb(0x0072B2)) != Contrast(rgb(0x0072B2), white) {
		t.Error("contrast depends on the order")
	}
}

// WCAG 2.2: 4.5:1 for text (1.4.3), 3:1 for what must be seen in graphics
// (1.4.11), against every ground it can lie on.
func TestThemesKeepContrast(t *testing.T) {
	for _, style := range []Style{Light, Dark, Mono} {
		th := style.theme()
		check := func(what string, fg, bg interface {
			RGBA() (r, g, b, a uint32)
		}, least float64) {
			t.Helper()
			if c := Contrast(fg, bg); c < least {
				t.Errorf("%s: %s has contrast %.2f, want %.1f", style, what, c, least)
			}
		}
		check("text on paper", th.ink, th.paper, 4.5)
		check("text on a panel", th.ink, th.panel, 4.5)
		check("lesser text", th.faint, th.paper, 4.5)
		check("text on a note", th.ink, th.note, 4.5)
		check("text on a badge", th.badgeInk, th.badge, 4.5)
		check("badge on paper", th.badge, th.paper, 3)
		for _, g := range []struct {
			name   string
			ground interface {
				RGBA() (r, g, b, a uint32)
			}
		}{{"panel", th.panel}, {"up tint", th.up}, {"down tint", th.down}, {"tint of a crowd", mix(th.up, th.down, 0.5)}} {
			check("text on the "+g.name, th.ink, g.ground, 4.5)
			check("feedback on the "+g.name, th.feedback, g.ground, 3)
			check("drive on the "+g.name, th.drive, g.ground, 3)
			check("outline on the "+g.name, th.mark, g.ground, 3)
			check("stop on the "+g.name, th.stop, g.ground, 3)
			check("reference and supply on the "+g.name, th.faint, g.ground, 3)
		}
		check("feedback on a finding's place", th.feedback, th.band, 3)
		check("second capture", th.second, th.panel, 3)
		check("up profile", th.upInk, th.panel, 3)
		check("down profile", th.downInk, th.panel, 3)
	}
}

// The report's own colours.
// On a grey print the two tints of moves are told by their lightness alone. Five units of
// CIE L* are several just noticeable differences (CIE 15:2018), for patches side by side.
func TestTintsStayApartInGrey(t *testing.T) {
	lightness := func(c color.Color) float64 { return 116*math.Cbrt(luminance(c)) - 16 } // for luminance above 0.0089
	for _, s := range []Style{Light, Dark, Mono} {
		th := s.theme()
		if d := math.Abs(lightness(th.up) - lightness(th.down)); d < 5 {
			t.Errorf("%v: tints of moves are %.1f apart in L*, want 5", s, d)
		}
	}
}

func TestReportKeepsContrast(t *testing.T) {
	for _, c := range [][2]uint32{{0x111111, 0xFFFFFF}, {0x111111, 0xF3F3F3}, {0x4A4F55, 0xFFFFFF}} {
		if got := Contrast(rgb(c[0]), rgb(c[1])); got < 4.5 {
			t.Errorf("#%06x on #%06x: %.2f, want 4.5", c[0], c[1], got)
		}
	}
}
