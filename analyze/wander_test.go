package analyze

import (
	"math"
	"slices"
	"strings"
	"testing"

	"threewire/signal"
)

// A reference that wanders slowly takes the reading with it and hurts nobody who
// compares the two; one that leaves for moments is a contact, and one that sinks by
// more than a regulator and an instrument are off by has a fault of its own,
// whatever the reading makes of it.
func TestReferenceWanders(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		level func(t float64) float64
		want  string // form of the finding
	}{
		{"sinks by a tenth", func(t float64) float64 { return 5 - 0.012*t }, sinks},
		{"sinks by a tenth of 3.3 V", func(t float64) float64 { return 3.3 - 0.008*t }, sinks},
		{"sinks by 4 %", func(t float64) float64 { return 5 - 0.2/47*t }, wanders},
		{"sinks and comes back", func(t float64) float64 { return 5 - 0.25*(1-math.Cos(2*math.Pi*t/45)) }, wanders},
		{"rises by a tenth", func(t float64) float64 { return 4.6 + 0.009*t }, wanders},
		{"holds still", func(float64) float64 { return 5 }, "none"},
		{"leaves for half a second", func(t float64) float64 {
			if t > 20 && t < 20.5 {
				return 3.5
			}
			return 5
		}, ""},
	} {
		tr := newDraft(1).sweeps(3).trace()
		ref := make([]float32, tr.Len())
		for i, x := range tr.Time {
			ref[i] = float32(c.level(x))
			tr.Feedback.Mean[i] *= ref[i] / 5
		}
		tr.Reference = &signal.Series{Name: "reference", Unit: "V", Mean: ref, Min: ref, Max: ref}
		got, err := Examine(tr, Defaults())
		if err != nil {
			t.Fatal(err)
		}
		v, form := Judge(got).Verdict, "none"
		if f := finding(got, RefLoss); f != nil {
			form = f.Form
		}
		if form != c.want || (c.want == wanders || c.want == "none") == (v.Conclusion == WiringControl) {
			t.Errorf("%s: %q, %s", c.name, form, say(got, v))
		}
	}
}

// A supply that sinks in the uncoupled capture too is one supply: it is no surer.
func TestReferenceSinksOnce(t *testing.T) {
	t.Parallel()
	sink := func(t float64) float64 { return 5 - 0.012*t }
	coupled, free := fed(t, newDraft(1).sweeps(3), sink), fed(t, newDraft(2).sweeps(3), sink)
	free.Free = true
	one, two := Judge(coupled), Judge(coupled, free)
	if x, y := chanceOf(one, WiringControl), chanceOf(two, WiringControl); math.Abs(x-y) > 0.05 || two.Verdict.Conclusion != WiringControl {
		t.Errorf("wiring %.2f by one capture, %.2f by two: %+v", x, y, two.Compared)
	}
}

// What gets on all the while is under way, however often the drive turns over.
func TestUnderWayIsNoHunting(t *testing.T) {
	t.Parallel()
	d := newDraft(1)
	d.run(0, 0.5).run(12, 5.5).run(0, 1).run(-12, 5.5).run(0, 1)
	for range 30 {
		d.run(12, 0.25).run(-12, 0.12)
	}
	d.run(0, 1)
	got, v := look(t, d)
	if showsKind(got, Hunting) || v.Conclusion != NoFault {
		t.Error(say(got, v))
	}
}

// An empty battery makes every motor slow: it is said, and no fault made of it.
func TestLowSupplyIsSaid(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		volts float32
		said  bool
	}{{12.6, false}, {9.5, true}} {
		tr := newDraft(1).sweeps(3).trace()
		x := slices.Repeat([]float32{c.volts}, tr.Len())
		tr.Supply = &signal.Series{Name: "supply", Unit: "V", Mean: x, Min: x, Max: x}
		got, err := Examine(tr, Defaults())
		if err != nil {
			t.Fatal(err)
		}
		v := Judge(got).Verdict
		said := slices.ContainsFunc(v.Unknown, func(s string) bool { return strings.Contains(s, "the supply is only 9.5 V") })
		if said != c.said || v.Conclusion != NoFault {
			t.Errorf("%g V: said %v, %s", c.volts, said, say(got, v))
		}
	}
}

// Two visits at a stop show no drift, whatever they are, and four passes no slowing.
func TestDriftNeedsVisits(t *testing.T) {
	t.Parallel()
	for _, n := range []int{2, 4} {
		got, _ := look(t, newDraft(1).sweeps(n))
		blind := slices.ContainsFunc(got.Blind, func(a Absence) bool { return a.Kind == SpanDrift })
		slowing := slices.ContainsFunc(got.Absent, func(a Absence) bool { return a.Kind == Heating })
		if blind != (n < 3) || slowing != (n >= 3) {
			t.Errorf("%d sweeps each way: blind to drift %v, slowing ruled out %v", n, blind, slowing)
		}
	}
}

// A complaint may be told in other words; one that fits two or none is refused.
func TestSymptomInOtherWords(t *testing.T) {
	t.Parallel()
	for told, want := range map[string]string{
		"one outlet gets no air": "no air at one outlet", "it clicks": "clicks", "hunting at the low end": "hunts at one end",
		"slow": "slow", "there is no heat": "no heat", "it clicks and hunts": "", "smells": "",
	} {
		s := UsualSituation()
		s.Symptom = told
		got := ""
		if x := s.symptom(); x != nil {
			got = x.name
		}
		if got != want {
			t.Errorf("%q: %q, want %q", told, got, want)
		}
	}
}
