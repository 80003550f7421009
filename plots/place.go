package plots

import "math"

// clutter knows where data lies on the sheet, on a grid of small cells.
type clutter struct {
	area box
	nx   int
	ny   int
	busy []bool
}

// cellSize is the grain of the clutter grid in points: a third of small type.
const cellSize = 3.0

func newClutter(area box) *clutter {
	c := &clutter{area: area, nx: int(area.w()/cellSize) + 1, ny: int(area.h()/cellSize) + 1}
	c.busy = make([]bool, c.nx*c.ny)
	return c
}

// line marks the cells a line runs through, in sheet points.
func (c *clutter) line(p []pt) {
	for i := 1; i < len(p); i++ {
		a, b := p[i-1], p[i]
		n := int(math.Max(math.Abs(b.x-a.x), math.Abs(b.y-a.y))/cellSize) + 1
		for k := 0; k <= n; k++ {
			f := float64(k) / float64(n)
			c.mark(a.x+f*(b.x-a.x), a.y+f*(b.y-a.y))
		}
	}
}

func (c *clutter) mark(x, y float64) {
	i, j := int((x-c.area.x0)/cellSize), int((y-c.area.y0)/cellSize)
	if i >= 0 && j >= 0 && i < c.nx && j < c.ny {
		c.busy[j*c.nx+i] = true
	}
}

// over is the share of the box that lies over data, 0..1.
func (c *clutter) over(b box) float64 {
	n, hit := 0, 0
	for y := b.y0 + cellSize/2; y < b.y1; y += cellSize {
		for x := b.x0 + cellSize/2; x < b.x1; x += cellSize {
			n++
			i, j := int((x-c.area.x0)/cellSize), int((y-c.area.y0)/cellSize)
			if i >= 0 && j >= 0 && i < c.nx && j < c.ny && c.busy[j*c.nx+i] {
				hit++
			}
		}
	}
	if n == 0 {
		return 0
	}
	return float64(hit) / float64(n)
}

// place finds room for a box of w x h near the anchor, inside the area, clear
// of everything placed before, and off the data if it can. ok is false when
// there is no clear spot.
func (s *sheet) place(c *clutter, anchor pt, w, h float64) (best box, ok bool) {
	return s.placeOff(c, anchor, w, h, 10)
}

// placeWide is place for a box of many words, which would hide a stretch of the trace: it
// goes as far as it must for a spot beside the data.
func (s *sheet) placeWide(c *clutter, anchor pt, w, h float64) (best box, ok bool) {
	return s.placeOff(c, anchor, w, h, 100)
}

// placeOff is place where lying over data is as bad as standing so many type sizes away.
func (s *sheet) placeOff(c *clutter, anchor pt, w, h, off float64) (best box, ok bool) {
	cost := math.Inf(1)
	try := func(x, y float64) {
		b := box{x - w/2, y - h/2, x + w/2, y + h/2}
		if !c.area.grow(-1).holds(b) {
			return
		}
		roomy := b.grow(1.5)
		for _, t := range s.taken {
			if roomy.meets(t) {
				return
			}
		}
		far := math.Hypot(x-anchor.x, y-anchor.y)
		k := far/s.size + off*c.over(b)
		if k >= cost { // what is added below only makes it worse
			return
		}
		// A leader through other words strikes them out.
		for _, t := range s.taken {
			if crosses(b.edge(anchor), anchor, t) {
				k += 12
				break
			}
		}
		if b.meets(box{anchor.x - 3, anchor.y - 3, anchor.x + 3, anchor.y + 3}) {
			k += 6
		}
		if k < cost {
			cost, best, ok = k, b, true
		}
	}
	for ring := 1.0; ring <= 12; ring++ {
		r := h/2 + 0.7*s.size*ring
		for k := range 16 {
			sin, cos := math.Sincos(math.Pi/2 + 2*math.Pi*float64(k)/16)
			try(anchor.x+cos*(r+(w-h)/2), anchor.y+sin*r)
		}
		if ok && cost < 0.7*ring {
			break
		}
	}
	if !ok || off > 10 && c.over(best) > 0 { // anywhere at all
		for y := c.area.y0 + h/2 + 1; y < c.area.y1-h/2; y += h / 2 {
			for x := c.area.x0 + w/2 + 1; x < c.area.x1-w/2; x += w / 3 {
				try(x, y)
			}
		}
	}
	if ok {
		s.taken = append(s.taken, best)
	}
	return best, ok
}

// edge is the point of the box nearest to p.
func (b box) edge(p pt) pt {
	return pt{math.Max(b.x0, math.Min(b.x1, p.x)), math.Max(b.y0, math.Min(b.y1, p.y))}
}

// crosses tells whether the straight line from p to q runs through the inside of the box: its
// parts within the box's width and within its height overlap.
func crosses(p, q pt, b box) bool {
	x0, x1 := shareBetween(p.x, q.x, b.x0, b.x1)
	y0, y1 := shareBetween(p.y, q.y, b.y0, b.y1)
	return math.Max(x0, y0) < math.Min(x1, y1)
}

// shareBetween is the part of the way from one coordinate to another, from 0 to 1, that lies between
// low and high; an empty one begins where it ends or later.
func shareBetween(from, to, low, high float64) (begin, end float64) {
	if from == to {
		if from > low && from < high {
			return 0, 1
		}
		return 1, 0
	}
	begin, end = (low-from)/(to-from), (high-from)/(to-from)
	return math.Max(0, math.Min(begin, end)), math.Min(1, math.Max(begin, end))
}

// leader draws a line from the edge of a box to the anchor, with a dot.
func (s *sheet) leader(b box, anchor pt) {
	e := b.edge(anchor)
	s.line(e.x, e.y, anchor.x, anchor.y, s.th.paper, 2.2)
	s.line(e.x, e.y, anchor.x, anchor.y, s.th.ink, 0.8)
	s.disc(anchor.x, anchor.y, 1.5, s.th.ink)
}

// spread moves wished-for heights apart to at least gap, within [lo, hi],
// keeping their order. The wishes must rise.
func spread(wish []float64, gap, lo, hi float64) []float64 {
	out := append([]float64(nil), wish...)
	for i := range out {
		out[i] = math.Max(out[i], lo)
		if i > 0 && out[i] < out[i-1]+gap {
			out[i] = out[i-1] + gap
		}
	}
	for i := len(out) - 1; i >= 0; i-- {
		limit := hi
		if i < len(out)-1 {
			limit = out[i+1] - gap
		}
		out[i] = math.Min(out[i], limit)
	}
	return out
}
