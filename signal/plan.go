package signal

import (
	"bytes"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
)

// A colKind is how the cells of a column are read.
type colKind uint8

const (
	skipCol   colKind = iota // not read
	remarkCol                // not read but for its remarks; of a parser only, of a plan it is a skipCol
	numberCol                // number, unit suffix allowed
	wordCol                  // word of polarity, or on and off
	unitCol                  // unit of the column to the left
	clockCol                 // date and time
	dateCol
	todCol // time of day
)

// A planCol is one column of the file as it will be read.
type planCol struct {
	kind     colKind
	name     string
	unitText string
	unit     unit
	order    dateOrder
	packed   bool       // a clock without colons
	anyOrder bool       // day and month may be either way round
	first    stamp      // of the column that is the time
	codes    codeLegend // what numbers mean in a column of directions, nil when they are no codes
	dashRest bool       // a lone dash among words of direction is no direction
	onOff    bool       // words say on and off rather than a direction
	// direction: the header says that this is a direction or a command.
	direction bool
	remarks   bool               // not read, but text in it is kept as remarks
	letters   map[string]float64 // signs of single letters as all of them tell together, nil else
	// late: a column of numbers in the head that may turn out to hold words
	// of direction; a recording often begins with a long rest, written 0.
	late   bool
	unitOf int // unitCol: the column it belongs to
	// unitGuess: the unit is the preamble's for all values, which a time
	// column does not share.
	unitGuess bool
	step      float64 // factor within the unit of a time column, "10 ms"; 0 none
	written   float64 // factor that the file writes beside it, 0 none
	probe     float64 // of a divider that was not entered, or of a count, counted in the unit's factor; 0 none
}

// A timeMode is where times come from.
type timeMode uint8

const (
	timeNone   timeMode = iota
	timeNumber          // a column of numbers
	timeClock           // a column of stamps
	timeDate            // a column of dates plus one of times of day
	timeCount           // counted rows
)

// A timePlan is how the time of a row is found.
type timePlan struct {
	mode       timeMode
	col, col2  int
	fraction   int     // column of ms or us beside whole seconds, or -1
	fracScale  float64 // its unit in s
	scale      float64 // to s
	step       float64 // s, timeCount
	start      float64 // s, timeCount
	resolution float64 // s, the last printed digit
	epoch      bool    // seconds since 1970
	guessed    bool    // scale follows from the numbers, for the file tells no unit
	guess      string  // what to say of that, "" where it is plain
	baseDays   int64   // day of Start for stamps
	todOnly    bool
	lap        float64 // s after which a time of day begins anew
	delta      bool    // the column tells the times between rows
	reason     string
	problem    string // why there is none
}

// A plan is all that is known before the data are read.
type plan struct {
	*table
	head   *header
	facts  *facts
	cols   []planCol
	time   timePlan
	own    []ownTime // further columns of times, of some channels each
	notes  []Note
	alike  map[string]*alike // by code
	file   string
	source *text
}

// note keeps what is told of how the file was read, once.
func (p *plan) note(code, format string, args ...any) {
	p.keepNote(Note{Code: code, Text: fmt.Sprintf(format, args...)})
}

// doubt keeps a note that could turn the verdict, see [Note.Turns].
func (p *plan) doubt(code, format string, args ...any) {
	p.keepNote(Note{Code: code, Text: fmt.Sprintf(format, args...), Turns: true})
}

// mostAlike is how many notes of one code are kept as they are: what happens more often
// than a reader reads is counted.
const mostAlike = 20

// alike are the notes of one code.
type alike struct {
	seen int
	last int    // of plan.notes, the last that is kept
	text string // of that one
}

func (p *plan) keepNote(n Note) {
	a := p.alike[n.Code]
	if a != nil && a.seen >= mostAlike {
		a.seen++
		p.notes[a.last].Text = fmt.Sprintf("%s (and %d more like it)", a.text, a.seen-mostAlike)
		return
	}
	for _, x := range p.notes {
		if x.Code == n.Code && x.Text == n.Text {
			return
		}
	}
	if a == nil {
		a = &alike{}
		if p.alike == nil {
			p.alike = map[string]*alike{}
		}
		p.alike[n.Code] = a
	}
	a.seen++
	a.last, a.text = len(p.notes), n.Text
	p.notes = append(p.notes, n)
}

