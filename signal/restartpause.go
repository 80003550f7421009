package signal

import "math"

// widenPauses makes room for what happened while the recorder did not run. A clock that
// starts anew tells nothing of the time before, and the pause there is drawn short; but
// where the reading stands elsewhere after it, no shaft leapt there: as much time is drawn
// as one needs for that way. Two recordings put one behind the other are read so.
func (r *reducer) widenPauses(a *assignment) {
	const (
		travel = 10.0 // s, of the whole of it, as most such actuators need (common practice, no source)
		same   = 0.02 // of the range: a reading that stayed
	)
	c := a.channel(a.col[Feedback])
	if len(r.anew) == 0 || c == nil || !(c.stats.Max > c.stats.Min) {
		return
	}
	shift, k, g, widened := 0.0, 0, 0, 0
	for i := range r.time {
		if k < len(r.anew) && i > 0 && r.time[i] >= r.anew[k].Time {
			way := math.Abs(told(c.mean[i:], 1)-told(c.mean[:i], -1)) / (c.stats.Max - c.stats.Min)
			at := shift
			if way > same {
				shift += travel * way
				widened++
			}
			for ; g < len(r.gaps) && r.gaps[g].From < r.anew[k].Time; g++ {
				r.gaps[g].From += at
				if r.gaps[g].To += at; r.gaps[g].To >= r.anew[k].Time+at {
					r.gaps[g].To += shift - at
				}
			}
			r.anew[k].Time += shift
			k++
		}
		r.time[i] += shift
	}
	for ; g < len(r.gaps); g++ {
		r.gaps[g].From += shift
		r.gaps[g].To += shift
	}
	r.lastT += shift
	if widened > 0 {
		r.p.note("pause-widened", "the reading stands elsewhere after %s of unknown length: up to %.3g s more are drawn there, time for a shaft to go that far", plural(int64(widened), "pause", "pauses"), travel)
	}
}

// told is the first value of a channel, or with a step of -1 the last one, among the next
// few; NaN where there is none.
func told(x []float32, step int) float64 {
	const most = 20
	i := 0
	if step < 0 {
		i = len(x) - 1
	}
	for n := 0; n < most && i >= 0 && i < len(x); n++ {
		if x[i] == x[i] {
			return float64(x[i])
		}
		i += step
	}
	return math.NaN()
}
