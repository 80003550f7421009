package signal

import (
	"fmt"
	"strconv"
	"strings"
)

// roleFlags are the names of the command-line flags, for messages.
var roleFlags = map[Role]string{
	TimeRole: "time", Drive: "drive", LeadA: "lead-a", LeadB: "lead-b", Polarity: "drive",
	Feedback: "feedback", Reference: "reference", Supply: "supply", Current: "current", Command: "command",
}

// findColumn resolves a header name or 1-based number given by the user.
func (p *plan) findColumn(flag, spec string) (int, error) {
	s := strings.TrimSpace(spec)
	var hits []int
	match := func(eq func(a string) bool) {
		if len(hits) > 0 {
			return
		}
		for j := range p.cols {
			if eq(p.cols[j].name) || eq(strings.TrimSpace(p.head.name[j])) {
				hits = append(hits, j)
			}
		}
	}
	match(func(a string) bool { return a != "" && a == s })
	if len(hits) == 0 {
		if n, err := strconv.Atoi(s); err == nil {
			if n < 1 || n > len(p.cols) {
				return 0, &RoleError{File: p.file, Msg: fmt.Sprintf("--%s %s: there is no column %s", flag, spec, s), Hint: "the file has " + p.listColumns()}
			}
			return n - 1, nil
		}
	}
	match(func(a string) bool { return a != "" && strings.EqualFold(a, s) })
	match(func(a string) bool { return a != "" && normal(a) == normal(s) })
	switch {
	case len(hits) == 0:
		return 0, &RoleError{File: p.file, Msg: fmt.Sprintf("--%s %q: no column has this name", flag, spec), Hint: "the file has " + p.listColumns()}
	case len(hits) > 1:
		return 0, &RoleError{File: p.file, Msg: fmt.Sprintf("--%s %q: columns %d and %d both have this name", flag, spec, hits[0]+1, hits[1]+1),
			Hint: "give the column's number"}
	}
	return hits[0], nil
}

// listColumns names the columns for a hint.
func (p *plan) listColumns() string {
	var b strings.Builder
	n := len(p.cols)
	for n > 0 && p.cols[n-1].kind == skipCol && p.cols[n-1].name == "" {
		n--
	}
	fmt.Fprintf(&b, "columns 1..%d", n)
	sep := ": "
	for j := range min(n, 24) {
		if p.cols[j].name == "" {
			continue
		}
		fmt.Fprintf(&b, "%s%d %q", sep, j+1, p.cols[j].name)
		sep = ", "
	}
	return b.String()
}
