package analyze

import "math"

// dwellProfile is how long the reading stays in each small stretch of the
// span, by direction, as a multiple of the usual time: 1 is the usual speed, 2
// half of it. Times over stretches of position add up, which rates do not: a
// place that is crossed slowly and the next one, crossed fast, together take
// the time they take.
type dwellProfile struct {
	from, cell float64 // V
	cells      int
	pass       [2][]dwellPass // down, up
	mean       [2][]float64   // over the passes; NaN where none crossed
	count      [2][]int       // passes

	leastPeriod float64 // cells; what repeats more often may be converter and sampling
}

// dwellPass is one move's dwell; NaN in cells it did not cross.
type dwellPass struct {
	move int
	y    []float64
}

// dwellMost bounds the dwell of a single cell: longer is a stand, and one
// stand must not outweigh all that was crossed.
const dwellMost = 4

// dwellFinest is the size in V below which the capture does not tell places
// apart: the scatter of a reading, a converter step, or the travel from row to
// row.
func (w *work) dwellFinest() float64 {
	return math.Max(math.Max(w.moving(), w.quantum), math.Max(w.rate[0], w.rate[1])*w.tr.Step)
}

// dwells measures the dwell of all moves, or returns nil where there is too
// little to measure. A cell is as wide as the capture resolves, and no finer
// than a two-hundredth of the span.
func (w *work) dwells() *dwellProfile { return w.dwelt.of(w.measureDwells) }

func (w *work) measureDwells() *dwellProfile {
	span := w.span.Width()
	finest := w.dwellFinest()
	if !(span > 0) || !(finest > 0) || w.rate[0] <= 0 || w.rate[1] <= 0 {
		return nil
	}
	n := int(math.Min(200, span/finest))
	if n < 16 {
		return nil
	}
	p := &dwellProfile{from: w.span.From, cell: span / float64(n), cells: n}
	// Rows and converter steps are counted to one: over eight of them that is
	// an error of a twentieth rms. Four cells show a shape.
	p.leastPeriod = math.Max(4, 8*math.Max(w.quantum, math.Max(w.rate[0], w.rate[1])*w.tr.Step)/p.cell)
	for k := range w.moves {
		if m := &w.moves[k]; m.Direction != None {
			if y := w.dwell(p, m); y != nil {
				p.pass[side(m.Direction)] = append(p.pass[side(m.Direction)], dwellPass{k, y})
			}
		}
	}
	for d := range p.pass {
		p.level(d)
	}
	return p
}

// dwell measures one move, from where it has got up to speed to where it last
// followed the drive.
func (w *work) dwell(p *dwellProfile, m *Move) []float64 {
	a, b := m.last, m.first
	for _, g := range m.segs {
		if g.state == track {
			a, b = min(a, g.first), max(b, g.last)
		}
	}
	for a < b && lapse(w.t[a], w.t[m.first]) < w.lim.StallSeconds {
		a++
	}
	if b-a < 8 {
		return nil
	}
	// Each reading stands for the travel around it that it cannot resolve.
	half := math.Max(math.Max(w.quantum, w.rate[side(m.Direction)]*w.tr.Step)/2, 1e-3*p.cell)
	y := make([]float64, p.cells)
	for i := a; i < b; i++ {
		lo, hi := (w.v[i]-half-p.from)/p.cell, (w.v[i]+half-p.from)/p.cell
		dt := w.t[min(i+1, len(w.t)-1)] - w.t[i]
		took := dt * w.gain(m, i) / (hi - lo)
		for c := max(0, int(math.Floor(lo))); c < p.cells && float64(c) < hi; c++ {
			y[c] += took * (math.Min(hi, float64(c+1)) - math.Max(lo, float64(c)))
		}
	}
	// Only cells crossed from edge to edge, the scatter of a reading inside.
	edge := half + 2*w.moving()
	lo, hi := math.Min(w.smooth[a], w.smooth[b-1])+edge, math.Max(w.smooth[a], w.smooth[b-1])-edge
	lo = math.Max(lo, w.span.From+w.lim.EndZone*w.span.Width())
	hi = math.Min(hi, w.span.To-w.lim.EndZone*w.span.Width())
	crossed := false
	for c := range y {
		from := p.from + float64(c)*p.cell
		if from < lo || from+p.cell > hi {
			y[c] = math.NaN()
			continue
		}
		crossed = true
		y[c] *= w.rate[side(m.Direction)] / p.cell
	}
	if !crossed {
		return nil
	}
	return y
}

// level takes the passes of one direction to a common speed, by the places that
// they share, and averages them. Passes run at their own speed, with the drive
// and the warmth, and cross their own part of the way.
func (p *dwellProfile) level(d int) {
	pass := p.pass[d]
	p.mean[d], p.count[d] = make([]float64, p.cells), make([]int, p.cells)
	for range 3 { // the second round is within a percent of the third
		var all []float64
		for c := range p.cells {
			sum, n := 0.0, 0
			for _, q := range pass {
				if !math.IsNaN(q.y[c]) {
					sum += math.Min(q.y[c], dwellMost)
					n++
				}
			}
			p.mean[d][c], p.count[d][c] = sum/float64(n), n
			if n > 0 {
				all = append(all, sum/float64(n))
			}
		}
		usual := medianOf(all)
		for c := range p.mean[d] {
			p.mean[d][c] /= usual
		}
		for _, q := range pass {
			mine, shared := 0.0, 0.0
			for c, y := range q.y {
				if !math.IsNaN(y) {
					mine += math.Min(y, dwellMost)
					shared += p.mean[d][c]
				}
			}
			if !(mine > 0) {
				continue
			}
			for c := range q.y {
				q.y[c] *= shared / mine
			}
		}
	}
}
