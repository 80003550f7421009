package analyze

import (
	"math"
	"slices"
)

// roughEverywhere is the form of a noisy track that has no sound place.
const roughEverywhere = "all along the track"

// roughEvent is the event of bad contact all along the track.
const roughEvent = "rough"

// noFurtherOff is the measure of a scatter that goes no further than noise of its size.
const noFurtherOff = "no longer off than noise"

// offBothWays is the measure of departures that go to higher readings as to lower.
const offBothWays = "off to both sides alike"

// scatterOf is what the reading scatters by about its own running median, in V,
// as the standard deviation of Gaussian noise would be: while the shaft moves,
// while it is driven and stands, and while nothing drives.
type scatterOf struct {
	moving, standing, resting float64
	cells, rough              int // tenths of the travel passed, and those among them that scatter as the whole

	// Of the single departures, in V: the middle one while moving as a standard
	// deviation, and what one in a hundred exceeds, moving and not; the number of
	// those far out while moving, and the tenths of the travel that have one.
	middle, tail, quiet float64
	far, farCells       int
	farElse             int // of them, those outside the three tenths that have most

	// Of those beyond half the tail, which the noise about them does not reach: how many
	// go to the rarer side where they are, quarter by quarter of the travel, and how many
	// there are in all.
	rarer, large int

	shown bool // the capture shows the shaft both moving and not
}

// oneSided tells whether the far departures go to one side, wherever the wiper is: a
// contact that lets go leaves the wiper's wire to what pulls it, one level, while what
// the motor's brushes send into the wires goes either way, be it seldomer the one. One in
// ten is left to a motor's own sparks beside (chosen: with twenty departures, of which
// interference sends a quarter the other way, fewer than three do so once in eleven).
func (s *scatterOf) oneSided() bool { return 10*s.rarer <= s.large }

// spikes tells whether the departures are those of a contact that lets go for
// moments: one in a hundred of Gaussian noise exceeds 2.6 deviations, of a ripple
// fewer, of a sparking motor's pick-up not many more.
func (s *scatterOf) spikes() bool { return s.tail > 3.5*s.middle }

// everywhere tells whether the far departures come from all of the way: seven tenths of it
// have one, and those outside the three that have most are not rarer than a fifth of
// what an even spread has (chosen, not derived). A place that is worn through gathers
// hundreds, beside which any noise has a few everywhere. What is left to a rail goes off by
// a share of its level: where all of the way is known to scatter, half of it may show no
// far ones.
func (s *scatterOf) everywhere(scatters bool) bool {
	even := 0.7 * float64(s.far) // of ten tenths, seven
	least := 0.7
	if scatters {
		least = 0.5
	}
	return float64(s.farCells) >= least*float64(s.cells) && float64(s.farElse) >= 0.2*even
}

// alike tells whether the reading scatters wherever the wiper is, in seven tenths of the
// way (chosen, not derived).
func (s *scatterOf) alike() bool { return 10*s.rough >= 7*s.cells }

