package cost

import (
	"math/rand/v2"
	"testing"

	"threewire/analyze"
)

// priced is a report with the given probabilities, its tests, and a shop's prices.
func priced(t *testing.T, p []float64, prices *Prices) (r *analyze.Report, was string) {
	t.Helper()
	r = judged(p...)
	v := &r.Verdict
	best := 0
	for f := range p {
		if p[f] > p[best] {
			best = f
		}
	}
	v.Conclusion, v.Probability = analyze.Fault(best), p[best]
	if v.Probability < 0.6 {
		v.Conclusion = analyze.CannotTell
	}
	v.Next = analyze.NextTests(p, nil)
	if len(v.Next) > 0 {
		was = v.Next[0].Name
	}
	Price(r, prices)
	return r, was
}

// The test that the money names first is the first of the verdict, whatever the
// probabilities; another than without prices only where these say so.
func TestOneOrderOfTests(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(1, 5))
	moved, kept := 0, 0
	for _, more := range []string{"opened for: none\n", "minutes of three full sweeps: 90\n", ""} {
		prices := hand(t, more)
		for range 200 {
			p := make([]float64, len(analyze.Faults()))
			sum := 0.0
			for i := range p {
				p[i] = r.ExpFloat64() * r.ExpFloat64()
				sum += p[i]
			}
			for i := range p {
				p[i] /= sum
			}
			rep, was := priced(t, p, prices)
			v, rc := &rep.Verdict, rep.Choice
			if len(v.Next) == 0 || !v.WorthTesting() {
				continue
			}
			first := v.Next[0].Name
			if rc.Tests[0].Name != first {
				t.Fatalf("%.2f: the verdict names %q first, the money %q", p, first, rc.Tests[0].Name)
			}
			if (rc.Moved != nil) != (first != was) || rc.Moved != nil && rc.Moved.Before != was {
				t.Fatalf("%.2f: %q before %q and nobody says so: %+v", p, first, was, rc.Moved)
			}
			if want := prices.testMinutes(first, -1); want >= 0 && v.Next[0].Minutes != want {
				t.Errorf("%q takes %.0f min, the shop says %.0f", first, v.Next[0].Minutes, want)
			}
			if first != was {
				moved++
			} else {
				kept++
			}
		}
	}
	if moved < 10 || kept < 10 {
		t.Errorf("moved %d times, kept %d times: one of them is untested", moved, kept)
	}
}

// Where clips or columns are in doubt nothing comes before them, whatever it pays.
func TestDoubtfulClipsComeFirst(t *testing.T) {
	t.Parallel()
	const clips = "Check clips and columns" // no test of the catalogue
	r := judged(0, .5, 0, 0, .5)
	r.Verdict.Conclusion, r.Verdict.Probability = analyze.CannotTell, .5
	r.Verdict.Next = []analyze.NextTest{{Name: clips}}
	Price(r, hand(t, "opened for: none\n"))
	if r.Verdict.Next[0].Name != clips || r.Choice.Moved != nil || r.FirstOfAll() != clips {
		t.Errorf("first is %q, moved %+v", r.Verdict.Next[0].Name, r.Choice.Moved)
	}
}
