package analyze

import (
	"fmt"
	"math"
	"slices"
)

// thrownAtEnd is the form of a track that fails over its last stretch before a stop, so
// that the reading is thrown back under way there.
const thrownAtEnd = "thrown back at the end"

// A throw is a fall of the reading against the drive that no shaft makes.
type throw struct {
	move, first, last int
	far               float64  // V
	at                Interval // V, where the shaft was, by the motion that was seen
}

// findThrownAtEnd looks for a track that is worn through, or open, over the last stretch
// before one stop: a wiper that loses it there reads what its open wire pulls to, and the
// input's capacitor makes a slope of each leap. A driven shaft that is thrown back is
// thrown by a load, and faster than it is driven by teeth that let go under one; no load
// throws it against the drive both as it goes in and as it comes out. So it is the
// reading. A contact in the cable knows no place: that all n moments in which it lets go
// fall into one end of the travel or the other has the chance 2 s^n, s being the share of
// the way that lies in the stretch. One that is bad for a while, and good before and after,
// has two such moments as well, the first and the last.
func (w *work) findThrownAtEnd() {
	if w.covered(DriveShift, None) || w.openEnded() || !(w.span.Width() > 0) {
		return
	}
	all := w.throws()
	for _, d := range []Direction{Down, Up} {
		if f, ok := w.thrownAt(d, all); ok && !w.toldAt(f.Volts) {
			w.tieThrown(&f)
			w.found = append(w.found, f)
			return
		}
	}
}

// toldAt tells whether a place of the track that reaches into a stretch is told for sure by
// itself: a spot near an end throws the reading as well.
func (w *work) toldAt(v Interval) bool {
	return slices.ContainsFunc(w.found, func(f Finding) bool {
		return f.Kind == DeadSpot && f.Form != lostAtStop && f.Tie == TiedToPosition && f.Strength > 0.5 && f.Volts.Overlaps(v)
	})
}

// throws lists the falls against the drive by more than springs and noise make, faster
// than twice the motor's pace. A reversed motor that coasts on is slower.
func (w *work) throws() (out []throw) {
	const within = 0.1                  // s, for an input's capacitor to run down (chosen, not derived)
	half := max(1, w.rows(lastingLoss)) // on either side: sparks are over sooner
	n := midRows(2*half + 1)
	noise, quantum, _ := resolved(w.lim, math.Max(w.moving(), w.pressedNoise())/math.Sqrt(n), w.quantum, n, w.ref)
	least := springBack*w.span.Width() + math.Sqrt2*w.lim.NoiseSigmas*noise + quantum
	stride := max(1, w.rows(within)/20)
	most := max(1, w.rows(within)/stride)
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction == None {
			continue
		}
		dir, pace := float64(m.Direction), w.lim.Fast*w.rate[side(m.Direction)]
		var calm []float64 // in the direction of the drive, every stride bins
		for i := m.first; i < m.last; i += stride {
			calm = append(calm, dir*midMean(w.v[max(0, i-half):min(len(w.v), i+half+1)]))
		}
		bin := func(c int) int { return m.first + c*stride }
		for c := 1; c < len(calm); c++ {
			top := c
			for i := c - 1; i >= max(0, c-most); i-- {
				if calm[i] > calm[top] {
					top = i
				}
			}
			if far := calm[top] - calm[c]; far < least || far < pace*(w.t[bin(c)]-w.t[bin(top)]+w.tr.Step) {
				continue
			}
			end := c // it ends where it falls no further
			for end+1 < min(len(calm), c+most) && calm[end+1] < calm[end] {
				end++
			}
			x := throw{move: k, first: bin(top), last: bin(end), far: calm[top] - calm[end]}
			c = end
			if w.pulsedIn(x.first, x.last) || w.rocks(x.first, x.last+1) || w.atClip(w.v[x.first]) || w.rowsMissing(w.t[x.first], w.t[x.last]) {
				continue
			}
			x.at = w.shaftAt(m, x.first, x.last)
			out = append(out, x)
		}
	}
	return out
}

// midMean is the mean of the middle half of some readings: what less than a quarter of
// them do is left out, and the noise tells of what lies between two steps of a converter.
func midMean(x []float64) float64 {
	var buf [256]float64
	b := buf[:copy(buf[:], x)]
	slices.Sort(b)
	cut := (len(b) + 1) / 4
	sum := 0.0
	for _, v := range b[cut : len(b)-cut] {
		sum += v
	}
	return sum / float64(len(b)-2*cut)
}

// midRows is how many readings' mean has the noise of a midMean of n: it costs a sixth of
// them, by its asymptotic efficiency for a normal distribution (0.84).
func midRows(n int) float64 { return math.Max(1, 0.84*float64(n)) }

// shaftAt is where the shaft was from one bin of a move to another, by the line that was
// seen before them or else after them and the usual pace, V, as far as there is travel.
func (w *work) shaftAt(m *Move, first, last int) Interval {
	level, when := math.NaN(), 0.0
	for _, g := range m.segs {
		if g.state != track || g.last-g.first < min(3, w.window) {
			continue
		}
		if g.first <= first {
			b := min(g.last-1, first)
			level, when = w.smooth[b], w.t[b]
		} else if math.IsNaN(level) {
			level, when = w.smooth[g.first], w.t[g.first]
		}
	}
	ends := w.trackedEnds()
	on := func(i int) float64 {
		v := level + float64(m.Direction)*w.rate[side(m.Direction)]*(w.t[i]-when)
		return math.Max(ends.From, math.Min(ends.To, v))
	}
	return Interval{math.Min(on(first), on(last)), math.Max(on(first), on(last))}
}