// makePlan decides from the head how the file is read.
func makePlan(t *table, o *Options) (*plan, error) {
	p := &plan{table: t, file: o.Source}
	t.namesByPlace()
	p.head = t.findHeader()
	t.remarkBeyond(p.head)
	if t.long != nil {
		t.long.over(p.head)
	}
	t.shiftNames(p.head)
	t.mixedMarks(p.head)
	if err := p.decimalCommas(); err != nil {
		return nil, err
	}
	p.noteOtherNames()
	p.facts = t.gather(p.head)
	p.cols = make([]planCol, t.width)
	for j := range p.cols {
		p.planColumn(j)
	}
	p.bracketedOnes()
	if err := p.planTime(o); err != nil {
		return nil, err
	}
	return p, nil
}

// bracketedOnes reads "Feedback (1)" as a share of the whole where other columns have
// their units in brackets as well, and none counts on to "(2)".
func (p *plan) bracketedOnes() {
	units := 0
	for j := range p.cols {
		if strings.HasSuffix(p.cols[j].name, "2)") || strings.HasSuffix(p.cols[j].name, "2]") {
			return
		}
		if name := strings.TrimSpace(p.head.name[j]); p.cols[j].unitText != "" && (strings.HasSuffix(name, ")") || strings.HasSuffix(name, "]")) {
			units++
		}
	}
	for j := range p.cols {
		c := &p.cols[j]
		for _, one := range []string{"(1)", "[1]"} {
			if name, ok := strings.CutSuffix(c.name, one); ok && units > 0 && c.unitText == "" && strings.TrimSpace(name) != "" {
				c.name, c.unitText, c.unit = strings.TrimSpace(name), "1", ofWhole
			}
		}
	}
}

func (p *plan) planColumn(j int) {
	c := &p.cols[j]
	name := strings.TrimSpace(p.head.name[j])
	probe := unsetRatio(name)
	if probe > 0 {
		name = withoutProbe(name)
	}
	name, c.written = trailingFactor(name)
	if x := p.facts.columnFactors[j]; x > 0 {
		c.written = x
	}
	c.name = name
	if s, ut, step, u, ok := steppedTime(name); ok {
		c.name, c.unitText, c.step, c.unit = s, ut, step, u
	} else if s, ut, m, ok := splitMultiple(name); ok {
		c.name, c.unitText, c.unit = s, ut, m.unit
	} else if s, ut, u, ok := splitUnit(name); ok {
		c.name, c.unitText, c.unit = p.head.withMinus(s, name), ut, u
	} else if u, ok := findUnit(name); ok && u.q != otherQuantity && u.q != counts && !strings.EqualFold(name, "adc") && (len(name) > 1 || name == "s" || name == "V") {
		c.unitText, c.unit = name, u
	} else if u, ok := findUnit(strings.TrimRight(name, "0123456789_ ")); ok && u.q != otherQuantity && (u.q != counts || p.whole(j)) && len(name) > 3 { // "adc1" is a converter that may be read in volts
		c.unitText, c.unit = strings.TrimRight(name, "0123456789_ "), u
	}
	for _, s := range []string{p.facts.columnUnits[j], p.head.unit[j]} {
		if u, ok := findUnit(s); ok {
			c.unitText, c.unit = strings.Trim(strings.TrimSpace(s), "()[]"), u
		} else if u, step, ok := steppedUnit(s); ok && (isTimeName(c.name) || tickWords[normal(c.name)]) {
			c.unitText, c.step, c.unit = strings.Trim(strings.TrimSpace(s), "()[]"), step, u
		} else if strings.Trim(strings.TrimSpace(s), "()[]") == "1" {
			c.unitText, c.unit = "1", ofWhole
		} else if s != "" && c.unitText == "" && !isLabel(s) && j < len(p.core) && p.core[j] && p.head.units >= 0 {
			c.unitText, c.unit = strings.Trim(strings.TrimSpace(s), "()[]"), unit{otherQuantity, 1, s}
			if isIndexName(s) || strings.Trim(c.unitText, "-–—") == "" { // "(-)": no unit
				c.unit = unit{}
			}
		}
	}
	if n := p.facts.columnNames[j]; n != "" && (c.name == "" || p.head.names < 0 || numberOfChannel(c.name) > 0) {
		c.name = n
		if s, ut, u, ok := splitUnit(n); ok {
			c.name = s
			if c.unitText == "" {
				c.unitText, c.unit = ut, u
			}
		}
	}
	c.name = strings.TrimSpace(strings.TrimSuffix(c.name, " in"))
	if c.name == "" {
		if t := p.text(p.end-1, j); p.kind(p.end-1, j) == cellQuantity {
			if i := labelEnd(t); i > 0 {
				c.name = strings.TrimSpace(utf8String(t[:i-1]))
			}
		}
	}
	p.kindOf(j)
	if c.kind == numberCol && c.unitText == "" && p.facts.yUnit != "" {
		// The time column, if it is one, takes the unit of time later.
		if u, ok := findUnit(p.facts.yUnit); ok {
			c.unitText, c.unit = p.facts.yUnit, u
			c.unitGuess = true
		}
	}
	p.countedIn(j, name)
	for _, s := range []string{p.facts.columnUnits[j], p.head.unit[j]} {
		p.countedIn(j, "units ("+strings.Trim(strings.TrimSpace(s), "()[]")+")")
	}
	p.countVolts(j)
	p.onProbe(j, probe)
	if c.kind == numberCol {
		p.packedClock(j)
	}
	c.remarks = p.holdsRemarks(j)
}

