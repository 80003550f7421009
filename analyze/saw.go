package analyze

import (
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/stat/distuv"
)

// Teeth that let go at a stop, one after the other, make the reading saw: it
// climbs at the motor's pace and snaps back. Where one tooth is below the noise
// of a row the many of a stand still show, as a line in the spectrum that is
// not there while nothing drives nor while the shaft runs. A shaft that is
// blocked has no line.
const (
	// sawChance is the chance at which a line counts, over all that were tried.
	sawChance = 0.001

	// sawTurns is the fewest teeth in a window: fewer are no line beside the
	// slow wander of a reading, under a Hann taper four bins wide.
	sawTurns = 5

	// sawWindows is the fewest windows: the chance of a line is that of the mean
	// over them, and one alone may be a single event.
	sawWindows = 3

	// sawRatio is by how much the power of a line at stands exceeds that of the
	// same frequency elsewhere: twice the amplitude.
	sawRatio = 4.0
)

// sawSeconds are the lengths of the windows in which lines are looked for.
func sawSeconds() []float64 { return []float64{0.5, 1, 2, 4} }

// saw is a line in the reading of driven stands.
type saw struct {
	stands    []stretch
	frequency float64 // Hz
	size      float64 // V, of a tooth
	p         float64 // chance of such a line, over all that were tried
	shape     float64 // standard deviations by which it climbs slowly and falls fast
}

// stretch is bins [first, last).
type stretch struct{ first, last int }

// spectrum is the mean power of windows, and how even its harmonics' phases are.
type spectrum struct {
	n, windows int     // bins of a window, windows
	equal      float64 // windows of one power that tell as much
	power      []float64
	each       [][]float64 // of each window
	twist      []float64   // sum of the imaginary part of X(k)^2 conj X(2k)
	spread     []float64   // its variance if the phases were by chance
}

// pressed lists the stands at the end of the moves in one direction, without
// the time in which the shaft comes to rest.
func (w *work) pressed(dir Direction) []stretch {
	var out []stretch
	// The mean of fewer rows than a tooth takes goes up and down with it, and the noise of
	// a motor that stalls holds its teeth where there are any.
	const rows = 8
	short := max(1, w.rows(w.lim.StallSeconds))
	block := max(rows, short)
	// Of few rows a mean goes up and down with the teeth all the same, by less than a shaft
	// that runs changes it from one to the next.
	near := math.Max(math.Max(w.tol, 2*w.pressedNoise()), w.rate[side(dir)]*float64(block)*w.tr.Step/2)
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction != dir || m.last-m.first < 6*short+block {
			continue
		}
		level := medianOf(w.v[m.last-max(4*short, rows) : m.last])
		a := m.last
		for a-block >= m.first && math.Abs(mean(w.v[a-block:a])-level) < near {
			a -= block
		}
		if a += 3 * short; a < m.last-short && !w.chopped(a, m.last-1) {
			out = append(out, stretch{a, m.last - 1})
		}
	}
	return out
}

// chopped tells whether the drive is pulsed between two bins: rows that catch its pulses
// now early and now late make a saw of what they do to the reading.
func (w *work) chopped(first, last int) bool {
	if w.tr.DriveIsPolarity || w.d.amp <= 0 {
		return false
	}
	off := 0
	for _, x := range w.tr.Drive.Mean[first:last] {
		if math.Abs(float64(x)) < 0.5*w.d.amp {
			off++
		}
	}
	return 10*off > last-first
}

// pulsedIn is chopped for a drive that is pulsed anywhere: a control that only slows down
// before its targets sets out with all it has.
func (w *work) pulsedIn(first, last int) bool {
	return w.d.pulsed && (last <= first || w.chopped(first, last))
}

// resting lists the stretches without drive, after what coasts has come to rest.
func (w *work) resting() []stretch {
	var out []stretch
	settle := w.rows(restForPower) + 1
	for i := 0; i < len(w.t); i++ {
		j := i
		for j < len(w.t) && w.d.pol[j] == 0 {
			j++
		}
		if j-settle > i {
			out = append(out, stretch{i + settle, j})
		}
		i = j
	}
	return out
}

// running lists the stretches in which the shaft follows the drive.
func (w *work) running() []stretch {
	var out []stretch
	for k := range w.moves {
		for _, g := range w.moves[k].segs {
			if g.state == track {
				out = append(out, stretch{g.first, min(g.last, len(w.v))})
			}
		}
	}
	return out
}

