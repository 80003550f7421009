package analyze

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Case is all that is known of one actuator.
type Case struct {
	// Now are the captures of the actuator as it is, coupled and free.
	Now []*Capture
	// Before are captures before a repair; Now are those after it then.
	Before []*Capture
	// Good are captures of the same kind of actuator on the healthy side.
	Good []*Capture
	// Same tells that all captures but the good side's are of this actuator, however
	// unlike they are: else those that are evidently of another one are not weighed,
	// and nothing is proven against such captures of before.
	Same bool
}

// Judge weighs a case. The captures of Now are weighed in the order of time, and stay
// in the report as given; without any it cannot tell, whatever Before and Good show.
func (c Case) Judge() *Report {
	all, series := inOrder(c.Now, c.Same)
	now := all
	var beside []aside
	if series != nil && !c.Same {
		one := slices.DeleteFunc(slices.Clone(all), series.isOther)
		var left []*Capture
		now, left = withoutOthers(one)
		for _, x := range append(slices.Clone(series.others), left...) {
			series.LeftOut = append(series.LeftOut, x.Source)
		}
		if why := longerThanFree(one); why != "" && len(left) > 0 {
			series.Doubtful = append(series.Doubtful, why)
		}
	}
	if series != nil {
		beside = append(beside, series.asides...)
	}
	for _, x := range now {
		for _, a := range []*aside{x.checkAside(), x.asGood()} {
			if a != nil {
				beside = append(beside, *a)
			}
		}
	}
	beside = append(beside, loadOf(now)...)
	if a := slowPlaceUncoupled(now); a != nil {
		beside = append(beside, *a)
	}
	if a := sameShareUncoupled(now); a != nil {
		beside = append(beside, *a)
	}
	sides := compareSides(now, c.Good)
	if sides != nil {
		beside = append(beside, sides.asides...)
	}
	var repair *Repair
	if len(c.Before) > 0 {
		repair = proveRepair(c.Before, now, c.Same)
		beside = append(beside, repair.asides...)
	}
	r := judge(series.ofTheDrift(sides.ofThisSide(onlyNews(c.Before, now), c.Good)), beside)
	r.Captures = c.Now // traces and pages go with the captures as given
	r.Series, r.Sides, r.Good, r.Repair, r.Before = series, sides, c.Good, repair, c.Before
	r.DoorLoad = doorLoad(now, r.Verdict.Conclusion == DoorMechanism)
	v := &r.Verdict
	v.Absent = sayOnce(v.Absent, now)
	if repair != nil {
		v.Absent = repair.notDenied(v.Absent, now)
	}
	// What drifts from capture to capture may stay within each: that it does would read as
	// a denial.
	if slices.ContainsFunc(beside, func(a aside) bool { return a.kind == SpanDrift || a.kind == TravelChange }) {
		v.Absent = leaveOut(v.Absent, now, map[Kind]bool{SpanDrift: true})
	}
	if slices.ContainsFunc(beside, func(a aside) bool { return a.kind == Jam }) {
		v.Absent = leaveOut(v.Absent, now, map[Kind]bool{Jam: true})
	}
	v.inFreeTravel(now)
	if v.Conclusion == NoFault {
		v.Summary = v.noFaultSummary(now)
	}
	if sides != nil {
		v.Next = slices.DeleteFunc(v.Next, func(t NextTest) bool { return t.Name == logGoodSide })
		v.Unknown = slices.DeleteFunc(v.Unknown, func(s string) bool { return s == noProfile })
	}
	// Findings that speak for a fault only together leave no first one.
	if e := append(slices.Clone(v.For), v.Against...); v.Summary == "" && len(e) > 0 {
		v.Summary = e[0].Text
	}
	if series != nil && len(series.LeftOut) > 0 {
		v.Summary += fmt.Sprintf(" Not weighed, because it looks like another actuator's: %s.", strings.Join(series.LeftOut, ", "))
	}
	if series != nil && series.mixed {
		v.Summary += " Check each capture by itself: they may be of different actuators."
	}
	if r.Compared != nil {
		if s := r.Compared.Second(v.Conclusion); s != "" {
			v.Summary += " " + s
		}
	}
	return r
}

// aside is evidence that no single capture holds: it comes from comparing.
type aside struct {
	kind    Kind
	text    string // one plain sentence
	because string
	weights []float64 // log likelihood in the order of Faults, the largest 0
	vague   bool      // no sign of any one fault, only of some trouble
}

// newAside makes evidence from likelihoods; strength is the chance that it is
// real, as for a finding.
func newAside(k Kind, p shown, strength float64, text, because string) aside {
	a := aside{kind: k, text: text, because: because, weights: make([]float64, faultCount)}
	top := math.Inf(-1)
	for i := range a.weights {
		a.weights[i] = math.Log(strength*p[i] + (1-strength)*unmoved)
		top = math.Max(top, a.weights[i])
	}
	for i := range a.weights {
		a.weights[i] -= top
	}
	return a
}

// weigh adds the evidence to logp and signs, and tells whether the case is
// still clean with it.
func (a *aside) weigh(logp, signs []float64) bool {
	force := math.Inf(-1)
	for i, x := range a.weights {
		logp[i] += x
		if !a.vague {
			signs[i] = math.Max(signs[i], sign(x-a.weights[NoFault]))
		}
		if i > 0 {
			force = math.Max(force, x-a.weights[NoFault])
		}
	}
	return force <= math.Log(3)
}

// argue lists the evidence for or against the likeliest fault, against the
// others in proportion to their probabilities p.
func (a *aside) argue(v *Verdict, p []float64) {
	best := v.Chances[0].Fault
	sum, rest := 0.0, 1e-300
	for k, x := range a.weights {
		if Fault(k) != best {
			sum += p[k] * math.Exp(x)
			rest += p[k]
		}
	}
	e := Evidence{Finding: a.kind, Text: a.text, Because: a.because, Ratio: math.Exp(a.weights[best]) / math.Max(sum/rest, 1e-9)}
	if e.Ratio >= 1 {
		v.For = append(v.For, e)
	} else {
		v.Against = append(v.Against, e)
	}
	if v.Summary == "" {
		v.Summary = a.text
	}
}