// kindOf decides from the cells of the block how a column is read.
func (p *plan) kindOf(j int) {
	c := &p.cols[j]
	r, _ := headerRole(c.name)
	if r == Polarity || isCommandName(c.name) {
		c.direction = true
	}
	if c.direction || r == Drive && c.unit.q == noQuantity {
		c.letters = p.letterSigns(j)
		c.direction = c.direction || c.letters != nil
	}
	a := p.tally(j)
	c.dashRest = a.dashes > 0 && a.turns > 0 && a.plusses == 0
	n, numeric, filled := &a.n, a.numeric(), a.filled()
	switch {
	case filled == 0:
		return
	case 2*n[cellClock] >= filled:
		p.clockColumn(j, a.stamps)
	case n[cellWord] > 0 && a.unitCells == n[cellWord] && !c.direction && j > 0 && p.cols[j-1].kind == numberCol && numeric == 0 && !(len(a.distinct) > 1 && a.pol == n[cellWord]):
		c.kind, c.unitOf = unitCol, j-1
		left := &p.cols[j-1]
		if left.unitText == "" {
			for _, s := range slices.Sorted(maps.Keys(a.distinct)) {
				if u, ok := findUnit(s); ok && left.unit.q == noQuantity {
					left.unitText, left.unit = u.base, unit{u.q, 1, u.base}
				}
			}
		}
	case a.signsAndRests(c):
		c.kind = wordCol
	case p.core[j] && 2*(numeric+n[cellOver]) >= filled && numeric > 0:
		p.numbersColumn(j, a)
	case n[cellWord]+n[cellMissing]+n[cellOver] > 0 && a.polNonzero > 0 && a.pol*10 >= filled*9:
		c.kind = wordCol
	case a.onOff*10 >= filled*9 || a.pol*10 >= filled*9:
		c.kind, c.onOff = wordCol, a.pol < filled
	case numeric > 0 && p.core[j], n[cellMissing]+n[cellOver] == filled:
		c.kind = numberCol
	}
}

