package analyze

import "math"

// A speed that swings at even distances, with each turn of a gear or each slip
// of a sticking door, is a line in the spectrum of the reading of a running
// shaft, also where noise blurs the time spent at each place. Hum and folded
// pulses stand in the reading at rest and at stops too; the grain of a track
// and wander make no line; what brushes make in the reading comes at a distance
// of its own in each direction, as the speeds differ.
const (
	// surgeTurns is the fewest swings in a window: with fewer there is nothing
	// below the line to compare with.
	surgeTurns = 6

	// surgeMost is the most: the speed of a shaft that rests and springs on by
	// turns swings by once its mean, and more only in the reading.
	surgeMost = 1.2
)

// surge is the line of a running shaft in one direction.
type surge struct {
	period float64 // V
	blur   float64 // 1/V, a bin of the spectrum
	swing  float64 // of the speed, over the usual
	p      float64 // chance of such a line, over all that were tried
	passes int
}

// travels lists the moves of one direction from where they have got up to
// speed to where they last followed the drive, without the pieces of track that
// were found faulty: what the reading does there says nothing about the speed.
// It also counts the moves.
func (w *work) travels(dir Direction) (out []stretch, moves int) {
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction != dir {
			continue
		}
		a, b := m.last, m.first
		for _, g := range m.segs {
			if g.state == track {
				a, b = min(a, g.first), max(b, min(g.last, len(w.v)))
			}
		}
		for a < b && lapse(w.t[a], w.t[m.first]) < w.lim.StallSeconds {
			a++
		}
		if a < b {
			moves++
		}
		for a < b {
			c := a
			for c < b && !w.onTrackFault(w.v[c]) {
				c++
			}
			if c > a {
				out = append(out, stretch{a, c})
			}
			for a = c; a < b && w.onTrackFault(w.v[a]); {
				a++
			}
		}
	}
	return out, moves
}

// speedOver is the mean speed over stretches, in V/s; NaN for none.
func (w *work) speedOver(in []stretch) float64 {
	way, took := 0.0, 0.0
	for _, g := range in {
		way += math.Abs(w.smooth[g.last-1] - w.smooth[g.first])
		took += w.t[g.last-1] - w.t[g.first]
	}
	return way / took
}

// shoulders is the usual power beside a line, on the side where it is more.
func (s *spectrum) shoulders(k int) float64 {
	side := func(from, to int) float64 {
		if to > len(s.power) || to-from < 2 {
			return math.Inf(1)
		}
		return medianOf(s.power[from:to])
	}
	return math.Max(side(max(2, k/2), k-1), side(k+2, 2*k-1))
}

// line is the power of a line that lies at bin k or beside it, as it would be
// in one bin: under this taper the bins at both sides hold half as much
// together, or a line between two bins as much in all.
func (s *spectrum) line(k int) float64 { return s.lineOver(k, s.shoulders(k)) }

// lineOver is line over known shoulders.
func (s *spectrum) lineOver(k int, shoulders float64) float64 {
	return math.Max(0, s.power[k-1]+s.power[k]+s.power[k+1]-3*shoulders) / 1.5
}

// surgeOf looks for the surest line of one direction, nil where there is none.
func (w *work) surgeOf(dir Direction) *surge {
	runs, passes := w.travels(dir)
	r := w.speedOver(runs)
	if !(r > 0) {
		return nil
	}
	chopped := w.chops(runs)
	rest, stands := w.resting(), append(w.pressed(Down), w.pressed(Up)...)
	// Rows and converter steps make waves of their own, see leastPeriod.
	finest := 8 * math.Max(w.quantum, r*w.tr.Step)
	var best *surge
	for _, seconds := range append(sawSeconds(), 8) {
		n := w.rows(seconds) / 4 * 4
		if n < 8*surgeTurns {
			continue
		}
		s := w.spectrumOf(runs, w.v, n, float64(dir))
		if s.windows < sawWindows {
			continue
		}
		var quiet []*spectrum // made when a line asks for them
		for k := surgeTurns; k < n/8; k++ {
			if s.power[k] < s.power[k-1] || s.power[k] < s.power[k+1] {
				continue
			}
			f := float64(k) / (float64(n) * w.tr.Step)
			x := surge{period: r / f, blur: 1 / (seconds * r), passes: passes}
			if x.period < finest {
				break // and so are all that follow
			}
			shoulders := s.shoulders(k)
			x.swing = 2 * math.Pi * f / r * 4 / float64(n) * math.Sqrt(s.lineOver(k, shoulders))
			if x.swing < (1-soundSwing)/2 || x.swing > surgeMost {
				continue
			}
			x.p = math.Min(1, s.chanceOver(k, shoulders)*float64(n)/8*float64(2*(len(sawSeconds())+1)))
			if x.p > sawChance || best != nil && x.p >= best.p {
				continue
			}
			// Pulses that the mechanics can follow swing the speed, and that is their doing: a
			// motor on a load takes at most about twice their share (common practice, no source).
			if chopped && w.driveSwing(runs, n, k) > x.swing/2 {
				continue
			}
			if quiet == nil {
				quiet = []*spectrum{w.longest(rest, n), w.longest(stands, n)}
			}
			atRest, atStands := s.lacking(quiet[0], k), s.lacking(quiet[1], k)
			if atRest == no || atStands == no || atRest != yes && atStands != yes && w.maybeHum(f, 1/seconds) || w.d.pulsed && atStands != yes {
				continue
			}
			best = &x
		}
	}
	return best
}

