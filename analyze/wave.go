package analyze

import (
	"fmt"
	"math"
	"math/cmplx"
)

// Limits of a wave that rides on the reading, see [work.dropWave].
const (
	waveSlowest = 0.15 // Hz; slower is drift
	waveFastest = 8.0  // Hz; the windows that measure a speed average faster ones out
	waveRows    = 8.0  // least rows to a cycle
	waveCycles  = 2.5  // least cycles in the longest rest
	waveShare   = 0.6  // of what the reading does at rest, that the one line explains
	wavePoints  = 4000 // means that are searched
)

// wave is A*cos(2*pi*f*t + phase) on the reading.
type wave struct{ f, amplitude, phase float64 }

// dropWave takes a wave out of the reading that goes on at rest as it does under drive,
// with one frequency and one phase from the first rest to the last: hum that the rate
// of the rows folds down, or a supply that swings. No shaft moves so while nothing
// drives it, and no speed, stand or slip may be read from it.
func (w *work) dropWave() {
	x := w.restWave()
	if x == nil {
		return
	}
	for i, t := range w.t {
		w.v[i] -= x.amplitude * math.Cos(2*math.Pi*x.f*t+x.phase)
	}
	w.notes = append(w.notes, fmt.Sprintf("at rest the reading swings by %s at %.2g Hz, in step over the whole capture, whatever drives: no shaft does that, but interference that the rate of the rows folds down, or a sensor's supply that swings. The judgement leaves it out; the pictures do not", amount(2*x.amplitude, w.unit()), x.f))
}

// meansOf is a rest in means over blocks of rows: times from t0 on, and readings.
type meansOf struct {
	t0, step float64
	v        []float64 // V, less their mean
}

// manyMeans are the rests in means, with what they have in all.
type manyMeans struct {
	rests       []meansOf
	n           int     // means
	power       float64 // V², sum of their squares
	longest     float64 // s, of one rest
	first, last float64 // s
}

// restMeans are the rests in means of so many rows, each less its own mean.
func (w *work) restMeans(block int) manyMeans {
	all := manyMeans{first: math.Inf(1)}
	step := float64(block) * w.tr.Step
	for _, r := range w.resting() {
		m := meansOf{t0: w.t[r.first] + (step-w.tr.Step)/2, step: step}
		for a := r.first; a+block <= r.last; a += block {
			if lapse(w.t[a+block-1], w.t[r.first]) > float64(a-r.first+block)*w.tr.Step+step {
				break // rows are missing
			}
			m.v = append(m.v, mean(w.v[a:a+block]))
		}
		if len(m.v) < 8 || all.n > wavePoints {
			continue
		}
		mid := mean(m.v)
		for i := range m.v {
			m.v[i] -= mid
			all.power += m.v[i] * m.v[i]
		}
		all.rests = append(all.rests, m)
		seconds := float64(len(m.v)) * step
		all.longest, all.n = math.Max(all.longest, seconds), all.n+len(m.v)
		all.first, all.last = math.Min(all.first, m.t0), math.Max(all.last, m.t0+seconds)
	}
	return all
}

// likeliest is the wave, up to a frequency in Hz, that explains most of the means with
// one phase for all of them, and the power, V², that it explains.
func (all *manyMeans) likeliest(fastest float64) (x wave, explained float64) {
	// The frequency by which the rests are explained best, each with a phase of its own.
	slowest := math.Max(waveSlowest, waveCycles/all.longest)
	best, at := 0.0, 0.0
	for f := slowest; f <= fastest; f += 0.25 / all.longest {
		sum := 0.0
		for k := range all.rests {
			c := all.rests[k].line(f)
			sum += real(c)*real(c) + imag(c)*imag(c)
		}
		if sum > best {
			best, at = sum, f
		}
	}
	if best == 0 {
		return x, 0 // no rest is long enough for a wave that the rows can show
	}
	// And with one phase for all, where that is as good.
	for f := math.Max(slowest, at-0.4/all.longest); f <= at+0.4/all.longest; f += 0.1 / math.Max(all.last-all.first, all.longest) {
		if c, e := oneLine(all.rests, f); e > explained {
			explained, x = e, wave{f, cmplx.Abs(c), cmplx.Phase(c)}
		}
	}
	return x, explained
}

