package signal

import (
	"math"
	"strings"
	"time"
)

// dateOrder is the order of the three numbers of a date.
type dateOrder uint8

const (
	orderYMD dateOrder = iota
	orderDMY
	orderMDY
)

// A stamp is a wall clock as read from a cell.
type stamp struct {
	hasDate, hasTime bool
	f                [3]int // the numbers of the date as written
	yearFirst        bool
	month            int     // when written as a word, else 0
	sec              float64 // since midnight, or elapsed
	parts            int     // numbers in the time: 2 = h:m or m:s
	frac             bool
	decimals         int // of the second, as written
	zone             int // offset in s, to be subtracted
	sep              byte
}

// days gives the day number since 1970-01-01.
func (s *stamp) days(o dateOrder) (int64, bool) {
	var y, m, d int
	switch {
	case s.month > 0 && s.yearFirst:
		y, m, d = s.f[0], s.month, s.f[2]
	case s.month > 0:
		d, m, y = s.f[0], s.month, s.f[2]
	case s.yearFirst || o == orderYMD && s.f[0] > 31:
		y, m, d = s.f[0], s.f[1], s.f[2]
	case o == orderDMY:
		d, m, y = s.f[0], s.f[1], s.f[2]
	case o == orderMDY:
		m, d, y = s.f[0], s.f[1], s.f[2]
	default:
		y, m, d = s.f[0], s.f[1], s.f[2]
	}
	if y < 100 {
		y += 2000
	}
	if m < 1 || m > 12 || d < 1 || d > 31 {
		return 0, false
	}
	return daysFromCivil(y, m, d), true
}

// daysFromCivil counts the days from 1970-01-01 to a Gregorian date
// (the era arithmetic of ISO 8601 calendars, 400 years = 146097 days).
func daysFromCivil(y, m, d int) int64 {
	if m <= 2 {
		y--
	}
	era := y / 400
	if y < 0 {
		era = (y - 399) / 400
	}
	yoe := y - era*400
	mp := (m + 9) % 12
	doy := (153*mp+2)/5 + d - 1
	doe := yoe*365 + yoe/4 - yoe/100 + doy
	return int64(era)*146097 + int64(doe) - 719468
}

var monthNames = map[string]int{
	"jan": 1, "feb": 2, "mar": 3, "apr": 4, "may": 5, "jun": 6, "jul": 7, "aug": 8, "sep": 9, "oct": 10, "nov": 11, "dec": 12,
	"mai": 5, "okt": 10, "dez": 12, "mär": 3, "mrz": 3, "maa": 3, "ene": 1, "abr": 4, "ago": 8, "dic": 12, "fév": 2, "fev": 2, "avr": 4, "jui": 6, "aoû": 8, "déc": 12,
	"gen": 1, "mag": 5, "giu": 6, "lug": 7, "set": 9, "ott": 10, "out": 10, "mei": 5,
}

var dayNames = map[string]bool{
	"mon": true, "tue": true, "wed": true, "thu": true, "fri": true, "sat": true, "sun": true,
}

// readClock reads a date, a time of day, or both in either order. It does not
// allocate for all-digit stamps.
func readClock(t []byte) (stamp, bool) {
	var s stamp
	if len(t) > 1 && (t[0] == '[' || t[0] == '(') && (t[len(t)-1] == ']' || t[len(t)-1] == ')') {
		t = t[1 : len(t)-1]
	}
	i := skipBlank(t, 0)
	days, i := s.daysBefore(t, i)
	for pass := 0; pass < 2 && i < len(t); pass++ {
		if !s.hasDate {
			if j, ok := s.date(t, i); ok {
				i = j
				for i < len(t) && (t[i] == ' ' || t[i] == 'T' || t[i] == 't' || t[i] == ',' || t[i] == ';' || t[i] == '_' || t[i] == '-' || t[i] == ':') {
					i++
				}
				if i == len(t) {
					break
				}
			}
		}
		if !s.hasTime && i < len(t) {
			j, ok := s.clock(t, i)
			if !ok {
				return s, false
			}
			i = skipBlank(t, j)
		}
	}
	if days > 0 {
		s.sec += float64(days) * day
	}
	return s, i == len(t) && (s.hasDate || s.hasTime)
}

