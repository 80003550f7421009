package signal

import (
	"fmt"
	"strings"
)

// leftovers says why the other columns are not used.
func (a *assignment) leftovers() {
	for j := range a.p.cols {
		if !a.free(j) {
			continue
		}
		f := a.feat[j]
		switch {
		case f != nil && f.flat:
			a.reason[j] = "constant"
		default:
			a.reason[j] = "no role"
		}
	}
}

// demand makes sure that a reading has what analysis needs.
func (a *assignment) demand() {
	if a.err != nil {
		return
	}
	if a.p.time.mode == timeNone {
		a.err = &RoleError{File: a.p.file, Role: TimeRole, Msg: "no time base: " + a.p.time.problem,
			Hint: "give --rate HZ, or name a column with --time"}
		return
	}
	drive := a.driven() || a.bySign
	var free []string
	for _, c := range a.chans {
		if a.role[c.col] == Unused {
			free = append(free, a.p.columnName(c.col)+" ("+a.reason[c.col]+")")
		}
	}
	left := "no other column of numbers"
	if a.rows() < fewRows {
		left = plural(int64(a.rows()), "row is", "rows are") + " too few to tell by shape"
	}
	if len(free) > 0 && a.rows() >= fewRows {
		left = "left are " + strings.Join(free[:min(len(free), 6)], ", ")
	}
	if j := a.longTable(); j >= 0 && (!drive || !a.has(Feedback)) {
		a.err = &RoleError{File: a.p.file, Role: Drive, Msg: fmt.Sprintf("%s names a channel in every row: one reading per row", a.p.columnName(j)),
			Hint: "export a column for each channel"}
		return
	}
	switch {
	case !drive && len(a.unknownOf()) == 0 && a.has(Feedback) && len(free) == 0 && a.rows() >= fewRows:
		a.err = &RoleError{File: a.p.file, Role: Drive, Msg: "no motor drive in this file, only " + a.taken(),
			Hint: "log both motor leads too, each against ground, in the same recording; if a column here is the drive after all, name it with --drive"}
	case drive && !a.has(Feedback) && len(free) == 0 && a.rows() >= fewRows:
		a.err = &RoleError{File: a.p.file, Role: Feedback, Msg: "no wiper feedback in this file, only " + a.taken(),
			Hint: "log the feedback wire too, in the same recording; if a column here is the feedback after all, name it with --feedback"}
	case !drive && !a.has(Feedback) && len(a.chans) == 0:
		a.err = &RoleError{File: a.p.file, Role: Drive, Msg: "only one column of numbers; expected at least time, drive and feedback", Hint: "export all channels into one file"}
	case !drive && len(a.unknownOf()) == 1 && a.has(Feedback):
		a.err = &RoleError{File: a.p.file, Role: Drive, Msg: "no column could be told to be the motor drive; " + a.unknownOf()[0], Hint: wordsInstead + "; else name the drive with --drive, or both leads with --lead-a and --lead-b"}
	case !drive:
		a.err = &RoleError{File: a.p.file, Role: Drive, Msg: "no column could be told to be the motor drive; " + left, Hint: "name it with --drive, or both leads with --lead-a and --lead-b"}
	case !a.has(Feedback):
		a.err = &RoleError{File: a.p.file, Role: Feedback, Msg: "no column could be told to be the wiper feedback; " + left, Hint: "name it with --feedback"}
	}
}

// unknownOf says of each column of a few words, none of them known, what it holds.
func (a *assignment) unknownOf() []string {
	var all []string
	for j := range a.p.cols {
		if why := a.p.wordsUnknown(j); why != "" {
			all = append(all, why)
		}
	}
	return all
}

// taken lists the channels that have a role, with it.
func (a *assignment) taken() string {
	var s []string
	for j, r := range a.role {
		if r != Unused && r != TimeRole {
			s = append(s, fmt.Sprintf("%s (%s)", a.p.columnName(j), r))
		}
	}
	return strings.Join(s, ", ")
}

// longTable finds a column of text whose words are names of different roles,
// or -1.
func (a *assignment) longTable() int {
	for j, c := range a.p.cols {
		if c.kind != skipCol {
			continue
		}
		found := map[Role]bool{}
		for i := a.p.first; i < a.p.end && i < a.p.first+200; i++ {
			if a.p.kinds[i] == nil {
				continue
			}
			if r, w := headerRole(utf8String(a.p.text(i, j))); w != "" && r != Unused {
				found[r] = true
			}
		}
		if len(found) >= 2 {
			return j
		}
	}
	return -1
}

// unknownWords refuses a direction in words of which many are unknown: to
// read them as missing would leave out what the motor did.
func (a *assignment) unknownWords(r *reducer) {
	if a.err != nil {
		return
	}
	const expected = "expected words such as open, close and stop, or 1, -1 and 0"
	for _, w := range r.words {
		if a.role[w.col] == Polarity && w.n*10 > r.rows {
			a.err = &RoleError{File: a.p.file, Role: Drive, Msg: fmt.Sprintf("%s gives the direction of the drive, but line %d and %d more hold text that is no known direction, first %s; %s",
				a.p.columnName(w.col), w.line, w.n-1, w.text, expected), Hint: "replace the words by 1, -1 and 0, or name another column with --drive"}
			return
		}
	}
	if a.driven() {
		return
	}
	for j, c := range a.p.cols {
		role, _ := headerRole(c.name)
		if c.kind != skipCol || !c.direction && role != Drive {
			continue
		}
		what := "a direction"
		if !c.direction {
			what = "the drive"
		}
		for i := a.p.first; i < a.p.end; i++ {
			if a.p.kinds[i] == nil || len(a.p.text(i, j)) == 0 {
				continue
			}
			if _, ok := c.polarity(a.p.text(i, j)); !ok {
				a.err = &RoleError{File: a.p.file, Role: Drive, Msg: fmt.Sprintf("%s is named as %s, but line %d holds %s, which is no known direction; %s",
					a.p.columnName(j), what, i+1, quote(a.p.text(i, j)), expected), Hint: "replace the words by 1, -1 and 0, or name the drive with --drive"}
				return
			}
		}
	}
}
