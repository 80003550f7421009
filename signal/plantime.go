package signal

import (
	"fmt"
	"math"
	"strings"
)

// planTime finds the time base: a column named by the user, a named column,
// clock stamps, a column that counts evenly, or an interval told by the
// preamble or the user.
func (p *plan) planTime(o *Options) error {
	t := &p.time
	t.col, t.col2, t.fraction = -1, -1, -1
	if spec, ok := o.Roles[TimeRole]; ok {
		j, err := p.findColumn("time", spec)
		if err != nil {
			return err
		}
		switch p.cols[j].kind {
		case numberCol, clockCol, todCol, dateCol:
		default:
			return &SyntaxError{File: p.file, Line: int64(p.first + 1), Column: j + 1,
				Msg: fmt.Sprintf("%s holds neither numbers nor clock stamps, so it cannot be the time", p.columnName(j)), Hint: "name another column with --time"}
		}
		p.useTime(j, "named by --time")
	} else {
		p.searchTime(o)
	}
	if t.mode == timeNumber {
		p.timeFactor(o.Scale[TimeRole])
	}
	if t.mode != timeCount && t.mode != timeNone && p.rateInstead(o) {
		p.note("rate-instead", "--rate %g is used: the times in column %d are too coarse to tell the rows apart", o.Rate, t.col+1)
		*t = timePlan{mode: timeCount, col: -1, col2: -1, fraction: -1}
	}
	p.pairTimes(o)
	if t.mode == timeCount || t.mode == timeNone {
		p.countTime(o)
	} else if o.Rate > 0 {
		p.note("rate-unused", "--rate %g is not used: the file has times of its own in column %d", o.Rate, t.col+1)
	}
	return nil
}

// timeFactor takes the user's factor, 0 for none: on top of the unit that the
// file tells, in s per written number where the unit was only guessed.
func (p *plan) timeFactor(f float64) {
	t := &p.time
	switch {
	case f == 0 && t.guess != "":
		p.note("time-unit", "%s", t.guess)
	case f == 0:
	case !t.guessed:
		t.scale, t.resolution = t.scale*f, t.resolution*f
	case f != t.scale: // and so no seconds since 1970 either
		t.resolution *= f / t.scale
		t.scale, t.epoch = f, false
	}
}

// useTime takes column j as time.
func (p *plan) useTime(j int, reason string) {
	t, c := &p.time, &p.cols[j]
	t.col, t.scale, t.reason = j, 1, reason
	switch c.kind {
	case clockCol:
		t.mode = timeClock
		t.resolution = p.stampResolution(j)
	case todCol:
		t.mode, t.todOnly, t.lap = timeClock, true, p.lapOf(j)
		t.resolution = p.stampResolution(j)
		for k := range p.cols {
			if p.cols[k].kind == dateCol {
				t.mode, t.col, t.col2, t.todOnly = timeDate, k, j, false
				break
			}
		}
	case dateCol:
		t.mode = timeClock
		for k := range p.cols {
			if p.cols[k].kind == todCol {
				t.mode, t.col2 = timeDate, k
				t.resolution = p.stampResolution(k)
				break
			}
		}
	case numberCol:
		t.mode, t.delta = timeNumber, p.isDelta(j)
		p.numberTime(j)
	}
	if t.mode == timeClock || t.mode == timeDate {
		p.secondFraction()
		p.firstDay()
	}
}

