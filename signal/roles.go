package signal

import (
	"fmt"
	"maps"
	"math"
	"slices"
)

// An assignment gives columns to roles.
type assignment struct {
	p      *plan
	chans  []*channel
	feat   map[int]*features // by column
	role   []Role            // by column
	reason []string
	col    map[Role]int // -1 when the role is not given
	err    error        // why drive or feedback could not be settled
	byFlag map[Role]bool
	// open are the columns named as a direction or command, until it is known
	// whether the drive itself was measured.
	open []int
	// bySign tells that the drive is the sign of the current.
	bySign bool
}

func (a *assignment) give(r Role, j int, reason string) {
	a.role[j], a.reason[j] = r, reason
	a.col[r] = j
}

func (a *assignment) has(r Role) bool { _, ok := a.col[r]; return ok }

func (a *assignment) free(j int) bool { return a.role[j] == Unused && a.reason[j] == "" }

// assign decides the roles when all is read: flags, then header words, then
// the shape of the whole file. An error in flags is returned; a role that
// stays open is left in a.err.
func assign(p *plan, r *reducer, o *Options) (*assignment, error) {
	a := &assignment{p: p, chans: r.chans, feat: map[int]*features{}, role: make([]Role, len(p.cols)), reason: make([]string, len(p.cols)),
		col: map[Role]int{}, byFlag: map[Role]bool{}}
	for _, c := range r.chans {
		f := featuresOf(c.mean)
		a.feat[c.col] = &f
	}
	if t := &p.time; t.col >= 0 && t.mode != timeCount && t.mode != timeNone {
		a.give(TimeRole, t.col, t.reason)
		if t.mode == timeDate {
			a.role[t.col2], a.reason[t.col2] = TimeRole, t.reason
		}
		if t.fraction > 0 {
			a.role[t.fraction], a.reason[t.fraction] = TimeRole, "fraction of the second"
		}
	}
	a.ownRoles()
	if err := a.fromFlags(o); err != nil {
		return nil, err
	}
	a.setAside()
	a.besideMean()
	a.fromHeader()
	if n := r.perRow(); n > 1 {
		a.err = &RoleError{File: p.file, Role: Drive, Msg: fmt.Sprintf("the rows are pieces of one series of %d values; expected at least drive and feedback", r.rows*int64(n)),
			Hint: "export all channels into one file"}
	}
	a.settleOpen()
	a.fromShape()
	a.leftovers()
	a.unknownWords(r)
	a.unknownCodes()
	if a.bySign = a.directionFromCurrent(); a.bySign {
		a.reason[a.col[Current]] += "; its sign is the direction, there is no drive"
	}
	a.demand()
	if err := a.scaleByColumn(o); err != nil {
		return nil, err
	}
	a.unusedScales(o)
	return a, nil
}

// unusedScales notes factors that nothing was multiplied by.
func (a *assignment) unusedScales(o *Options) {
	for _, r := range slices.Sorted(maps.Keys(o.Scale)) {
		why := ""
		switch t := &a.p.time; {
		case r == TimeRole && (t.mode == timeClock || t.mode == timeDate):
			why = "the times are clock stamps"
		case r == TimeRole && t.mode != timeNumber:
			why = "no column is the time"
		case r == TimeRole, a.has(r), r == Drive && (a.has(Polarity) || a.has(LeadA) && a.has(LeadB)):
			continue
		default:
			why = fmt.Sprintf("no column is the %s", r)
		}
		a.p.note("scale-unused", "--scale %s=%g is not used: %s", roleFlags[r], o.Scale[r], why)
	}
}

// fromFlags takes the user's word.
func (a *assignment) fromFlags(o *Options) error {
	var roles []Role
	for r := range o.Roles {
		roles = append(roles, r)
	}
	slices.Sort(roles)
	owner := map[int]Role{}
	for _, r := range roles {
		j, err := a.p.findColumn(roleFlags[r], o.Roles[r])
		if err != nil {
			return err
		}
		if other, ok := owner[j]; ok {
			return &RoleError{File: a.p.file, Role: r, Msg: fmt.Sprintf("%s is given to two roles, %s and %s", a.p.columnName(j), other, r),
				Hint: fmt.Sprintf("change --%s or --%s", roleFlags[other], roleFlags[r])}
		}
		owner[j] = r
		if r == TimeRole {
			continue
		}
		if a.role[j] == TimeRole {
			return &RoleError{File: a.p.file, Role: r, Msg: fmt.Sprintf("--%s %s: %s is the time", roleFlags[r], o.Roles[r], a.p.columnName(j)),
				Hint: "if it is not, name the time column with --time"}
		}
		if why := a.p.wordsUnknown(j); why != "" && a.feat[j] == nil {
			return &RoleError{File: a.p.file, Role: r, Msg: fmt.Sprintf("--%s %s: %s", roleFlags[r], o.Roles[r], why), Hint: wordsInstead}
		}
		if a.feat[j] == nil {
			return &RoleError{File: a.p.file, Role: r, Msg: fmt.Sprintf("--%s %s: %s holds no numbers", roleFlags[r], o.Roles[r], a.p.columnName(j)),
				Hint: "the file has " + a.p.listColumns()}
		}
		if a.feat[j].valid == 0 {
			return &RoleError{File: a.p.file, Role: r, Msg: fmt.Sprintf("--%s %s: %s holds no valid number", roleFlags[r], o.Roles[r], a.p.columnName(j)),
				Hint: "the file has " + a.p.listColumns()}
		}
		if q := a.p.cols[j].unit.q; q == amperes && r != Current {
			return &RoleError{File: a.p.file, Role: r, Msg: fmt.Sprintf("--%s %s: %s is a current in %s", roleFlags[r], o.Roles[r], a.p.columnName(j), a.p.cols[j].unit.base),
				Hint: "name it with --current; the file has " + a.p.listColumns()}
		}
		// A wiper lies between its ground and its supply; what swings to both sides
		// of zero by volts is a motor's.
		if f, q := a.feat[j], a.p.cols[j].unit.q; r == Feedback && f.min < -2 && f.max > 2 && (q == volts || q == noQuantity && f.max-f.min < 80) {
			return &RoleError{File: a.p.file, Role: r, Msg: fmt.Sprintf("--%s %s: %s swings from %.3g to %.3g, and no wiper reads below its ground", roleFlags[r], o.Roles[r], a.p.columnName(j), f.min, f.max),
				Hint: "is it the drive? The file has " + a.p.listColumns()}
		}
		if r == Drive && a.p.cols[j].kind == wordCol {
			r = Polarity
		}
		a.give(r, j, "named by --"+roleFlags[r])
		a.byFlag[r] = true
	}
	return nil
}

