package signal

import (
	"bytes"
	"math"
	"slices"
	"strings"
)

// packedNames say that the numbers of a column are a time of day. A time stamp may as
// well count the seconds since the instrument was switched on.
var packedNames = []string{"hhmmss", "hh mm ss", "uhrzeit", "utc", "time of day"}

// packedClock takes a column of numbers for a clock written without colons, hhmmss,
// hhmmssmmm or yyyymmddhhmmss: all its numbers must be times, and the name, a zero in
// front, a date or a minute that ends at 60 must say so, for seconds count the same way.
func (p *plan) packedClock(j int) {
	c := &p.cols[j]
	if c.unit.q != noQuantity && !c.unitGuess || j > 0 && !isTimeName(c.name) && !namedOfDay(c.name) {
		return
	}
	var first, prev stamp
	var last float64
	sure, short := namedOfDay(c.name), !strings.Contains(normal(c.name), "hhmmss")
	var steps []float64 // of the clock
	var jumps []float64 // of the numbers beyond those of the clock
	for i := p.first; i < p.end; i++ {
		if p.kinds[i] == nil || p.kind(i, j) == cellEmpty || p.kind(i, j) == cellMissing {
			continue
		}
		t := p.text(i, j)
		s, ok := readPacked(t, p.dec)
		if !ok || first.hasTime && s.hasDate != first.hasDate {
			return
		}
		short = short && (bytes.IndexByte(t, p.dec) == 5 || len(t) == 5)
		x, _ := readCell(t, p.dec)
		sure = sure || s.hasDate || t[0] == '0' && s.sec >= 3600
		if first.hasTime {
			steps = append(steps, s.sec-prev.sec)
			jumps = append(jumps, math.Abs(x-last))
		} else {
			first = s
		}
		prev, last = s, x
	}
	// Nothing but five digits are the days of a spreadsheet: 45029.58.
	if short || len(steps) < 2 || !sure && !(isTimeName(c.name) && endsAtSixty(steps, jumps)) {
		return
	}
	c.packed, c.kind, c.late = true, todCol, false
	if first.hasDate {
		c.kind = clockCol
	}
}

func namedOfDay(name string) bool {
	s := normal(name)
	return anyOf(s, packedNames...) || strings.Contains(s, "hhmmss")
}

// endsAtSixty tells whether the clock goes on evenly where its numbers jump.
func endsAtSixty(steps, jumps []float64) bool {
	even, jump := 0.0, 0.0
	for i, d := range steps {
		if d < 0 {
			return false
		}
		even, jump = max(even, d), max(jump, jumps[i])
	}
	slices.Sort(steps)
	slices.Sort(jumps)
	usual, step := steps[len(steps)/2], jumps[len(jumps)/2]
	return usual > 0 && even <= gapFactor*usual && jump > 2*gapFactor*step
}

// readPacked reads hhmmss, hhmmssmmm, yyyymmddhhmmss or yyyymmddhhmmssmmm, with a fraction
// of the second where no milliseconds stand.
func readPacked(t []byte, dec byte) (stamp, bool) {
	var s stamp
	n := 0
	for n < len(t) && t[n]-'0' <= 9 {
		n++
	}
	whole, rest := t[:n], t[n:]
	if n == 14 || n == 17 {
		v, _ := digits(whole, 0, 8)
		s.f, s.yearFirst, s.hasDate = [3]int{v / 10000, v / 100 % 100, v % 100}, true, true
		if _, ok := s.days(orderYMD); !ok || s.f[0] < 1980 || s.f[0] > 2099 {
			return s, false
		}
		whole = whole[8:]
	}
	f := 0.0
	switch len(whole) {
	case 9:
		ms, _ := digits(whole, 6, 3)
		whole, f, s.frac, s.decimals = whole[:6], float64(ms)/1000, true, 3
		if len(rest) > 0 {
			return s, false
		}
	case 5, 6: // 95959 where the zero in front was dropped
		if len(rest) > 0 {
			if rest[0] != dec || len(rest) == 1 {
				return s, false
			}
			for _, d := range rest[1:] {
				if d-'0' > 9 {
					return s, false
				}
			}
			f, _ = scanNumber(rest, 0, dec)
			s.frac, s.decimals = true, len(rest)-1
		}
	default:
		return s, false
	}
	v, _ := digits(whole, 0, 6)
	if v/10000 > 23 || v/100%100 > 59 || v%100 > 59 {
		return s, false
	}
	s.hasTime, s.parts = true, 3
	s.sec = float64(v/10000*3600+v/100%100*60+v%100) + f
	return s, true
}

// readStamp reads a cell of a column of clock stamps.
func (p *plan) readStamp(j int, t []byte) (stamp, bool) {
	if p.cols[j].packed {
		return readPacked(t, p.dec)
	}
	return readClock(t)
}
