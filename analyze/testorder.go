package analyze

import "slices"

// ByFault are the probabilities that the verdict shows, in the order of Faults.
func (v *Verdict) ByFault() []float64 {
	p := make([]float64, faultCount)
	for _, c := range v.Chances {
		if c.Fault >= 0 && c.Fault < faultCount {
			p[c.Fault] = c.Probability
		}
	}
	return p
}

// OpenTest is a test of the catalogue that the captures have not answered yet.
type OpenTest struct {
	Name     string
	Minutes  float64 // common practice, no source
	Outcomes []TestOutcome
}

// TestOutcome is one outcome of a test with its chance under each fault, in the
// order of Faults.
type TestOutcome struct {
	Text   string
	Chance []float64
}

// OpenTests lists the tests that can still tell something; none before both leads
// are logged, since nothing else helps then.
func (r *Report) OpenTests() []OpenTest {
	if slices.ContainsFunc(r.Captures, func(c *Capture) bool { return c.MissesPolarity() != "" }) {
		return nil
	}
	var out []OpenTest
	for _, tr := range openTrials(r.Captures) {
		if tr.name == logGoodSide && r.Sides != nil {
			continue
		}
		t := OpenTest{Name: tr.name, Minutes: tr.minutes}
		for _, o := range tr.outcomes {
			t.Outcomes = append(t.Outcomes, TestOutcome{o.text, slices.Clone(o.p[:])})
		}
		out = append(out, t)
	}
	return out
}

// PutFirst puts a test of the catalogue first in the verdict, which lists three at
// most; false where it tells nothing.
func (r *Report) PutFirst(name string) bool {
	v := &r.Verdict
	named := func(t NextTest) bool { return t.Name == name }
	all := rankedTests(v.ByFault(), r.Captures)
	i := slices.IndexFunc(all, named)
	if i < 0 {
		return false
	}
	rest := slices.DeleteFunc(slices.Clone(v.Next), named)
	v.Next = append([]NextTest{all[i]}, rest[:min(2, len(rest))]...)
	v.Cautions = list(cautions(v.Next, v.Conclusion))
	return true
}

// mustComeFirst tells whether the first test is one that no other can go before:
// as long as leads, clips or the drive are in doubt, the rest tells nothing. Money
// has no say there.
func (v *Verdict) mustComeFirst(captures []*Capture) bool {
	first := v.Next[0].Name
	return !slices.Contains(TestNames(), first) || first == measureLeads && undriven(captures) != ""
}

// FirstOfAll is the name of the test that must come before any that money speaks
// for; empty where there is none.
func (r *Report) FirstOfAll() string {
	if v := &r.Verdict; len(v.Next) > 0 && v.WorthTesting() && v.mustComeFirst(r.Captures) {
		return v.Next[0].Name
	}
	return ""
}