// spectrumOf averages the windows of n bins, half overlapped, that lie in the
// stretches and have rows all along, each less its line. y is signed so that up is with the drive.
func (w *work) spectrumOf(in []stretch, y []float64, n int, sign float64) *spectrum {
	s := &spectrum{n: n, power: make([]float64, n/2), twist: make([]float64, n/4), spread: make([]float64, n/4)}
	fft := fourier.NewFFT(n)
	buf, taper := make([]float64, n), make([]float64, n)
	for i := range taper {
		taper[i] = 0.5 - 0.5*math.Cos(2*math.Pi*float64(i)/float64(n))
	}
	var x []complex128
	for _, g := range in {
		for a := g.first; a+n <= g.last; a += n / 2 {
			if lapse(w.t[a+n-1], w.t[a]) > 1.05*float64(n)*w.tr.Step {
				continue
			}
			slope, _ := straightLine(w.t[a:a+n], y[a:a+n])
			level, mid := mean(y[a:a+n]), mean(w.t[a:a+n])
			for i := range buf {
				buf[i] = sign * taper[i] * (y[a+i] - level - slope*(w.t[a+i]-mid))
			}
			x = fft.Coefficients(x, buf)
			s.windows++
			own := make([]float64, n/2)
			s.each = append(s.each, own)
			for k := range s.power {
				own[k] = real(x[k])*real(x[k]) + imag(x[k])*imag(x[k])
				s.power[k] += own[k]
				if k < len(s.twist) {
					b := x[k] * x[k] * cmplx.Conj(x[2*k])
					s.twist[k] += imag(b)
					s.spread[k] += real(b*cmplx.Conj(b)) / 2
				}
			}
		}
	}
	for k := range s.power {
		s.power[k] /= math.Max(1, float64(s.windows))
	}
	s.equal = s.equalWindows()
	return s
}

// equalWindows is how many windows of one power have a mean that scatters as that of
// these does (Welch and Satterthwaite): of noise that comes for a while the few loud
// windows are all that counts.
func (s *spectrum) equalWindows() float64 {
	sum, squares := 0.0, 0.0
	for _, own := range s.each {
		m := medianOf(own[min(2, len(own)):])
		sum += m
		squares += m * m
	}
	if squares == 0 {
		return float64(s.windows)
	}
	return sum * sum / squares
}

// floor is the usual power around a bin, an octave to either side, without the
// line there and its neighbours of the same motion.
func (s *spectrum) floor(k int) float64 {
	var near []float64
	for j := max(2, k/2); j <= 2*k+8 && j < len(s.power); j++ {
		if d := j - k; d < -2 || d > 2 {
			if d := j - 2*k; d < -2 || d > 2 {
				near = append(near, s.power[j])
			}
		}
	}
	if len(near) < 6 {
		return math.Inf(1)
	}
	return medianIn(near)
}

// chance is that of a mean of so many exponential powers as high above the
// floor as bin k's. The median of such a mean is 1-1/(3n) of it.
func (s *spectrum) chance(k int) float64 { return s.chanceOver(k, s.floor(k)) }

// chanceOver is that over a given floor. Half overlapped windows under this taper
// are worth 18n^2/(19n-1) of them (Percival and Walden, Spectral Analysis for
// Physical Applications, section 6.17).
func (s *spectrum) chanceOver(k int, f float64) float64 {
	n := s.equal
	n = 18 * n * n / (19*n - 1)
	if !(f > 0) || s.windows < sawWindows || n < 1 {
		return 1
	}
	return distuv.Gamma{Alpha: n, Beta: n}.Survival(s.power[k] / f * (1 - 1/(3*n)))
}

// usual is the power at a frequency in most windows: what comes and goes is no
// interference that would stand at a stop all the time. A line lies between
// bins, so the larger neighbour counts; the median of exponential powers is ln 2
// of their mean.
func (s *spectrum) usual(k int) float64 {
	best := 0.0
	for j := k - 1; j <= k+1; j++ {
		var all []float64
		for _, own := range s.each {
			all = append(all, own[j])
		}
		best = math.Max(best, medianOf(all)/math.Ln2)
	}
	return best
}

// standsOut tells whether the power of a bin stands out from that of the same
// frequency in another spectrum.
func (s *spectrum) standsOut(other *spectrum, k int) bool {
	return other.windows >= 2 && s.power[k] >= sawRatio*other.usual(k)
}

