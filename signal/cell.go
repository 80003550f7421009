package signal

import (
	"bytes"
	"math"
	"strconv"
	"strings"
)

// A cellKind is what the text of one cell turned out to be.
type cellKind uint8

const (
	cellEmpty cellKind = iota
	cellNumber
	cellQuantity // a number with its unit or an SI suffix: 65.2mV
	cellGrouped  // a number with thousands separators
	cellOver     // an overflow mark: inf, OL, ---, ####
	cellMissing  // n/a, null, NaN
	cellClock    // a date, a time of day, or both
	cellWord
	cellBad // begins like a number but is none
)

// tooLarge bounds what is taken for a reading. Instruments write overflow as
// 9.9E+37 (the not-a-number of IEEE 488.2 is 9.91E+37), and nothing of
// interest here comes near.
const tooLarge = 1e30

// overMarks and missMarks are compared in lower case, without spaces, dots,
// signs and angle brackets.
var overMarks = map[string]bool{
	"inf": true, "infinity": true, "ol": true, "0l": true, "over": true, "overload": true, "overflow": true, "ovl": true, "ovf": true, "ofl": true,
	"ovld": true, "overrange": true, "over range": true, "out of range": true, "clip": true, "clipped": true, "clipping": true, "underrange": true, "under": true,
	"underflow": true, "ovrng": true, "ovr": true, "ul": true, "∞": true, "1#inf": true, "1#inf00": true, "oor": true, "uncal": true, "sat": true, "saturated": true,
}

var missMarks = map[string]bool{
	"nan": true, "na": true, "n/a": true, "#n/a": true, "null": true, "none": true, "nil": true, "missing": true, "no data": true, "nodata": true,
	"nd": true, "invalid": true, "bad": true, "error": true, "err": true, "#ref!": true, "#value!": true, "#div/0!": true, "div/0": true, "#num!": true, "timeout": true,
	"-nan": true, "nan(ind)": true, "1#ind": true, "1#qnan": true, "void": true, "blank": true, "no reading": true, "open sensor": true, "fault": true, "i/o timeout": true,
}

// markKind tells overflow and missing marks from other words.
func markKind(t []byte) cellKind {
	if len(t) == 0 {
		return cellEmpty
	}
	if len(t) > 16 {
		return cellWord
	}
	// Runs of one filler character: ---, ****, ####, ???, ....
	if c := t[0]; bytes.IndexByte([]byte("-*#?._=~x"), c) >= 0 && len(bytes.Trim(t, string(rune(c)))) == 0 && (len(t) > 1 || c != 'x' && c != '.' && c != '_') {
		if c == '-' && len(t) == 1 || c == '?' || c == '.' || c == '_' || c == '~' {
			return cellMissing
		}
		return cellOver
	}
	if d := bytes.Trim(t, "-. "); len(d) == 0 { // -.--, --.---
		return cellOver
	}
	s := strings.ToLower(string(t))
	if missMarks[s] {
		return cellMissing
	}
	s = strings.Map(func(r rune) rune {
		if strings.ContainsRune(".+-<>*()[]", r) {
			return -1
		}
		return r
	}, s)
	s = strings.TrimSpace(s)
	if overMarks[s] {
		return cellOver
	}
	if missMarks[s] {
		return cellMissing
	}
	return cellWord
}

// readCell reads one trimmed, unquoted cell as a number in the widest sense.
// t must be followed by pad readable bytes in its array only if it came from
// a block; it is not relied on here.
func readCell(t []byte, dec byte) (v float64, k cellKind) {
	if len(t) == 0 {
		return math.NaN(), cellEmpty
	}
	if t[0] == '\'' || t[0] == '=' { // spreadsheet text marks: '1.5 and ="1.5"
		t = bytes.Trim(t, `='"`)
		if len(t) == 0 {
			return math.NaN(), cellEmpty
		}
	}
	v, n := scanNumber(t, 0, dec)
	if n == len(t) {
		if !(math.Abs(v) < tooLarge) {
			return math.NaN(), cellOver
		}
		return v, cellNumber
	}
	if n == 0 {
		if v, ok := typographicMinus(t, dec); ok {
			return v, cellNumber
		}
		if v, ok := bookkeepersMinus(t, dec); ok {
			return v, cellNumber
		}
		if v, ok := labelled(t, dec); ok {
			return v, cellQuantity
		}
		return math.NaN(), markKind(t)
	}
	if n == len(t)-1 && t[n] == '-' && t[0] != '-' && t[0] != '+' && bytes.IndexByte(t, dec) > 0 && math.Abs(v) < tooLarge { // 13.02-
		return -v, cellNumber
	}
	if v, ok := otherNotation(t, n, dec); ok {
		return v, cellQuantity
	}
	if v, ok := grouped(t, dec); ok {
		return v, cellGrouped
	}
	// C libraries of old write 1.#INF, -1.#IND, 1.#QNAN.
	if u := bytes.TrimLeft(t, "+-"); bytes.HasPrefix(u, []byte("1.#")) {
		if bytes.HasPrefix(u, []byte("1.#INF")) {
			return math.NaN(), cellOver
		}
		return math.NaN(), cellMissing
	}
	if c := rune(t[n]); c == ' ' || c == '%' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || c >= 0x80 {
		rest := strings.TrimSpace(utf8String(t[n:]))
		if f, ok := suffix(rest); ok {
			return v * f, cellQuantity
		}
		if k := markKind(t); k != cellWord {
			return math.NaN(), k
		}
	}
	return math.NaN(), cellBad
}

