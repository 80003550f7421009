package analyze

// NothingSeen tells whether no capture shows anything that could tell one component from
// another, so that the probabilities are hardly more than those before looking.
func (r *Report) NothingSeen() bool {
	if r.Verdict.Conclusion != CannotTell || r.Compared != nil || r.Sides != nil || r.Series != nil || r.Repair != nil {
		return false
	}
	return untested(r.Captures)
}

// seenNothing is the share of what a sound actuator does (see seenShare) below which a
// capture without a finding tested nothing: a tenth of it (chosen, not derived).
const seenNothing = 0.1

// untested tells whether no capture tested anything: none shows a finding but a missing
// drive, and none moves, or hardly. What little chances of "no fault" stand then come of
// the chances before looking and clear nothing.
func untested(captures []*Capture) bool {
	for _, c := range captures {
		for i := range c.Findings {
			if c.Findings[i].Kind != NoDrive {
				return false
			}
		}
		if len(c.Moves) > 0 && c.seen*c.sees >= seenNothing { // what was not found then tells too
			return false
		}
	}
	return true
}

// undriven says that no capture shows any drive; "" where one does.
func undriven(captures []*Capture) string {
	travels := false
	if len(captures) == 0 {
		return ""
	}
	for _, c := range captures {
		if !c.shows(NoDrive) {
			return ""
		}
		travels = travels || c.showsForm(NoDrive, yetItTravels)
	}
	if travels {
		return "No drive was seen, and yet the reading travels: the drive's clip was off, or the shaft was moved by hand. Nothing can be judged."
	}
	return "The motor was never driven, so nothing can be judged."
}
