package plots

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"threewire/analyze"
	"threewire/signal"
)

// A page with room leaves nothing out and lets the pictures have what is over; one without
// says how much it left out.
func TestReportFillsThePage(t *testing.T) {
	many := func(n int, text string) []string {
		var out []string
		for range n {
			out = append(out, text)
		}
		return out
	}
	for _, c := range []struct {
		each int
		room bool
	}{{2, true}, {6, true}, {60, false}} {
		one := drawn(false)
		rep := one.Report
		rep.Verdict.Absent = many(c.each, "no fault of this kind")
		rep.Verdict.Unknown = many(c.each, "a thing that was not logged")
		rep.Verdict.Cautions = many(c.each, "Keep fingers out of the linkages.")
		d, main, err := composeReport(rep, []*signal.Trace{one.Trace}, Light)
		if err != nil {
			t.Fatal(err)
		}
		w := wordsOf(rep, main, ReportOptions{})
		size, spare, err := d.fit(&w, mm(210), mm(297), []float64{10, 9.5, 9, 8.5, 8, 7.5})
		if err != nil {
			t.Fatal(err)
		}
		if c.room {
			if len(w.RulesOut.Out)+len(w.Unknown.Out)+len(w.Cautions.Out) > 0 || size < easyToRead {
				t.Errorf("%d of each: at %g pt %d, %d and %d are left out of a page with room", c.each, size, len(w.RulesOut.Out), len(w.Unknown.Out), len(w.Cautions.Out))
			}
		} else if len(w.Unknown.Out) < 10 || !strings.Contains(w.Unknown.More(), " more") || spare > 0.1*mm(297) {
			t.Errorf("%d of each: %d of the unknowns are left out, said as %q, with %.0f pt to spare", c.each, len(w.Unknown.Out), w.Unknown.More(), spare)
		}
		if grown := math.Min(spare, mostGrown*mm(297)); c.each == 2 && grown < 20 {
			t.Errorf("a short report lets its picture grow by %.0f pt only", grown)
		}
	}
}

// Two verdicts a percent apart read alike: the words follow the number.
func TestSureWordsFollowTheNumber(t *testing.T) {
	for _, p := range []float64{0.7, 0.84, 0.86, 0.955} {
		want := "was not counted"
		if held, ok := analyze.Held(p); ok { // the table is renewed with each measurement
			want = fmt.Sprintf("about %.0f held and %.0f did not", math.Round(100*held), 100-math.Round(100*held))
		} else if p > 0.8 {
			t.Errorf("%g was counted and is not told", p)
		}
		if got := sureWords(&analyze.Verdict{Conclusion: analyze.Motor, Probability: p}); !strings.Contains(got, want) {
			t.Errorf("%g: %q, want %q", p, got, want)
		}
	}
	// Whether the test comes before the parts is not a matter of a percent either, but of
	// what it can show.
	for _, turns := range []bool{true, false} {
		v := analyze.Verdict{Conclusion: analyze.Motor, Probability: 0.86, Next: []analyze.NextTest{{Name: "Log the current", Turns: turns}}}
		step, _, _ := stepWords(&analyze.Report{Verdict: v})
		if strings.Contains(step, "First make the test") != turns {
			t.Errorf("a test that turns the verdict, %t: %q", turns, step)
		}
	}
}

// A door that only drags is looked at where it turns before anything is looked for that
// holds it.
func TestStepOfADoorThatHolds(t *testing.T) {
	v := analyze.Verdict{Conclusion: analyze.DoorMechanism, Probability: 0.9}
	step, _, _ := stepWords(&analyze.Report{Verdict: v, Captures: []*analyze.Capture{{Findings: []analyze.Finding{{Kind: analyze.Jam}}}}})
	if !strings.Contains(step, "what holds the door") || !strings.HasSuffix(step, "Do not renew the actuator for it.") || strings.Contains(step, "grease") {
		t.Errorf("%q", step)
	}
}

// The customer is asked nothing, and reads what a term means where it first stands.
func TestCustomerIsAskedNothing(t *testing.T) {
	rep := &analyze.Report{Captures: []*analyze.Capture{{Source: "dir/a.csv"}}}
	got := askedOfNobody(rep, []string{"uncoupled, b.csv is unlike dir/a.csv: it runs twice as fast; does the door make that, or are they of two actuators?", "dir/a.csv reads more"})
	if strings.Contains(strings.Join(got, ""), "?") || len(got) != 2 || !strings.Contains(got[0], "unlike a.csv: it runs twice as fast; whether") || got[1] != "a.csv reads more" {
		t.Errorf("%q", got)
	}
	w := reportWords{Found: []string{"Hunting at 2 V."}, RulesOut: shortened{Items: []string{"No hunting", "No dead spot wider than 0.1 V"}}}
	w.explainTerms()
	if !strings.HasPrefix(w.Found[0], "Hunting (driven to and fro") || w.RulesOut.Items[0] != "No hunting" || !strings.HasPrefix(w.RulesOut.Items[1], "No dead spot (a place") {
		t.Errorf("%q, %q", w.Found, w.RulesOut.Items)
	}
}

// What paper has no room for stands on the page of a screen, in its order, and in print the
// page says how much it left out.
func TestScreenHasWhatPaperLeavesOut(t *testing.T) {
	one := drawn(false)
	rep := one.Report
	rep.Verdict.Unknown = nil
	for i := range 60 {
		rep.Verdict.Unknown = append(rep.Verdict.Unknown, fmt.Sprintf("Thing %d was not logged, nor was anything like it.", i))
	}
	var b strings.Builder
	if err := Report(&b, "html", rep, []*signal.Trace{one.Trace}, ReportOptions{}); err != nil {
		t.Fatal(err)
	}
	page, at := b.String(), 0
	for i, text := range rep.Verdict.Unknown {
		k := strings.Index(page, text)
		if k < at {
			t.Fatalf("item %d stands at %d, after what follows it, or nowhere", i, k)
		}
		at = k
	}
	out := strings.Count(page, `<li class="screen">`)
	if out < 10 || !strings.Contains(page, fmt.Sprintf(`<li class="paper">and %d more</li>`, out)) {
		t.Errorf("%d items are for the screen alone, and print does not say so", out)
	}
	for _, rule := range []string{".paper { display: none; }", ".screen { display: none; }"} {
		if !strings.Contains(page, rule) {
			t.Errorf("the style sheet lacks %q", rule)
		}
	}
}
