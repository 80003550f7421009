package signal

import "strings"

// zoneHours are the offsets of zones written as letters, in hours; letters that stand for
// several zones are left out.
var zoneHours = map[string]float64{
	"z": 0, "utc": 0, "gmt": 0, "ut": 0, "wet": 0, "west": 1, "cet": 1, "cest": 2, "mez": 1, "mesz": 2, "met": 1, "mest": 2, "eet": 2, "eest": 3, "msk": 3,
	"est": -5, "edt": -4, "cdt": -5, "mdt": -6, "pst": -8, "pdt": -7, "akst": -9, "akdt": -8, "hst": -10, "jst": 9, "kst": 9, "aest": 10, "aedt": 11, "acst": 9.5, "awst": 8, "nzst": 12, "nzdt": 13,
}

// hourWords stand behind a time of day and say no more than that it is one.
var hourWords = wordSet("uhr|h|hrs|hours|o'clock")

// clockWord reads a word behind a clock, in brackets or not: a zone or "Uhr". It gives
// the index behind it, or k where there is none.
func (s *stamp) clockWord(t []byte, k int) int {
	open := k < len(t) && (t[k] == '(' || t[k] == '[')
	i := k
	if open {
		i++
	}
	e := i
	for e < len(t) && (t[e]|0x20 >= 'a' && t[e]|0x20 <= 'z' || t[e] == '\'') {
		e++
	}
	if e == i {
		return k
	}
	if !open && e == i+1 && t[i] == 'Z' { // the usual one, in every row
		return e
	}
	word := strings.ToLower(string(t[i:e]))
	hours, zone := zoneHours[word]
	if !zone && !hourWords[word] {
		return k
	}
	s.zone = int(hours * 3600)
	if open {
		e = s.offset(t, e)
		if e >= len(t) || t[e] != ')' && t[e] != ']' {
			return k
		}
		e++
	}
	return e
}

// offset reads +02:00, -0500 or +2.
func (s *stamp) offset(t []byte, k int) int {
	if k+1 >= len(t) || t[k] != '+' && t[k] != '-' || t[k+1]-'0' > 9 {
		return k
	}
	zh, m := digits(t, k+1, 2)
	zm := 0
	if m-k-1 == 2 {
		if m < len(t) && t[m] == ':' {
			m++
		}
		zm, m = digits(t, m, 2)
	}
	s.zone = zh*3600 + zm*60
	if t[k] == '-' {
		s.zone = -s.zone
	}
	return m
}

// daysBefore reads the days before an elapsed time, "3 02:15:00" or "3d 02:15:00".
func (s *stamp) daysBefore(t []byte, i int) (days, next int) {
	n, j := digits(t, i, 4)
	if j == i || j+1 >= len(t) {
		return 0, i
	}
	k := j
	if t[k] == 'd' {
		k++
	}
	k = skipBlank(t, k)
	if _, e := digits(t, k, 2); k == j || e == k || e >= len(t) || t[e] != ':' {
		return 0, i
	}
	return n, k
}

// dayOfYear takes day n of year y for the date.
func (s *stamp) dayOfYear(y, n int) bool {
	if n < 1 || n > 366 {
		return false
	}
	m := 12
	for m > 1 && daysFromCivil(y, m, 1)-daysFromCivil(y, 1, 1) >= int64(n) {
		m--
	}
	s.f, s.hasDate, s.sep = [3]int{y, m, n - int(daysFromCivil(y, m, 1)-daysFromCivil(y, 1, 1))}, true, '-'
	return true
}
