package signal

import (
	"fmt"
	"math"
	"slices"
	"strings"
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
	if err := a.fromFlags(o); err != nil {
		return nil, err
	}
	a.setAside()
	a.fromHeader()
	if n := r.perRow(); n > 1 {
		a.err = &RoleError{File: p.file, Role: Drive, Msg: fmt.Sprintf("the rows are pieces of one series of %d values; expected at least drive and feedback", r.rows*int64(n)),
			Hint: "export all channels into one file"}
	}
	a.fromShape()
	a.leftovers()
	a.demand()
	return a, nil
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
		if a.feat[j] == nil {
			return &RoleError{File: a.p.file, Role: r, Msg: fmt.Sprintf("--%s %s: %s holds no numbers", roleFlags[r], o.Roles[r], a.p.columnName(j)),
				Hint: "the file has " + a.p.listColumns()}
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

// fromHeader takes the words of the header.
func (a *assignment) fromHeader() {
	type claim struct {
		j    int
		word string
	}
	claims := map[Role][]claim{}
	for j, c := range a.p.cols {
		if !a.free(j) || c.name == "" {
			continue
		}
		r, w := headerRole(c.name)
		if w == "" {
			continue
		}
		if r == Unused {
			a.reason[j] = fmt.Sprintf("the header says %q", w)
			continue
		}
		if c.unit.q == amperes && (r == Drive || r == Supply) {
			r, w = Current, "unit A"
		}
		if c.unit.q == amperes && r != Current || c.unit.q == volts && r == Current && !strings.Contains(w, "shunt") && false {
			continue
		}
		if c.kind == wordCol && (r == Drive || r == LeadA || r == LeadB) {
			r = Polarity
		}
		if r == Polarity && c.kind != wordCol && a.feat[j].max-a.feat[j].min > 2.5 {
			r = Drive // volts under a word of direction
		}
		claims[r] = append(claims[r], claim{j, w})
	}
	driven := a.has(Drive) || a.has(Polarity) || a.has(LeadA) || a.has(LeadB)
	for _, r := range []Role{LeadA, LeadB, Drive, Polarity, Feedback, Reference, Supply, Current} {
		c := claims[r]
		if len(c) == 0 || a.has(r) {
			continue
		}
		if driven && (r == Drive || r == Polarity || r == LeadA || r == LeadB) {
			continue
		}
		if (r == LeadA || r == LeadB) && (len(claims[LeadA]) == 0 || len(claims[LeadB]) == 0) {
			continue
		}
		if (r == Drive || r == Polarity) && (a.has(LeadA) && a.has(LeadB)) {
			continue
		}
		if r == Polarity && a.has(Drive) {
			continue
		}
		if len(c) > 1 {
			k := a.prefer(r, []int{c[0].j, c[1].j})
			if len(c) > 2 || k < 0 {
				if r == Drive || r == Feedback || r == LeadA || r == LeadB || r == Polarity {
					if a.err == nil {
						a.err = a.twoCandidates(r, c[0].j, c[1].j, fmt.Sprintf("both are named as %s", r))
					}
				}
				for _, x := range c {
					a.reason[x.j] = fmt.Sprintf("one of %d columns named as %s", len(c), r)
				}
				continue
			}
			for _, x := range c {
				if x.j == k {
					c[0] = x
				}
			}
		}
		a.give(r, c[0].j, fmt.Sprintf("the header says %q", c[0].word))
	}
}

// prefer settles two columns named alike by their shape, or returns -1.
func (a *assignment) prefer(r Role, js []int) int {
	fits := func(j int) bool {
		f := a.feat[j]
		switch r {
		case Drive, Polarity:
			return f.switching()
		case Feedback:
			return f.gliding()
		}
		return !f.flat
	}
	x, y := fits(js[0]), fits(js[1])
	switch {
	case x && !y:
		return js[0]
	case y && !x:
		return js[1]
	}
	return -1
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

// unitLevels tells whether a drive is written as -1, 0, +1.
func unitLevels(f *features) bool {
	for _, x := range []float64{f.min, f.max} {
		if x != -1 && x != 0 && x != 1 {
			return false
		}
	}
	return f.min < f.max
}

// fromShape gives what is left by the shape of the whole file.
func (a *assignment) fromShape() {
	if a.err != nil {
		return
	}
	a.constants()
	a.currents()
	if a.rows() < fewRows {
		return
	}
	if !a.has(Drive) && !a.has(Polarity) && !(a.has(LeadA) && a.has(LeadB)) {
		a.driveByShape()
	}
	if !a.has(Feedback) && a.err == nil {
		a.feedbackByShape()
	}
}

// fewRows is too little to tell a switched column from a moving one: both
// levels of a drive and a travel between them need some rows each.
const fewRows = 20

func (a *assignment) rows() int {
	n := 0
	for _, c := range a.chans {
		n = max(n, len(c.mean))
	}
	return n
}

// near tells whether a column stays at a value all the time.
func (f *features) near(lo, hi, swing float64, scale float64) bool {
	a, b, m := f.min*scale, f.max*scale, f.median*scale
	if a > b {
		a, b = b, a
	}
	return m >= lo && m <= hi && b-a <= swing*math.Abs(m)
}

func (a *assignment) candidates(ok func(j int, f *features) bool) []int {
	var js []int
	for _, c := range a.chans {
		if a.free(c.col) && ok(c.col, a.feat[c.col]) {
			js = append(js, c.col)
		}
	}
	return js
}

func (a *assignment) constants() {
	scale := func(j int) float64 { return columnScale(&a.p.cols[j]) }
	inVolts := func(j int) bool { q := a.p.cols[j].unit.q; return q == volts || q == noQuantity }
	ref := a.candidates(func(j int, f *features) bool {
		return a.p.cols[j].kind == numberCol && inVolts(j) && f.near(4.5, 5.5, 0.05, scale(j))
	})
	if len(ref) == 1 && !a.has(Reference) {
		a.give(Reference, ref[0], "stays near 5 V all the time")
	}
	// A battery sags when the motor starts and is charged between; it does
	// not fall to half.
	sup := a.candidates(func(j int, f *features) bool {
		return a.p.cols[j].kind == numberCol && inVolts(j) && f.near(9.5, 15.5, 0.25, scale(j)) && !(f.jumps > 0 && f.levels > 0.9 && f.max-f.min > 2)
	})
	if len(sup) == 1 && !a.has(Supply) {
		a.give(Supply, sup[0], "stays near 12 V all the time")
	}
}

func (a *assignment) currents() {
	js := a.candidates(func(j int, f *features) bool { return a.p.cols[j].unit.q == amperes })
	if len(js) == 1 && !a.has(Current) {
		a.give(Current, js[0], "in a unit of current")
		return
	}
	for _, j := range js {
		a.reason[j] = "in a unit of current"
	}
}

func (a *assignment) driveByShape() {
	words := a.candidates(func(j int, f *features) bool { return a.p.cols[j].kind == wordCol && !a.p.cols[j].onOff })
	if len(words) == 1 {
		a.give(Polarity, words[0], "words of direction")
		return
	}
	js := a.candidates(func(j int, f *features) bool { return f.switching() })
	var signed []int
	for _, j := range js {
		if f := a.feat[j]; f.negative && f.positive {
			signed = append(signed, j)
		}
	}
	switch {
	case len(signed) == 1:
		a.giveDrive(signed[0], "switches between levels of both signs")
	case len(signed) > 1:
		a.err = a.twoCandidates(Drive, signed[0], signed[1], "both switch between levels of both signs")
	case len(js) == 2 && a.areLeads(js[0], js[1]):
		a.give(LeadA, js[0], fmt.Sprintf("switches in turn with column %d; the first of two leads", js[1]+1))
		a.give(LeadB, js[1], fmt.Sprintf("switches in turn with column %d; the second of two leads", js[0]+1))
	case len(js) == 1:
		a.giveDrive(js[0], "the only column that switches between levels")
	case len(js) > 1:
		a.err = a.twoCandidates(Drive, js[0], js[1], "both switch between few levels")
	}
}

func (a *assignment) giveDrive(j int, reason string) {
	f, c := a.feat[j], &a.p.cols[j]
	if c.kind == wordCol || c.unit.q == noQuantity && unitLevels(f) {
		a.give(Polarity, j, reason)
		return
	}
	a.give(Drive, j, reason)
}

// areLeads tells whether two single-ended columns are the ends of one motor:
// the same high level, none below ground, and hardly ever high together but
// both high at times.
func (a *assignment) areLeads(i, j int) bool {
	x, y := a.feat[i], a.feat[j]
	if x.negative || y.negative {
		return false
	}
	top := max(x.max, y.max)
	if math.Abs(x.max-y.max) > 0.3*top {
		return false
	}
	ci, cj := a.channel(i), a.channel(j)
	hx, hy, both := 0, 0, 0
	for k := range ci.mean {
		p, q := float64(ci.mean[k]) > top/2, float64(cj.mean[k]) > top/2
		if p {
			hx++
		}
		if q {
			hy++
		}
		if p && q {
			both++
		}
	}
	// Braking at the high side makes both high; driving makes one high. Two
	// leads that are always high together drive nothing.
	return hx > 0 && hy > 0 && (hx-both)+(hy-both) > 0 && hx != both && hy != both
}

// logicLeads tells whether the leads are written as 0 and 1 without a unit.
func (a *assignment) logicLeads() bool {
	for _, r := range []Role{LeadA, LeadB} {
		j := a.col[r]
		if f := a.feat[j]; a.p.cols[j].unit.q != noQuantity || f.min != 0 || f.max != 1 {
			return false
		}
	}
	return true
}

func (a *assignment) channel(j int) *channel {
	for _, c := range a.chans {
		if c.col == j {
			return c
		}
	}
	return nil
}

func (a *assignment) feedbackByShape() {
	js := a.candidates(func(j int, f *features) bool {
		return a.p.cols[j].kind == numberCol && f.gliding()
	})
	if len(js) == 0 {
		// A wiper may stand still for the whole file, or jump on a dead spot.
		js = a.candidates(func(j int, f *features) bool { return a.p.cols[j].kind == numberCol })
		if len(js) == 1 {
			a.give(Feedback, js[0], "the only column left")
			return
		}
	}
	switch len(js) {
	case 0:
		return
	case 1:
		a.give(Feedback, js[0], "the only column that moves without switching")
		return
	}
	if j, why, ok := a.movesWithDrive(js); ok {
		a.give(Feedback, j, why)
		return
	}
	a.err = a.twoCandidates(Feedback, js[0], js[1], "both move without switching")
}

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
	drive := a.has(Drive) || a.has(Polarity) || a.has(LeadA) && a.has(LeadB)
	var free []string
	for _, c := range a.chans {
		if a.role[c.col] == Unused {
			free = append(free, a.p.columnName(c.col)+" ("+a.reason[c.col]+")")
		}
	}
	left := "no other column of numbers"
	if a.rows() < fewRows {
		left = fmt.Sprintf("%d rows are too few to tell by shape", a.rows())
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
	case !drive && !a.has(Feedback) && len(a.chans) == 0:
		a.err = &RoleError{File: a.p.file, Role: Drive, Msg: "only one column of numbers; expected at least time, drive and feedback", Hint: "export all channels into one file"}
	case !drive:
		a.err = &RoleError{File: a.p.file, Role: Drive, Msg: "no column could be told to be the motor drive; " + left, Hint: "name it with --drive, or both leads with --lead-a and --lead-b"}
	case !a.has(Feedback):
		a.err = &RoleError{File: a.p.file, Role: Feedback, Msg: "no column could be told to be the wiper feedback; " + left, Hint: "name it with --feedback"}
	}
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