// sawOf looks for the surest saw of one direction, nil where there is none. The
// motor lifts a tooth no faster than it turns, and no slower than what counts
// as standing. Hum and pulses stand in the running reading too.
func (w *work) sawOf(dir Direction) *saw {
	stands, rest, run := w.pressed(dir), w.resting(), w.running()
	r := w.rate[side(dir)]
	if r <= 0 || len(stands) == 0 {
		return nil
	}
	var best *saw
	for _, seconds := range sawSeconds() {
		n := w.rows(seconds) / 4 * 4
		if n < 8*sawTurns {
			continue
		}
		s := w.spectrumOf(stands, w.v, n, float64(dir))
		if s.windows < sawWindows {
			continue
		}
		var still, moving *spectrum // made when a line asks for them
		// Below five rows a tooth its shape does not show.
		for k := sawTurns; k < n/5; k++ {
			if s.power[k] < s.power[k-1] || s.power[k] < s.power[k+1] {
				continue
			}
			x := saw{stands: stands, frequency: float64(k) / (float64(n) * w.tr.Step), shape: s.twist[k] / math.Sqrt(s.spread[k])}
			// A sine of amplitude a has the power (a n/4)^2 under this taper, and
			// a saw's sine is its size over pi.
			x.size = math.Pi * 4 / float64(n) * math.Sqrt(math.Max(0, s.power[k]-s.floor(k)))
			x.p = math.Min(1, s.chance(k)*float64(n)/5*float64(2*len(sawSeconds())))
			pace := x.size * x.frequency / r
			if nearMains(x.frequency) {
				continue // teeth at just that pace are not told from hum
			}
			if x.p > sawChance || best != nil && x.p >= best.p || pace < w.lim.Still || pace > w.lim.Fast {
				continue
			}
			// What a converter shows of a swing below half a step depends on where
			// the level lies between two: one stand may show hum that another, and
			// the rest, hides.
			if x.size < w.quantum/2 {
				continue
			}
			if still == nil {
				still, moving = w.spectrumOf(rest, w.v, n, 1), w.spectrumOf(run, w.v, n, 1)
			}
			if s.standsOut(moving, k) && (still.windows < 2 || s.standsOut(still, k)) {
				// A shorter stand has not been asked.
				x.stands = slices.DeleteFunc(slices.Clone(stands), func(g stretch) bool { return g.last-g.first < n })
				best = &x
			}
		}
	}
	return best
}

// nearMains tells whether a frequency is that of the mains, of 50 or 60 Hz, or of
// twice to four times it.
func nearMains(hz float64) bool {
	for _, mains := range []float64{50, 60} {
		m := math.Round(hz / mains)
		if m >= 1 && m <= 4 && math.Abs(hz-m*mains) < mainsInTeeth*m*mains {
			return true
		}
	}
	return false
}

// findSaw reports teeth that let go at a stop and are smaller than the noise of
// a row. Whichever stops show them must in all climb slowly and fall fast, not
// the other way round: by chance one even ripple in ten does so far.
func (w *work) findSaw() {
	const slowUp = 1.28 // standard deviations
	f := Finding{Kind: GearSlip, Tie: TieUnknown, TieP: 1, Event: "slip"}
	f.Time = noInterval()
	f.Volts = f.Time
	var lines []*saw
	shape, teeth, seconds, size := 0.0, 0.0, 0.0, 0.0
	var dirs [2]int
	for _, dir := range []Direction{Down, Up} {
		x := w.sawOf(dir)
		if x == nil {
			continue
		}
		lines = append(lines, x)
		shape += x.shape
		for _, g := range x.stands {
			at, level := Interval{w.t[g.first], w.t[g.last-1]}, medianOf(w.v[g.first:g.last])
			o := Occurrence{at, Interval{level - x.size/2, level + x.size/2}, dir}
			f.Places = append(f.Places, o)
			f.Time = f.Time.widen(at.From).widen(at.To)
			f.Volts = f.Volts.widen(o.Volts.From).widen(o.Volts.To)
			teeth += at.Width() * x.frequency
			seconds += at.Width()
			size += at.Width() * x.size
			dirs[side(dir)]++
		}
	}
	if len(lines) == 0 || shape < slowUp*math.Sqrt(float64(len(lines))) {
		return
	}
	f.Seen, f.Passes, f.Direction = int(teeth), len(f.Places), oneDirection(dirs)
	f.Strength = 1
	f.Measures = []Measure{{"slips", math.Floor(teeth), ""}, {MeasureSize, size / seconds, w.unit()}, {MeasureSlipRate, teeth / seconds, "Hz"}}
	f.Form = w.huntPlace(f)
	w.found = append(w.found, f)
}
