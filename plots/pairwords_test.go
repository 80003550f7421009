package plots

import (
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg/recorder"

	"threewire/analyze"
	"threewire/fixtures"
)

// wordsOn are the labels of a picture.
func wordsOn(t *testing.T, figs []Figure, o Options) []string {
	t.Helper()
	d, err := compose(figs, o)
	if err != nil {
		t.Fatal(err)
	}
	s := newSheet(new(recorder.Canvas), d.f, &d.o)
	d.draw(s)
	var out []string
	for _, l := range s.labels {
		out = append(out, l.text)
	}
	return out
}

// A pair tells what only both captures show, and calls no stop the mechanism's that the
// uncoupled run goes past.
func TestPairTellsItsEvidence(t *testing.T) {
	spec := fixtures.Spec{Fault: fixtures.Jam, Severity: 0.6, Seed: 22, Controller: "bench-hand", Instrument: "data-recorder", Duration: 50}
	a := figure(t, spec)
	spec.Free = true
	b := figure(t, spec)
	rep := analyze.Judge(a.Capture, b.Capture)
	if rep.Compared == nil || rep.Compared.Short == 0 {
		t.Fatal("the pair shows no early stop")
	}
	a.Report, b.Report = rep, rep
	got := wordsOn(t, []Figure{a, b}, Options{Use: Slide})
	all := strings.Join(got, " ")
	for _, want := range []string{"Coupled it stalls at", "early stop", "stop that the free run goes past", "Nothing unusual in this capture by itself."} {
		if !strings.Contains(all, want) {
			t.Errorf("the picture lacks %q", want)
		}
	}
	if slices.Contains(got, "low stop") || strings.Contains(all, "was found in this capture") {
		t.Errorf("the picture denies its headline: %s", all)
	}
	if alone := strings.Join(wordsOn(t, []Figure{b}, Options{Use: Slide, Panels: []Panel{Time}}), " "); strings.Contains(alone, "early stop") {
		t.Error("a stop of the uncoupled run itself is called early")
	}
}

// A picture of before and after says what became of the repair, and numbers what it lists.
func TestRepairIsTold(t *testing.T) {
	fig := dropped(1, 4)
	fig.Report = &analyze.Report{}
	fig.Repair = &analyze.Repair{Result: analyze.RepairProven, Text: "what was wrong is gone."}
	after := drawn(false)
	after.Report = &analyze.Report{}
	got := wordsOn(t, []Figure{fig, after}, Options{Use: Slide, Panels: []Panel{Compare}})
	all := strings.Join(got, " ")
	if !strings.Contains(all, "Repair proven. Before: ") || !strings.Contains(all, "What was wrong is gone.") {
		t.Errorf("the repair is not told: %s", all)
	}
	n := 0
	for _, w := range got {
		if w == "1" {
			n++
		}
	}
	if n < 2 { // one in the list, one in the picture; axes have more
		t.Errorf("the number of the finding stands in the list alone: %q", got)
	}
}

// An exercise of a sound capture and one with findings have the same lines, panels and
// signs.
func TestExercisesDoNotTell(t *testing.T) {
	sound, broken := drawn(false), dropped(1, 1.2, 1.4, 6, 6.3, 6.7, 7, 9)
	sound.Capture.Findings = nil
	for _, use := range []Use{Screen, Handout, Slide} {
		a, b := wordsOn(t, []Figure{sound}, Options{Use: use, Blank: true}), wordsOn(t, []Figure{broken}, Options{Use: use, Blank: true})
		if !slices.Equal(a, b) {
			t.Errorf("%s: %q, and with findings %q", use, a, b)
		}
		if !slices.Contains(a, "driven up") {
			t.Errorf("%s: the signs of the speeds are not explained: %q", use, a)
		}
	}
	if d, err := compose([]Figure{broken}, Options{}); err != nil || !slices.Contains(d.panels, Close) {
		t.Errorf("not an exercise, it is drawn close up: %v", err)
	}
	if err := (&Options{Blank: true, Answer: true}).Check(); err == nil {
		t.Error("an exercise and its answer at once")
	}
}

// A line of speed ends where the track is dead and goes on behind it, in the directions
// that it is dead in.
func TestSpeedsLeaveDeadSpotsOut(t *testing.T) {
	p := &analyze.Profile{Direction: analyze.Up}
	for x := 1.0; x < 2.05; x += 0.1 {
		p.Points = append(p.Points, analyze.ProfilePoint{Position: x, Rate: 1})
	}
	f := analyze.Finding{Kind: analyze.DeadSpot, Volts: analyze.Interval{From: 1.45, To: 1.65}}
	d := &drawing{marks: []mark{{1, &f}}}
	if runs := d.measured(p); len(runs) != 2 || runs[0][len(runs[0])-1].Position > 1.45 || runs[1][0].Position < 1.65 {
		t.Errorf("the speeds are %v", runs)
	}
	f.Volts = analyze.Interval{From: 1.52, To: 1.58} // between two cells
	if runs := d.measured(p); len(runs) != 2 {
		t.Errorf("over a narrow one the line goes on: %v", runs)
	}
	f.Direction = analyze.Down
	if runs := d.measured(p); len(runs) != 1 {
		t.Errorf("dead going down only, the way up has a gap: %v", runs)
	}
	f.Direction, d.o.Blank = analyze.None, true
	if runs := d.measured(p); len(runs) != 1 {
		t.Error("a gap tells the answer of an exercise")
	}
}

// Stick-slip all along the way is seen close up; the axis of a stretch of time is that of
// what is read in it.
func TestLittleThingsFillThePanel(t *testing.T) {
	fig := drawn(false)
	fig.Capture.Findings = []analyze.Finding{{Kind: analyze.StickSlip, Time: analyze.Interval{From: 0, To: 20}, Title: "Stick-slip.", Strength: 1}}
	d, err := compose([]Figure{fig}, Options{Panels: []Panel{Close}})
	if err != nil {
		t.Fatal(err)
	}
	if c := d.closest(); c == nil || c.to-c.from > 3.5 {
		t.Errorf("the close-up is %+v", c)
	}
	d, err = compose([]Figure{drawn(false)}, Options{Panels: []Panel{Time}, Window: &analyze.Interval{From: 4, To: 4.5}})
	if err != nil {
		t.Fatal(err)
	}
	if lo, hi := d.feedbackAxis(); hi-lo > 1.5 {
		t.Errorf("half a second is drawn from %.2f to %.2f V", lo, hi)
	}
}

// A note of many words keeps off the trace where there is room beside it.
func TestNotesKeepOffTheTrace(t *testing.T) {
	area := box{0, 0, 400, 200}
	c := newClutter(area)
	for x := 0.0; x < 400; x += 40 { // a trace to and fro over the upper three quarters
		c.line([]pt{{x, 60}, {x + 20, 190}, {x + 40, 60}})
	}
	s := &sheet{size: 9, page: area}
	b, ok := s.placeWide(c, pt{150, 120}, 120, 30)
	if !ok || c.over(b) > 0 {
		t.Errorf("the note lies over the trace: %+v, %v", b, ok)
	}
}
