package analyze

import (
	"fmt"
	"math"
)

// Observation is something about the capture itself, and not about the
// actuator, that hides a part of what was asked. It weighs for no fault.
type Observation struct {
	Form     string    `json:"form"`  // e.g. "slow for the travel", "folded hum"
	Text     string    `json:"text"`  // one plain sentence, what was seen
	Hides    string    `json:"hides"` // what it hides
	Measures []Measure `json:"measures,omitempty"`
}

// findSampling looks for what the instrument hides: too few rows for the
// motion, swings folded down by them, pulses faster than them, and channels
// that end too early.
func (w *work) findSampling() {
	if !(w.tr.Step > 0) {
		return
	}
	w.rowsPerTravel()
	w.rowsPerCycle()
	w.foldedHum()
	w.fastPulses()
	w.flatTops()
}

// observe notes an observation and what it hides from the findings of a kind.
func (w *work) observe(k Kind, o Observation) {
	w.sampling = append(w.sampling, o)
	w.notes = append(w.notes, o.Text)
	w.blind = append(w.blind, Absence{k, o.Hides})
}

// rowsPerTravel asks for fifty rows in a travel: then one row is 2 % of it,
// as wide as the spots that make a control hunt (common practice, no source).
func (w *work) rowsPerTravel() {
	r := math.Max(w.rate[0], w.rate[1])
	if r <= 0 || w.span.Width() <= 0 {
		return
	}
	rows := w.span.Width() / (r * w.tr.Step)
	if rows >= rowsATravel {
		return
	}
	// coverage says what the rows hide of the track.
	text := fmt.Sprintf("%s for one travel, where %d are the least that show a worn place", counted(int(math.Round(rows)), "row"), rowsATravel)
	w.sampling = append(w.sampling, Observation{Form: "slow for the travel", Text: text, Measures: []Measure{{"rows per travel", rows, ""}},
		Hides: fmt.Sprintf("anything shorter than one row, %s of the travel", amount(r*w.tr.Step, w.unit()))})
	w.notes = append(w.notes, text)
}

// rowsPerCycle holds the rows against the hunting. A triangle or a sine of n
// rows a cycle shows its swing too small by up to 1 - cos(pi/n), 5 % at ten;
// and a control that reverses faster than twice in four rows seems to reverse
// more slowly (Nyquist, with a row to spare on either side of each reversal).
func (w *work) rowsPerCycle() {
	const enough, least = cycleShown, cycleSeen
	seen := false
	for i := range w.found {
		f := &w.found[i]
		hz, ok := f.Measure(MeasureFrequency)
		if f.Kind != Hunting || !ok || hz <= 0 {
			continue
		}
		seen = true
		rows := 1 / (hz * w.tr.Step)
		if rows >= enough {
			continue
		}
		o := Observation{Form: "slow for the hunting", Measures: []Measure{{"rows per cycle", rows, ""}, {"rows per reversal", rows / 2, ""}},
			Text:  fmt.Sprintf("%.1f rows for one cycle of the hunting (%.2g Hz)", rows, hz),
			Hides: fmt.Sprintf("the true swing of the hunting: with %.1f rows a cycle it may be larger by up to %.0f %%", rows, 100*(1/math.Cos(math.Pi/math.Max(rows, 3))-1))}
		if rows < least {
			o.Hides = fmt.Sprintf("the true frequency of the hunting: with %.1f rows a cycle a faster one looks the same; log %.0f rows a second or more", rows, math.Ceil(enough*hz/10)*10*2)
		}
		w.observe(Hunting, o)
		return
	}
	// Door actuators hunt at 0.3 to 5 Hz (common practice, no source).
	if fastest := 1 / (least * w.tr.Step); !seen && fastest < 0.999*5 && len(w.moves) > 0 {
		w.observe(Hunting, Observation{Form: "slow for hunting", Measures: []Measure{{"fastest hunting seen", fastest, "Hz"}},
			Text:  fmt.Sprintf("one row every %.0f ms follows reversals up to %.2g Hz", 1000*w.tr.Step, fastest),
			Hides: fmt.Sprintf("hunting faster than %.2g Hz: log %.0f rows a second or more", fastest, math.Ceil(5*least/10)*10)})
	}
}

// foldedHum looks for a line in the reading at rest that stands where mains of
// 50 or 60 Hz, or twice that, would fold to at this sampling rate. The rows
// must be evenly spaced and not averaged.
func (w *work) foldedHum() {
	r := w.detrendedRest()
	for _, mains := range mainsLines() {
		if r == nil || mains < r.fs/2 {
			continue // seen as what it is
		}
		at, swing, ok := r.hum(mains)
		// An eight-bit converter, such as controllers have, does not see less.
		if !ok || swing < w.span.Width()/256 {
			continue
		}
		w.observe(NoisyTrack, Observation{Form: "folded hum", Measures: []Measure{{"line", at, "Hz"}, {"would be", mains, "Hz"}, {"swing", swing, w.unit()}},
			Text:  fmt.Sprintf("at rest the reading swings by %s at %.2g Hz, which is where hum of %.0f Hz shows when logged %.3g times a second", amount(swing, w.unit()), at, mains, r.fs),
			Hides: fmt.Sprintf("roughness of the track below the folded hum of %s: shield the sensor lead, or log 250 rows a second or more", amount(swing, w.unit()))})
		return
	}
}

