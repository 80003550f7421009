package analyze

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Travel times from stop to stop at 12 V, in s, of good door actuators: three to
// fifteen in nineteen of twenty; one make in twelve is a slow one, of sixteen,
// give or take half as much again (common practice, no source). Seldom is a
// motor logged that is weak by less than a third, or that still moves when weak
// by more than six.
const (
	usualTransit = 6.7  // geometric mean of 3 and 15
	usualSpread  = 0.41 // of its logarithm: ln(15/3)/(2·1.96)
	slowTransit  = 16.0
	slowSpread   = 0.4
	slowMakes    = 1.0 / 12
	leastWeak    = 1.3
	mostWeak     = 6.0
)

// goodAsSlow is how many good actuators there are of a travel time, in s at 12
// V, for each motor weak from the start, were there as many of either. The
// spread is what else is not known of the time's logarithm.
func goodAsSlow(transit, spread float64) float64 {
	x := math.Log(transit)
	normal := func(mean, own float64) distuv.Normal {
		return distuv.Normal{Mu: math.Log(mean), Sigma: math.Hypot(own, spread)}
	}
	usual := normal(usualTransit, usualSpread)
	good := (1-slowMakes)*usual.Prob(x) + slowMakes*normal(slowTransit, slowSpread).Prob(x)
	weak := (usual.CDF(x-math.Log(leastWeak)) - usual.CDF(x-math.Log(mostWeak))) / math.Log(mostWeak/leastWeak)
	// Slower than six times is weak all the more.
	if x > usual.Mu+math.Log(mostWeak) {
		weak = math.Max(weak, 0.5/math.Log(mostWeak/leastWeak))
	}
	return good / weak
}

// goodAsLong is the share of good actuators whose travel takes so long or longer, s at
// 12 V; the spread is what else is not known of the time's logarithm.
func goodAsLong(transit, spread float64) float64 {
	x := math.Log(math.Max(transit, 1e-3))
	usual := distuv.Normal{Mu: math.Log(usualTransit), Sigma: math.Hypot(usualSpread, spread)}
	slow := distuv.Normal{Mu: math.Log(slowTransit), Sigma: math.Hypot(slowSpread, spread)}
	return (1-slowMakes)*usual.Survival(x) + slowMakes*slow.Survival(x)
}

// travelTime is how fast a capture shows its actuator to be.
type travelTime struct {
	at12   float64 // s for the travel at 12 V, 0 unknown
	asSlow float64 // see [goodAsSlow]
}

// weakShare is the share of weak motors among motors at fault: one of six things
// that go wrong with them and their gears.
const weakShare = 1.0 / 6

// acrossTravel is how long the shaft takes across its travel, in s, and what that
// would be at 12 V, with what is not known of its logarithm; zeros where the
// capture moves too little to tell.
func (w *work) acrossTravel() (full, at12, spread float64) {
	r := (w.rate[0] + w.rate[1]) / 2
	if r == 0 || w.span.Width() <= 0 || !w.steadyTravel(0.2*w.ref) {
		return 0, 0, 0
	}
	// What was seen of the travel; where a stop was not reached more lies
	// beyond, up to a usual travel.
	travel := w.span.Width()
	if more := w.usualTravel(); !w.bothEnds() && more > travel {
		spread = math.Log(more/travel) / 2
		travel = math.Sqrt(travel * more)
	}
	full = travel / r
	// The speed is in proportion to the volts above the fifth of 12 V below
	// which a loaded gear motor does not start. Where they are not known they
	// may be anything from 9 to 14.5 V, and less by pulses that a log of the
	// polarity does not show; a drive seen to be pulsed is so at half to all of
	// its duty.
	switch {
	case w.d.pulsed:
		return full, full / 1.4, math.Hypot(spread, 0.3)
	case w.tr.DriveIsPolarity || w.d.amp <= 5:
		return full, full, math.Hypot(spread, 0.2)
	}
	// A motor of a 24 V system takes the time of one of 12 V, at twice the volts.
	volts := w.d.amp
	if volts > mostOf12 {
		volts /= 2
	}
	return full, full * (volts - startVolts) / (12 - startVolts), spread
}

// mostOf12 is the most, in V, that a 12 V system gives for long: what a generator charges
// with in the cold, 15 to 15.5 V, and an instrument's few percent (common practice, no
// source).
const mostOf12 = 16.0

// unevenLoad is by how much the speeds of the two ways of a sound actuator usually differ,
// as the logarithm of their ratio: the door's weight and springs help one of them. Up to a
// fifth is no rare thing (common practice, no source).
const unevenLoad = 0.1

// evenForWeak is how many times as many good actuators as weak ones, slower than usual by a
// factor, run their two ways as alike as this one does. Speed is w0 (1 - T/Ts): a motor so
// weak that it is slow by the factor stands that much nearer to its stall, and what the
// loads of the two ways differ by changes its speed that many times as much. That they
// differ is no sign of a weak one: other things do that.
func (w *work) evenForWeak(factor float64) float64 {
	if w.rate[0] <= 0 || w.rate[1] <= 0 || factor < 1 {
		return 1
	}
	differ := math.Log(w.rate[1] / w.rate[0])
	good := distuv.Normal{Sigma: unevenLoad}
	weak := distuv.Normal{Sigma: unevenLoad * factor}
	return math.Max(1, math.Exp(good.LogProb(differ)-weak.LogProb(differ)))
}

// findWeakDrive reports a motor slow everywhere beyond what is usual, when
// there is no profile of a known good actuator to compare with.
func (w *work) findWeakDrive() {
	full, at12, spread := w.acrossTravel()
	if full == 0 {
		return
	}
	w.travel = travelTime{at12, goodAsSlow(at12, spread)}
	if w.against != nil && w.against.Used {
		return // judged against the profile
	}
	few := w.travel.asSlow / weakShare * w.evenForWeak(at12/usualTransit)
	if few > 0.5 {
		return
	}
	f := Finding{Kind: WeakDrive, Form: againstUsual, Volts: w.span, Time: w.drivenTime(),
		Tie: TieUnknown, TieP: 1, Event: "slower", Seen: len(w.sweeps), Passes: len(w.sweeps), Strength: 0.9,
		Measures: []Measure{{MeasureTravelTime, full, "s"}, {MeasureGoodAsSlow, few, ""}}}
	if !w.bothEnds() {
		f.Measures = append(f.Measures, Measure{travelGuessed, 1, ""})
	}
	w.found = append(w.found, f)
}

// travelGuessed is the measure of a travel of which not both stops were reached.
const travelGuessed = "part of the travel is a guess"

// againstUsual is the form of a finding that rests on what is usual.
const againstUsual = "against usual travel times"
