package analyze

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// endsOver are the readings at one end of the travel over captures of an actuator, in
// their order, NaN where a capture did not reach it.
type endsOver []float64

// firstLast are the first and the last reading, and which captures gave them.
func (e endsOver) firstLast() (from, to float64, first, last int) {
	known := func(x float64) bool { return !math.IsNaN(x) }
	first = slices.IndexFunc(e, known)
	for i, x := range e {
		if known(x) {
			last = i
		}
	}
	if first < 0 || last == first {
		return math.NaN(), math.NaN(), first, last
	}
	return e[first], e[last], first, last
}

// comesBack is the longest step against the way from the first to the last reading.
func (e endsOver) comesBack() float64 {
	from, to, _, _ := e.firstLast()
	before, most := math.NaN(), 0.0
	for _, x := range e {
		if back := (before - x) * math.Copysign(1, to-from); back > most {
			most = back
		}
		if !math.IsNaN(x) {
			before = x
		}
	}
	return most
}

// steps counts the captures in which the reading went on by a fifth of the whole way and
// more: what happens once makes one.
func (e endsOver) steps() int {
	from, to, _, _ := e.firstLast()
	n, before := 0, from
	for _, x := range e {
		if math.IsNaN(x) {
			continue
		}
		if (x-before)/(to-from) > 0.2 {
			n++
		}
		before = x
	}
	return n
}

// scaleChange looks for a reading of the travel that is another one in the last captures
// than in the first by more than instruments and a regulator make. It needs no test of
// chance: within a capture stops come back to a few thousandths of the span, and from one
// capture to the next only an instrument's or its supply's errors add to that, which are
// bounded ([sureSupply]). What comes and goes from capture to capture is the instrument's.
// Whether the sensor's scale or the travel changed, the travel times weigh, as against a
// profile, the steps, as something in the way comes once, and the ends, as it comes at one.
// The captures are coupled, of one unit and in order.
func (s *Series) scaleChange(captures []*Capture) {
	var list []*Capture
	for _, c := range captures {
		if !c.Free && c.Unit == captures[0].Unit && !c.endsUnsure() && c.lacksJam() {
			list = append(list, c)
		}
	}
	if len(list) < 2 {
		return
	}
	low, high := readAtEnds(list)
	l0, l1, lf, ll := low.firstLast()
	h0, h1, hf, hl := high.firstLast()
	was, is := h0-l0, h1-l1
	if !(was > 0) || !(is > 0) {
		return // NaN: an end that was reached once at most
	}
	ratio := is / was
	z := 2 * math.Log(ratio) / math.Log(1+sureSupply) // the limit is two deviations
	back := math.Max(low.comesBack(), high.comesBack())
	if math.Abs(z) < 2 || back > math.Abs(is-was)/3 {
		return
	}
	a, b := list[min(lf, hf)], list[max(ll, hl)]
	moved := [2]bool{math.Abs(l1-l0) > DriftLeast*was, math.Abs(h1-h0) > DriftLeast*was}
	logged := a.refLogged && b.refLogged
	f := Finding{Kind: SpanDrift, Seen: len(list), Passes: len(list), span: was}
	f.Form = driftForm([2]float64{l1 - l0, h1 - h0}, moved, [2]float64{l0, h0}, a.Reference, logged)
	f.Strength = 1 - distuv.UnitNormal.Survival(math.Abs(z))/distuv.UnitNormal.Survival(2)

	toward, times := 0.0, "" // how much likelier the travel changed than the scale, as a logarithm
	if speed, band, ok := sweepSpeeds(list); ok {
		toward = travelOverScale(1/speed, ratio, band)
		times = fmt.Sprintf(" From stop to stop it takes %.0f %% of the time that it took, at the same drive (good ones: %.0f to %.0f %%).", 100/speed, 100/band.To, 100/band.From)
	}
	// Each further step, and a second end, is a second thing in the way.
	further := max(low.steps(), high.steps()) - 1
	if moved[0] && moved[1] {
		further++
	}
	toward = math.Max(-3, toward-float64(max(further, 0))*math.Log(secondBody))
	scale, because := spanDriftLikelihood(&f)
	travel := shown{.006, .03, .03, .3, .01} // an obstacle, or a stop that is gone
	if toward > 0 {
		because = "the travel takes less time, or more, as its reading changed: an obstacle, or a stop that is gone; else the sensor's scale"
	}
	unit := a.Unit
	text := fmt.Sprintf("From %s to %s the low end went from %.2f to %.2f %s and the high end from %.2f to %.2f %s: %.0f %% of the span that it was, where instruments and a sensor's supply differ by %.0f %% at most.%s",
		a.Source, b.Source, l0, l1, unit, h0, h1, unit, 100*ratio, 100*sureSupply, times)
	p := mixed(toward, travel, scale)
	p[NoFault] = math.Max(p[NoFault], otherwiseLogged)
	if k := stepAtOnce(low, high); k > 0 {
		text += fmt.Sprintf(" Both ends changed at once, between %s and %s, and repeat before and after: was the actuator renewed or adjusted then?", list[k-1].Source, list[k].Source)
		p[NoFault] = math.Max(p[NoFault], renewedBetween)
	}
	s.Text = text
	s.asides = append(s.asides, newAside(f.Kind, p, f.Strength, text, because))
}