func skipBlank(t []byte, i int) int {
	for i < len(t) && (t[i] == ' ' || t[i] == '\t') {
		i++
	}
	return i
}

func digits(t []byte, i, most int) (v, next int) {
	for next = i; next < len(t) && next-i < most && t[next]-'0' <= 9; next++ {
		v = v*10 + int(t[next]-'0')
	}
	return v, next
}

// skipAny is the index of the first of t[i:] that is none of these bytes.
func skipAny(t []byte, i int, bytes string) int {
	for i < len(t) && strings.IndexByte(bytes, t[i]) >= 0 {
		i++
	}
	return i
}

func letters(t []byte, i int) int {
	for i < len(t) && (t[i]|0x20 >= 'a' && t[i]|0x20 <= 'z' || t[i] >= 0x80) {
		i++
	}
	return i
}

// date reads the date that begins at t[i], in any order of its parts, and returns
// the index after it.
func (s *stamp) date(t []byte, i int) (int, bool) {
	if j := letters(t, i); j > i { // Mon 14 Jan 2021, or Jan 14 2021
		if w := strings.ToLower(utf8String(t[i:j])); len(w) >= 3 && dayNames[w[:3]] {
			i = skipAny(t, j, " ,.")
			j = letters(t, i)
		}
		if j > i {
			return s.monthFirst(t, i, j)
		}
	}
	if v, j := digits(t, i, 9); j-i == 8 && j < len(t) && t[j]|0x20 == 't' { // 20310517T235958
		s.f, s.yearFirst, s.hasDate = [3]int{v / 10000, v / 100 % 100, v % 100}, true, true
		return j, true
	}
	return s.numberFirst(t, i)
}

// monthFirst reads a date whose month is the word t[i:j]: Jan 14 2021, or with a
// clock before the year.
func (s *stamp) monthFirst(t []byte, i, j int) (int, bool) {
	m := monthNumber(t[i:j])
	if m == 0 {
		return 0, false
	}
	k := skipAny(t, j, " .")
	d, k2 := digits(t, k, 2)
	if k2 == k {
		return 0, false
	}
	k = skipAny(t, k2, " ,")
	if e, ok := s.clock(t, k); ok { // Thu Jan 14 12:30:05 2021
		k = skipBlank(t, e)
	}
	y, k3 := digits(t, k, 4)
	if k3-k != 4 || k3 < len(t) && t[k3] == ':' {
		return 0, false
	}
	s.month, s.f, s.hasDate = m, [3]int{d, m, y}, true
	return k3, true
}

// numberFirst reads a date that begins with a number: of the year, the month or
// the day; its month may be a word.
func (s *stamp) numberFirst(t []byte, i int) (int, bool) {
	a, j := digits(t, i, 4)
	if j == i || j >= len(t) {
		return 0, false
	}
	s.yearFirst = j-i == 4
	sep := t[j]
	switch sep {
	case '-', '/', '.', ' ':
	default:
		return 0, false
	}
	j++
	if j < len(t) && t[j] == ' ' && sep != ' ' {
		j++
	}
	if k := letters(t, j); k > j {
		m := monthNumber(t[j:k])
		if m == 0 {
			return 0, false
		}
		k = skipAny(t, k, string(rune(sep))+" .,")
		y, k2 := digits(t, k, 4)
		if k2-k != 2 && k2-k != 4 {
			return 0, false
		}
		s.month, s.f, s.hasDate, s.sep = m, [3]int{a, m, y}, true, sep
		return k2, true
	}
	if sep == ' ' {
		return 0, false
	}
	if n, e := digits(t, j, 3); e-j == 3 && s.yearFirst && sep == '-' && (e == len(t) || t[e] == 'T' || t[e] == ' ') { // 2021-014, ISO 8601
		return e, s.dayOfYear(a, n)
	}
	b, k := digits(t, j, 2)
	if k == j || k >= len(t) || t[k] != sep {
		return 0, false
	}
	k++
	if k < len(t) && t[k] == ' ' {
		k++
	}
	c, k2 := digits(t, k, 4)
	if k2 == k || k2-k == 3 || s.yearFirst && k2-k > 2 {
		return 0, false
	}
	if k2 < len(t) && t[k2] == '.' && sep == '.' {
		return 0, false // 1.2.3.4 is no date
	}
	if b > 31 || c == 0 && !s.yearFirst && k2-k == 4 || a == 0 && b == 0 {
		return 0, false
	}
	s.f, s.hasDate, s.sep = [3]int{a, b, c}, true, sep
	return k2, true
}

