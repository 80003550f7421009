package analyze

import "slices"

// firstChoice is the best first choice by a shop's prices; nil without one.
func (r *Report) firstChoice() *Choice {
	if r.Choice == nil || r.Choice.Best == nil {
		return nil
	}
	return &r.Choice.Choices[0]
}

// PricesDecide is the repair to begin with where the verdict cannot tell and a shop's
// prices can: no test saves what it costs, and the repair is likelier to cure than not.
// The report and the money give one advice so.
func (r *Report) PricesDecide() (*Choice, bool) {
	c := r.firstChoice()
	if c == nil || r.Verdict.Conclusion != CannotTell || len(c.Parts) == 0 || c.Cures < 0.5 || r.FirstOfAll() != "" {
		return nil, false
	}
	pays := func(t TestWorth) bool { return t.Net > 0 }
	return c, len(r.Choice.Tests) > 0 && !slices.ContainsFunc(r.Choice.Tests, pays)
}

// NamedFirst tells whether the best first choice by a shop's prices repairs the part
// that the verdict names; true also where there are no prices or no part is named.
func (r *Report) NamedFirst() bool {
	c := r.firstChoice()
	return c == nil || r.Verdict.Conclusion <= NoFault || slices.Contains(c.Parts, r.Verdict.Part)
}

// Doubted tells whether something found speaks against the verdict by more than three
// to two.
func (v *Verdict) Doubted() bool {
	return slices.ContainsFunc(v.Against, func(e Evidence) bool { return e.Doubts() })
}
