package analyze

import "math"

// withoutPlay takes out of the stretches without current those in which the motor runs
// through the play of its gears: it starts with an inrush, runs light while the shaft waits,
// and draws more as it takes up the load, by and by. An open circuit that closes again lets
// a motor that stands draw at first what it drew as it started, (V - E)/R, above the current
// of its run. As the same rows hold both, so many of them as came before the stretch, the
// one tells from the other however coarse they are; what they scatter is shared by all of
// the stretches.
func (w *work) withoutPlay(open []opening) []opening {
	const settled = 0.3 // s after it in which the load is taken up, or a start over
	var rest []opening
	lacks, rows, n := 0.0, 0.0, 0
	_, scatter, _ := w.currentAtRest()
	for _, o := range open {
		k := o.first - o.start
		run := w.currentWithin(w.t[min(o.last, len(w.t)-1)]+settled/3, w.t[min(o.last, len(w.t)-1)]+settled)
		before := 0.0
		if k > 0 {
			before = w.meanCurrent(o.start, o.first)
		}
		lack := math.NaN()
		if k > 0 && w.t[o.first]-w.t[o.start] < settled && o.last+k < len(w.t) && before > run/2 {
			lack = math.Min(before, run) - w.meanCurrent(o.last, o.last+k)
		}
		if math.IsNaN(lack) {
			rest = append(rest, o)
			continue
		}
		lacks += float64(k) * lack
		rows, n = rows+float64(k), n+1
	}
	if n == 0 || lacks <= 3*math.Sqrt2*scatter*math.Sqrt(rows) {
		return open
	}
	return rest
}