// numbersColumn takes column j for numbers, with the unit that its cells carry.
func (p *plan) numbersColumn(j int, a *cellTally) {
	c := &p.cols[j]
	c.kind = numberCol
	r, _ := headerRole(c.name)
	c.late = a.polNumbers == a.n[cellNumber] && (c.direction || c.name == "" || r == Drive && c.unit.q == noQuantity)
	if codes := p.directionCodes(j); codes != nil {
		c.kind, c.codes = wordCol, codes
	}
	if len(a.suffixes) > 0 && c.unitText == "" {
		most := 0
		for _, s := range slices.Sorted(maps.Keys(a.suffixes)) {
			if u, ok := findUnit(s); ok && a.suffixes[s] > most {
				most = a.suffixes[s]
				c.unitText, c.unit = u.base, unit{u.q, 1, u.base}
			}
		}
	} else if len(a.suffixes) > 0 {
		// The cells carry their own unit and are scaled one by one.
		c.unit.factor = 1
	}
}

func (p *plan) clockColumn(j int, stamps []stamp) {
	c := &p.cols[j]
	dates, times := 0, 0
	order, sure := orderDMY, false
	numericDate := false
	var sep byte
	for _, s := range stamps {
		if s.hasDate {
			dates++
			if s.month == 0 {
				numericDate = true
				sep = s.sep
				switch {
				case s.yearFirst:
					order, sure = orderYMD, true
				case s.f[0] > 31:
					order, sure = orderYMD, true
				case s.f[0] > 12:
					order, sure = orderDMY, true
				case s.f[1] > 12:
					order, sure = orderMDY, true
				}
			} else {
				sure = true
			}
		}
		if s.hasTime {
			times++
		}
	}
	if numericDate && !sure && sep == '/' {
		order = orderMDY
	}
	switch turns := turningNumber(stamps); {
	case !numericDate || sure:
	case turns >= 0:
		order, sure = [2]dateOrder{orderDMY, orderMDY}[turns], true
	default:
		c.anyOrder = true
	}
	if numericDate && !sure && sep != '.' {
		how := "day first"
		if order == orderMDY {
			how = "month first"
		}
		p.note("date-order", "column %d: the dates can be read day first or month first; read %s (only the start date depends on it)", j+1, how)
	}
	c.order = order
	switch {
	case dates*2 >= len(stamps) && times*2 >= len(stamps):
		c.kind = clockCol
	case dates*2 >= len(stamps):
		c.kind = dateCol
	default:
		c.kind = todCol
	}
}

// columnName is how messages call a column.
func (p *plan) columnName(j int) string {
	if j < len(p.cols) && p.cols[j].name != "" {
		return fmt.Sprintf("column %d %q", j+1, p.cols[j].name)
	}
	return fmt.Sprintf("column %d", j+1)
}

// headValues gives the numbers of a column in the head, NaN where there are
// none.
func (p *plan) headValues(j int) []float64 {
	v := make([]float64, 0, p.end-p.first)
	for i := p.first; i < p.end; i++ {
		if p.kinds[i] == nil {
			continue
		}
		x := math.NaN()
		if k := p.kind(i, j); k == cellNumber || k == cellQuantity || k == cellGrouped {
			x, _ = readCell(p.text(i, j), p.decOf(j))
		}
		v = append(v, x)
	}
	return v
}

// printedResolution is the last printed digit of the numbers of a column, as
// the coarsest seen: 0.0001 for "12.3400", 1e-8 for "1.000001E-02".
func (p *plan) printedResolution(j int) float64 {
	res := 0.0
	for i, seen := p.first, 0; i < p.end && seen < 500; i++ {
		if p.kinds[i] == nil || p.kind(i, j) != cellNumber {
			continue
		}
		seen++
		t := p.text(i, j)
		frac, exp := 0, 0.0
		if k := bytes.IndexAny(t, "eE"); k > 0 {
			exp, _ = scanNumber(t, k+1, '.')
			t = t[:k]
		}
		if k := bytes.IndexByte(t, p.decOf(j)); k >= 0 {
			frac = len(t) - k - 1
		}
		r := math.Pow(10, exp-float64(frac))
		if p.timeLooksShortened(t) {
			continue
		}
		res = max(res, r)
	}
	return res
}

// timeLooksShortened: "0" or "2E-9" among longer numbers says nothing about
// the resolution, since zeros at the end were dropped.
func (p *plan) timeLooksShortened(t []byte) bool {
	return len(bytes.Trim(t, "+-")) <= 1
}