// shows tells whether the wave is in each rest that is long enough to show it: what
// coasts or is moved in one of them, or turned by hand, may look like a piece of a wave. A
// short rest cannot show it, but in one that lay still there was none: taken off it leaves
// more than twice what was there.
func (all *manyMeans) shows(x wave) bool {
	shown, of := 0, 0
	for k := range all.rests {
		m := &all.rests[k]
		var had, left float64
		off := make([]float64, len(m.v))
		for i, v := range m.v {
			off[i] = v - x.amplitude*math.Cos(2*math.Pi*x.f*(m.t0+float64(i)*m.step)+x.phase)
		}
		mid := mean(off)
		for i, v := range m.v {
			had, left = had+v*v, left+(off[i]-mid)*(off[i]-mid)
		}
		switch long := float64(len(m.v))*m.step >= 0.75/x.f; {
		case long && left < (1-waveShare)*had:
			of, shown = of+1, shown+1
		case long, left > 2*had:
			of++
		}
	}
	return 5*shown >= 4*of
}

// restWave looks for it in the rests; nil where there is none.
func (w *work) restWave() *wave {
	if w.tr.RowsPerBin > 1 || w.d.none || w.tr.Step <= 0 {
		return nil
	}
	all := w.restMeans(max(1, int(1/(2*waveRows*waveFastest*w.tr.Step))))
	if all.n < 40 || all.longest <= 0 {
		return nil
	}
	// A wave below the noise of a few rows, or below half a step of the converter,
	// bends no speed.
	least := math.Max(0.002*w.ref, math.Max(0.7*w.noise, 0.5*w.quantum))
	if math.Sqrt(2*all.power/float64(all.n)) < least {
		return nil
	}
	x, explained := all.likeliest(math.Min(waveFastest, 1/(waveRows*w.tr.Step)))
	if explained < waveShare*all.power || x.amplitude < least || !all.shows(x) {
		return nil
	}
	return &x
}

// line is the sum of the means, turned back by a frequency from time 0 on, scaled so
// that its square is what the line explains of their power.
func (m *meansOf) line(f float64) complex128 {
	turn := cmplx.Rect(1, -2*math.Pi*f*m.step)
	at := complex(1, 0)
	var sum complex128
	for _, v := range m.v {
		sum += complex(v, 0) * at
		at *= turn
	}
	return sum * cmplx.Rect(math.Sqrt(2/float64(len(m.v))), -2*math.Pi*f*m.t0)
}

// oneLine fits one line of frequency f through all rests, by least squares, each with a
// level of its own, and gives its complex amplitude and what it explains of the power.
func oneLine(rests []meansOf, f float64) (c complex128, explained float64) {
	// cos and sin less their means over each rest.
	var cc, ss, cs, vc, vs float64
	for k := range rests {
		m := &rests[k]
		n := float64(len(m.v))
		turn := cmplx.Rect(1, 2*math.Pi*f*m.step)
		at := cmplx.Rect(1, 2*math.Pi*f*m.t0)
		var sc, sn, c2, s2, x float64
		for _, v := range m.v {
			a, b := real(at), imag(at)
			sc, sn, c2, s2, x = sc+a, sn+b, c2+a*a, s2+b*b, x+a*b
			vc, vs = vc+v*a, vs+v*b
			at *= turn
		}
		cc, ss, cs = cc+c2-sc*sc/n, ss+s2-sn*sn/n, cs+x-sc*sn/n
	}
	det := cc*ss - cs*cs
	if !(det > 1e-9*cc*ss) {
		return 0, 0
	}
	a, b := (vc*ss-vs*cs)/det, (vs*cc-vc*cs)/det
	// a*cos + b*sin = A*cos(x + phase) with A*exp(i*phase) = a - ib.
	return complex(a, -b), a*vc + b*vs
}
