package signal

import (
	"fmt"
	"math"
	"strings"
)

// tickWords name a counter of steps of time.
var tickWords = wordSet("tick|ticks|takt|takte|clock ticks|timer|timer ticks|systick|tick count|ticks count")

// countOf are the words for one count of a converter or a timer, behind a slash or
// before an equals sign.
var countOf = wordSet("lsb|tick|ticks|count|counts|cnt|digit|digits|bit|step|inc|unit|sample|sample no|1 lsb|1 tick|1 count|1 digit|1 bit")

// steppedTime reads the name of a time column whose unit has a factor: "Time (0.1 ms)",
// "t [1/50 s]", "Ticks (x10 ms)", "Time (10 ms/LSB)". A channel's "(10 s)" may be the
// stretch it is averaged over, so only names of a time or of a timer are read so.
func steppedTime(s string) (name, unitText string, step float64, u unit, ok bool) {
	s = strings.TrimSpace(s)
	i := strings.LastIndexAny(s, "([{<")
	if i < 0 || i == len(s)-1 || !strings.ContainsRune(")]}>", rune(s[len(s)-1])) {
		return s, "", 0, unit{}, false
	}
	name, unitText = strings.TrimSpace(s[:i]), strings.TrimSpace(s[i+1:len(s)-1])
	if !isTimeName(name) && !tickWords[normal(name)] {
		return s, "", 0, unit{}, false
	}
	u, step, ok = steppedUnit(unitText)
	return name, unitText, step, u, ok
}

// steppedUnit reads a unit of time with a factor before or a divisor behind it; step is
// the factor alone.
func steppedUnit(s string) (u unit, step float64, ok bool) {
	s = strings.TrimSpace(strings.Trim(strings.TrimSpace(s), "()[]{}<>"))
	if of, step, ok := strings.Cut(s, "="); ok && countOf[normal(of)] {
		s = strings.TrimSpace(step)
	}
	for _, per := range []string{"/", " per "} {
		if i := strings.LastIndex(s, per); i > 0 && countOf[normal(s[i+len(per):])] {
			s = strings.TrimSpace(s[:i])
		}
	}
	s = strings.TrimSpace(strings.TrimPrefix(s, "in "))
	s = strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(strings.TrimPrefix(strings.TrimPrefix(s, "x"), "X"), "×"), "*"))
	f, rest := leadingFactor(s)
	if rest == "cs" && f == 1 {
		return unit{seconds, 0.01, "s"}, 0.01, true
	}
	u, ok = findUnit(rest)
	if body, by, found := strings.Cut(rest, "/"); !ok && found {
		if d, n := scanNumber([]byte(by), 0, '.'); n == len(by) && d > 1 {
			u, ok = findUnit(body)
			f /= d
		}
	}
	// "(24 h)" is how a clock is written, "(1 s)" is plain.
	if !ok || u.q != seconds || u.factor > 60 || f == 1 || !(f > 0) || math.IsInf(f, 0) {
		return unit{}, 0, false
	}
	return unit{seconds, f * u.factor, "s"}, f, true
}

// countedTime settles whether the factor in the unit of a time column is that of its
// numbers. Numbers that rise by just that factor are of the plain unit, and the header
// tells how far apart they are: 0, 10, 20 under "Time (10 ms)".
func (p *plan) countedTime(j int, s *stepShape) {
	c, t := &p.cols[j], &p.time
	t.scale = c.unit.factor
	if c.step > 0 && math.Abs(s.median-c.step) < 0.01*c.step {
		t.guess = fmt.Sprintf("column %d rises by the %g that its header tells: read in the plain unit; else give --scale time=%g (s per count)", j+1, c.step, t.scale)
		t.scale /= c.step
		c.unit.factor = t.scale
	} else if c.step > 0 && t.scale < 1 && math.Abs(s.median-t.scale) < 0.01*t.scale { // 0, 0.02, 0.04 under "Time (20 ms)"
		t.guess = fmt.Sprintf("column %d rises by the %g s that its header tells: read in seconds; else give --scale time=%g (s per count)", j+1, t.scale, t.scale)
		t.scale = 1
		c.unit.factor = 1
	}
}

// leadingFactor takes "0.1", "0,1", "10" or "1/50" off the front, 1 when there is none.
func leadingFactor(s string) (f float64, rest string) {
	s, b := strings.TrimSpace(s), []byte(s)
	v, n := scanNumber(b, 0, '.')
	if n > 0 && n < len(b) && b[n] == ',' {
		v, n = scanNumber(b, 0, ',')
	}
	if n == 0 {
		return 1, s
	}
	if n < len(b) && b[n] == '/' {
		if d, m := scanNumber(b, n+1, '.'); m > n+1 && d > 0 {
			v, n = v/d, m
		}
	}
	rest = strings.TrimSpace(s[n:])
	for _, times := range []string{"*", "×", "x "} {
		rest = strings.TrimSpace(strings.TrimPrefix(rest, times))
	}
	return v, rest
}
