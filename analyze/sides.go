package analyze

import (
	"fmt"
	"gonum.org/v1/gonum/stat/distuv"
	"math"

	"threewire/analyze/stats"
)

// SideBySide compares an actuator with one of its kind on the healthy side.
// Fields that the captures do not tell are absent.
type SideBySide struct {
	Used bool `json:"used"`
	// Span and Speed are those of this actuator over the good side's, the
	// speed at the same drive, both ways together; in the intervals lie those
	// of healthy pairs.
	Span      *float64 `json:"span_ratio,omitempty"`
	SpanGood  Interval `json:"span_good"`
	Speed     *float64 `json:"speed_ratio,omitempty"`
	SpeedGood Interval `json:"speed_good"`
	Mirrored  bool     `json:"mirrored"` // the drive's sense is the other way round
	// Slow are the bands, in percent of the span, in which this side is slower
	// than the other by more than its unevenness elsewhere.
	Slow []Interval `json:"slow_bands_percent"`
	Text string     `json:"text"`

	asides   []aside
	readings bool // Speed is of readings, of which nobody knows the scale
	atMost   bool // Speed is the most that it can be: one way it never got to the end
}

// sideSpan is how far, as a share, the spans of two healthy sides may differ:
// both actuators' own tolerance, and doors that are not built alike (common
// practice, no source).
const sideSpan = 0.12

// compareSides compares the coupled captures of an actuator with those of the
// healthy side; nil when there are none of either.
func compareSides(now, good []*Capture) *SideBySide {
	var mine, theirs []steady
	for _, c := range now {
		if !c.Free {
			mine = append(mine, steadyOf(c))
		}
	}
	for _, c := range good {
		theirs = append(theirs, steadyOf(c))
	}
	if len(mine) == 0 || len(theirs) == 0 {
		return nil
	}
	r := &SideBySide{Slow: []Interval{}, SpanGood: Interval{1 - sideSpan, 1 + sideSpan}}
	for _, c := range good {
		if v := Judge(c).Verdict; v.Conclusion > NoFault {
			r.Text = fmt.Sprintf("The good side shows a fault itself (%s: %s), so nothing was compared with it.", c.Source, v.Conclusion)
			return r
		}
	}
	a, b := joinSteady(theirs), joinSteady(mine)
	r.Mirrored = a.c.Sense*b.c.Sense < 0
	if why := otherKind(&a, &b); why != "" {
		r.Text = fmt.Sprintf("%s and %s do not look like actuators of one kind, so nothing was compared: %s.", a.c.Source, b.c.Source, why)
		return r
	}
	r.Used = true
	span := math.NaN()
	if a.c.Unit == b.c.Unit && a.high > a.low && b.high > b.low {
		span = (b.high - b.low) / (a.high - a.low)
	}
	by, through := sidePaces(a, b, r.Mirrored)
	var s []float64
	for _, p := range by {
		if p != nil {
			s = append(s, p.ratio)
			r.SpeedGood, r.atMost = p.band, r.atMost || p.atMost
		}
	}
	speed := mean(s)
	r.Span, r.Speed = known(span), known(speed)
	r.readings = through && math.IsNaN(span)
	r.slowBands(a.c, b.c)
	r.weigh(a, b, span, speed)
	r.weighWays(by)
	r.goesFurther(a, b)
	r.shifted(a, b)
	if r.Text == "" {
		r.alike(span, speed)
	}
	return r
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x)) // NaN for none
}

// joinSteady takes several captures of one side together.
func joinSteady(list []steady) steady {
	out := list[0]
	var low, high []float64
	out.sweeps = [2][]fullSweep{}
	for _, s := range list {
		if s.high > s.low {
			low, high = append(low, s.low), append(high, s.high)
		}
		for d := range s.sweeps {
			out.sweeps[d] = append(out.sweeps[d], s.sweeps[d]...)
		}
	}
	out.low, out.high = medianOf(low), medianOf(high)
	return out
}

