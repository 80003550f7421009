package analyze

import (
	"math"
	"sort"
)

// path is the way of one move at a steady drive, thinned: when it came past each of
// its readings.
type path struct {
	dir  Direction
	at   []float64 // Capture.Unit, each further on than the one before
	took []float64 // s of full drive since the first
}

// pathPoints is how many points a path over the whole span has at most: a two-hundredth
// of the span apart they tell a fiftieth of it to a quarter.
const pathPoints = 200

// paths measures the ways of all moves at a steady drive, from where the shaft has got
// up to speed; of what is pulsed or turned down the speed is the control's.
func (w *work) paths() (out []path) {
	least := math.Max(w.span.Width()/pathPoints, w.dwellFinest())
	if w.sense == 0 || w.noPolarity != "" || !(w.span.Width() > 0) {
		return nil
	}
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction == None || m.Moving < 0.5 || math.Abs(m.DriveMean) < fullyDriven*w.d.amp {
			continue
		}
		p := path{dir: m.Direction}
		from, to := m.way()
		if m.Stalled > 0 {
			to = m.last
		}
		from += w.rows(w.lim.StallSeconds)
		took := 0.0
		for j := from; j < to && j < len(w.t); j++ {
			if j > from {
				took += (w.t[j] - w.t[j-1]) * w.gain(m, j)
			}
			v := w.smooth[j]
			if n := len(p.at); n == 0 || float64(p.dir)*(v-p.at[n-1]) >= least {
				p.at, p.took = append(p.at, v), append(p.took, took)
			}
		}
		if len(p.at) > 2 {
			out = append(out, p)
		}
	}
	return out
}

// over is the time that a path takes from one reading to the other, in the order of its
// direction; NaN where it does not go over both.
func (p *path) over(from, to float64) float64 { return p.when(to) - p.when(from) }

func (p *path) when(v float64) float64 {
	d := float64(p.dir)
	i := sort.Search(len(p.at), func(i int) bool { return d*(p.at[i]-v) >= 0 })
	if i == 0 || i == len(p.at) {
		return math.NaN()
	}
	a, b := p.at[i-1], p.at[i]
	return p.took[i-1] + (p.took[i]-p.took[i-1])*(v-a)/(b-a)
}
