package analyze

import (
	"math"
	"slices"
	"sort"

	"threewire/signal"
)

// work is the state of one examination: the conditioned channels and what has
// been measured on them so far.
type work struct {
	tr  *signal.Trace
	opt Options
	lim Limits

	t []float64 // s
	v []float64 // feedback in V, missing readings held
	// smooth is v by the local line of the rate regression inside moves.
	smooth []float64
	raw    []float64 // v with its interference
	d      drive

	noise   float64 // V rms of one bin
	quantum float64 // V
	ref     float64 // V
	refSure bool    // ref is measured or told by the unit, not guessed from the readings
	tol     float64 // V, a change of a single reading that is not noise

	woke       woken // when the power came on
	sense      int
	moves      []Move
	rate       [2]float64    // V/s at full drive, down and up; 0 unknown
	window     int           // bins of the rate regression
	sway       float64       // V/s rms of its slope at rest
	stallNoise memo[float64] // V rms of one bin while the motor stalls, see pressedNoise
	driven     memo[float64] // V rms of one bin under drive, see moving

	stalls   memo[[]stall]      // see stallsOf
	atEnds   memo[[2]endSeries] // see endVisits
	stepped  memo[[]offset]     // see listSteps
	events   []event
	rockings []rocking // see findRockings
	span     Interval
	travel   travelTime
	stops    []Stop
	sweeps   []Sweep
	prof     [2]*Profile
	byDrive  bool                // the profiles are of speeds that full drive would give
	wave     float64             // s that a slow wave holds the reading up, see rides; 0 where there is none
	slows    float64             // V before a target, see approach
	dwelt    memo[*dwellProfile] // see dwells

	slowsAtStops bool // see approach

	// Of the logged reference, measured anew when rows are left out (keep, dropProbes);
	// from condition on nothing changes it.
	refLevel memo[float64] // see usualReference
	refLost  memo[bool]    // see refGone

	// Asked again and again once the moves are measured.
	stopVolts memo[float64]      // V, see driveAtStops
	steady    memo[[]float64]    // V, see steadyDrive
	idleAmps  memo[float64]      // see idleCurrent
	runAmps   memo[float64]      // see runningCurrent
	noAmps    memo[currentFloor] // see noCurrentLevel
	strays    memo[scatterOf]    // see scatter
	leapt     memo[[]leap]       // see allLeaps
	byClock   memo[bool]         // see heldByClock

	found  []Finding
	absent []Absence
	blind  []Absence
	notes  []string
	peak   memo[float64] // V, see rawPeak

	against *AgainstProfile
	checks  []PositionCheck
	clipped bool // the drive's channel ends below the drive
	clips   []clipLevel

	sampling   []Observation
	unjudged   float64 // share of the drive logged at a pace too coarse to judge
	oneLead    bool    // the shaft comes back by a lead that was not logged
	otherLead  int8    // polarity of its drive
	leadSure   bool    // and the current tells when it drove
	noPolarity string  // what the drive lacks, see polarityMissing
	contrary   string  // how little of the travel follows the drive, see Capture
}

// side is the index of a direction into two-element tables.
func side(d Direction) int {
	if d == Up {
		return 1
	}
	return 0
}

// condition fills in noise, quantum and reference.
func (w *work) condition() {
	w.t = w.tr.Time
	w.v = filled(w.tr.Feedback.Mean)
	w.quantum = w.tr.Feedback.Stats.Quantum
	w.ref = w.reference()
	w.ratiometric()
	w.smooth = slices.Clone(w.v)
	w.noise = w.noiseFloor()
	w.noise, w.quantum, w.tol = resolved(w.lim, w.noise, w.quantum, float64(w.tr.RowsPerBin), w.ref)
	w.findClipLevels()
	w.dropWave()
	w.raw = w.v // what follows copies it before it changes anything
	w.dropSparks()
	w.smooth = slices.Clone(w.v)
}

// ratiometric takes a logged reference that moves out of the feedback: the
// wiper gives a fraction of its supply, so what both do alike is no motion.
// Where the reference is all but gone the fraction means nothing, and the
// reading stays as it is.
func (w *work) ratiometric() {
	r := w.tr.Reference
	if !(w.ref > 0) || !w.refMeasured() {
		return // percent and counts may be shares of it already
	}
	lo, hi := outer(r.Mean, 3)
	if hi-lo < 0.02*w.ref {
		return // the noise of a steady reference would only be added
	}
	for i, x := range r.Mean {
		if f := float64(x); f > 0.3*w.ref {
			w.v[i] *= w.ref / f
		}
	}
}

