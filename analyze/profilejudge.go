package analyze

import (
	"fmt"
	"math"

	"threewire/analyze/nominal"
)

// sentence says the comparison plainly.
func (a *AgainstProfile) sentence(p *nominal.Profile, unit string) string {
	text := "Against the profile"
	if p.File != "" {
		text += " " + p.File
	}
	text += ": "
	switch {
	case unit != p.Unit:
		text += fmt.Sprintf("stops not compared, they are in %s there and in %s here", p.Unit, unit)
	case a.LowShift == nil && a.HighShift == nil:
		text += "no stop was reached to compare"
	default:
		for i, x := range []*float64{a.LowShift, a.HighShift} {
			name := [...]string{"low", "high"}[i]
			if i > 0 {
				text += ", "
			}
			if x == nil {
				text += name + " stop not reached"
				continue
			}
			text += fmt.Sprintf("%s stop %+.2f %s", name, *x, unit)
		}
		text += fmt.Sprintf(" (tolerance %.2f %s)", a.Tolerance, unit)
	}
	speeds := ""
	for i, x := range []*float64{a.Up, a.Down} {
		if x != nil {
			if speeds != "" {
				speeds += ", "
			}
			speeds += fmt.Sprintf("%.0f %% of its speed %s", 100**x, [...]string{"up", "down"}[i])
		}
	}
	if speeds == "" {
		return text + "; no travel to compare speeds."
	}
	return text + "; " + speeds + fmt.Sprintf(" (a good one, whatever its load and temperature: %.0f to %.0f %%).", 100*a.Good.From, 100*a.Good.To)
}

// logTravel is the measure that weighs a changed travel against a changed
// scale: the logarithm of the ratio.
const logTravel = "log ratio, travel over scale"

// inProportion tells whether both stops moved in proportion to their distance
// from zero volts, as a changed supply of the sensor moves them.
func (s *profileStops) inProportion(p *nominal.Profile) bool {
	if math.IsNaN(s.low) || math.IsNaN(s.high) || !(p.High > 0) {
		return false
	}
	return math.Abs(s.low-s.high*p.Low/p.High) < s.tol/2
}

// spanShiftLikelihood judges stops that read otherwise than the profile's.
func spanShiftLikelihood(f *Finding) (shown, string) {
	switch f.Form {
	case stopsShifted:
		return shown{.03, .1, .01, .03, .08}, "both stops read shifted alike against the profile: sensor, its ground, the instrument's offset, or a shaft that sits one tooth off"
	case scaleOff:
		if f.has(MeasureEndsInProportion) {
			return f.travelOrScale(shown{.002, .01, .015, .35, .003}, shown{.006, .08, .004, .008, .16}), "the stops read lower or higher in proportion while the travel takes as long as ever: the sensor's supply, or its track"
		}
		return f.travelOrScale(shown{.002, .01, .015, .35, .003}, shown{.006, .2, .006, .01, .03}), "the stops read elsewhere than the profile's, but the travel takes as long as ever: the reading's scale changed, not the travel"
	case beyondProfileSlower:
		return shown{.004, .015, .015, .25, .003}, "it runs further than a good one, and longer: what should stop it is gone"
	}
	return shown{.01, .08, .015, .12, .04}, "it reads beyond a good one's stop; without full sweeps the travel time does not say whether it runs further or reads more"
}

// profileJamLikelihood judges a stop short of the profile's.
func profileJamLikelihood(f *Finding) (shown, string) {
	p := f.travelOrScale(shown{.002, .01, .015, .35, .003}, shown{.006, .2, .006, .01, .05})
	if f.Form == jamShortSooner {
		return p, "the stop lies short of where a good actuator's is, and the travel takes less time in proportion: something is in the way"
	}
	return p, "the stop reads short of where a good actuator's is; the travel time does not say clearly whether the travel or only its reading is shorter"
}

// travelOrScale mixes the likelihoods of a changed travel and of a changed
// scale by what the travel time says of them.
func (f *Finding) travelOrScale(travel, scale shown) shown {
	l, _ := f.Measure(logTravel)
	return mixed(l, travel, scale)
}