// longestRest is the longest run of bins without drive, the first half second,
// in which the shaft coasts, left out.
func (w *work) longestRest() (from, to int) {
	for i := 0; i < len(w.d.pol); {
		j := i
		for j < len(w.d.pol) && w.d.pol[j] == 0 {
			j++
		}
		a := i
		if i > 0 {
			a += w.rows(restForPower)
		}
		if j-a > to-from {
			from, to = a, j
		}
		i = j + 1
	}
	return from, to
}

// fastPulses tells whether the drive switches on and off from row to row: then
// its pulses come about as fast as half the rate of the rows, or faster.
func (w *work) fastPulses() {
	if w.tr.DriveIsPolarity || w.tr.RowsPerBin > 1 || w.d.amp <= 0 {
		return
	}
	// Runs of rows with the drive on and off, inside moves.
	var runs [2][]float64
	for k := range w.moves {
		m := &w.moves[k]
		prev, run := -1, 0
		for i := m.first; i < m.last; i++ {
			on := 0
			if math.Abs(float64(w.tr.Drive.Mean[i])-w.d.levels.Rest) > 0.5*w.d.amp {
				on = 1
			}
			if on != prev && prev >= 0 {
				runs[prev] = append(runs[prev], float64(run))
				run = 0
			}
			prev = on
			run++
		}
	}
	// Where mostly a single row lies between two switchings, the pulses may be
	// shorter than that and many more.
	if n := min(len(runs[0]), len(runs[1])); n < 20 || math.Min(medianOf(runs[0]), medianOf(runs[1])) > 1 {
		return
	}
	w.observe(SupplySag, Observation{Form: "pulses faster than the rows", Measures: []Measure{{"pulses seen", float64(len(runs[1])), ""}},
		Text:  fmt.Sprintf("the drive switches on and off from one row to the next (one every %.3g ms): too few rows for its pulses, so their frequency is not told and their mean only roughly", 1000*w.tr.Step),
		Hides: fmt.Sprintf("short losses of drive, and the motor's volts within one pulse: one row every %.3g ms does not follow the pulses", 1000*w.tr.Step)})
}

// clipLevel is a value at which the feedback's channel ends.
type clipLevel struct {
	at   float64 // V
	rows int     // that stand there
	name string  // highest or lowest
}

// findClipLevels lists the upper and lower limit of the reading where it stands
// at exactly one value, although elsewhere its noise spreads over several: then
// the channel ends there. The stops and the rails of an actuator do not silence
// the noise.
func (w *work) findClipLevels() {
	q := w.tr.Feedback.Stats.Quantum
	lo, hi := float32(math.Inf(1)), float32(math.Inf(-1))
	for _, x := range w.tr.Feedback.Mean {
		lo, hi = min(lo, x), max(hi, x)
	}
	if w.tr.RowsPerBin == 1 && w.lastCode(float64(hi), q) {
		w.clips = append(w.clips, clipLevel{float64(hi), int(w.tr.Feedback.Stats.AtMax), "highest"})
		return
	}
	if w.tr.RowsPerBin > 1 || !(w.noise > 0.6*q) || w.noise <= 2e-6*w.ref {
		return
	}
	if !(float64(hi-lo) > 20*w.noise) {
		return
	}
	near := 3 * w.noise
	for _, end := range []struct {
		at   float32
		name string
	}{{hi, "highest"}, {lo, "lowest"}} {
		// At 0 and at the supply is where an open wire lies: a converter that ends
		// there hides nothing of a wiper.
		if at := float64(end.at); at < bareRail*w.ref || math.Abs(at-w.ref) < bareRail*w.ref {
			continue
		}
		n, flat := 0, 0
		for _, x := range w.tr.Feedback.Mean {
			if math.Abs(float64(x-end.at)) < near {
				n++
				if x == end.at {
					flat++
				}
			}
		}
		// Twenty rows of noise on one value of three or more have the chance
		// 3^-19.
		if n >= 20 && flat >= 20 && 10*flat >= 9*n {
			w.clips = append(w.clips, clipLevel{float64(end.at), flat, end.name})
		}
	}
}

// lastCode tells whether a value is the last code of a converter of 7 to 16 bits
// that is read in volts, below the sensor's supply, and is read again and again.
func (w *work) lastCode(v, q float64) bool {
	if w.tr.Feedback.Unit != "V" || !(q > 0) || v > 0.98*w.ref || w.tr.Feedback.Stats.AtMax < 20 {
		return false
	}
	if q < 1e-3*w.ref {
		return false // printed digits hide how many steps it is
	}
	for bits := 7; bits <= 16; bits++ {
		if code, full := v/q, math.Exp2(float64(bits)); code > full-1.6 && code < full+0.6 {
			return true
		}
	}
	return false
}

// atClip tells whether a level is one at which the channel ends: a stand there
// is the channel's.
func (w *work) atClip(level float64) bool {
	for _, c := range w.clips {
		if math.Abs(level-c.at) < 3*w.noise+w.quantum/4 {
			return true
		}
	}
	return false
}

// flatTops says where the channel ends.
func (w *work) flatTops() {
	for _, c := range w.clips {
		w.observe(EndLoss, Observation{Form: "clipped feedback", Measures: []Measure{{MeasureLevel, c.at, w.unit()}, {"rows there", float64(c.rows), ""}},
			Text:  fmt.Sprintf("the feedback stands at exactly %s for %d rows, its %s value, without the noise it has elsewhere: the channel ends there", amount(c.at, w.unit()), c.rows, c.name),
			Hides: fmt.Sprintf("what the sensor does beyond %s, where the feedback's channel ends: a stop there may be the instrument's; use a wider range", amount(c.at, w.unit()))})
	}
}
