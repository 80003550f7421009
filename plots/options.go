package plots

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"threewire/analyze"
	"threewire/signal"
)

// Figure is one capture to draw: what was read and what was measured on it.
type Figure struct {
	Trace   *signal.Trace
	Capture *analyze.Capture
	// Label names the capture in the picture. Empty means the file's name.
	Label string
	// Report is the judgement whose verdict heads the picture; nil means
	// none.
	Report *analyze.Report
	// Repair says, of the first figure of those before and after a repair, what became
	// of it; nil means that the picture says nothing of it.
	Repair *analyze.Repair
	// Truth is what is true of a simulated capture, for the answer to an exercise; nil
	// where it is not known.
	Truth *Truth
}

// Truth is what is true of a simulated capture.
type Truth struct {
	Fault analyze.Fault // the component, [analyze.NoFault] of a sound one
	Name  string        // of the fault
	Text  string        // what is wrong and where, in sentences, in the picture's unit
}

// Panel is one kind of picture.
type Panel string

// The panels. Auto picks those the captures have something to show in.
const (
	Auto    Panel = "auto"
	Time    Panel = "time"    // drive and feedback against time
	Rate    Panel = "rate"    // feedback rate against position, by direction
	Sweeps  Panel = "sweeps"  // span and travel time of each sweep
	Hunt    Panel = "hunt"    // hunting close-up with its autocorrelation
	Close   Panel = "close"   // the closest places of a busy stretch
	Overlay Panel = "overlay" // coupled against free
	Compare Panel = "compare" // before against after
	Contact Panel = "contact" // contact sheet of all captures
)

// Panels lists the panels with one plain sentence each.
func Panels() [][2]string {
	return [][2]string{
		{string(Auto), "what there is to show in this capture"},
		{string(Time), "drive and feedback against time, with what was found"},
		{string(Rate), "speed of the feedback against position, each direction"},
		{string(Sweeps), "span and travel time of each sweep, with trend"},
		{string(Hunt), "hunting close up, with its autocorrelation"},
		{string(Close), "where a finding shows again and again, its closest places close up"},
		{string(Overlay), "coupled against free (needs a free run)"},
		{string(Compare), "before against after (needs a second capture)"},
		{string(Contact), "contact sheet: every capture small, on one page"},
	}
}

// Style is a set of colours.
type Style string

// The styles.
const (
	Light Style = "light"
	Dark  Style = "dark"
	Mono  Style = "mono" // black, white and greys
)

// Use is what the picture is made for; it sets page, resolution and type size.
type Use string

// The uses.
const (
	Slide   Use = "slide"   // 13.33 x 7.5 in, 144 dots per inch, large type
	Print   Use = "print"   // A4 landscape, 200 dots per inch
	Handout Use = "handout" // A4 portrait, 150 dots per inch
	Screen  Use = "screen"  // 10 x 6.25 in, 120 dots per inch
)

// Options say what to draw and how. The zero value draws the automatic panels
// for the screen in the light style.
type Options struct {
	Panels []Panel
	Style  Style
	Use    Use

	// Width and Height of the page in mm and DPI of a PNG; 0 means as Use
	// says.
	Width, Height float64
	DPI           int

	// Blank leaves out everything that tells the answer, on the same axes
	// and in the same places as the picture with Answer has it. Both have the
	// panels and the room that every capture gets: chosen ones would tell.
	Blank, Answer bool

	Title, Caption string

	// Window is the stretch of time drawn, in s; nil means the whole
	// capture, an infinite end its start or end. Volts fixes the feedback axis, in the feedback's unit.
	Window *analyze.Interval
	Volts  *analyze.Interval

	Notes []Note

	// Date is printed in the corner as given; empty prints none.
	Date string
}

// ErrNothing is wrapped by the error of a panel that has nothing to show.
var ErrNothing = errors.New("nothing to draw")

// page returns the size in points, the resolution and the type size in points.
func (o *Options) page() (w, h float64, dpi int, size float64) {
	switch o.Use {
	case Slide:
		w, h, dpi, size = 960, 540, 144, 12.5
	case Print:
		w, h, dpi, size = mm(297), mm(210), 200, 9
	case Handout:
		w, h, dpi, size = mm(210), mm(297), 150, 9
	default:
		w, h, dpi, size = 720, 450, 120, 9
	}
	if o.Width > 0 {
		w = mm(o.Width)
	}
	if o.Height > 0 {
		h = mm(o.Height)
	}
	if o.DPI > 0 {
		dpi = o.DPI
	}
	return w, h, dpi, size
}

func mm(x float64) float64 { return x * 72 / 25.4 }

// Check fills in the defaults and names what is not allowed, by its flag.
func (o *Options) Check() error {
	if o.Style == "" {
		o.Style = Light
	}
	if !slices.Contains([]Style{Light, Dark, Mono}, o.Style) {
		return fmt.Errorf("style %q is unknown: expected light, dark or mono (flag --style)", o.Style)
	}
	if o.Use == "" {
		o.Use = Screen
	}
	if !slices.Contains([]Use{Slide, Print, Handout, Screen}, o.Use) {
		return fmt.Errorf("use %q is unknown: expected slide, print, handout or screen (flag --for)", o.Use)
	}
	if o.Blank && o.Answer {
		return errors.New("an exercise and its answer in one picture: expected --blank or --answer")
	}
	if len(o.Panels) == 0 {
		o.Panels = []Panel{Auto}
	}
	var known []string
	for _, p := range Panels() {
		known = append(known, p[0])
	}
	for _, p := range o.Panels {
		if !slices.Contains(known, string(p)) {
			return fmt.Errorf("panel %q is unknown: expected %s (flag --panel)", p, strings.Join(known, ", "))
		}
	}
	// Below 100 x 70 mm the words do not fit beside the data; above 2 m and
	// 600 dots per inch the image does not fit in memory.
	for _, l := range []struct {
		flag         string
		x, low, high float64
	}{{"width", o.Width, 100, 2000}, {"height", o.Height, 70, 2000}, {"dpi", float64(o.DPI), 30, 600}} {
		if l.x != 0 && !(l.x >= l.low && l.x <= l.high) {
			return fmt.Errorf("--%s %g is out of range: expected %g to %g", l.flag, l.x, l.low, l.high)
		}
	}
	// 100 million dots take 400 MB.
	if w, h, dpi, _ := o.page(); w*h/72/72*float64(dpi)*float64(dpi) > 1e8 {
		return fmt.Errorf("%.0f x %.0f mm at %d dots per inch is too large an image: lower --dpi, --width or --height", w*25.4/72, h*25.4/72, dpi)
	}
	for _, r := range []struct {
		flag string
		r    *analyze.Interval
	}{{"--from and --to", o.Window}, {"--volts", o.Volts}} {
		open := r.r == o.Window // to the capture's own start or end
		if r.r != nil && (!(r.r.From < r.r.To) || math.IsInf(r.r.Width(), 0) && !open) {
			return fmt.Errorf("%s: %g to %g is not a range: the second number must be larger", r.flag, r.r.From, r.r.To)
		}
	}
	return nil
}
