package analyze

import (
	"fmt"
	"math"
	"sort"
	"threewire/analyze/stats"
)

// lost reports whether the event is a stretch in which the reading did not
// tell a shaft that moved, or left the track; stood is its opposite.
func (w *work) lost(e *event) bool {
	if e.place != middle {
		return false
	}
	// Between two spikes near each other the reading may have followed all the
	// time.
	if e.out() < leastLoss*w.ref && w.follows(e) > 0.7 {
		return false
	}
	// Where the reading is ahead from then on the shaft itself sprang there: over
	// a centre, by the play that it has. A track that fails has moved as far as
	// the motor turned.
	if e.out() < leastLoss*w.ref && e.moved > 1.6*e.expected+3*e.spread {
		return false
	}
	// Teeth that let go lose the way; a reading that comes back to its line
	// has only missed it.
	if back, forth := w.steps(e); back > w.tol && forth < 0.5*back && e.moved < 0.5*e.expected && e.expected > w.tol {
		return false
	}
	// An evenly worn track scatters everywhere while the shaft moves: what leaves
	// it must stand out of that, not of the noise at rest alone.
	// Nor is it the grain of a sound one, whose output is smooth to 0.1 % of the
	// supply when new (Bourns, "Output Smoothness"), and less so when it has run.
	grain := math.Max(w.tol, soundGrain*w.ref)
	if e.out() > math.Max(grain, w.lim.NoiseSigmas*w.moving()) && e.seconds > 0 && e.moved > -e.spread*3-0.3*e.expected {
		return true
	}
	return e.shift > 2 && e.moved > grain
}

// soundGrain is the share of the supply by which a track that has run for years,
// and is sound, departs here and there: five times its output smoothness when new
// (common practice, no source).
const soundGrain = 0.005

// follows is the share of the bins inside an event that lie on the straight
// line from its begin to its end.
func (w *work) follows(e *event) float64 {
	n, on := 0, 0
	near := 4*w.moving() + w.quantum
	if math.Abs(e.to-e.from) < 2*near || e.last-e.first < 4 {
		return 0 // a hold and a line look alike
	}
	t0, t1 := w.t[max(0, e.first-1)], w.t[min(e.last, len(w.t)-1)]
	for i := e.first; i < e.last; i++ {
		n++
		if line := e.from + (e.to-e.from)*(w.t[i]-t0)/(t1-t0); math.Abs(w.v[i]-line) < near {
			on++
		}
	}
	return float64(on) / float64(n)
}

// onLine tells whether a reading got from the begin of an event to its end
// along the line between the two, clearly rather than by holding and catching up
// in one leap. A worn track has a grain, and some noise lasts for several
// readings: both slow the reading here and hurry it there, along its line.
func (w *work) onLine(e *event) bool {
	a, b := max(0, e.first-1), min(e.last+1, len(w.v))
	t0, t1 := w.t[a], w.t[b-1]
	line, leap := 0.0, 0.0
	for i := a; i < b; i++ {
		d := w.v[i] - e.from - (e.to-e.from)*(w.t[i]-t0)/(t1-t0)
		line += d * d
		leap += (w.v[i] - e.to) * (w.v[i] - e.to) // all of it after the leap
	}
	least := leap // the leap may come after any reading
	for i := a; i < b; i++ {
		leap += (w.v[i]-e.from)*(w.v[i]-e.from) - (w.v[i]-e.to)*(w.v[i]-e.to)
		least = math.Min(least, leap)
	}
	// The likelihood ratio of the two at unknown scatter, of which the place of
	// the leap took one reading; twenty to one is clear.
	return float64(b-a-1)/2*math.Log(least/math.Max(line, 1e-300)) > math.Log(20)
}

// steps are the largest changes within 30 ms inside an event, against the
// drive and along it.
func (w *work) steps(e *event) (back, forth float64) {
	n := max(1, w.rows(0.03))
	sign := float64(w.moves[e.move].Direction)
	for i := max(1, e.first-1); i < min(len(w.v), e.last+1); i++ {
		d := sign * (w.v[i] - w.v[max(0, i-n)])
		back, forth = math.Max(back, -d), math.Max(forth, d)
	}
	return back, forth
}

// stood reports whether the shaft stood still under drive and then went on
// from where it was.
func (w *work) stood(e *event) bool {
	return e.place == middle && e.shift < -2 && e.out() <= w.tol && e.expected > 2*w.tol
}

// cluster is a set of events at one place of the track.
type cluster struct {
	volts  Interval
	events []*event
}

// brief tells whether a hold is so short that play and wound-up links may have
// let go: two mechanical time constants.
func (w *work) brief(e *event) bool { return e.out() <= w.tol && e.seconds <= w.lim.Bridge }

