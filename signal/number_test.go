package signal

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

// same compares bit for bit, so that -0 differs from 0.
func same(a, b float64) bool { return math.Float64bits(a) == math.Float64bits(b) }

func padded(s string) []byte { return append([]byte(s), make([]byte, pad)...) }

// checkNumber compares both scanners with strconv, the reference.
func checkNumber(t *testing.T, s string) {
	t.Helper()
	want, err := strconv.ParseFloat(s, 64)
	if err != nil && !math.IsInf(want, 0) {
		t.Fatalf("bad test input %q", s)
	}
	for _, dec := range []byte{'.', ','} {
		text := strings.ReplaceAll(s, ".", string(dec))
		got, next := scanNumber([]byte(text), 0, dec)
		if next != len(text) || !same(got, want) {
			t.Fatalf("scanNumber(%q) = %v to %d, want %v to %d", text, got, next, want, len(text))
		}
		u := strings.TrimLeft(text, "+-")
		got, next = scanShort(padded(u+";"), 0, dec)
		if next == 0 {
			continue // left to scanNumber
		}
		if next == len(u) {
			if u != text && text[0] == '-' {
				got = -got
			}
			if !same(got, want) {
				t.Fatalf("scanShort(%q) = %v, want %v", u, got, want)
			}
		} else if c := u[next]; c == dec || c-'0' <= 9 || c|0x20 != 'e' {
			t.Fatalf("scanShort(%q) stopped at %d, within the number", u, next)
		}
	}
}

func TestNumbersEqualStrconv(t *testing.T) {
	for _, s := range []string{
		"0", "-0", "+0", "0.0", "-0.000", "1", "12345678", "123456789", "1234567.8", "12345678.9", "0.12345678", "1.12345678", "1234567.12345678",
		"12345678.12345678", "1.", ".5", "-.5", "00000001", "0000000000000000000000001.5", "9007199254740991", "9007199254740992", "9007199254740993",
		"1e22", "1e23", "1e-22", "1e-23", "123456789012345678901234567890", "0.00000000000000000000000000000000001", "1e400", "-1e400", "1e-400",
		"179769313486231570000000000000000000000", "2.2250738585072011e-308", "4.9e-324", "8.5e-1", "+3.298832E+00", "-999.001E-03", "1E5", "1e+05",
		"0.1", "0.2", "0.3", "4.35", "2.675", "1.005", "9.95", "99.99999999", "0.99999999", "5e-324", "1.7976931348623157e308",
	} {
		checkNumber(t, s)
	}
}

func TestRandomNumbersEqualStrconv(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 200_000 {
		var s string
		switch r.IntN(5) {
		case 0: // as an instrument prints
			s = strconv.FormatFloat((r.Float64()-0.5)*math.Pow(10, float64(r.IntN(8))), 'f', r.IntN(9), 64)
		case 1:
			s = strconv.FormatFloat((r.Float64()-0.5)*math.Pow(10, float64(r.IntN(40)-20)), 'e', r.IntN(18), 64)
		case 2:
			s = strconv.FormatFloat(math.Float64frombits(r.Uint64()&^(1<<62)), 'g', -1, 64)
		case 3: // digits anywhere around the mark
			s = digitsOf(r, r.IntN(12)) + "." + digitsOf(r, r.IntN(12))
			if s == "." {
				s = "0."
			}
		default:
			s = digitsOf(r, 1+r.IntN(24))
			if r.IntN(2) == 0 {
				s += fmt.Sprintf("e%d", r.IntN(60)-30)
			}
		}
		if s == "NaN" {
			continue
		}
		checkNumber(t, s)
	}
}

func digitsOf(r *rand.Rand, n int) string {
	b := make([]byte, n)
	for i := range b {
		b[i] = '0' + byte(r.IntN(10))
	}
	return string(b)
}

// What is no number must not be read as one, nor in part.
func TestNoNumber(t *testing.T) {
	for _, s := range []string{"", "-", "+", ".", "e5", "--1", "+-1", "abc", " 1"} {
		if v, next := scanNumber([]byte(s), 0, '.'); next != 0 {
			t.Errorf("scanNumber(%q) = %v to %d, want nothing", s, v, next)
		}
	}
	for s, want := range map[string]int{"1.2.3": 3, "1e": 1, "1e+": 1, "12a": 2, "1-2": 1, "0x10": 1, "1_000": 1} {
		if _, next := scanNumber([]byte(s), 0, '.'); next != want {
			t.Errorf("scanNumber(%q) ends at %d, want %d", s, next, want)
		}
	}
}

func TestReadCell(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		text string
		dec  byte
		v    float64
		kind cellKind
	}{
		{"", '.', nan, cellEmpty},
		{"12.5", '.', 12.5, cellNumber},
		{"12,5", ',', 12.5, cellNumber},
		{"1,234.5", '.', 1234.5, cellGrouped},
		{"1.234.567,5", ',', 1234567.5, cellGrouped},
		{"1 234,5", ',', 1234.5, cellGrouped},
		{"1'234.5", '.', 1234.5, cellGrouped},
		{"1,23.5", '.', nan, cellBad},
		{"12,34", '.', nan, cellBad},
		{"65.2mV", '.', 0.0652, cellQuantity},
		{"1.2 kV", '.', 1200, cellQuantity},
		{"3.3V", '.', 3.3, cellQuantity},
		{"500m", '.', 0.5, cellQuantity},
		{"47 %", '.', 47, cellQuantity},
		{"\u221212.5", '.', -12.5, cellNumber},
		{"(13.02)", '.', -13.02, cellNumber},
		{"(0,445)", ',', -0.445, cellNumber},
		{"13.02-", '.', -13.02, cellNumber},
		{"(1)", '.', math.NaN(), cellWord},
		{"(13.02", '.', math.NaN(), cellWord},
		{"(13.02 V)", '.', math.NaN(), cellWord},
		{"12-", '.', math.NaN(), cellBad},
		{"-13.02-", '.', math.NaN(), cellBad},
		{"inf", '.', nan, cellOver},
		{"-Inf", '.', nan, cellOver},
		{"OL", '.', nan, cellOver},
		{"O.L", '.', nan, cellOver},
		{"+OVER", '.', nan, cellOver},
		{"---", '.', nan, cellOver},
		{"-.--", '.', nan, cellOver},
		{"####", '.', nan, cellOver},
		{"9.91E+37", '.', nan, cellOver},
		{"1.#INF", '.', nan, cellOver},
		{"NaN", '.', nan, cellMissing},
		{"n/a", '.', nan, cellMissing},
		{"#N/A", '.', nan, cellMissing},
		{"-", '.', nan, cellMissing},
		{"1.2.3", '.', nan, cellBad},
		{"12x4", '.', nan, cellBad},
		{"hello", '.', nan, cellWord},
	} {
		v, k := readCell([]byte(c.text), c.dec)
		if k != c.kind || math.Abs(v-c.v) > 1e-15*math.Abs(c.v) || math.IsNaN(v) != math.IsNaN(c.v) {
			t.Errorf("readCell(%q, %q) = %v, kind %d; want %v, kind %d", c.text, c.dec, v, k, c.v, c.kind)
		}
	}
}
