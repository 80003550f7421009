package analyze

import (
	"math"
	"slices"
	"sort"
)

// The noise of the reading, at rest and under way, and the straight lines that it is
// measured about.

// noiseFloor is the scatter of single readings about a straight line in short
// windows: the median over windows at rest, or where the drive never rests
// or rest is the noisier, the lower quartile over all windows (most of a capture is not faulty). The
// windows are long enough to hold two periods of mains hum.
func (w *work) noiseFloor() float64 {
	n := max(8, w.rows(0.04))
	if n > len(w.t)/4 {
		n = max(4, len(w.t)/4)
	}
	stride := max(n, len(w.t)/4000)
	var rest, all []float64
	ends := w.silentEnds(n, stride)
	for a := 0; a+n <= len(w.t); a += stride {
		if ends && w.atEnd(a, a+n) {
			continue
		}
		quiet := true
		for i := max(0, a-w.rows(restForNoise)); i < a+n; i++ {
			if w.d.pol[i] != 0 {
				quiet = false
				break
			}
		}
		s := lineScatter(w.t[a:a+n], w.v[a:a+n])
		all = append(all, s)
		if quiet {
			rest = append(rest, s)
		}
	}
	if len(all) == 0 {
		return 0
	}
	slices.Sort(all)
	quiet := all[len(all)/4]
	if len(rest) >= 5 {
		slices.Sort(rest)
		// An instrument is no quieter while the motor runs: where it looks so,
		// the shaft rested on a bad piece of track or the contact was loose.
		if m := rest[len(rest)/2]; m < 4*quiet+w.quantum {
			return m
		}
		return quiet
	}
	// Driven all the time the shaft stands at its stops, and what stands there is the
	// instrument's alone: a contact that is bad everywhere scatters while it moves.
	still := sort.SearchFloat64s(all, quiet/4)
	if still >= max(5, len(all)/20) {
		return all[still/2]
	}
	return math.Min(quiet, w.noiseUnderOneDrive(n))
}

// noiseUnderOneDrive is the median scatter about a line, in V, over n rows in which the
// drive is one: where a control turns it over within as many rows, most lines are laid
// over the shaft's swing, which is no noise. Infinite where there are too few.
func (w *work) noiseUnderOneDrive(n int) float64 {
	var x []float64
	for a := 0; a+n <= len(w.t); {
		b := a
		for b < a+n && w.d.pol[b] == w.d.pol[a] && w.d.pol[a] != 0 {
			b++
		}
		if b < a+n {
			a = max(b, a+1)
			continue
		}
		x = append(x, lineScatter(w.t[a:b], w.v[a:b]))
		a = b
	}
	if len(x) < 2 {
		return math.Inf(1)
	}
	return medianOf(x)
}

// moving is the noise of a bin while the motor runs, in V: brushes and pulses add
// to the noise at rest. It is the median scatter about a line in short windows
// under drive, of those in which the reading gets on: where it stands the motor
// does, and where it falls back again and again its teeth do, which is no noise.
func (w *work) moving() float64 { return w.driven.of(w.runningNoise) }

func (w *work) runningNoise() float64 {
	n := max(8, w.rows(0.04))
	var pace, scatter []float64
	for a := 0; a+n <= len(w.t); a++ {
		if w.d.pol[a] == 0 || w.d.pol[a+n-1] != w.d.pol[a] {
			continue
		}
		slope, rss := straightLine(w.t[a:a+n], w.v[a:a+n])
		pace, scatter = append(pace, math.Abs(slope)), append(scatter, math.Sqrt(rss/float64(max(1, n-2))))
		a += max(n, len(w.t)/4000) - 1
	}
	if len(pace) < 5 {
		return w.noise
	}
	least := 0.5 * quantileOf(pace, 0.75)
	var on []float64
	for i, p := range pace {
		if p >= least {
			on = append(on, scatter[i])
		}
	}
	// The 30 % quantile, as the middle one of Gaussian noise: teeth that slip and
	// friction that sticks scatter most windows, not the best third. The standard
	// deviation of n readings about a line scatters by 1/sqrt(2(n-2)) of itself.
	return math.Max(w.noise, quantileOf(on, 0.3)/(1-0.52/math.Sqrt(2*float64(n-2))))
}

// lineScatter is the residual standard deviation about the least-squares line.
func lineScatter(t, v []float64) float64 {
	_, rss := straightLine(t, v)
	return math.Sqrt(rss / float64(max(1, len(t)-2)))
}

// straightLine is the slope of the least-squares line and its residual sum of
// squares, for one stretch; [fitter] is for many of the same.
func straightLine(t, v []float64) (slope, rss float64) {
	n := float64(len(t))
	if n < 1 {
		return 0, 0
	}
	t0, v0 := t[0], v[0]
	var st, sv, stt, stv, svv float64
	for i := range t {
		x, y := t[i]-t0, v[i]-v0
		st += x
		sv += y
		stt += x * x
		stv += x * y
		svv += y * y
	}
	ctt, ctv, cvv := stt-st*st/n, stv-st*sv/n, svv-sv*sv/n
	if ctt > 0 {
		slope = ctv / ctt
		return slope, math.Max(0, cvv-slope*ctv)
	}
	return 0, math.Max(0, cvv)
}

// fitter gives least-squares lines over any run of a stretch in constant
// time, from prefix sums.
type fitter struct {
	t0, v0            float64
	st, sv, stt, stv2 []float64
	svv               []float64
}

func newFitter(t, v []float64) *fitter {
	n := len(t)
	k := n + 1
	all := make([]float64, 5*k)
	f := &fitter{st: all[:k], sv: all[k : 2*k], stt: all[2*k : 3*k], stv2: all[3*k : 4*k], svv: all[4*k:]}
	if n > 0 {
		f.t0, f.v0 = t[0], v[0]
	}
	for i := range t {
		x, y := t[i]-f.t0, v[i]-f.v0
		f.st[i+1] = f.st[i] + x
		f.sv[i+1] = f.sv[i] + y
		f.stt[i+1] = f.stt[i] + x*x
		f.stv2[i+1] = f.stv2[i] + x*y
		f.svv[i+1] = f.svv[i] + y*y
	}
	return f
}

// line fits v = mid + slope*(t - mean t) over [a, b) and returns the slope,
// the value at the mean time and the residual sum of squares.
func (f *fitter) line(a, b int) (slope, mid, rss float64) {
	n := float64(b - a)
	if n < 1 {
		return 0, 0, 0
	}
	mt, mv := (f.st[b]-f.st[a])/n, (f.sv[b]-f.sv[a])/n
	ctt := f.stt[b] - f.stt[a] - n*mt*mt
	ctv := f.stv2[b] - f.stv2[a] - n*mt*mv
	cvv := f.svv[b] - f.svv[a] - n*mv*mv
	if ctt > 0 {
		slope = ctv / ctt
		rss = math.Max(0, cvv-slope*ctv)
	} else {
		rss = math.Max(0, cvv)
	}
	return slope, mv + f.v0, rss
}