// againstWords says how far a stop lies off and how span and travel time
// compare.
func (w *work) againstWords(f *Finding) string {
	by, _ := f.Measure(MeasureFromProfileStop)
	tol, _ := f.Measure(MeasureTolerance)
	tail := fmt.Sprintf(" by %.2f %s (tolerance %.2f %s)", by, w.unit(), tol, w.unit())
	if r, ok := f.Measure(MeasureSpanOverProfile); ok {
		tail += fmt.Sprintf(", span %.0f %%", 100*r)
		if t, ok := f.Measure(MeasureTimeOverProfile); ok {
			tail += fmt.Sprintf(" and travel time %.0f %%", 100*t)
		}
		tail += " of the profile's"
	}
	return tail
}

// profileJamTitle says it in one sentence.
func (w *work) profileJamTitle(f *Finding) string {
	n := "once"
	if f.Seen > 1 {
		n = fmt.Sprintf("%d times", f.Seen)
	}
	return fmt.Sprintf("Stopped at %.2f %s going %s, %s, short of the profile's stop%s.", f.Volts.Mid(), w.unit(), f.Direction, n, w.againstWords(f))
}

// spanShiftTitle says it in one sentence.
func (w *work) spanShiftTitle(f *Finding) string {
	tail := w.againstWords(f)
	switch f.Form {
	case stopsShifted:
		return "Both stops read shifted alike against the profile" + tail + "."
	case scaleOff:
		return "A stop reads elsewhere than the profile's" + tail + "."
	}
	return "Runs beyond the profile's stop" + tail + "."
}

// noProfile is said of a capture that nothing good was there to compare with.
const noProfile = "no profile of a good actuator: the capture was compared only with itself (the command threewire profile makes one)"

// profileCoverage says what the comparison with a profile did not find, or
// that there was none.
func (w *work) profileCoverage(absent, blind func(Kind, string)) {
	switch a := w.against; {
	case a == nil:
		blind(WeakDrive, noProfile)
	case !a.Used:
		blind(WeakDrive, "the profile does not fit: the capture was compared only with itself")
	default:
		if a.LowShift != nil && a.HighShift != nil && !w.covered(Jam, Up) && !w.covered(Jam, Down) {
			absent(SpanShift, fmt.Sprintf("stops where the profile's are, within %.2f %s", a.Tolerance, w.unit()))
		}
		slow := func(x *float64) bool { return x != nil && *x < a.Good.From }
		switch {
		case slow(a.Up) || slow(a.Down):
			// Something else that was found explains it, or it was found; it is
			// not absent.
		case a.Good.From < tellingSpeed:
			blind(WeakDrive, fmt.Sprintf("driven with so much less than the profile's that a good one may run at %.0f to %.0f %% of the speed expected: the speed tells nothing", 100*a.Good.From, 100*a.Good.To))
		case a.Up != nil || a.Down != nil:
			absent(WeakDrive, "no speed below that of the profile")
		default:
			blind(WeakDrive, "no travel long enough to compare the speed with the profile's")
		}
	}
}

// tellingSpeed is the share of its usual speed that a good one must keep to, whatever
// its load and warmth, for a speed like a good one's to say something: a motor that
// has lost half shows then.
const tellingSpeed = 0.5

// asGood is the evidence of a capture that agrees with its profile: a motor
// slow from the start and a travel short from the start, which a capture alone
// cannot show, would have shown. Simulated ones are seen in seven of eight
// cases (of motors 56 of 64: the rig's ranges narrow and wide, seeds 700 to 719,
// 2026-11-25, see "Profiles and comparisons" in DEVELOPERS.md); a door broken off is not. nil when there is nothing to agree with.
func (c *Capture) asGood() *aside {
	a := c.Against
	if a == nil || !a.Used || a.Up == nil || a.Down == nil || a.LowShift == nil || a.HighShift == nil || a.Good.From < tellingSpeed || (*a.Up+*a.Down)/2 < a.Good.From || (*a.Up+*a.Down)/2 > a.Good.To {
		return nil
	}
	for i := range c.Findings {
		switch c.Findings[i].Kind {
		case SpanShift, Jam, WeakDrive, HeavyDrag, FeedResists, Heating, LoadLost, SlowZone, StickSlip, UnevenWays:
			return nil // the median sweep agrees, this does not
		}
	}
	x := newAside(LikeProfile, shown{1, 1, .3, .6, 1}, 1, fmt.Sprintf("Stops and speed are those of the profile (speed %.0f %% up, %.0f %% down).", 100**a.Up, 100**a.Down),
		"a motor slow from the start or a travel short from the start would most likely have differed")
	return &x
}

// goodTransit is a profile's travel time in a direction, s.
func goodTransit(p *nominal.Profile, d Direction) float64 {
	if d == Up {
		return p.TransitUp
	}
	return p.TransitDown
}