// findRoughContact reports a wiper that makes bad contact wherever it is: the
// reading scatters while the shaft moves, all along the way, and is quiet where
// the shaft stands, also under drive. A wire that lets go does so at rest as
// well, the motor's interference does not care whether the shaft gets on, and an
// instrument's noise is always there. The output smoothness of a sound
// potentiometer is 0.1 % of its supply, peak (Bourns, "Output Smoothness"); ten
// times that as a standard deviation is a ruined contact.
func (w *work) findRoughContact() {
	if slices.ContainsFunc(w.found, func(f Finding) bool { return f.has(readWellHere) }) {
		return // strewn in time, not in single readings
	}
	s, ok := w.scatter()
	least := 0.01 * w.ref
	if !ok || s.cells < 4 {
		return
	}
	all := w.roughAlong(&s)
	// Or quiet in between, with departures of twenty times what is allowed, or of
	// fifty where they go to both sides; not where the track is open from a place on, for
	// one in a hundred is soon one of its leaps.
	now := !w.openEnded() && !w.thrownBack() && w.spikesAlong(&s) && w.spikesElsewhere() && !w.covered(GearSlip, Up) && !w.covered(GearSlip, Down) && !w.covered(StickSlip, None) && !w.looseAtRest()
	if !all && !now {
		return
	}
	// A contact that lets go for longer than sparks last is no noise, and makes spikes as it
	// comes and goes.
	if !all && !s.oneSided() && w.longLosses() >= 2 {
		return
	}
	// A drive that pulses disturbs as long as it drives: only a stand tells.
	if w.d.pulsed && s.standing == 0 {
		return
	}
	f := Finding{Kind: NoisyTrack, Form: roughEverywhere, Tie: TieUnknown, TieP: 1, Event: roughEvent, Time: w.drivenTime(), Volts: w.span,
		Seen: s.rough, Passes: s.cells, Strength: math.Min(1, s.moving/(2*least)),
		Measures: []Measure{{MeasureScatterMoving, s.moving, w.unit()}, {MeasureScatterAtRest, s.resting, w.unit()},
			{MeasureOutputSmoothness, 100 * 3 * s.moving / w.ref, "% of reference"}}}
	if !all {
		f.Strength = math.Min(1, s.tail/(4*least))
	}
	if now {
		f.Measures = append(f.Measures, Measure{MeasureOneInHundredOff, s.tail, w.unit()})
		if !all && !s.oneSided() {
			f.Measures = append(f.Measures, Measure{offBothWays, 1, ""})
		}
	}
	// What a motor sends into the wires stays below a tenth of a volt or so
	// (common practice, no source).
	if !s.spikes() && s.middle < 0.025*w.ref {
		f.Measures = append(f.Measures, Measure{noFurtherOff, s.tail / s.middle, "deviations"})
	}
	if s.standing > 0 {
		f.Measures = append(f.Measures, Measure{"scatter while standing under drive", s.standing, w.unit()})
	}
	own := w.beyondNoise(&f, &s)
	w.overrule(f.Event, Dropouts, DeadSpot, NoisyTrack, EndLoss, Pauses, StickSlip, Jam, Hunting, GearSlip, SlowZone, SpanDrift, Heating, Play, WeakDrive, BentLine, AtRail)
	for i := range w.found {
		// Where it may be interference, what it looks like is no better known.
		if d := &w.found[i]; d.Event == f.Event && (f.has(offBothWays) || f.has(noFurtherOff)) {
			d.Strength *= 0.1
		}
		// A control that reads such noise switches where it peaks: the reading then
		// seems to step as the drive is switched.
		if d := &w.found[i]; d.Kind == DriveShift {
			if step, _ := d.Measure(MeasureStep); step < 3*s.moving {
				d.Event, d.Strength = f.Event, 0.1*d.Strength
			}
		}
	}
	w.found = append(w.found, f)
	w.found = append(w.found, own...)
}

// longLosses is the number of losses of signal that last, without a row that reads the track
// again, ten times as long as interference does, and three rows.
func (w *work) longLosses() (n int) {
	rows := max(3, w.rows(10*longestSpike))
	for i := range w.found {
		f := &w.found[i]
		if f.Kind != Dropouts || f.Strength <= 0.2 {
			continue
		}
		for _, p := range f.Places {
			a, b := max(0, indexAt(w.t, p.Time.From)-1), min(len(w.v)-1, indexAt(w.t, p.Time.To)+1)
			run, longest := 0, 0
			for k := a; k <= b; k++ {
				track := w.raw[a] + (w.raw[b]-w.raw[a])*float64(k-a)/float64(b-a)
				if run++; math.Abs(w.raw[k]-track) < leastLoss*w.ref {
					run = 0
				}
				longest = max(longest, run)
			}
			if longest > rows {
				n++
			}
		}
	}
	return n
}

// beyondNoise takes out of what was found the places at which a track is open, or rough,
// by plainly more than the even scatter all along it, and gives them back: neither what the
// motor sends into the wires knows a place, nor a contact that is bad everywhere, and noise
// that goes no further than noise does leaps over nothing.
func (w *work) beyondNoise(rough *Finding, s *scatterOf) []Finding {
	if !rough.has(noFurtherOff) {
		return nil
	}
	var own []Finding
	w.found = slices.DeleteFunc(w.found, func(f Finding) bool {
		leaps := f.Kind == DeadSpot && f.leapOf() > w.lim.NoiseSigmas*math.Max(s.moving, s.tail)
		rougher := f.Kind == NoisyTrack && f.value(MeasureRoughnessOverRest) > w.lim.NoiseSigmas
		placed := f.Tie == TiedToPosition && (leaps || rougher)
		if placed {
			own = append(own, f)
		}
		return placed
	})
	return own
}