// suffix gives the factor of a unit or a bare SI prefix behind a number.
func suffix(s string) (float64, bool) {
	switch s {
	case "m":
		return 1e-3, true
	case "u", "µ", "μ":
		return 1e-6, true
	case "n":
		return 1e-9, true
	case "k", "K":
		return 1e3, true
	case "M":
		return 1e6, true
	case "G":
		return 1e9, true
	case "X", "x": // probe ratios: 10.0X
		return 1, true
	}
	u, ok := findUnit(s)
	return u.factor, ok
}

// typographicMinus reads a number behind U+2212 or an en dash.
func typographicMinus(t []byte, dec byte) (float64, bool) {
	for _, m := range []string{"\u2212", "\u2013"} {
		if r, ok := bytes.CutPrefix(t, []byte(m)); ok {
			if v, n := scanNumber(r, 0, dec); n == len(r) && n > 0 && r[0] != '-' && r[0] != '+' {
				return -v, true
			}
		}
	}
	return 0, false
}

// bookkeepersMinus reads (13.02) as -13.02. Without a decimal mark it may as well be a
// number of a footnote or a unit: "(1)".
func bookkeepersMinus(t []byte, dec byte) (float64, bool) {
	n := len(t) - 1
	if n < 3 || t[0] != '(' || t[n] != ')' || bytes.IndexByte(t, dec) < 0 || t[1]-'0' > 9 {
		return 0, false
	}
	v, end := scanNumber(t[:n], 1, dec)
	return -v, end == n && math.Abs(v) < tooLarge
}

// grouped reads a number with thousands separators: 1,234.5 or 1 234,5.
// Groups must have exactly three digits and the separator must not be the
// decimal mark.
func grouped(t []byte, dec byte) (float64, bool) {
	i := 0
	if t[0] == '-' || t[0] == '+' {
		i++
	}
	var buf [48]byte
	out := append(buf[:0], t[:i]...)
	lead := i
	for i < len(t) && t[i]-'0' <= 9 {
		out = append(out, t[i])
		i++
	}
	if i == lead || i-lead > 3 || t[lead] == '0' || len(t) > 40 {
		return 0, false
	}
	sep, groups := "", 0
	for i < len(t) {
		s := ""
		for _, c := range []string{",", ".", " ", "'", "_", "\u00a0", "\u202f", "\u2009", "\u2019", "\xa0"} {
			if c[0] != dec && bytes.HasPrefix(t[i:], []byte(c)) {
				s = c
				break
			}
		}
		if s == "" {
			break
		}
		g := t[i+len(s):]
		if len(g) < 3 || g[0]-'0' > 9 || g[1]-'0' > 9 || g[2]-'0' > 9 || len(g) > 3 && g[3]-'0' <= 9 || sep != "" && s != sep {
			return 0, false
		}
		sep = s
		groups++
		out = append(out, g[:3]...)
		i += len(s) + 3
	}
	if groups == 0 {
		return 0, false
	}
	out = append(out, t[i:]...)
	v, n := scanNumber(out, 0, dec)
	return v, n == len(out)
}

// otherNotation reads hexadecimal counts (0x3FF) and exponents written with a
// D. n is where the plain number ends.
func otherNotation(t []byte, n int, dec byte) (float64, bool) {
	if n == 1 && len(t) > 2 && len(t) <= 18 && t[0] == '0' && t[1]|0x20 == 'x' {
		v, err := strconv.ParseUint(string(t[2:]), 16, 64)
		return float64(v), err == nil
	}
	if n < len(t)-1 && t[n]|0x20 == 'd' && len(t) < 40 {
		u := append([]byte{}, t...)
		u[n] = 'e'
		v, m := scanNumber(u, 0, dec)
		return v, m == len(u) && math.Abs(v) < tooLarge
	}
	return 0, false
}

// labelled reads a value behind its own label, as programs print for
// plotting: "drive:12.0", "fb = 2.5".
func labelled(t []byte, dec byte) (float64, bool) {
	i := labelEnd(t)
	if i == 0 {
		return 0, false
	}
	r := bytes.TrimLeft(t[i:], " ")
	v, n := scanNumber(r, 0, dec)
	return v, n > 0 && n == len(r) && math.Abs(v) < tooLarge
}

// labelEnd gives the index behind "label:" or "label=", or 0.
func labelEnd(t []byte) int {
	i := bytes.IndexAny(t, ":=")
	if i < 1 || i > 24 || i+1 >= len(t) {
		return 0
	}
	for _, c := range t[:i] {
		if c-'0' <= 9 || c == ' ' || c == '_' || c|0x20 >= 'a' && c|0x20 <= 'z' {
			continue
		}
		return 0
	}
	if c := t[0] | 0x20; c < 'a' || c > 'z' {
		return 0
	}
	return i + 1
}