// thrownAt is what throws tell of the track before the stop that lies at d.
func (w *work) thrownAt(d Direction, all []throw) (f Finding, ok bool) {
	ends := w.trackedEnds()
	stop := [2]float64{ends.From, ends.To}[side(d)]
	depth := func(v float64) float64 { return math.Abs(v - stop) }
	// As far as an edge of the track may be spread, see findLeapsOff.
	most := math.Max(0.15*w.span.Width(), 3*w.resolution())
	deep, far, last := 0.0, 0.0, math.Inf(-1)
	moments := 0
	var seen [2]int
	hit := map[int]bool{}
	f = Finding{Kind: DeadSpot, Form: thrownAtEnd, Direction: d, Tie: TiedToPosition, Event: "end of the track", Time: noInterval()}
	for _, s := range all {
		in := math.Max(depth(s.at.From), depth(s.at.To))
		if !(in <= most) {
			return f, false // it knows no place, or another one
		}
		deep, far = math.Max(deep, in), math.Max(far, s.far)
		if lapse(w.t[s.first], last) > lossesApart {
			moments++
		}
		last = w.t[s.last]
		if !hit[s.move] {
			seen[side(w.moves[s.move].Direction)]++
		}
		hit[s.move] = true
		f.Time = f.Time.widen(w.t[s.first]).widen(w.t[s.last])
		f.Places = append(f.Places, Occurrence{Interval{w.t[s.first], w.t[s.last]}, s.at, w.moves[s.move].Direction})
	}
	if min(seen[0], seen[1]) == 0 {
		return f, false
	}
	deep = math.Max(deep, w.resolution())
	edge := stop - float64(d)*deep
	passes, share := w.passesAtEnd(d, edge, deep, hit)
	f.Seen, f.Passes = seen[0]+seen[1], passes[0]+passes[1]
	f.TieP = math.Min(1, 2*math.Pow(share, float64(moments)))
	if moments < 2 || 2*f.Seen < f.Passes || f.TieP > w.lim.Significance {
		return f, false
	}
	f.Volts = Interval{math.Min(stop, edge), math.Max(stop, edge)}
	f.Strength = 1 - math.Exp(-0.7*float64(f.Seen))
	f.Measures = []Measure{{MeasureEdge, edge, w.unit()}, {MeasureDeparture, far, w.unit()}, {MeasureLeaps, float64(len(all)), ""},
		{MeasureSeenUp, float64(seen[1]), ""}, {MeasurePassesUp, float64(passes[1]), ""},
		{MeasureSeenDown, float64(seen[0]), ""}, {MeasurePassesDown, float64(passes[0]), ""}}
	return f, true
}

// trackedEnds are the ends of what the shaft was followed to, or of the travel, V: where
// the track fails at a stop, the reading there need be neither.
func (w *work) trackedEnds() Interval {
	ends := w.span
	for k := range w.moves {
		for _, g := range w.moves[k].segs {
			if g.state == track && g.last-g.first >= w.window {
				ends = ends.widen(w.smooth[g.first]).widen(w.smooth[g.last-1])
			}
		}
	}
	return ends
}

// passesAtEnd counts the moves past an edge, V, into the last stretch before a stop, of a
// width in V, and out of it, and gives the share of all the way driven that lies in it.
// Moves in known have been seen there.
func (w *work) passesAtEnd(d Direction, edge, width float64, known map[int]bool) (passes [2]int, share float64) {
	beyond := func(v float64) bool { return float64(d)*(v-edge) > 0 }
	all := 0.0
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction == None {
			continue
		}
		all += math.Abs(m.End - m.Start)
		if known[k] || beyond(m.Start) != beyond(m.End) {
			passes[side(m.Direction)]++
		}
	}
	return passes, math.Min(1, float64(passes[0]+passes[1])*width/math.Max(all, 1e-9))
}

// tieThrown ties to a track thrown back at its end what its losses make of other findings.
func (w *work) tieThrown(f *Finding) {
	near := Interval{f.Volts.From - w.resolution(), f.Volts.To + w.resolution()}
	for i := range w.found {
		g := &w.found[i]
		if slices.Contains([]Kind{GearSlip, Jam, SlowZone, StickSlip, EndLoss, NoisyTrack, DeadSpot}, g.Kind) && near.Overlaps(g.Volts) {
			g.Event, g.Strength = f.Event, 0.3*g.Strength
		}
	}
}

// titleThrownAtEnd says what a track thrown back at its end shows.
func (f *Finding) titleThrownAtEnd(t told) string {
	return fmt.Sprintf("Track bad at its %s end, beyond %s: under a steady drive the reading is thrown back there by up to %s, going in and coming out, in %d of %d passes, and nowhere else.",
		[2]string{"low", "high"}[side(f.Direction)], amount(f.value(MeasureEdge), t.unit), amount(f.value(MeasureDeparture), t.unit), f.Seen, f.Passes)
}

// thrownBack tells whether a track was found that throws the reading back at its end.
func (w *work) thrownBack() bool {
	return slices.ContainsFunc(w.found, func(f Finding) bool { return f.Form == thrownAtEnd && f.Strength > 0.5 })
}