// farOff is how many deviations from the other side, in speed, two doors that are not built
// alike do not make any more: three, the usual limit of a deviation that is none of
// chance.
const farOff = 3

// builtUnlike is the chance that two sound sides are so many deviations apart, about
// [farOff], because their doors are not built alike: e times less with each further one, and
// never none (chosen, not derived).
func builtUnlike(z float64) float64 {
	return math.Max(0.01, 0.03*math.Exp(farOff-math.Abs(z)))
}

// strengthOf tells how real a difference of so many deviations is.
func strengthOf(z float64) float64 {
	return math.Max(0, 1-distuv.UnitNormal.Survival(math.Abs(z))/distuv.UnitNormal.Survival(2))
}

// add adds evidence and its sentence.
func (r *SideBySide) add(p shown, strength float64, text, because string) {
	r.asides = append(r.asides, newAside(GoodSide, p, strength, text, because))
	if r.Text != "" {
		r.Text += " "
	}
	r.Text += text
}

// weigh turns the comparison into evidence. Two doors are not alike, so every
// likelihood is modest, the more so the nearer to what healthy pairs are apart. Currents
// logged on both sides say why it is slow.
func (r *SideBySide) weigh(good, bad steady, span, speed float64) {
	zs, zv := deviationsOf(span, r.SpanGood), deviationsOf(speed, r.SpeedGood)
	if math.Abs(zs) > 2 {
		text := fmt.Sprintf("It reads %.0f %% of the good side's span (healthy pairs: %.0f to %.0f %%).", 100*span, 100*r.SpanGood.From, 100*r.SpanGood.To)
		l, times, band := 0.0, 1/speed, r.SpeedGood
		if !(times > 0) {
			times, band = wayTimes(good, bad)
		}
		if times > 0 && !math.IsInf(times, 0) {
			text = fmt.Sprintf("It reads %.0f %% of the good side's span (healthy pairs: %.0f to %.0f %%) and takes %.0f %% of its time.", 100*span, 100*r.SpanGood.From, 100*r.SpanGood.To, 100*times)
			l = travelOverScale(times, span, band) + r.stopsTell(good, bad)
		}
		travel := shown{.08, .04, .03, .3, .02}
		if zs > 0 {
			travel = shown{.08, .04, .03, .2, .02}
		}
		if zs > 0 && zv > farOff {
			// Neither a longer travel, which takes longer, nor a larger scale, which takes as long.
			r.add(shown{.02, .03, .02, .3, .04}, strengthOf(zv), text, "further and faster than the other side at once: the load is gone and so is the stop, as with a link that is broken")
			return
		}
		scale, because := shown{.08, .25, .03, .05, .08}, otherSpan(l, zs > 0)
		if aboutZero(good, bad) {
			// A track hardly scales; its feed does, and what its volts go through.
			scale, l = shown{.04, .1, .02, .02, .3}, l-math.Log(oneStopKept)
			because = "both stops read what the good side's do in proportion: the sensor is fed with other volts, or its reading goes through something that takes a share"
		}
		travel[NoFault], scale[NoFault] = builtUnlike(zs), builtUnlike(zs)
		r.add(mixed(l, travel, scale), strengthOf(zs), text, because)
		return // the speed of another travel is no measure of the motor
	}
	switch {
	case zv < -2:
		r.slower(good.c, bad.c, speed, zv)
	case zv > 2:
		text := fmt.Sprintf("It runs at %.0f %% of the good side's speed at the same drive (healthy pairs: %.0f to %.0f %%).", 100*speed, 100*r.SpeedGood.From, 100*r.SpeedGood.To)
		p := shown{.08, .03, .05, .2, .05}
		if zv > farOff {
			p = shown{.02, .02, .03, .3, .04}
		}
		if r.readings {
			p[FeedbackSensor] = p[DoorMechanism] / 2 // a sensor that shows more would read so as well
		}
		r.add(p, strengthOf(zv), text, "faster than the same actuator on the other side: a load that is gone, or doors that are not built alike")
	}
	if zv >= -2 && speed < 1 {
		r.heldOnLess(good.c, bad.c)
	}
	if len(r.Slow) > 0 {
		b := r.Slow[0]
		r.add(shown{.08, .03, .05, .3, .03}, 0.8, fmt.Sprintf("It is slower than the good side from %.0f to %.0f %% of the span and not elsewhere.", b.From, b.To),
			"load at one place that the other side does not have there")
	}
}