func monthNumber(t []byte) int {
	r := []rune(strings.ToLower(utf8String(t)))
	if len(r) < 3 {
		return 0
	}
	return monthNames[string(r[:3])]
}

// clock reads h:m, h:m:s, m:s.frac, with fraction, AM or PM and zone.
func (s *stamp) clock(t []byte, i int) (int, bool) {
	a, j := digits(t, i, 6)
	if j-i == 6 && s.hasDate && i > 0 && t[i-1]|0x20 == 't' { // basic form, hhmmss
		if a%100 > 60 || a/100%100 > 59 {
			return 0, false
		}
		s.hasTime, s.parts = true, 3
		k, f := s.fraction(t, j)
		s.sec = float64(a/10000*3600+a/100%100*60+a%100) + f
		return s.suffixes(t, k), true
	}
	if j == i || j >= len(t) || t[j] != ':' && t[j] != 'h' {
		return 0, false
	}
	b, k := digits(t, j+1, 2)
	if k == j+1 || b > 59 {
		return 0, false
	}
	s.parts = 2
	c := 0
	if k < len(t) && (t[k] == ':' || t[j] == 'h' && (t[k] == 'm' || t[k] == '\'')) {
		v, m := digits(t, k+1, 2)
		if m == k+1 || v > 60 {
			return 0, false
		}
		c, k, s.parts = v, m, 3
	}
	k, f := s.fraction(t, k)
	if k < len(t) && t[j] == 'h' && s.parts == 3 && t[k] == 's' { // 0h02m05.2s
		k++
	}
	k = skipBlank(t, k)
	if k+1 < len(t) && (t[k]|0x20 == 'a' || t[k]|0x20 == 'p') && (t[k+1]|0x20 == 'm' || t[k+1] == '.') {
		if a > 12 {
			return 0, false
		}
		a %= 12
		if t[k]|0x20 == 'p' {
			a += 12
		}
		k += 2
		for k < len(t) && (t[k] == '.' || t[k]|0x20 == 'm') {
			k++
		}
	}
	k = s.suffixes(t, k)
	s.hasTime = true
	if s.parts == 2 && s.frac { // m:s.frac
		s.sec = float64(a*60+b) + f
	} else {
		s.sec = float64(a*3600+b*60+c) + f
	}
	return k, true
}

// fraction reads the part of a second behind a point, comma or colon.
func (s *stamp) fraction(t []byte, k int) (int, float64) {
	f := 0.0
	if k+1 < len(t) && (t[k] == '.' || t[k] == ',' || t[k] == ':') && t[k+1]-'0' <= 9 {
		m := k + 1
		var num uint64
		n := 0
		for ; m < len(t) && t[m]-'0' <= 9; m++ {
			if n < 18 {
				num = num*10 + uint64(t[m]-'0')
				n++
			}
		}
		f = float64(num) / pow10[n]
		s.frac, s.decimals = true, m-k-1
		k = m
	}
	return k, f
}

// suffixes reads a zone: Z, UTC, CEST, +02:00, -0500, (UTC+2).
func (s *stamp) suffixes(t []byte, k int) int {
	k = s.clockWord(t, skipBlank(t, k))
	return s.offset(t, skipBlank(t, k))
}

// epochTime turns seconds since 1970 into a time.
func epochTime(sec float64) time.Time {
	if math.IsNaN(sec) || math.Abs(sec) > 2.5e11 {
		return time.Time{}
	}
	w := math.Floor(sec)
	// A float64 holds today's seconds to a quarter of a microsecond.
	return time.Unix(int64(w), int64(math.Round((sec-w)*1e6))*1000).UTC()
}
