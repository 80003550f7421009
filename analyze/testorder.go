package analyze

import "slices"

// MovedTest is the test that would come first without a shop's prices, by what it
// tells for its time, and what is left of its worth in money.
type MovedTest struct {
	Before string  `json:"before"` // its name
	Net    float64 `json:"net"`
}

// chances are the probabilities that the verdict shows, in the order of Faults.
func (v *Verdict) chances() []float64 {
	p := make([]float64, faultCount)
	for _, c := range v.Chances {
		if c.Fault >= 0 && c.Fault < faultCount {
			p[c.Fault] = c.Probability
		}
	}
	return p
}

// Price weighs what can be done next by a shop's own prices and sets Choice. The
// tests of the verdict keep their order, unless another pays plainly more than the
// first: then it comes first in the verdict too, and Choice tells so. One order
// holds for the text, the page, the customer's report and the money.
func (r *Report) Price(prices *Prices) {
	rc := PriceRepairs(r, prices)
	r.Choice = rc
	v := &r.Verdict
	for i := range v.Next {
		v.Next[i].Minutes = prices.testMinutes(v.Next[i].Name, v.Next[i].Minutes)
	}
	if len(v.Next) == 0 || len(rc.Tests) == 0 {
		return
	}
	if !v.WorthTesting() || v.mustComeFirst(r.Captures) {
		return
	}
	first := rc.worthOf(v.Next[0].Name)
	best := &rc.Tests[0] // by money
	if best.Name != v.Next[0].Name && best.Net > 0 && (first.Net <= 0 || best.Net-first.Net > plainlyMore*best.Worth) {
		if r.moveFirst(best.Name, prices) {
			rc.Moved = &MovedTest{Before: first.Name, Net: first.Net}
			return
		}
	}
	// The first of the verdict is the first here.
	if i := slices.IndexFunc(rc.Tests, func(t TestWorth) bool { return t.Name == v.Next[0].Name }); i > 0 {
		t := rc.Tests[i]
		rc.Tests = slices.Insert(slices.Delete(rc.Tests, i, i+1), 0, t)
	}
}

// plainlyMore is the part of a test's worth that must be between it and the first
// before prices change the order: the outcomes of tests are judged to one digit.
const plainlyMore = 0.1

// mustComeFirst tells whether the first test is one that no other can go before:
// as long as leads, clips or the drive are in doubt, the rest tells nothing. Money
// has no say there.
func (v *Verdict) mustComeFirst(captures []*Capture) bool {
	first := v.Next[0].Name
	return !slices.Contains(testNames(), first) || first == measureLeads && undriven(captures) != ""
}

// FirstOfAll is the name of the test that must come before any that money speaks
// for; empty where there is none.
func (r *Report) FirstOfAll() string {
	if v := &r.Verdict; len(v.Next) > 0 && v.WorthTesting() && v.mustComeFirst(r.Captures) {
		return v.Next[0].Name
	}
	return ""
}

// worthOf is the named test's worth, without any where the captures have none for it.
func (rc *RepairChoice) worthOf(name string) TestWorth {
	for _, t := range rc.Tests {
		if t.Name == name {
			return t
		}
	}
	return TestWorth{Name: name}
}

// moveFirst puts a test of the catalogue first in the verdict, which lists three at
// most; false where it tells nothing.
func (r *Report) moveFirst(name string, prices *Prices) bool {
	v := &r.Verdict
	named := func(t NextTest) bool { return t.Name == name }
	all := rankedTests(v.chances(), r.Captures)
	i := slices.IndexFunc(all, named)
	if i < 0 {
		return false
	}
	t := all[i]
	t.Minutes = prices.testMinutes(name, t.Minutes)
	rest := slices.DeleteFunc(slices.Clone(v.Next), named)
	v.Next = append([]NextTest{t}, rest[:min(2, len(rest))]...)
	v.Cautions = list(cautions(v.Next, v.Conclusion))
	return true
}
