package analyze

import "math"

// onlySprings is the name of a measure: driven away from the stop on which it was pressed,
// the shaft goes no faster than what was pressed pushes it back.
const onlySprings = "springs back and no more"

// onlySprings tells whether the drives towards dir, of the polarity side s, which find the
// shaft pressed into the other stop, give it no more than what a stop pushes back by itself.
// A motor crosses that little at its own pace, whatever holds it after: once it has started,
// the way over the rate of the other direction is enough. A spring lets off by and by.
func (w *work) onlySprings(s int, dir Direction) bool {
	const (
		few   = 3
		apart = 3   // standard errors
		most  = 0.6 // of the way, when a motor has made all of it
	)
	rate := w.rate[side(-dir)]
	var start []float64 // s, of those that move
	for k := range w.moves {
		if m := &w.moves[k]; m.Direction == -dir && m.Moving > 0 {
			start = append(start, m.Delay)
		}
	}
	if !(rate > 0) || len(start) == 0 {
		return false
	}
	delay := medianOf(start) + w.lim.StallSeconds
	n := max(2, w.rows(0.05))
	level := func(i int) float64 { return mean(w.v[max(0, i-n):min(len(w.v), i+n+1)]) }
	var all, done []float64
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction != dir {
			continue
		}
		// What it was before the drive, not while the motor let off already; and where it came
		// to rest.
		before := level(max(0, m.first-n))
		way := float64(dir) * (level(min(len(w.v)-1, m.last+w.rows(2*w.lim.StallSeconds))) - before)
		at := m.first + w.rowsOver(delay+math.Max(0, way)/rate)
		if at+n >= m.last {
			continue
		}
		all = append(all, way)
		done = append(done, float64(dir)*(level(at)-before))
	}
	if len(all) < few {
		return false
	}
	err := w.noise / math.Sqrt(float64(2*n+1)*float64(len(all)))
	way, part := mean(all), mean(done)
	return way > 2*apart*err && part+apart*err < most*way
}
