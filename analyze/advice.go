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
	if c == nil || r.Verdict.Conclusion != CannotTell || len(c.Parts) == 0 || c.Cures < 0.5 {
		return nil, false
	}
	return c, r.NoTestPays()
}

// NoTestPays tells whether by a shop's prices no test saves what it costs; false without
// prices, and where a test must come before any that money speaks for.
func (r *Report) NoTestPays() bool {
	pays := func(t TestWorth) bool { return t.Net > 0 }
	return r.firstChoice() != nil && r.FirstOfAll() == "" && len(r.Choice.Tests) > 0 && !slices.ContainsFunc(r.Choice.Tests, pays)
}

// FirstByPrices is the repair to begin with by a shop's prices where it is of another part
// than the verdict names, and no test comes before it: the least dear way begins there.
func (r *Report) FirstByPrices() (*Choice, bool) {
	c := r.firstChoice()
	return c, c != nil && !r.NamedFirst() && len(c.Parts) > 0 && r.NoTestPays()
}

// MayRenewActuator tells whether by a shop's prices the actuator may come first after an
// outcome of the test that pays.
func (r *Report) MayRenewActuator() bool {
	if r.firstChoice() == nil || len(r.Choice.Tests) == 0 || r.Choice.Tests[0].Net <= 0 {
		return false
	}
	return slices.ContainsFunc(r.Choice.Tests[0].Then, func(t TestThen) bool {
		return slices.ContainsFunc(r.Choice.Choices, func(c Choice) bool {
			return c.Do == t.Do && slices.Contains(c.Parts, Motor.Part())
		})
	})
}

// NamedFirst tells whether the best first choice by a shop's prices repairs the part
// that the verdict names; true also where there are no prices or no part is named.
func (r *Report) NamedFirst() bool {
	c := r.firstChoice()
	return c == nil || r.Verdict.Conclusion <= NoFault || slices.Contains(c.Parts, r.Verdict.Part)
}

// NextPart is the part that is likeliest at fault if not the verdict's, and its
// probability.
func (v *Verdict) NextPart() (part string, probability float64) {
	for _, c := range v.PartChances {
		if c.Part != v.Part && c.Part != NoFault.Part() && c.Probability > probability {
			part, probability = c.Part, c.Probability
		}
	}
	return part, probability
}

// Doubted tells whether something found speaks against the verdict by more than three
// to two.
func (v *Verdict) Doubted() bool {
	return slices.ContainsFunc(v.Against, func(e Evidence) bool { return e.Doubts() })
}