// spikesAlong tells whether single readings go far off all along the way, and none where
// the shaft stands: by twenty times what is allowed, or by fifty where to both sides.
func (w *work) spikesAlong(s *scatterOf) bool {
	least := 0.01 * w.ref
	return s.spikes() && s.tail > 2.5*w.quantum && (s.oneSided() && s.tail > 2*least || s.tail > 5*least) &&
		s.tail > 4*s.quiet && s.far >= 10 && s.everywhere(s.oneSided() && s.alike() && w.roughens(s))
}

// spikesElsewhere tells whether they do so too where the passes over places that lose the
// wiper time and again are left out: in these the reading is soon off to either side, of
// the track and of what the open wire reads, and its level is that of no place.
func (w *work) spikesElsewhere() bool {
	var known []Interval
	for i := range w.found {
		if f := &w.found[i]; f.Kind == DeadSpot && f.Tie == TiedToPosition && f.Strength > 0.9 && f.Seen >= 3 {
			for _, o := range f.Places {
				known = append(known, o.Time)
			}
		}
	}
	if len(known) == 0 {
		return true
	}
	s := w.measureScatter(known)
	return s.shown && w.spikesAlong(&s)
}

// roughens tells whether the reading scatters more while the shaft moves than a converter
// and the noise at rest make it. A reading on the edge of a converter's step flickers by
// all of it, of which half is none of its own.
func (w *work) roughens(s *scatterOf) bool {
	own := math.Max(s.resting, s.standing) - w.quantum/2
	return s.moving > 1.5*w.quantum && s.moving >= 2.5*math.Max(own, w.noise)
}

// roughAlong tells whether it does so wherever the wiper is, by ten times what a sound
// potentiometer's smoothness allows.
func (w *work) roughAlong(s *scatterOf) bool {
	return s.moving >= 0.01*w.ref && w.roughens(s) && s.alike()
}

// scatter measures it; ok is false where the capture does not show the shaft
// both moving and not.
func (w *work) scatter() (s scatterOf, ok bool) {
	s = w.strays.of(func() scatterOf { return w.measureScatter(nil) })
	return s, s.shown
}

// measureScatter is scatter without what lies in some times.
func (w *work) measureScatter(without []Interval) (s scatterOf) {
	// A tenth of a second to either side, in sixty readings: a grain of the
	// track lasts for many rows of a fast instrument.
	every := max(1, w.rows(0.0033))
	half := max(2, min(30, w.rows(0.1/float64(every))))
	v := make([]float64, 0, len(w.raw)/every+1)
	for i := 0; i < len(w.raw); i += every {
		v = append(v, w.raw[i])
	}
	var win sortedWindow
	off := make([]float64, len(v))
	for i := range v {
		off[i] = v[i] - win.median(v, max(0, i-half), min(len(v), i+half+1))
	}
	pieces := w.pieces(v, off, every, without)
	var speeds []float64
	for _, p := range pieces {
		if p.driven {
			speeds = append(speeds, p.speed)
		}
	}
	if len(speeds) < 8 {
		return s
	}
	usual := quantileOf(speeds, 0.75)
	var moving, standing, resting, at, on, still []float64
	for _, p := range pieces {
		switch {
		case !p.driven:
			resting, still = append(resting, p.scatter), append(still, sizes(p.off)...)
		case p.speed > 0.4*usual:
			moving, at, on = append(moving, p.scatter), append(at, p.level), append(on, sizes(p.off)...)
		case p.speed < 0.15*usual:
			standing, still = append(standing, p.scatter), append(still, sizes(p.off)...)
		}
	}
	if len(moving) < 8 || len(resting) < 3 && len(standing) < 3 {
		return s
	}
	s.moving = medianOf(moving)
	if len(standing) >= 3 {
		s.standing = medianOf(standing)
		s.resting = s.standing
	}
	if len(resting) >= 3 {
		s.resting = medianOf(resting)
	}
	// Half a converter's step is no departure.
	s.middle = math.Max(medianIn(on)/0.6745, w.quantum/math.Sqrt(12))
	s.tail, s.quiet = quantileIn(on, 0.99), quantileIn(still, 0.99)
	s.shown = s.strew(pieces, 0.4*usual, at, moving, 0.01*w.ref) > 0.1*w.ref
	return s
}

