package analyze

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// different says which captures do not fit the first one of their coupling as captures
// of one actuator, see [otherActuator], and which they are. It says besides which are
// doubtful: the sense of drive alone, or the unit alone, changes with the way a
// capture is logged, and with the actuator, and with no fault.
func different(captures []*Capture) (plainly, doubtful []string, others []*Capture) {
	plainly, doubtful = []string{}, []string{}
	var first [2]*steady // of each coupling: the door's stops are not the actuator's own
	for _, c := range captures {
		i := 0
		if c.Free {
			i = 1
		}
		s := steadyOf(c)
		if first[i] == nil {
			first[i] = &s
		} else if why := otherActuator(first[i], &s); why != "" {
			plainly = append(plainly, fmt.Sprintf("%s and %s look like different actuators: %s", first[i].c.Source, c.Source, why))
			others = append(others, c)
			continue
		}
		a := captures[0]
		if a.Sense*c.Sense < 0 {
			doubtful = append(doubtful, fmt.Sprintf("%s and %s: positive drive raises the reading in one and lowers it in the other; were the leads logged the other way round, or are they different actuators?", a.Source, c.Source))
		}
		if a.Unit != c.Unit {
			doubtful = append(doubtful, fmt.Sprintf("%s and %s: feedback in %s and in %s; are they of one actuator?", a.Source, c.Source, a.Unit, c.Unit))
		}
		if b := first[i].c; b != c && !b.slowed(3) && !c.slowed(3) {
			if why := paceApart(b, c); why != "" {
				doubtful = append(doubtful, why+"; are they of one actuator?")
			}
		}
	}
	return plainly, doubtful, others
}

// otherTroubles says what makes one actuator of two captures unlikely, though each sign of
// it alone comes with a fault, or "": one runs faster by more than [farOff] deviations of
// good ones, nothing found makes the other slow, and each shows a fault that the other,
// which likelier than not would have shown it, does not. One actuator would have lost a
// fault without a repair, got another one, and changed its speed besides.
func otherTroubles(a, b *Capture) string {
	speed, band, ok := sweepSpeeds([]*Capture{a, b})
	if a.Free != b.Free || !ok || math.Abs(deviationsOf(speed, band)) < farOff {
		return ""
	}
	lost, got := lostTrouble(a, b), lostTrouble(b, a)
	if lost == "" || got == "" {
		return ""
	}
	return fmt.Sprintf("%s shows a %s and %s does not, %s shows a %s and %s does not, and %s runs at %.0f %% of the speed of %s",
		a.Source, lost, b.Source, b.Source, got, a.Source, b.Source, 100*speed, a.Source)
}

// doubtTroubles asks whether captures of one coupling are of one actuator, where their
// troubles say that they hardly are, see [otherTroubles].
func (s *Series) doubtTroubles(captures []*Capture) {
	for i, c := range captures {
		k := slices.IndexFunc(captures, func(x *Capture) bool { return x.Free == c.Free })
		if b := captures[k]; k < i && !b.slowed(3) && !c.slowed(3) && paceApart(b, c) == "" {
			if why := otherTroubles(b, c); why != "" {
				s.Doubtful = append(s.Doubtful, why+": one actuator seldom changes so much without a repair; are they of one?")
				s.mixed = true
			}
		}
	}
}

// lostTrouble is the first finding of a that b does not show, although it would by more
// than an even chance; "" for none.
func lostTrouble(a, b *Capture) Kind {
	const even = 0.5
	for i := range a.Findings {
		if f := &a.Findings[i]; f.force() > math.Log(3) {
			if r := follow(a, f, []*Capture{b}); r.Missed < even && r.State != "still there" {
				return f.Kind
			}
		}
	}
	return ""
}

// spanFar is how many times one span of a coupling is the other, so that it is
// one sign of another actuator: a third, more than faults of the travel or of the track
// leave unnoticed in the captures themselves (common practice, no source).
const spanFar = 4. / 3

// spansApart is the span of b over that of a, as a logarithm, where both are of one unit
// and further apart than [spanFar]; else 0. Where one of them did not come to both of
// its stops, a stop that lies as far inside the other's shortens it.
func spansApart(a, b *steady) (log float64, said string) {
	if a.c.Unit != b.c.Unit {
		return 0, ""
	}
	if q := math.Log((b.high - b.low) / (a.high - a.low)); !math.IsNaN(q) {
		if math.Abs(q) < math.Log(spanFar) {
			return 0, ""
		}
		return q, fmt.Sprintf("span %.2f and %.2f %s", a.high-a.low, b.high-b.low, a.c.Unit)
	}
	whole := math.Max(a.c.Span.Width(), b.c.Span.Width())
	for _, s := range a.c.Stops {
		for _, t := range b.c.Stops {
			if !s.Extreme || !t.Extreme || s.Direction != t.Direction {
				continue
			}
			further := float64(s.Direction) * (t.Level - s.Level) / whole // b goes on by
			if q := -math.Log(1 - math.Min(math.Abs(further), 0.99)); q > math.Log(spanFar) {
				end := "low"
				if s.Direction == Up {
					end = "high"
				}
				return math.Copysign(q, further), fmt.Sprintf("%s stop at %s and at %s", end, amount(s.Level, a.c.Unit), amount(t.Level, b.c.Unit))
			}
		}
	}
	return 0, ""
}

// otherActuator says why two captures of one coupling are not of one actuator, or "": two of
// the sense of drive, the unit, the span and the pace differ, and no single fault makes
// both. A jam or a door off its link leaves the pace within what loads make
// ([oneActuatorsPaces]), a scale takes it along with the span, and a motor that is too weak to
// come to its stop shows that it is.
func otherActuator(a, b *steady) string {
	var why []string
	turned := a.c.Sense*b.c.Sense < 0
	if turned {
		why = append(why, "positive drive raises the reading in one and lowers it in the other")
	}
	if a.c.Unit != b.c.Unit {
		why = append(why, fmt.Sprintf("feedback in %s and in %s", a.c.Unit, b.c.Unit))
	}
	log, spans := spansApart(a, b)
	paces := pacesApart(a, b, log)
	if log != 0 && (turned || paces != "") {
		why = append(why, spans)
	}
	if paces != "" {
		why = append(why, "going up "+paces)
	}
	if len(why) < 2 {
		return ""
	}
	return strings.Join(why, "; ")
}

// pacesApart says how the paces of two captures of one coupling, whose spans differ by log,
// differ by more than drive, load, warmth and scale make, and no fault that shows, or "".
func pacesApart(a, b *steady, log float64) string {
	beyond, paces := paceBeyond(a.c, b.c, 1)
	slower := b.c
	if beyond > 1 {
		slower = a.c
	}
	if beyond == 1 || slower.slowed(2) || log*math.Log(beyond) > 0 && !slower.lacksJam() {
		return ""
	}
	if scaled, _ := paceBeyond(a.c, b.c, math.Exp(-log)); scaled == 1 {
		return ""
	}
	return paces
}

// otherKind says why the two sides are not of one kind of actuator, or "": span and pace
// differ, and no single fault makes both. A side that is driven the other way round is
// mirrored, and tells nothing.
func otherKind(good, bad *steady) string {
	log, spans := spansApart(good, bad)
	bothEnd := good.high > good.low && bad.high > bad.low
	if good.c.Sense*bad.c.Sense < 0 && !bothEnd {
		return "" // one stop is the other's opposite
	}
	paces := pacesApart(good, bad, log)
	if log == 0 || paces == "" {
		return ""
	}
	return spans + "; going up " + paces
}