// chops tells whether the drive changes over stretches of a running shaft: by a fifth of
// the usual in a tenth of their rows or more, as pulses and not as edges do.
func (w *work) chops(in []stretch) bool {
	if w.tr.DriveIsPolarity || !(w.d.amp > 0) {
		return false
	}
	rows, off := 0, 0
	for _, g := range in {
		for _, v := range w.d.mean[g.first:g.last] {
			rows++
			if math.Abs(v) < 0.8*w.d.amp {
				off++
			}
		}
	}
	return 10*off > rows
}

// driveSwing is how much of its mean a drive swings by, either way, at bin k of a
// spectrum over n bins.
func (w *work) driveSwing(in []stretch, n, k int) float64 {
	volts := make([]float64, len(w.d.mean))
	for i, v := range w.d.mean {
		volts[i] = math.Abs(v)
	}
	s := w.spectrumOf(in, volts, n, 1)
	sum, rows := 0.0, 0
	for _, g := range in {
		for _, v := range volts[g.first:g.last] {
			sum += v
			rows++
		}
	}
	if s.windows == 0 || sum == 0 {
		return 0
	}
	return 4 / float64(n) * math.Sqrt(s.line(k)) / (sum / float64(rows))
}

// longest is the spectrum of stretches by windows as long as they allow, n bins
// or a half, a quarter or an eighth of it; one without windows where they allow
// none.
func (w *work) longest(in []stretch, n int) *spectrum {
	var s *spectrum
	for part := n; part >= n/8 && part >= 16; part /= 2 {
		part = part / 4 * 4
		if s = w.spectrumOf(in, w.v, part, 1); s.windows >= 2 {
			return s
		}
	}
	return &spectrum{n: n}
}

// answer is that of a question which the capture may leave open.
type answer int

const (
	unknown answer = iota
	yes
	no
)

// lacking tells whether another spectrum lacks the line. A line's power goes
// with the square of the window, noise with the window: short windows that show
// as much, and no line, do not say which of them it is.
func (s *spectrum) lacking(other *spectrum, k int) answer {
	at := k * other.n / s.n
	if other.windows < 2 || at < 2 {
		return unknown
	}
	ratio := float64(s.n) / float64(other.n)
	switch {
	case s.line(k) >= sawRatio*other.usual(at)*ratio*ratio:
		return yes
	case other.n < s.n && !(other.usual(at) >= sawRatio*other.shoulders(at)):
		return unknown
	}
	return no
}

// maybeHum tells whether a frequency, known to the given width, is that of mains
// or of its harmonics, folded by the rows or not.
func (w *work) maybeHum(f, width float64) bool {
	for _, mains := range []float64{50, 60, 100, 120, 150, 180} {
		for _, step := range []float64{w.tr.RowStep, w.tr.Step} {
			fs := 1 / math.Max(step, 1e-9)
			if math.Abs(f-foldedTo(mains, fs)) < width+mainsWithin*mains {
				return true
			}
		}
	}
	return false
}

// findSurge reports such a swing that goes both ways at the same distance. At
// places that stand still it is a gear's, at places that wander a sticking
// door's, or that of gears that stick; see findGearTurn.
func (w *work) findSurge() {
	if w.covered(StickSlip, None) || w.covered(GearTurn, None) || w.covered(GearSlip, None) || w.looseAtRest() || !(w.span.Width() > 0) {
		return
	}
	down, up := w.surgeOf(Down), w.surgeOf(Up)
	// Each is known to half a bin.
	if down == nil || up == nil || math.Abs(1/down.period-1/up.period) > math.Max(down.blur, up.blur) {
		return
	}
	// At a sound gear's swing it is none; twice that is no longer one.
	swing, period := (down.swing+up.swing)/2, (down.period+up.period)/2
	strength := math.Min(1, (swing-(1-soundSwing))/(1-soundSwing))
	// What belongs to the places of the track may be its grain. A swing all along the way, and no
	// stands, is told from that by one pass each way as well: what sticks at even distances
	// seldom begins in step both times.
	if alike, pairs := w.unevenAlike(); strength <= 0 || pairs >= 1 && alike > 0.5 {
		return
	}
	f := Finding{Kind: StickSlip, Form: "at even distances", Volts: w.span, Time: w.drivenTime(), Tie: TieUnknown, TieP: 1, Event: "stick",
		Seen: down.passes + up.passes, Passes: down.passes + up.passes, Strength: strength}
	f.Measures = []Measure{{MeasureSpacing, period, w.unit()}, {MeasureSpacingOfSpan, 100 * period / w.span.Width(), "%"}, {swingOfSpeed, 100 * swing, "%"}}
	if w.standsStill(period) {
		f.Kind, f.Form, f.Event = GearTurn, "", "turn"
		f.Measures = append(f.Measures, Measure{MeasurePlaces, w.span.Width() / period, ""}, Measure{slowestOverUsual, 1 - swing, ""})
	}
	w.found = append(w.found, f)
}

// standsStill tells whether a swing of so many V comes at the same places in
// pass after pass, as near as findGearTurn asks of a gear. Of few passes that
// wander most may agree by chance, hardly all: four in five lie within twice
// that.
func (w *work) standsStill(period float64) bool {
	p := w.dwells()
	if p == nil || period < p.leastPeriod*p.cell {
		return false
	}
	t := fitTurn([2]turnData{p.turnData(0), p.turnData(1)}, period/p.cell)
	near, off := halfTooth+0.14*w.dwellFinest()/period, t.offsets(p)
	return t.p < w.lim.Significance && len(off) > 0 && medianOf(off) <= near && quantileOf(off, 0.8) <= 2*near
}

// swingOfSpeed is the name of a measure.
const swingOfSpeed = "swing of the speed"