// setAside takes out columns that cannot be a channel: row numbers, second
// time columns, other quantities, empty ones.
func (a *assignment) setAside() {
	for j, c := range a.p.cols {
		if !a.free(j) {
			continue
		}
		f := a.feat[j]
		switch {
		case c.kind == skipCol && (j >= len(a.p.core) || c.name != "" || a.p.head.names < 0):
			a.reason[j] = "text"
			if !a.anyText(j) {
				a.reason[j] = "empty"
			}
		case c.kind == skipCol:
			a.reason[j] = "empty"
		case c.kind == unitCol:
			a.reason[j] = fmt.Sprintf("unit of column %d", c.unitOf+1)
		case c.kind == clockCol || c.kind == dateCol || c.kind == todCol:
			a.reason[j] = "a clock besides the time"
		case f == nil:
			a.reason[j] = "not read"
		case f.valid == 0:
			a.reason[j] = "no valid number"
		case c.unit.q == seconds:
			a.reason[j] = a.secondTime(j)
		case c.unit.q == otherQuantity:
			a.reason[j] = fmt.Sprintf("in %s", c.unitText)
		case c.unit.q == hertz:
			a.reason[j] = "a frequency"
		case isTimeName(c.name) && a.p.time.mode != timeNone && c.kind == numberCol && normal(c.name) != "x":
			a.reason[j] = "named as a time"
		case a.isIndex(j):
			a.reason[j] = "counts rows"
		case (c.name == "" || isTimeName(c.name) || c.name == a.timeName()) && a.sameAsTime(j):
			a.reason[j] = fmt.Sprintf("repeats the times of column %d", a.p.time.col+1)
		}
	}
}

func (a *assignment) anyText(j int) bool {
	for i := a.p.first; i < a.p.end; i++ {
		if a.p.kinds[i] != nil && len(a.p.text(i, j)) > 0 {
			return true
		}
	}
	return false
}

func (a *assignment) secondTime(j int) string {
	if a.sameAsTime(j) {
		return fmt.Sprintf("repeats the times of column %d", a.p.time.col+1)
	}
	return "in a unit of time"
}

func (a *assignment) isIndex(j int) bool {
	s := shapeOf(a.p.headValues(j))
	return s.unitStep && s.n > 2 && (isIndexName(a.p.cols[j].name) || a.p.cols[j].name == "" || s.n > 50)
}

// sameAsTime finds the time column of a later pair: equal to the first, or
// shifted by a constant part of a step.
func (a *assignment) sameAsTime(j int) bool {
	t := &a.p.time
	if t.mode != timeNumber || t.col < 0 {
		return false
	}
	x, y := a.p.headValues(t.col), a.p.headValues(j)
	n, same := 0, 0
	for i := range x {
		if x[i] != x[i] || y[i] != y[i] {
			continue
		}
		n++
		d := y[i] - x[i]
		if d == 0 || i > 0 && math.Abs(d) <= math.Abs(x[i]-x[i-1])*1.001 && x[i] != x[i-1] && (y[i]-y[i-1] > 0) == (x[i]-x[i-1] > 0) {
			same++
		}
	}
	return n > 2 && same*20 >= n*19
}

func (a *assignment) twoCandidates(r Role, i, j int, why string) error {
	return &RoleError{File: a.p.file, Role: r,
		Msg:  fmt.Sprintf("%s and %s could both be the %s: %s", a.p.columnName(i), a.p.columnName(j), r, why),
		Hint: fmt.Sprintf("settle it with --%s %d or --%s %d%s", roleFlags[r], i+1, roleFlags[r], j+1, orLeads(r, i, j))}
}

func orLeads(r Role, i, j int) string {
	if r != Drive {
		return ""
	}
	return fmt.Sprintf(", or --lead-a %d --lead-b %d", i+1, j+1)
}

func (a *assignment) timeName() string {
	if t := &a.p.time; t.col >= 0 {
		return a.p.cols[t.col].name
	}
	return ""
}

func (a *assignment) channel(j int) *channel {
	for _, c := range a.chans {
		if c.col == j {
			return c
		}
	}
	return nil
}
