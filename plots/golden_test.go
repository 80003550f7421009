package plots

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"gonum.org/v1/plot/vg"

	"threewire/analyze"
	"threewire/signal"
)

var regen = flag.Bool("regen", false, "write the golden pictures anew; look at them before you commit them")

// drawn is a capture made of straight lines with everything the analysis
// could have found in it put in by hand, so that the goldens change only when
// the drawing does.
func drawn(free bool) Figure {
	const dt = 0.05
	t := &signal.Trace{Source: "drawn.csv", Step: dt, RowStep: dt, RowsPerBin: 1}
	c := &analyze.Capture{Source: "drawn.csv", Free: free, Unit: "V", Reference: 5, Span: analyze.Interval{From: 0.5, To: 4.5},
		Levels: analyze.Levels{Low: -12, High: 12}, Step: dt, Drivable: true}
	var drive, feed []float32
	x := 0.5
	run := func(volts, seconds float64) {
		from, start := float64(len(t.Time))*dt, x
		for range int(math.Round(seconds / dt)) {
			x = math.Max(0.5, math.Min(4.5, x+volts/12*dt))
			v := x
			if !free && v > 2.95 && v < 3.25 && volts != 0 {
				v = 0.1
			}
			t.Time = append(t.Time, float64(len(t.Time))*dt)
			drive, feed = append(drive, float32(volts)), append(feed, float32(v))
		}
		if volts == 0 {
			return
		}
		m := analyze.Move{Time: analyze.Interval{From: from, To: from + seconds}, Polarity: 1, Direction: analyze.Up, Start: start, End: x}
		if volts < 0 {
			m.Polarity, m.Direction = -1, analyze.Down
		}
		c.Moves = append(c.Moves, m)
		if seconds > 3 {
			n := float64(len(c.Sweeps))
			c.Sweeps = append(c.Sweeps, analyze.Sweep{Time: m.Time, Direction: m.Direction, Low: 0.5, High: 4.5 - 0.05*n, Transit: 4 + 0.2*n, Stalled: true, FromStall: n > 0})
		}
	}
	run(0, 1)
	for range 4 {
		run(12, 4.5)
		run(-12, 4.5)
	}
	run(0, 1)
	hunt := float64(len(t.Time)) * dt
	for range 8 {
		run(12, 0.4)
		run(-12, 0.4)
	}
	t.Drive = signal.Series{Unit: "V", Mean: drive, Min: drive, Max: drive}
	t.Feedback = signal.Series{Unit: "V", Mean: feed, Min: feed, Max: feed}
	c.Checks = []analyze.PositionCheck{
		{Kind: "sweep", Outcome: "completed", Time: analyze.Interval{From: 1, To: 10}},
		{Kind: "tries", Outcome: "given up", Time: analyze.Interval{From: hunt, To: hunt + 3}, Retries: 3, LockOut: 3},
	}
	c.Stops = []analyze.Stop{{Level: 4.5, Spread: 0.1, Direction: analyze.Up, Extreme: true}, {Level: 0.5, Direction: analyze.Down, Extreme: true}}
	for _, d := range []analyze.Direction{analyze.Up, analyze.Down} {
		p := analyze.Profile{Direction: d, Nominal: 1}
		for k := range 20 {
			q := analyze.ProfilePoint{Position: 0.6 + 0.2*float64(k), Rate: 1 + 0.05*float64(d)*float64(k%3), Passes: 3}
			if !free && k == 12 {
				q.Rate = 0.4
			}
			q.Slowest = 0.9 * q.Rate
			p.Points = append(p.Points, q)
		}
		c.Profiles = append(c.Profiles, p)
	}
	if !free {
		c.Findings = []analyze.Finding{
			{Kind: analyze.DeadSpot, Title: "Dead spot from 2.95 to 3.25 V.", Volts: analyze.Interval{From: 2.95, To: 3.25}, Time: analyze.Interval{From: 3.4, To: 33},
				Tie: analyze.TiedToPosition, Places: []analyze.Occurrence{{Time: analyze.Interval{From: 3.45, To: 3.75}, Volts: analyze.Interval{From: 0.1, To: 3.25}}}},
			{Kind: analyze.Hunting, Title: "Hunting at the low end.", Volts: analyze.Interval{From: 0.5, To: 0.9}, Time: analyze.Interval{From: hunt, To: hunt + 6.4},
				Measures: []analyze.Measure{{Name: "frequency", Value: 1.25, Unit: "Hz"}, {Name: "amplitude", Value: 0.4, Unit: "V"}}},
			{Kind: analyze.SpanDrift, Title: "The high end drifts.", Volts: c.Span, Time: analyze.Interval{From: 1, To: 37}},
		}
	}
	v := analyze.Verdict{Conclusion: analyze.FeedbackSensor, Part: "actuator", Probability: 0.93}
	if free {
		v = analyze.Verdict{Conclusion: analyze.NoFault, Part: "none", Probability: 0.9}
	}
	return Figure{Trace: t, Capture: c, Report: &analyze.Report{Verdict: v, Captures: []*analyze.Capture{c}}}
}

