package cost

import (
	"slices"

	"threewire/analyze"
)

// Price weighs what can be done next by a shop's own prices and sets the report's
// Choice. The tests of the verdict keep their order, unless another pays plainly more
// than the first: then it comes first in the verdict too, and Choice tells so. One
// order holds for the text, the page, the customer's report and the money.
func Price(r *analyze.Report, prices *Prices) {
	rc := Repairs(r, prices)
	r.Choice = rc
	v := &r.Verdict
	prices.time(v.Next)
	if len(v.Next) == 0 || len(rc.Tests) == 0 || !v.WorthTesting() || r.FirstOfAll() != "" {
		return
	}
	first := worthOf(rc.Tests, v.Next[0].Name)
	best := &rc.Tests[0] // by money
	if best.Name != v.Next[0].Name && best.Net > 0 && (first.Net <= 0 || best.Net-first.Net > plainlyMore*best.Worth) {
		if r.PutFirst(best.Name) {
			prices.time(v.Next[:1])
			rc.Moved = &analyze.MovedTest{Before: first.Name, Net: first.Net}
			return
		}
	}
	// The first of the verdict is the first here.
	if i := slices.IndexFunc(rc.Tests, func(t analyze.TestWorth) bool { return t.Name == v.Next[0].Name }); i > 0 {
		t := rc.Tests[i]
		rc.Tests = slices.Insert(slices.Delete(rc.Tests, i, i+1), 0, t)
	}
}

// plainlyMore is the part of a test's worth that must be between it and the first
// before prices change the order: the outcomes of tests are judged to one digit.
const plainlyMore = 0.1

// time gives tests the minutes that they take here.
func (p *Prices) time(tests []analyze.NextTest) {
	for i := range tests {
		tests[i].Minutes = p.testMinutes(tests[i].Name, tests[i].Minutes)
	}
}

// worthOf is the named test's worth, without any where the captures have none for it.
func worthOf(tests []analyze.TestWorth, name string) analyze.TestWorth {
	for _, t := range tests {
		if t.Name == name {
			return t
		}
	}
	return analyze.TestWorth{Name: name}
}