// reference is the sensor supply: measured in the unit of the feedback, else
// the option, else the smallest usual full scale that holds the readings: of counts, that
// of a converter.
// Volts beside percent or counts are no full scale of these.
func (w *work) reference() float64 {
	if w.refMeasured() {
		w.refSure = true
		return w.usualReference()
	}
	if w.tr.Feedback.Unit == "%" {
		w.refSure = true
		return 100
	}
	w.refSure = w.tr.Feedback.Unit == "V"
	top := w.heldMaximum()
	if w.refSure && w.leavesSupply() {
		return w.opt.ReferenceVolts
	}
	if w.tr.Feedback.Unit == "counts" {
		return fullCounts(top)
	}
	if top <= 1.08*w.opt.ReferenceVolts && (top > 1.2 || w.tr.Feedback.Unit == "V") {
		return w.opt.ReferenceVolts
	}
	// Feedback in a ratio, percent, converter counts or millivolts that no unit tells, or
	// fed from the battery.
	for _, full := range []float64{1, w.opt.ReferenceVolts, 8, 10, 12, 16, 100, 255, 1023, 4095, 1000 * w.opt.ReferenceVolts, 16383, 65535} {
		if top <= 1.02*full {
			return full
		}
	}
	return top
}

// fullCounts is the full scale of the least usual converter that reaches a count: of 8,
// 10, 12, 14 or 16 bits, else of as many as it takes.
func fullCounts(top float64) float64 {
	bits := 8
	for ; bits < 16 && top > math.Exp2(float64(bits)); bits += 2 {
	}
	for ; bits < 32 && top > math.Exp2(float64(bits)); bits++ {
	}
	return math.Exp2(float64(bits)) - 1
}

// heldMaximum is the highest level at which the feedback stayed for three readings on
// end: a spike or a bad row is one, or two where it falls on the edge of a bin.
func (w *work) heldMaximum() float64 {
	top, a, b := math.Inf(-1), math.NaN(), math.NaN()
	for _, x := range w.tr.Feedback.Mean {
		v := float64(x)
		if math.IsNaN(v) {
			continue
		}
		if low := math.Min(v, math.Min(a, b)); low > top { // false until there are three
			top = low
		}
		a, b = b, v
	}
	if math.IsInf(top, -1) {
		return w.tr.Feedback.Stats.Max
	}
	return top
}

// leavesSupply tells whether the readings above what the usual sensor supply
// can give are none of a wiper on a higher one: a few spikes, or a level far above
// with nothing in between, where a wiper would have to pass.
func (w *work) leavesSupply() bool {
	usual := w.opt.ReferenceVolts
	var above []float64
	within := 0
	for _, v := range w.tr.Feedback.Mean {
		switch x := float64(v); {
		case x > 1.08*usual:
			above = append(above, x)
		case x > 0.05*usual:
			within++
		}
	}
	n := float64(within + len(above))
	if len(above) == 0 || float64(within) < 0.2*n {
		return false
	}
	return float64(len(above)) < 0.002*n || quantileOf(above, 0.02) > 1.4*usual
}

// atEnd tells whether all readings of bins [a, b) are the highest or the lowest
// of the capture.
func (w *work) atEnd(a, b int) bool {
	st := &w.tr.Feedback.Stats
	x := w.tr.Feedback.Mean[a]
	if x != float32(st.Max) && x != float32(st.Min) {
		return false
	}
	for _, y := range w.tr.Feedback.Mean[a:b] {
		if y != x {
			return false
		}
	}
	return true
}

// silentEnds tells whether the channel ends within the sensor's range: then it
// is silent there, and its noise shows elsewhere, by more than the converter's
// steps.
func (w *work) silentEnds(n, stride int) bool {
	var flat int
	var other []float64
	for a := 0; a+n <= len(w.t); a += stride {
		if w.atEnd(a, a+n) {
			flat++
		} else {
			other = append(other, lineScatter(w.t[a:a+n], w.v[a:a+n]))
		}
	}
	return flat >= 3 && len(other) >= 8 && quantileOf(other, 0.25) > 0.6*w.quantum
}

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

func medianOf32(x []float32) float64 {
	every := max(1, len(x)/20000)
	s := make([]float64, 0, len(x)/every+1)
	for i := 0; i < len(x); i += every {
		if f := float64(x[i]); !math.IsNaN(f) {
			s = append(s, f)
		}
	}
	return medianIn(s)
}

// indexAt is the index of the last time not after at; a time of the same nanosecond is
// that time.
func indexAt(t []float64, at float64) int {
	i, found := slices.BinarySearch(t, at+1e-9)
	if found {
		return i
	}
	return max(0, i-1)
}