func TestGolden(t *testing.T) {
	one, two := drawn(false), drawn(true)
	for _, c := range []struct {
		name string
		figs []Figure
		o    Options
	}{
		{"light", []Figure{one}, Options{Panels: []Panel{Time, Hunt}, Width: 190, Height: 110, Notes: []Note{{15, 4.5, "turns round"}}}},
		{"blank", []Figure{one}, Options{Panels: []Panel{Time, Hunt}, Width: 190, Height: 110, Blank: true}},
		{"dark", []Figure{one, two}, Options{Panels: []Panel{Sweeps, Overlay}, Width: 190, Height: 130, Style: Dark}},
		{"mono", []Figure{one}, Options{Panels: []Panel{Time, Rate}, Width: 190, Height: 110, Style: Mono}},
		{"contact", []Figure{one, two, one}, Options{Panels: []Panel{Contact}, Width: 150, Height: 75}},
	} {
		c.o.DPI = 50
		var b bytes.Buffer
		if err := Draw(&b, "png", c.figs, c.o); err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		golden(t, c.name, b.Bytes())
	}
}

// The report's page is drawn like any picture, so its layout has a golden too.
func TestGoldenReport(t *testing.T) {
	one, two := drawn(false), drawn(true)
	rep := one.Report
	rep.Captures = []*analyze.Capture{one.Capture, two.Capture}
	rep.Compared = &analyze.Comparison{Text: "What shows with the door on (dead spot) does not show with the door off."}
	rep.Verdict.Chances = []analyze.Chance{{Fault: analyze.FeedbackSensor, Probability: 0.93}, {Fault: analyze.Motor, Probability: 0.07}}
	rep.Verdict.Absent = []string{"no drop-outs", "no stall short of a stop"}
	rep.Verdict.Cautions = []string{"Keep fingers out of linkages."}
	d, _, err := composeReport(rep, []*signal.Trace{one.Trace, two.Trace}, Light)
	if err != nil {
		t.Fatal(err)
	}
	w := wordsOf(rep, 0, ReportOptions{Shop: "Millbrook Technical College", Address: "12 Mill Lane", Date: "9 March 2026"})
	var b bytes.Buffer
	err = render(&b, "png", mm(210), mm(297), 50, Light.theme(), "", "", func(c vg.Canvas) error {
		return d.report(&sheet{c: c, f: d.f, th: Light.theme(), size: 9, page: box{0, 0, mm(210), mm(297)}}, &w, 0)
	})
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "report", b.Bytes())
}

// golden compares a picture with the one kept under the name.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name+".png")
	if *regen {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := alike(got, want); err != nil {
		t.Errorf("%s: %v (go test ./plots -run Golden -regen writes it anew)", path, err)
	}
}

// alike allows for other rounding on other machines: no more than one dot in
// five hundred may differ by more than a fifth of full scale.
func alike(got, want []byte) error {
	a, err := png.Decode(bytes.NewReader(got))
	if err != nil {
		return err
	}
	b, err := png.Decode(bytes.NewReader(want))
	if err != nil {
		return err
	}
	if a.Bounds() != b.Bounds() {
		return fmt.Errorf("the picture is %v, want %v", a.Bounds().Max, b.Bounds().Max)
	}
	off, n := 0, 0
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			n++
			if distance(a, b, x, y) > 0xffff/5 {
				off++
			}
		}
	}
	if off*500 > n {
		return fmt.Errorf("%d of %d dots differ", off, n)
	}
	return nil
}

func distance(a, b image.Image, x, y int) int {
	r1, g1, b1, _ := a.At(x, y).RGBA()
	r2, g2, b2, _ := b.At(x, y).RGBA()
	far := 0
	for _, d := range []int{int(r1) - int(r2), int(g1) - int(g2), int(b1) - int(b2)} {
		far = max(far, d, -d)
	}
	return far
}

// The comparison itself: another style, or one label moved, must not pass.
func TestAlikeTellsPicturesApart(t *testing.T) {
	one := drawn(false)
	shot := func(o Options) []byte {
		o.DPI, o.Panels = 50, []Panel{Time}
		var b bytes.Buffer
		if err := Draw(&b, "png", []Figure{one}, o); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	base := shot(Options{})
	if err := alike(base, shot(Options{})); err != nil {
		t.Errorf("same picture: %v", err)
	}
	for _, o := range []Options{{Style: Dark}, {Blank: true, Title: "drawn.csv"}, {Width: 200}, {Style: Mono}, {Title: "A wholly other title over it"}} {
		if alike(base, shot(o)) == nil {
			t.Errorf("%+v passes for the plain picture", o)
		}
	}
}
