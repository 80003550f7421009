package signal

import (
	"encoding/binary"
	"math"
	"math/bits"
	"strconv"
)

// pow10 holds the powers of ten that a float64 represents exactly. With a
// mantissa below 2^53 one multiplication or division by such a power is
// correctly rounded (W. Clinger, "How to read floating point numbers
// accurately", PLDI 1990), hence equal to strconv.ParseFloat.
var pow10 = [...]float64{
	1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
}

// pad is how many readable bytes must follow the text handed to the number
// scanners, so that they may load whole words.
const pad = 24

const (
	zeros = 0x3030303030303030
	lows  = 0x7f7f7f7f7f7f7f7f
	highs = 0x8080808080808080
	tens  = 0x7676767676767676 // 0x80 - 10 in each byte
)

// digits8 turns 8 decimal digits (values 0..9, first digit in the lowest
// byte) into their number with three multiplications.
func digits8(x uint64) uint64 {
	x = x*10 + x>>8
	return ((x&0x000000FF000000FF)*0x000F424000000064 +
		((x>>16)&0x000000FF000000FF)*0x0000271000000001) >> 32
}

// scanShort reads an unsigned decimal of up to 8 digits either side of the
// mark starting at b[i], without exponent. It returns the value and the index
// after it; next == i means "not of this kind", which is no verdict on the
// text. b must have pad bytes after i.
func scanShort(b []byte, i int, dec byte) (v float64, next int) {
	w := binary.LittleEndian.Uint64(b[i:]) ^ zeros
	m := ((w&lows + tens) | w) & highs
	if m == 0 {
		return 0, i // 8 digits or more before the mark
	}
	p := uint(bits.TrailingZeros64(m)) // bit position, 7 above the byte
	if b[i+int(p>>3)] != dec {
		if p < 8 {
			return 0, i
		}
		return float64(digits8(w << (64 - (p &^ 7)))), i + int(p>>3)
	}
	n := p >> 3
	m &= m - 1
	if m != 0 {
		// The whole number lies in this word: close the hole of the mark.
		q := uint(bits.TrailingZeros64(m)) &^ 7
		p &^= 7
		nd := q>>3 - 1
		if nd == 0 {
			return 0, i
		}
		low := uint64(1)<<p - 1
		y := w&low | (w>>8)&^low
		return float64(digits8(y<<(64-8*nd))) / pow10[nd-n], i + int(q>>3)
	}
	f := binary.LittleEndian.Uint64(b[i+int(n)+1:]) ^ zeros
	mf := ((f&lows + tens) | f) & highs
	if mf == 0 {
		return 0, i
	}
	q := uint(bits.TrailingZeros64(mf)) &^ 7
	nf := q >> 3
	if nf == 0 || n+nf > 15 {
		return 0, i
	}
	whole := uint64(0)
	if n > 0 {
		whole = digits8(w << (64 - 8*n))
	}
	mant := whole*pow10u[nf] + digits8(f<<(64-q))
	return float64(mant) / pow10[nf], i + int(n+1+nf)
}

var pow10u = [...]uint64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8}

// scanNumber reads a decimal number with optional sign and exponent starting
// at b[i] and returns the index after it; next == i means there is none. The
// value equals strconv.ParseFloat of the same text with the mark as a point.
func scanNumber(b []byte, i int, dec byte) (v float64, next int) {
	start := i
	n := len(b)
	neg := false
	if i < n && (b[i] == '-' || b[i] == '+') {
		neg = b[i] == '-'
		i++
	}
	var mant uint64
	nd, exp := 0, 0 // significant digits kept, power of ten of mant
	seen, inexact := false, false
	for ; i < n; i++ {
		d := b[i] - '0'
		if d > 9 {
			break
		}
		seen = true
		if nd < 19 {
			mant = mant*10 + uint64(d)
			if mant != 0 {
				nd++
			}
		} else {
			exp++
			inexact = inexact || d != 0
		}
	}
	if i < n && b[i] == dec {
		i++
		for ; i < n; i++ {
			d := b[i] - '0'
			if d > 9 {
				break
			}
			seen = true
			if nd < 19 {
				mant = mant*10 + uint64(d)
				if mant != 0 {
					nd++
				}
				exp--
			} else {
				inexact = inexact || d != 0
			}
		}
	}
	if !seen {
		return 0, start
	}
	if i < n && b[i]|0x20 == 'e' {
		j := i + 1
		eneg := false
		if j < n && (b[j] == '-' || b[j] == '+') {
			eneg = b[j] == '-'
			j++
		}
		e, ed := 0, 0
		for ; j < n; j++ {
			d := b[j] - '0'
			if d > 9 {
				break
			}
			if e < 10000 {
				e = e*10 + int(d)
			}
			ed++
		}
		if ed > 0 { // else the letter belongs to something else
			i = j
			if eneg {
				e = -e
			}
			exp += e
		}
	}
	switch {
	case mant == 0:
		v = 0
	case !inexact && mant < 1<<53 && exp >= -22 && exp <= 22:
		v = float64(mant)
		if exp < 0 {
			v /= pow10[-exp]
		} else {
			v *= pow10[exp]
		}
	default:
		return parseSlow(b[start:i], dec), i
	}
	if neg {
		v = -v
	}
	return v, i
}

// parseSlow hands a number already known to be well formed to strconv. Out of
// range gives an infinity, as strconv does.
func parseSlow(b []byte, dec byte) float64 {
	var buf [64]byte
	t := append(buf[:0], b...)
	if dec != '.' {
		for k := range t {
			if t[k] == dec {
				t[k] = '.'
			}
		}
	}
	v, err := strconv.ParseFloat(string(t), 64)
	if err != nil && !math.IsInf(v, 0) {
		return math.NaN()
	}
	return v
}