// numberTime settles the unit of a numeric time column.
func (p *plan) numberTime(j int) {
	t, c := &p.time, &p.cols[j]
	if c.unitGuess {
		c.unit, c.unitText = unit{}, ""
	}
	s := shapeOf(p.headValues(j))
	name := normal(c.name)
	switch {
	case c.unit.q == seconds:
		p.countedTime(j, &s)
	case c.unit.q == noQuantity && strings.TrimSpace(p.facts.xUnit) != "" && unitIs(p.facts.xUnit, seconds):
		u, _ := findUnit(p.facts.xUnit)
		t.scale, c.unitText = u.factor, p.facts.xUnit
	case anyOf(name, "ms", "msec", "millis", "milliseconds", "millisecond"):
		t.scale = 1e-3
	case anyOf(name, "us", "usec", "micros", "microseconds"):
		t.scale = 1e-6
	case s.first > 1e17 && s.first < 3e18:
		t.scale, t.epoch = 1e-9, true
	case s.first > 1e14 && s.first < 3e15:
		t.scale, t.epoch = 1e-6, true
	case s.first > 3e11 && s.first < 3e12:
		t.scale, t.epoch = 1e-3, true
	case s.first > 3e8 && s.first < 3e9:
		t.epoch = true
	case s.first > 30000 && s.first < 70000 && s.largestAbs < 70000 && s.median < 0.02 && anyOf(name, "date", "datum", "fecha", "datetime", "date time", "timestamp"):
		// Spreadsheets count days from 1899-12-30.
		t.scale, t.epoch = 86400, true
		p.note("time-unit", "column %d counts days since 1900 as spreadsheets do", j+1)
	case c.unit.q == noQuantity && p.subunitTold(s.median) != 0:
		t.scale = p.subunitTold(s.median)
		p.note("time-unit", "column %d has no unit; by the interval of %s that the preamble tells, its times count %s", j+1, interval(p.facts.interval(), "interval"), map[float64]string{1e-3: "ms", 1e-6: "us", 1e-9: "ns"}[t.scale])
	case s.integer && s.median >= 2 && !s.unitStep:
		// At 2 s and more between rows no sweep of an actuator could be
		// followed, so whole numbers without a unit are milliseconds.
		t.scale = 1e-3
		if s.median >= 20000 {
			t.scale = 1e-6
		}
		t.guess = fmt.Sprintf("column %d gives whole numbers without a unit, %g apart: read as %s; else give --scale time=FACTOR (s per count)", j+1, s.median, map[float64]string{1e-3: "ms", 1e-6: "us"}[t.scale])
	default:
		if told := p.facts.interval(); c.unit.q == noQuantity && s.median >= 0.2 && !(told > 0 && math.Abs(told-s.median) < 0.02*told) {
			// Below that, milliseconds would mean a row rate that no logger
			// writes with fractions.
			t.guess = fmt.Sprintf("column %d has no unit: read as seconds; else give --scale time=FACTOR", j+1)
		}
	}
	t.guessed = t.guess != "" || t.epoch
	if c.unit.q == seconds && t.scale == 1 && s.first > 3e8 && s.first < 3e9 {
		t.epoch = true
	}
	if c.unit.q == seconds && s.first*t.scale > 3e8 && s.first*t.scale < 3e9 {
		t.epoch = true
	}
	t.resolution = p.printedResolution(j) * t.scale
}

func unitIs(s string, q quantity) bool {
	u, ok := findUnit(s)
	return ok && u.q == q
}

// stampResolution is the last printed digit of clock stamps, s.
func (p *plan) stampResolution(j int) float64 {
	digitsAfter := 0
	whole := true
	for i, seen := p.first, 0; i < p.end && seen < 500; i++ {
		if p.kinds[i] == nil {
			continue
		}
		t := p.text(i, j)
		s, ok := p.readStamp(j, t)
		if !ok {
			continue
		}
		seen++
		if s.parts == 3 || s.frac {
			whole = false
		}
		if s.frac {
			digitsAfter = max(digitsAfter, s.decimals)
		}
	}
	if whole {
		return 60
	}
	return math.Pow(10, -float64(min(digitsAfter, 12)))
}

// firstDay takes the day of the first stamp as the origin, so that times stay
// exact.
func (p *plan) firstDay() {
	t := &p.time
	for i := p.first; i < p.end; i++ {
		if p.kinds[i] == nil {
			continue
		}
		if s, ok := p.readStamp(t.col, p.text(i, t.col)); ok && s.hasDate {
			if d, ok := s.days(p.cols[t.col].order); ok {
				t.baseDays, p.cols[t.col].first = d, s
				return
			}
		}
	}
	if p.facts.date.hasDate {
		if d, ok := p.facts.date.days(orderOf(p.facts.date)); ok {
			t.baseDays = d
		}
	}
}

func orderOf(s stamp) dateOrder {
	switch {
	case s.yearFirst || s.f[0] > 31:
		return orderYMD
	case s.f[0] > 12:
		return orderDMY
	case s.f[1] > 12 || s.sep == '/':
		return orderMDY
	}
	return orderDMY
}