// strew tells where on the way, cut into tenths, the reading scatters: of pieces faster
// than moves, in V/s, at and moving hold level and scatter. It returns the range of the
// levels, V. What is off by less than least, V, is not far off.
func (s *scatterOf) strew(pieces []piece, moves float64, at, moving []float64, least float64) float64 {
	lo, hi := slices.Min(at), slices.Max(at)
	var cell [10][]float64
	var far [10]int
	var sides sidesOf
	tenth := func(x float64) int { return max(0, min(9, int(10*(x-lo)/math.Max(hi-lo, 1e-9)))) }
	for i, x := range at {
		c := tenth(x)
		cell[c] = append(cell[c], moving[i])
	}
	for _, p := range pieces {
		for _, x := range p.off {
			if p.driven && p.speed > moves && math.Abs(x) > math.Max(least, 3.5*s.middle) {
				far[tenth(p.level)]++
				if math.Abs(x) > s.tail/2 {
					sides.add(tenth(p.level), x)
				}
			}
		}
	}
	for i, c := range cell {
		if len(c) == 0 {
			continue
		}
		s.cells++
		if medianOf(c) > 0.5*s.moving {
			s.rough++
		}
		if s.far += far[i]; far[i] > 0 {
			s.farCells++
		}
	}
	s.rarer, s.large = sides.rarer()
	slices.Sort(far[:])
	for _, n := range far[:7] {
		s.farElse += n
	}
	return hi - lo
}

// sidesOf counts departures by quarter of the travel: to lower readings and to higher.
type sidesOf [4][2]int

func (s *sidesOf) add(tenth int, off float64) {
	side := 0
	if off > 0 {
		side = 1
	}
	s[tenth*4/10][side]++
}

// rarer is how many go to the side to which fewer do in their quarter, and how many there
// are: a level in mid range is left upwards here and downwards there.
func (s *sidesOf) rarer() (few, all int) {
	for _, q := range s {
		few += min(q[0], q[1])
		all += q[0] + q[1]
	}
	return few, all
}

// piece is a short stretch of the capture under one polarity, or none.
type piece struct {
	driven                bool
	level, speed, scatter float64   // V, V/s, V
	off                   []float64 // V, of each reading, with its sign
}

// pieces cuts the capture, of which v holds every so many rows, into stretches
// of 0.3 s, of eight readings at the least, and gives the scatter of each from
// the given departures: their upper quartile is 1.15 standard deviations of
// Gaussian noise. After a change of the drive the shaft coasts or starts; that is
// left out, and so is what lies in some times.
func (w *work) pieces(v, off []float64, every int, without []Interval) []piece {
	rows := max(8, w.rows(0.3/float64(every)))
	pol := func(i int) int8 { return w.d.pol[i*every] }
	var out []piece
	last := math.Inf(-1) // level of the piece before under the same drive
	var lastAt float64
	for i := 0; i < len(v); {
		j := i
		for j < len(v) && j-i < rows && pol(j) == pol(i) {
			j++
		}
		if j-i < rows {
			last = math.Inf(-1)
			i = j
			continue
		}
		p := piece{driven: pol(i) != 0, level: medianOf(v[i:j]), scatter: quantileIn(sizes(off[i:j]), 0.75) / 1.15, off: off[i:j]}
		at := (w.t[i*every] + w.t[(j-1)*every]) / 2
		when := Interval{w.t[i*every], w.t[(j-1)*every]}
		if !math.IsInf(last, 0) && !slices.ContainsFunc(without, when.Overlaps) {
			p.speed = math.Abs(p.level-last) / math.Max(at-lastAt, 1e-9)
			out = append(out, p)
		}
		last, lastAt = p.level, at
		i = j
	}
	return out
}

// sizes are the values without their signs.
func sizes(x []float64) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = math.Abs(v)
	}
	return out
}
