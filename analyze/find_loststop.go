package analyze

import (
	"fmt"
	"math"
)

// lostAtStop is the form of a contact that fails where the wiper comes to rest against
// one stop.
const lostAtStop = "lost at the stop"

// lastingLoss is how long, in s, the reading must be away from a stop: the brushes'
// sparks, filtered by an input, are over sooner (chosen, not derived).
const lastingLoss = 0.01

// A lossAtStop is a departure of the reading from a stop's level that came back to it
// faster than the drive can bring a shaft back.
type lossAtStop struct {
	move, first, last int
	far               float64 // V, signed
}

// findLostAtStops looks for a track that fails where it ends: the shaft has come to
// its stop, the reading leaves the stop's level, and comes back to it by a leap. No
// shaft does that: out beyond the stop it cannot go, and the way back in takes the
// motor its time. Once it may be any bad contact, and at both stops the blow against
// them may shake one; twice or more at one stop and nowhere else it is the track's
// place.
func (w *work) findLostAtStops() {
	far := springBack*w.span.Width() + 2*w.tol
	stands := w.endStands(far / 3)
	var at [2][]lossAtStop
	var took [2]float64
	for _, s := range stands {
		at[s.side] = append(at[s.side], w.lossesIn(s, far)...)
		took[s.side] += lapse(w.t[s.last-1], w.t[s.first])
	}
	for sd := range at {
		arrivals := map[int]bool{}
		for _, l := range at[sd] {
			arrivals[l.move] = true
		}
		if len(arrivals) < 2 || len(at[1-sd]) > 0 || w.trackFaultAt(sd, stands) || w.strayElsewhere(stands, sd, far) {
			continue
		}
		// Losses at any time fall into the stands at one stop as often as these last.
		p := math.Pow(took[sd]/lapse(w.t[len(w.t)-1], w.t[0]), float64(len(at[sd])))
		if p > 0.01 {
			continue
		}
		w.reportLostAtStop(sd, at[sd], len(arrivals), stands, p)
	}
}

// trackFaultAt tells whether the track is known to fail at the levels of one stop.
func (w *work) trackFaultAt(sd int, stands []endStand) bool {
	for _, s := range stands {
		if s.side == sd && w.onTrackFault(s.level) {
			return true
		}
	}
	return false
}

// An endStand is where the shaft rests against a stop, from when the reading first is
// at the stop's level to the next drive.
type endStand struct {
	move, side, first, last int
	level                   float64
}

// endStands lists the stands at both ends of the travel, from where the reading first
// is so near the stop's level, in V, on.
func (w *work) endStands(reached float64) (out []endStand) {
	near := math.Max(w.lim.EndZone*w.span.Width(), 2*w.resolution())
	for _, s := range w.stallsOf() {
		m := &w.moves[s.move]
		sd := side(m.Direction)
		if !s.arrived || math.Abs(s.level-[2]float64{w.span.From, w.span.To}[sd]) > near {
			continue
		}
		e := endStand{move: s.move, side: sd, level: s.level, last: len(w.t)}
		if s.move+1 < len(w.moves) {
			e.last = w.moves[s.move+1].first
		}
		for e.first = m.first; e.first < e.last && math.Abs(w.v[e.first]-s.level) > reached; e.first++ {
		}
		if e.last-e.first > 2 {
			out = append(out, e)
		}
	}
	return out
}

// lossesIn lists the losses of one stand.
func (w *work) lossesIn(s endStand, far float64) (out []lossAtStop) {
	fastest := w.lim.Fast * math.Max(w.rate[0], w.rate[1])
	back := s.first // where the reading is at the stop's level again
	for i := s.first; i < s.last; i++ {
		if math.Abs(w.v[i]-s.level) <= far {
			continue
		}
		l := lossAtStop{move: s.move, first: i}
		top := i
		for ; i < s.last && math.Abs(w.v[i]-s.level) > far; i++ {
			if math.Abs(w.v[i]-s.level) >= math.Abs(w.v[top]-s.level) {
				top = i
			}
		}
		l.last, l.far = i, w.v[top]-s.level
		for back = max(back, i); back < s.last && math.Abs(w.v[back]-s.level) > 2*w.tol; back++ {
		}
		if back == s.last {
			break // it did not come back before the next drive
		}
		if lapse(endOf(w.t, l.last, w.tr.Step), w.t[l.first]) < lastingLoss {
			continue // a spark of the brushes
		}
		if math.Abs(l.far) > fastest*(w.t[back]-w.t[top]+w.tr.Step) {
			out = append(out, l)
		}
	}
	return out
}

// strayElsewhere tells whether a reading off the stands of one side strays as far from
// those about it.
func (w *work) strayElsewhere(stands []endStand, sd int, far float64) bool {
	k := 0
	for i := 3; i+3 < len(w.v); i++ {
		for k < len(stands) && (stands[k].last <= i || stands[k].side != sd) {
			k++
		}
		if k < len(stands) && i >= stands[k].first {
			continue
		}
		a, b := w.v[i-3], w.v[i+3]
		if x := w.v[i]; x < math.Min(a, b)-far || x > math.Max(a, b)+far {
			return true
		}
	}
	return false
}

// reportLostAtStop adds the finding, and ties to it the slips that are such losses.
func (w *work) reportLostAtStop(sd int, at []lossAtStop, seen int, stands []endStand, p float64) {
	dir := [2]Direction{Down, Up}[sd]
	f := Finding{Kind: DeadSpot, Form: lostAtStop, Direction: dir, Tie: TiedToPosition, TieP: p, Event: lostAtStop, Time: noInterval(), Seen: seen}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, s := range stands {
		if s.side == sd {
			f.Passes++
			lo, hi = math.Min(lo, s.level), math.Max(hi, s.level)
		}
	}
	most := 0.0
	for _, l := range at {
		f.Time = f.Time.widen(w.t[l.first]).widen(w.t[l.last-1])
		most = math.Max(most, math.Abs(l.far))
		f.Places = append(f.Places, Occurrence{Interval{w.t[l.first], w.t[l.last-1]}, Interval{lo, hi}, dir})
	}
	f.Volts = Interval{lo - w.tol, hi + w.tol}
	f.Strength = 1 - math.Exp(-0.7*float64(seen))
	f.Measures = []Measure{{MeasureDeparture, most, w.unit()}, {MeasureLeaps, float64(len(at)), ""}}
	w.found = append(w.found, f)
	for i := range w.found {
		g := &w.found[i]
		if (g.Kind == GearSlip || g.Kind == Dropouts) && w.allWithin(g, stands, sd) {
			g.Event, g.Strength = f.Event, 0.3*g.Strength
		}
	}
}

// allWithin tells whether a finding shows only in the stands of one side.
func (w *work) allWithin(g *Finding, stands []endStand, sd int) bool {
	in := 0
	for _, o := range g.Places {
		for _, s := range stands {
			if s.side == sd && o.Time.From >= w.t[s.first]-w.lim.StallSeconds && o.Time.From <= w.t[s.last-1]+w.lim.StallSeconds {
				in++
				break
			}
		}
	}
	return in > 0 && in == len(g.Places)
}

// titleLostAtStop says what a contact lost at one stop shows.
func (f *Finding) titleLostAtStop(t told) string {
	return fmt.Sprintf("Contact lost at the %s stop: while the shaft rests there the reading jumps away by up to %s and back, in %d of %d arrivals; nowhere else.",
		[2]string{"low", "high"}[side(f.Direction)], amount(f.value(MeasureDeparture), t.unit), f.Seen, f.Passes)
}
