package plots

import (
	"bytes"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg/recorder"

	"threewire/analyze"
	"threewire/fixtures"
	"threewire/signal"
)

// The answer to an exercise says the truth before what the program finds, and where it has
// no truth that it has none; the exercise itself says neither.
func TestAnswerTellsTruth(t *testing.T) {
	fig := figure(t, fixtures.Spec{Fault: fixtures.DeadSpot, Severity: 0.8, Seed: 5, Controller: "bench-hand", Instrument: "data-recorder", Duration: 60})
	known := fig
	known.Truth = &Truth{Fault: analyze.Motor, Name: "brush-stall", Text: "burnt segment; stands at 45 % of the travel."}
	for _, use := range []Use{Screen, Handout} {
		for _, width := range []float64{0, 105} { // as Use says, and a phone
			o := Options{Use: use, Width: width, Answer: true}
			with := strings.Join(wordsOn(t, []Figure{known}, o), " ")
			for _, want := range []string{"Truth: motor (brush-stall)", "The program finds: feedback sensor, ", "In truth: burnt segment; stands"} {
				if !strings.Contains(with, want) {
					t.Errorf("%s, %g mm: the answer lacks %q: %s", use, width, want, with)
				}
			}
			without := strings.Join(wordsOn(t, []Figure{fig}, o), " ")
			if strings.Contains(without, "Truth:") || !strings.Contains(without, "The program finds: feedback sensor") || !strings.Contains(without, "The truth is not known here") {
				t.Errorf("%s, %g mm: without a truth the answer says: %s", use, width, without)
			}
			o.Answer, o.Blank = false, true
			if blank := strings.Join(wordsOn(t, []Figure{known}, o), " "); strings.Contains(strings.ToLower(blank), "truth") || strings.Contains(blank, "brush") {
				t.Errorf("%s, %g mm: the exercise tells its answer: %s", use, width, blank)
			}
		}
	}
	alt := func(f Figure) string {
		d, err := compose([]Figure{f}, Options{Answer: true})
		if err != nil {
			t.Fatal(err)
		}
		return d.alt()
	}
	if a := alt(known); !strings.Contains(a, "Truth: motor") || !strings.Contains(a, "In truth: burnt") {
		t.Errorf("who cannot see the answer is told: %s", a)
	}
}

// The answer to a blank contact sheet has its letters, the names and the truths.
func TestContactAnswerIsKey(t *testing.T) {
	fig := figure(t, fixtures.Spec{Fault: fixtures.Healthy, Seed: 5, Controller: "bench-hand", Instrument: "data-recorder", Duration: 60})
	fig.Label = "left-door.csv"
	known := fig
	known.Truth = &Truth{Fault: analyze.DoorMechanism, Name: "jam"}
	figs := []Figure{fig, known, fig}
	got := strings.Join(wordsOn(t, figs, Options{Answer: true}), "\n")
	for _, want := range []string{"A: left-door.csv", "B: left-door.csv", "jam (door mechanism); program: ", "\nprogram: no fault"} {
		if !strings.Contains(got, want) {
			t.Errorf("the key lacks %q:\n%s", want, got)
		}
	}
	if blank := strings.Join(wordsOn(t, figs, Options{Blank: true}), "\n"); strings.Contains(blank, "left-door") || !strings.Contains(blank, "\nB\n") {
		t.Errorf("the blank sheet says\n%s", blank)
	}
}

// A check by nudge is no run to both stops.
func TestNudgeIsNoRunToBothStops(t *testing.T) {
	fig := drawn(false)
	if words := strings.Join(wordsOn(t, []Figure{fig}, Options{Use: Print}), "\n"); !strings.Contains(words, "first run to both stops") {
		t.Fatalf("a completed sweep is no first run to both stops:\n%s", words)
	}
	fig.Capture.Checks[0].Kind = analyze.CheckNudge
	words := strings.Join(wordsOn(t, []Figure{fig}, Options{Use: Print}), "\n")
	if strings.Contains(words, "first run") || !strings.Contains(words, "position check by nudge") {
		t.Errorf("a check by nudge is called\n%s", words)
	}
}

