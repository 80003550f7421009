package analyze

import "math"

// startsAfter is the name of a measure: after how many openings the current of a start came.
const startsAfter = "breaks with a start's current after them"

// startsAnew gives the openings in the midst of a drive after which the current comes back
// as that of a start: a motor that had lost its speed draws (V - E)/R, more than it runs
// with. No reading of the shaft is needed for that, however slow it is and however noisy. An
// instrument's clip that comes off gives back the current of a running motor, and so does a
// load that let go of it. The volts stay at the leads meanwhile: switched off, an open motor
// shows less, what it generates.
func (w *work) startsAnew(open []opening) (out []opening) {
	const (
		about  = 0.3 // s of the same drive before and after it
		inrush = 0.1 // s in which the current of a start is above that of a run
		more   = 1.5 // times the running current: of a start it is three times and more, less where the motor had not yet stopped
	)
	if !w.driveKnown() {
		return nil
	}
	for _, o := range open {
		from, to := w.t[o.first], w.t[min(o.last, len(w.t)-1)]
		if !o.midst || !w.drivenAlike(o.first, o.last, about) || !w.voltsStay(o, about) {
			continue
		}
		run := math.Max(w.currentWithin(from-about, from-w.tr.Step), w.currentWithin(to+inrush, to+about))
		before, after := w.mostCurrent(from-about, from-w.tr.Step), w.mostCurrent(to, to+inrush)
		if run > 0 && after > more*run && after > before {
			out = append(out, o)
		}
	}
	return out
}

// mostCurrent is the greatest current between two times, without its sign.
func (w *work) mostCurrent(from, to float64) float64 {
	most := 0.0
	for i := indexAt(w.t, from); i < len(w.t) && w.t[i] <= to; i++ {
		most = math.Max(most, math.Abs(float64(w.tr.Current.Mean[i])))
	}
	return most
}

// voltsStay tells whether the volts at the leads are no fewer in an opening than in the
// seconds before it: a motor generates what it is driven with, less what its copper takes.
func (w *work) voltsStay(o opening, about float64) bool {
	const same = 0.97 // of the drive: what noise and a supply do, and copper takes more of it
	level := func(a, b int) float64 {
		x := make([]float64, 0, b-a)
		for i := a; i < b; i++ {
			x = append(x, math.Abs(w.d.mean[i]))
		}
		return medianOf(x)
	}
	a := indexAt(w.t, w.t[o.first]-about)
	return o.first > a && level(o.first, o.last) > same*level(a, o.first)
}