// alike says that nothing differs, or that too little could be compared.
func (r *SideBySide) alike(span, speed float64) {
	if math.IsNaN(span) || math.IsNaN(speed) {
		r.Text = "The captures do not show full sweeps from stop to stop on both sides, so little could be compared."
		return
	}
	r.Text = fmt.Sprintf("Span (%.0f %%) and speed (%.0f %%) are like the good side's.", 100*span, 100*speed)
	r.asides = append(r.asides, newAside(GoodSide, shown{.9, .8, .45, .6, .85}, 1, r.Text, "a tired motor, a dragging door or a shorter travel would most likely differ from the other side"))
}

// slowBands looks for places where this side is slower than the other. Both
// rate profiles are taken over their own medians, so that only the shape is
// compared, and mirrored when the drives are.
func (r *SideBySide) slowBands(good, bad *Capture) {
	const cells = 20
	at := func(c *Capture, d Direction) ([]float64, bool) {
		for _, p := range c.Profiles {
			if p.Direction != d || len(p.Points) < cells/2 || !(c.Span.Width() > 0) {
				continue
			}
			var sum, n [cells]float64
			var all []float64
			for _, q := range p.Points {
				i := int(float64(cells) * (q.Position - c.Span.From) / c.Span.Width())
				if i >= 0 && i < cells && q.Passes >= 2 {
					sum[i] += q.Rate
					n[i]++
					all = append(all, q.Rate)
				}
			}
			m := medianOf(all)
			out := make([]float64, cells)
			for i := range out {
				out[i] = sum[i] / n[i] / m // NaN where no pass was
			}
			return out, len(all) >= cells/2
		}
		return nil, false
	}
	// Both ways: an over-centre spring slows one way and hastens the other.
	ratio := make([]float64, cells)
	for _, d := range []Direction{Down, Up} {
		e := d
		if r.Mirrored {
			e = -d
		}
		g, ok1 := at(good, d)
		b, ok2 := at(bad, e)
		if !ok1 || !ok2 {
			return
		}
		for i := range ratio {
			k := i
			if r.Mirrored {
				k = cells - 1 - i
			}
			ratio[k] += b[k] / g[i] / 2
		}
	}
	var dev []float64
	for _, x := range ratio {
		if !math.IsNaN(x) {
			dev = append(dev, math.Abs(x-1))
		}
	}
	// Seals and stops at the ends differ most: the outer tenths are left out.
	limit := math.Min(Defaults().Limits.Slow, 1-4*stats.MADScale*medianOf(dev))
	for i := cells / 10; i < cells-cells/10; i++ {
		j := i
		for j < cells-cells/10 && ratio[j] < limit {
			j++
		}
		if j-i >= 2 { // one cell is a hitch
			r.Slow = append(r.Slow, Interval{100 * float64(i) / cells, 100 * float64(j) / cells})
		}
		i = max(i, j)
	}
}

// otherSpan says what a span that is not the other side's may be, by the logarithm of how
// much likelier another travel is than another scale; both where neither is several times
// likelier than the other.
func otherSpan(l float64, longer bool) string {
	travel, scale := "a shorter travel: an obstacle, or doors that are not built alike", "a sensor that shows less of the same travel"
	if longer {
		travel, scale = "a longer travel: a stop that is gone, or doors that are not built alike", "a sensor that shows more of the same travel"
	}
	switch several := math.Log(oneStopKept); {
	case l > several:
		return "by its time and its stops " + travel
	case l < -several:
		return "by its time and its stops " + scale
	}
	return travel + "; or " + scale
}