// Picture and report give the place of a jam as the verdict does: as a share of the way that
// the actuator goes uncoupled.
func TestPlaceOfJamIsToldAsInVerdict(t *testing.T) {
	spec := fixtures.Spec{Fault: fixtures.Jam, Severity: 0.6, Controller: "bench-hand", Instrument: "data-recorder", Duration: 60}
	for seed := range uint64(40) {
		spec.Seed, spec.Free = seed, false
		a := figure(t, spec)
		title := ""
		for i := range a.Capture.Findings {
			if f := &a.Capture.Findings[i]; f.Kind == analyze.Jam && strings.Contains(f.Title, " % of the span)") {
				title = f.Title
			}
		}
		if title == "" {
			continue
		}
		spec.Free = true
		b := figure(t, spec)
		rep := analyze.Judge(a.Capture, b.Capture)
		if !strings.Contains(rep.Verdict.Summary, "of the uncoupled travel") {
			continue
		}
		a.Report, b.Report = rep, rep
		if all := strings.Join(wordsOn(t, []Figure{a, b}, Options{Use: Print}), " "); strings.Contains(all, " of the span) going") || !strings.Contains(all, "uncoupled travel") {
			t.Errorf("seed %d: the picture says: %s", seed, all)
		}
		var page bytes.Buffer
		if err := Report(&page, "html", rep, []*signal.Trace{a.Trace, b.Trace}, ReportOptions{}); err != nil {
			t.Fatal(err)
		}
		if all := page.String(); strings.Contains(all, "of the span) going") || !strings.Contains(all, "uncoupled travel") {
			t.Errorf("seed %d: the report gives the place of the jam otherwise than the verdict", seed)
		}
		return
	}
	t.Fatal("no pair of forty says the place of a jam in the uncoupled travel")
}

// On a narrow page an exercise has its panels one below the other, each over most of it.
func TestExerciseOnPhone(t *testing.T) {
	fig := figure(t, fixtures.Spec{Fault: fixtures.Healthy, Seed: 5, Controller: "bench-hand", Instrument: "data-recorder", Duration: 60})
	for _, o := range []Options{{Width: 100, Height: 215, Blank: true}, {Width: 100, Height: 215, Answer: true}} {
		d, err := compose([]Figure{fig}, o)
		if err != nil {
			t.Fatal(err)
		}
		s := newSheet(new(recorder.Canvas), d.f, &d.o)
		in := s.page.grow(-1.6 * s.size)
		if a := d.areas(s, box{in.x0, in.y0, in.x1, in.y0 + 1.1*in.w()}); a[0].w() < 0.95*in.w() {
			t.Errorf("%+v: a panel is %.0f of %.0f pt wide", o, a[0].w(), in.w())
		}
		if a := d.areas(s, box{in.x0, in.y0, in.x1, in.y0 + 0.5*in.w()}); a[0].w() > 0.7*in.w() {
			t.Errorf("%+v: panels are stacked where there is no height for them", o)
		}
		d.draw(s)
		checkLabels(t, "exercise on a phone", s)
	}
}

// The signs of an exercise that show stand without a gap between them, on it and on its
// answer, and those of the exercise in the same places on both.
func TestSignsLeaveNoGap(t *testing.T) {
	fig := drawn(false)
	fig.Capture.Stops, fig.Capture.Findings = nil, nil // so that some signs are not used
	places := map[string]float64{}
	for _, blank := range []bool{false, true} {
		d, err := compose([]Figure{fig}, Options{Blank: blank, Answer: !blank})
		if err != nil {
			t.Fatal(err)
		}
		s := newSheet(new(recorder.Canvas), d.f, &d.o)
		spots, _ := d.signSpots(s, s.page.w())
		hidden := false
		for _, g := range spots {
			shown := !g.unused && (!blank || g.blank)
			if shown && hidden {
				t.Errorf("blank %v: %q stands after a gap", blank, g.text)
			}
			hidden = hidden || !shown
			if at, ok := places[g.text]; ok && at != g.x+1000*float64(g.row) {
				t.Errorf("%q stands elsewhere on the exercise than on its answer", g.text)
			}
			places[g.text] = g.x + 1000*float64(g.row)
		}
		if !hidden {
			t.Error("every sign is used: nothing is tested")
		}
	}
}
