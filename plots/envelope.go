package plots

import (
	"math"
	"sort"

	"threewire/signal"
)

// column is the width in points of one cell of the envelope: less than half a
// pixel on a screen, 0.26 mm on paper.
const column = 0.75

// maxCells is as many cells as one line gets, however wide the page: 300 KB of
// SVG hold that many for both channels.
const maxCells = 800

// envelope reduces a channel to lines of at most four points per cell: first,
// lowest, highest and last reading of the cell. A glitch of a single row stays
// as high as it was, whatever the length of the capture, and what is drawn
// does not differ from drawing every row (the M4 reduction of Jugel, Jerzak,
// Hackenbroich and Markl, VLDB 2014). Missing readings and gaps split the
// line, those shorter than a cell do not show. Points are in data units.
func envelope(t *signal.Trace, s *signal.Series, from, to float64, cells int) [][]pt {
	a := sort.SearchFloat64s(t.Time, from)
	b := sort.Search(len(t.Time), func(i int) bool { return t.Time[i] > to })
	if a > 0 {
		a--
	}
	if b < len(t.Time) {
		b++
	}
	if b > len(s.Mean) {
		b = len(s.Mean)
	}
	if a >= b || cells < 1 {
		return nil
	}
	e := &reducer{from: from, to: to}
	if b-a <= 2*cells {
		e.cells = 0
	} else {
		e.cells = cells
	}
	cell := 0.0
	if e.cells > 0 {
		cell = (to - from) / float64(e.cells)
	}
	before, split := math.Inf(-1), false // the last reading, and whether any is missing since
	gap := 0
	for gap < len(t.Gaps) && t.Gaps[gap].From < t.Time[a] {
		gap++
	}
	for i := a; i < b; i++ {
		x := t.Time[i]
		if gap < len(t.Gaps) && x > t.Gaps[gap].From {
			split = true
			for gap < len(t.Gaps) && t.Gaps[gap].From < x {
				gap++
			}
		}
		lo, hi := float64(s.Min[i]), float64(s.Max[i])
		if !(lo <= hi) {
			split = true
			continue
		}
		if split && x-before > cell {
			e.cut()
		}
		before, split = x, false
		e.add(x, lo, hi)
	}
	e.cut()
	return e.lines
}

// reducer gathers readings cell by cell.
type reducer struct {
	from, to float64
	cells    int // 0 keeps every reading

	lines [][]pt
	line  []pt

	cell        int
	n           int
	first, last pt
	low, high   pt
}

func (e *reducer) add(x, lo, hi float64) {
	mid := (lo + hi) / 2
	if e.cells == 0 {
		if lo == hi {
			e.line = append(e.line, pt{x, lo})
			return
		}
		e.line = append(e.line, pt{x, lo}, pt{x, hi})
		return
	}
	c := int(math.Floor((x - e.from) / (e.to - e.from) * float64(e.cells)))
	if e.n > 0 && c != e.cell {
		e.flush()
	}
	if e.n == 0 {
		e.cell = c
		e.first, e.low, e.high = pt{x, mid}, pt{x, lo}, pt{x, hi}
	}
	if lo < e.low.y {
		e.low = pt{x, lo}
	}
	if hi > e.high.y {
		e.high = pt{x, hi}
	}
	e.last = pt{x, mid}
	e.n++
}

func (e *reducer) flush() {
	if e.n == 0 {
		return
	}
	p, q := e.low, e.high
	if q.x < p.x {
		p, q = q, p
	}
	for _, v := range []pt{e.first, p, q, e.last} {
		if k := len(e.line); k == 0 || e.line[k-1] != v {
			e.line = append(e.line, v)
		}
	}
	e.n = 0
}

func (e *reducer) cut() {
	e.flush()
	if len(e.line) > 0 {
		e.lines = append(e.lines, e.line)
	}
	e.line = nil
}

// clip cuts a line of rising x to [x0, x1], with new points on the edges.
func clip(line []pt, x0, x1 float64) []pt {
	var out []pt
	cross := func(a, b pt, x float64) pt { return pt{x, a.y + (b.y-a.y)*(x-a.x)/(b.x-a.x)} }
	for i, p := range line {
		if i > 0 {
			a := line[i-1]
			if a.x < x0 && p.x > x0 {
				out = append(out, cross(a, p, x0))
			}
			if a.x < x1 && p.x > x1 {
				out = append(out, cross(a, p, x1))
			}
		}
		if p.x >= x0 && p.x <= x1 {
			out = append(out, p)
		}
	}
	return out
}

// slim leaves out points that lie within tol of the line between those it
// keeps; the ends stay.
func slim(p []pt, tol float64) []pt {
	if len(p) < 3 {
		return p
	}
	const most = 32 // points left out in a row, so that the time stays linear
	out := append(make([]pt, 0, len(p)), p[0])
	from := 0
	for i := 2; i < len(p); i++ {
		if i-from <= most && near(p[from+1:i], p[from], p[i], tol) {
			continue
		}
		out = append(out, p[i-1])
		from = i - 1
	}
	return append(out, p[len(p)-1])
}

// near tells whether all points lie within tol of the stretch from a to b.
func near(p []pt, a, b pt, tol float64) bool {
	dx, dy := b.x-a.x, b.y-a.y
	long := dx*dx + dy*dy
	for _, q := range p {
		k := 0.0
		if long > 0 {
			k = math.Max(0, math.Min(1, ((q.x-a.x)*dx+(q.y-a.y)*dy)/long))
		}
		if ex, ey := q.x-a.x-k*dx, q.y-a.y-k*dy; ex*ex+ey*ey > tol*tol {
			return false
		}
	}
	return true
}
