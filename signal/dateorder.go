package signal

// A date whose day and month may be taken either way still tells how many days have
// passed: over midnight the day goes up by one and the month stays, so that their sum
// goes up by one, whichever is which. It does so until the month ends, on a day that is
// no month.

// turningNumber tells which number of the date changes from row to row within the head:
// the day. It is 0 or 1, or -1 when none or both do.
func turningNumber(stamps []stamp) int {
	turns := [2]bool{}
	for i := 1; i < len(stamps); i++ {
		if a, b := &stamps[i-1], &stamps[i]; a.hasDate && b.hasDate && a.f[2] == b.f[2] {
			turns[0] = turns[0] || a.f[0] != b.f[0]
			turns[1] = turns[1] || a.f[1] != b.f[1]
		}
	}
	switch {
	case turns[0] && !turns[1]:
		return 0
	case turns[1] && !turns[0]:
		return 1
	}
	return -1
}

// daysEitherWay gives the day of a stamp by the days since the first one of the file,
// where the order of the date is not known; false in another year.
func (q *parser) daysEitherWay(j int, s *stamp) (int64, bool) {
	c := &q.p.cols[j]
	if !c.anyOrder || s.month > 0 || s.yearFirst || !c.first.hasDate || s.f[2] != c.first.f[2] {
		return 0, false
	}
	return q.p.time.baseDays + int64(s.f[0]+s.f[1]-c.first.f[0]-c.first.f[1]), true
}
