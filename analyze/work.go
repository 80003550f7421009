package analyze

import (
	"math"
	"slices"

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
	away      memo[[]spell]      // see spells
	byClock   memo[bool]         // see heldByClock

	found       []Finding
	absent      []Absence
	blind       []Absence
	notes       []string
	doubts      []DataDoubt   // of the notes, those that could turn the verdict
	peak        memo[float64] // V, see rawPeak
	paceTracked memo[float64] // V/s, see trackPace

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
	turnsOver  float64 // s, see senseTurnsOver, where contrary says something; else 0
	// oneRecording tells that what stands before and after each place where the clock
	// starts anew was compared, and is of one actuator.
	oneRecording bool
	contrary     string // how little of the travel follows the drive, see Capture
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
		return signal.FullCounts(top)
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
