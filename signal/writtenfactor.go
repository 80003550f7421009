package signal

import (
	"fmt"
	"math"
	"strings"
)

// A factor behind a header or in a row over the columns, "x10" or "10X", mostly was
// counted already: it is the probe's. Volts on which no motor turns prove that it was not.

// factorOf reads "x10", "10x", "×10" or "* 10": the factor, 0 where the text is none.
func factorOf(s string) float64 {
	s = strings.ToLower(strings.ReplaceAll(strings.TrimSpace(s), "×", "x"))
	n, ok := strings.CutPrefix(s, "x")
	if !ok {
		n, ok = strings.CutPrefix(s, "*")
	}
	if !ok {
		n, ok = strings.CutSuffix(s, "x")
	}
	v, rest, isNumber := 0.0, 0, false
	if n = strings.TrimSpace(n); ok && n != "" {
		v, rest = scanNumber([]byte(n), 0, '.')
		isNumber = rest == len(n)
	}
	if !isNumber || v <= 0 || v > 1000 {
		return 0
	}
	return v
}

// factorRow keeps a row above the data that gives every cell over the columns a factor.
func (f *facts) factorRow(t *table, i int) {
	if len(t.cells[i]) > t.width || !t.isFactorRow(i) {
		return
	}
	f.columnFactors = map[int]float64{}
	for j, c := range t.cells[i] {
		f.columnFactors[j] = factorOf(utf8String(c.text))
	}
}

// trailingFactor takes a factor off the end of a header text: "Motor (V) x10".
func trailingFactor(name string) (string, float64) {
	i := strings.LastIndexAny(name, " )]")
	if i <= 0 {
		return name, 0
	}
	x := factorOf(name[i+1:])
	if x == 0 || x == 1 {
		return name, 0
	}
	return strings.TrimSpace(name[:i+1]), x
}

// lowDrive looks at a drive of volts on which no 12 V motor turns, though the shaft ran:
// the factor that the file writes beside it is counted, else a probe's is offered.
func (r *reducer) lowDrive(t *Trace, a *assignment, o *Options) {
	if t.Drive.Unit != "V" || t.DriveIsPolarity {
		return
	}
	written := 0.0
	for _, role := range []Role{Drive, LeadA, LeadB} {
		if _, told := o.Scale[role]; told {
			return
		}
		if j, ok := a.col[role]; ok {
			if w := r.p.cols[j].written; written == 0 || w == written {
				written = w
			} else {
				return // leads with factors of their own
			}
		}
	}
	lo, hi := bulk(t.Feedback.Mean, 100)
	v := drivenLevel(sizes(t.Drive.Mean))
	if !(hi-lo > 0.3*math.Abs(hi)) || v < 0.8 || v >= mostDrive/probeFactor {
		return
	}
	if written != probeFactor {
		r.p.doubt("low-drive", "the drive reads %.2g V, on which no 12 V motor turns, and the shaft ran: if a probe of 10:1 was not entered, --scale drive=10 gives the volts", v)
		return
	}
	t.Drive = scaleSeries(t.Drive, written)
	if t.Both != nil {
		both := scaleSeries(*t.Both, written)
		t.Both = &both
	}
	r.p.note("unit-factor", "the drive reads %.2g V, on which no 12 V motor turns, and the file writes %s beside it: its volts are taken ten times (--scale drive=1 keeps them as written)", v, fmt.Sprintf("x%g", written))
}

// isFactorRow tells a row of factors from one of names.
func (t *table) isFactorRow(i int) bool {
	cells := trimTail(t.headCells(i))
	n := 0
	for j := range cells {
		if factorOf(utf8String(cells[j].text)) > 0 {
			n++
		} else if j > 0 {
			return false
		}
	}
	return n > 1
}