// clusters groups events whose stretches of track overlap, or lie within the
// resolution of the capture.
func (w *work) clusters(ev []*event) []cluster {
	sort.SliceStable(ev, func(i, j int) bool { return ev[i].volts().From < ev[j].volts().From })
	margin := w.resolution()
	var out []cluster
	for _, e := range ev {
		v := e.volts()
		if n := len(out); n > 0 && v.From <= out[n-1].volts.To+margin {
			c := &out[n-1]
			c.events = append(c.events, e)
			c.volts = c.volts.widen(v.From).widen(v.To)
			continue
		}
		out = append(out, cluster{volts: v, events: []*event{e}})
	}
	out = w.wornBands(out, len(ev))
	for i := range out {
		// The edges are the medians of the single edges: one ragged pass must
		// not stretch the spot.
		var lo, hi []float64
		for _, e := range out[i].events {
			lo = append(lo, e.volts().From)
			hi = append(hi, e.volts().To)
		}
		out[i].volts = Interval{medianOf(lo), medianOf(hi)}
	}
	return out
}

// wornBands joins neighbouring clusters that together belong to a place: over
// a worn stretch the wiper loses contact now here, now there. It joins across
// up to a twenty-fifth of the span, and only what chance would hardly put
// together.
func (w *work) wornBands(c []cluster, all int) []cluster {
	var out []cluster
	for _, x := range c {
		n := len(out)
		if n == 0 || x.volts.From-out[n-1].volts.To > 0.04*w.span.Width() {
			out = append(out, x)
			continue
		}
		both := cluster{volts: out[n-1].volts.widen(x.volts.To), events: append(append([]*event(nil), out[n-1].events...), x.events...)}
		seen, _ := w.passes(both)
		if tied, p := w.tie(both, all); tied == TiedToPosition && p < w.lim.Significance && seen[0]+seen[1] >= 2 {
			out[n-1] = both
			continue
		}
		out = append(out, x)
	}
	return out
}

// resolution is the distance in V below which two places are one: noise, the
// travel between two bins, and one percent of the span.
func (w *work) resolution() float64 {
	r := math.Max(w.rate[0], w.rate[1])
	return math.Max(0.01*w.span.Width(), w.tol/2+r*w.tr.Step)
}

// passes counts, by direction, the moves that tracked across the stretch, and
// those of them in which one of the events lies.
func (w *work) passes(c cluster) (seen, made [2]int) {
	hit := map[int]bool{}
	for _, e := range c.events {
		hit[e.move] = true
	}
	margin := w.resolution()
	for k := range w.moves {
		m := &w.moves[k]
		if m.Direction == None {
			continue
		}
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, s := range m.segs {
			if s.state == track && s.last-s.first >= min(3, w.window) {
				lo = math.Min(lo, math.Min(w.v[s.first], w.v[s.last-1]))
				hi = math.Max(hi, math.Max(w.v[s.first], w.v[s.last-1]))
			}
		}
		across := lo < c.volts.From-margin/2 && hi > c.volts.To+margin/2
		if hit[k] || across {
			made[side(m.Direction)]++
		}
		if hit[k] {
			seen[side(m.Direction)]++
		}
	}
	return seen, made
}

// tie decides whether the events belong to a place: the chance that, of all
// events strewn evenly over the travel, so many would fall into one stretch
// this narrow.
func (w *work) tie(c cluster, all int) (Tie, float64) {
	seen, made := w.passes(c)
	n, passes := seen[0]+seen[1], made[0]+made[1]
	k := len(c.events)
	if k < 2 {
		return TieUnknown, 1
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, e := range c.events {
		lo, hi = math.Min(lo, e.volts().Mid()), math.Max(hi, e.volts().Mid())
	}
	share := math.Min(1, (hi-lo+w.resolution())/math.Max(w.span.Width(), 1e-9))
	p := math.Min(1, float64(all)*stats.BinomialTail(k-1, max(k, all)-1, share))
	if p < w.lim.Significance || (p < 0.1 && n*2 >= passes) {
		return TiedToPosition, p
	}
	return TieUnknown, p
}

// unit is the unit of feedback values in text.
func (w *work) unit() string {
	if u := w.tr.Feedback.Unit; u != "" {
		return u
	}
	return "units"
}

// finePlace and coarsePlace are the shares of the span by which places of events are told
// apart, in whatever unit the feedback is.
const (
	finePlace   = 1.0 / 400
	coarsePlace = 1.0 / 40
)

// eventAt names the event of something at a place, to a share of the span.
func (w *work) eventAt(what string, at Interval, share float64) string {
	if !(w.span.Width() > 0) {
		return what
	}
	return fmt.Sprintf("%s %.4g %%", what, 100*share*math.Round((at.Mid()-w.span.From)/w.span.Width()/share))
}