// searchTime looks for a time column without the user's help.
func (p *plan) searchTime(o *Options) {
	best, bestScore, reason := -1, 0, ""
	offer := func(j, score int, why string) {
		if score > bestScore {
			best, bestScore, reason = j, score, why
		}
	}
	told := p.facts.step > 0 || p.facts.rate > 0 || o.Rate > 0
	indexSeen := -1
	for j, c := range p.cols {
		if taken(p, o, j) {
			continue
		}
		switch c.kind {
		case clockCol:
			offer(j, 80, "date and time in every row")
			continue
		case todCol:
			offer(j, 75, p.todReason())
			continue
		case dateCol:
			offer(j, 5, "dates")
			continue
		case numberCol:
		default:
			continue
		}
		if p.isDelta(j) {
			offer(j, 22, "the times between rows, added up")
			continue
		}
		s := shapeOf(p.headValues(j))
		named := isTimeName(c.name)
		inTime := c.unit.q == seconds
		_, word := headerRole(c.name)
		switch {
		case s.n < 2 || !s.monotone:
			if axis := strings.HasPrefix(normal(c.name), "x"); axis && s.wanders {
				p.time.problem = fmt.Sprintf("%s goes up and down all the time, so it is no time: a scope's XY picture shows one channel against the other and loses the time; export each channel against time", p.columnName(j))
			} else if named && s.n > 0 && !hasWords(normal(c.name), "delta") {
				offer(j, 20, "named as time")
			}
		case s.unitStep && !inTime && (isIndexName(c.name) || c.name == "" || normal(c.name) == "x") && s.first < 3e8:
			indexSeen = j
			if !told {
				offer(j, 2, "counts rows")
			}
		case named && inTime:
			offer(j, 100, "named as time and in a unit of time")
		case inTime && !isIndexName(c.name):
			offer(j, 95, "in a unit of time")
		case named && s.uniform && !(s.unitStep && told):
			offer(j, 90, "named as time and even")
		case named:
			offer(j, 85, "named as time and rising")
		case word != "", (c.unit.q == volts || c.unit.q == amperes) && !c.unitGuess:
		case s.uniform && !s.tooFew && (j == 0 || j == 1 && indexSeen == 0) && !isIndexName(c.name):
			offer(j, 50, "rises evenly")
		case s.repeats && j == 0 && !s.tooFew && (c.name == "" || isChannelName(c.name)):
			offer(j, 40, "rises in the first column")
		case s.uniform && !s.tooFew && s.n >= 20 && !isIndexName(c.name) && !s.repeats:
			offer(j, 30, "the only column that rises evenly")
		case j == 0 && c.name == "" && s.n >= 5:
			offer(j, 25, "rises in the first column")
		}
	}
	if best >= 0 && bestScore > 5 {
		p.useTime(best, reason)
		return
	}
	if best >= 0 && bestScore == 2 {
		p.time.problem = fmt.Sprintf("%s counts rows and may also be seconds: the file does not tell the sample rate", p.columnName(best))
	}
	p.time.mode = timeCount
}

// subunitTold is what the times of a column without a unit count, in s, when they are
// so far apart in the head of the file and the preamble tells a sample interval that
// is a thousandth, a millionth or a thousand-millionth of that; else 0.
func (p *plan) subunitTold(apart float64) float64 {
	told := p.facts.interval()
	for _, u := range []float64{1e-3, 1e-6, 1e-9} {
		if told > 0 && math.Abs(apart*u-told) < 0.02*told {
			return u
		}
	}
	return 0
}

// taken tells whether a flag gives the column another role.
func taken(p *plan, o *Options, j int) bool {
	for r, spec := range o.Roles {
		if r == TimeRole {
			continue
		}
		if k, err := p.findColumn("", spec); err == nil && k == j {
			return true
		}
	}
	return false
}

// countTime takes the sample interval from the user or the preamble.
func (p *plan) countTime(o *Options) {
	t, f := &p.time, p.facts
	t.mode, t.scale = timeCount, 1
	if f.hasStart {
		t.start = f.start
	}
	told := f.step
	if told == 0 && f.rate > 0 {
		told = 1 / f.rate
	}
	switch {
	case o.Rate > 0:
		t.step, t.reason = 1/o.Rate, "--rate"
		if told > 0 && math.Abs(told*o.Rate-1) > 0.01 {
			p.note("rate-differs", "--rate %g Hz is used; the preamble tells %.6g Hz", o.Rate, 1/told)
		}
	case f.step > 0:
		t.step, t.reason = f.step, "the sample interval in the preamble"
	case f.rate > 0:
		t.step, t.reason = 1/f.rate, "the sample rate in the preamble"
	default:
		t.mode = timeNone
		if t.problem == "" {
			t.problem = "no column of times and no sample interval in the preamble"
			if len(p.cols) == 2 {
				t.problem += " (a scope's XY picture loses the time: export each channel against time)"
			}
		}
	}
}

func (p *plan) todReason() string {
	for _, c := range p.cols {
		if c.kind == dateCol {
			return "date and time in two columns"
		}
	}
	return "time of day in every row"
}