// secondBody is how many times less likely it is that something comes into the way anew,
// or at the other end as well, than that what changed goes on changing (chosen, not
// derived).
const secondBody = 4

// otherwiseLogged is the chance that a sound actuator reads so far off what it read
// before: another one's capture among them, or a channel set otherwise (chosen, not
// derived).
const otherwiseLogged = 0.015

// renewedBetween is that chance where all of it came at once and both ends repeat before
// and after: a renewed actuator reads so as well as a joint in the sensor's feed that became bad
// once (chosen, not derived).
const renewedBetween = 0.09

// stepAtOnce is the capture in which both ends changed, where each repeats to a quarter of its
// step in the captures before it and in those from it on, two at least of either; 0 for none.
func stepAtOnce(low, high endsOver) int {
	for k := 2; k+2 <= len(low); k++ {
		if low.stepsAt(k) && high.stepsAt(k) {
			return k
		}
	}
	return 0
}

// stepsAt tells whether all that an end changes by comes with capture k.
func (e endsOver) stepsAt(k int) bool {
	if slices.ContainsFunc(e, math.IsNaN) {
		return false
	}
	step := math.Abs(medianOf(slices.Clone(e[k:])) - medianOf(slices.Clone(e[:k])))
	for _, part := range []endsOver{e[:k], e[k:]} {
		if lo, hi := extremes(part); hi-lo > step/4 {
			return false
		}
	}
	return step > 0
}

// lacksJam tells whether no stop of the capture is known to be none.
func (c *Capture) lacksJam() bool {
	return !slices.ContainsFunc(c.Findings, func(f Finding) bool { return f.Kind == Jam && f.force() > math.Log(3) })
}

// readAtEnds are the readings at both stops over captures. Where each logged its sensor's
// supply in the unit of the feedback they are brought to the first one's.
func readAtEnds(list []*Capture) (low, high endsOver) {
	share := !slices.ContainsFunc(list, func(c *Capture) bool { return !c.refLogged || !(c.Reference > 0) })
	for _, c := range list {
		l, h, k := math.NaN(), math.NaN(), 1.0
		if share {
			k = list[0].Reference / c.Reference
		}
		for _, x := range c.Stops {
			switch {
			case x.Extreme && x.Direction == Down:
				l = k * x.Level
			case x.Extreme && x.Direction == Up:
				h = k * x.Level
			}
		}
		low, high = append(low, l), append(high, h)
	}
	return low, high
}

// sweepSpeeds is the speed of the last capture with full sweeps over that of the first, by
// their travel times at the same drive, both ways together, and where good ones lie.
func sweepSpeeds(list []*Capture) (speed float64, band Interval, ok bool) {
	var swept []steady
	for _, c := range list {
		if s := steadyOf(c); sweepsOf(s) > 0 {
			swept = append(swept, s)
		}
	}
	if len(swept) < 2 {
		return 0, band, false
	}
	a, b := swept[0], swept[len(swept)-1]
	var ratios []float64
	for d := range a.sweeps {
		if len(a.sweeps[d]) > 0 && len(b.sweeps[d]) > 0 {
			var r float64
			r, band = speedRatio(a.c, b.c, a.sweeps[d], b.sweeps[d])
			ratios = append(ratios, r)
		}
	}
	speed = mean(ratios)
	return speed, band, speed > 0 && !math.IsInf(band.To, 0) // not for NaN
}
