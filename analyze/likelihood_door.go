package analyze

import (
	"fmt"
	"math"
)

// How findings about the door mechanism and what the travel shows of it bear on each fault,
// in the order of [Faults]; see [shown].

func travelChangeLikelihood(f *Finding) (shown, string) {
	return shown{.004, .06, .06, .12, .005}, "span and travel time change together: the travel itself changes"
}

func slowZoneLikelihood(f *Finding) (shown, string) {
	if f.has(builtLaw) {
		return twoSlopesLikelihood(f)
	}
	if c, ok := f.Measure(currentBeside); ok {
		if c < 0.93 {
			return shown{.004, .07, .25, .006, .003}, "slow at a place where the motor draws no more than beside it, rather less: a door that binds would load it; teeth let go there, or the track tells too little of the way"
		}
		return shown{.004, .2, .08, .006, .003}, "slow at a place where the motor draws what it draws beside it: a door that binds would load it, so the shaft goes on and the track tells too little of the way, or teeth let go"
	}
	// That a control turns its drive down somewhere is as common as a track of two slopes,
	// which a sound one may have as well (chosen, not derived); the sensor and the gears get
	// half of what they get where the volts are known.
	if c, ok := f.Measure(unloadedThere); ok {
		if f.amidWay() {
			return shown{.008, .1, .03, .006, .006}, fmt.Sprintf("slow at a place where the motor draws %.0f %% of what it draws beside it: a door that binds would load it, so the track tells too little of the way there, or teeth let go; a control turns its drive down near its targets, whose volts were not logged, and here the shaft goes on at its pace, up and down", 100*c)
		}
		return shown{.03, .1, .03, .006, .01}, fmt.Sprintf("slow at a place where the motor draws %.0f %% of what it draws beside it: a door that binds would load it; the control turned its drive down there, whose volts were not logged, or the track tells too little of the way", 100*c)
	}
	if f.has(unloadedElsewhere) {
		return shown{.03, .03, .02, .03, .01}, "slow at a place whose current does not show, while at another the motor is slow without a load: a control that turns its drive down there as well as a door that binds"
	}
	if l, ok := f.Measure(placeLaw); ok {
		return shown{.008, .03 * math.Exp(l/2), .03, .3 * math.Exp(-l), .003}, fmt.Sprintf("slow at a place, and at less drive it keeps the same share of its speed there: a flat piece of track does that; a drag, which takes the same speed at any drive, explains the passes %.0f times worse", math.Exp(l))
	}
	if f.Form == standsAndGoes && f.has(placesSpacing) {
		// Three places at random are as even as that once in ten times.
		return shown{.001, .008, .1, .12, .003}, "the shaft catches at the same places in pass after pass, and they are evenly spaced: teeth are, and burrs of a door by chance"
	}
	if f.Form == standsAndGoes {
		return shown{.001, .01, .02, .25, .003}, "the shaft catches at the same place in pass after pass"
	}
	if f.Form == clingsAtStop {
		if f.Seen == 1 {
			return shown{.0008, .003, .06, .2, .004}, "driven off one stop it is held, by its current or volts, and later it sets out at once: frozen or stuck to its seat; gears may catch once too"
		}
		return shown{.0004, .003, .03, .25, .002}, "driven off one stop it is held, by its current or volts, time after time, and from elsewhere it sets out at once: a seal that sticks; gears that wedge in the stop are rarer"
	}
	if f.Form == intoOneStop {
		here, _ := f.Measure(MeasureSpeedThere)
		other, _ := f.Measure(atOtherStop)
		// The air of a blower that runs pushes a healthy door at one end too.
		good := .08
		switch ratio := here / other; {
		case ratio < 0.5:
			good = .01
		case ratio < 0.6:
			good = .025
		case ratio < 0.7:
			good = .035
		}
		if f.has(pressesThere) {
			return shown{math.Min(good, .008), .004, .015, .3, .003}, "hard into one stop and not into the other, and the motor's current rises with it there alone, beyond what good foam takes: a seal that swelled, a lip folded over, or something that lies before the stop"
		}
		return shown{good, .015, .015, .3, .003}, "hard into one stop and not into the other: a seal that swelled or a lip folded over; the foam at the other end tells what is usual here"
	}
	factor, _ := f.Measure(MeasureSpeedThere)
	good := goodSlowing(factor)
	if f.Direction != None {
		good = math.Min(good*1.5, .1)
	}
	if f.Seen < 2 {
		good *= 2
	}
	if f.Percent.From < 8 || f.Percent.To > 92 {
		// Seals: a stiff one and a swollen one differ by degrees, unless the
		// other end tells what is usual here.
		least := .05
		if f.has(atOtherStop) {
			least = .012
		}
		good = math.Max(2*good, least)
	}
	return shown{good, .01, .03, .3, .003}, "slow in one band of positions and normal elsewhere: load there, not a tired motor"
}

// amidWay tells whether the one slow place is crossed on the way from elsewhere to elsewhere,
// twice or more each way, away from both ends: no control has a target there each time.
func (f *Finding) amidWay() bool {
	var n [2]int
	for _, o := range f.Places {
		if o.Direction != None {
			n[side(o.Direction)]++
		}
	}
	return f.has(onlySlowPlace) && min(n[0], n[1]) >= 2 && f.Percent.From > 10 && f.Percent.To < 90
}

// goodSlowing tells how often a sound actuator has a place as slow as factor (the speed there,
// of the speed elsewhere), where a door that binds has one in three of ten captures. A gear
// motor's speed falls with its load along a straight line, so factor is 1 - M/Ms. A drive that is
// laid out with three times the torque of its heaviest place (common practice, no source) keeps
// two thirds of its speed on any cam and over any dead centre; a battery at 9 V instead of 13.5
// leaves a margin of two and half the speed.
func goodSlowing(factor float64) float64 {
	switch {
	case factor > 2./3:
		return .1
	case factor > 0.6:
		return .035
	case factor > 0.5:
		return .02
	}
	return .006
}

func stickSlipLikelihood(f *Finding) (shown, string) {
	return shown{.0008, .008, .04, .25, .003}, "the shaft stops and springs on all along the way: friction"
}

func loadLostLikelihood(f *Finding) (shown, string) {
	if f.Form == passesStops {
		return shown{.002, .04, .008, .2, .003}, "from one moment on it passes both stops at which it stood before: they were the door's, which no longer hangs on it; of a sensor's scale that would take a step"
	}
	if f.Form != "" {
		return shown{.0005, .01, .01, .3, .002}, "from one moment on it runs faster both ways and further than before: the door no longer hangs on it"
	}
	if f.has(MeasureCurrentFell) {
		return shown{.003, .01, .02, .2, .005}, "from one moment on it runs faster and draws less current: it has lost a load; a supply that rose would draw more"
	}
	if f.Direction != None {
		return shown{.01, .01, .03, .15, .03}, "from one moment on it runs faster one way and not the other: a supply or warm grease would help both; a weight or a spring has come off"
	}
	if f.has(currentAsBefore) {
		return shown{.1, .01, .02, .02, .05}, "from one moment on it runs faster while its current stays: more volts, not less load"
	}
	if f.has(supplyStayed) {
		return shown{.01, .01, .04, .12, .05}, "from one moment on it runs faster both ways, and the supply stayed: a lost load, or grease that warmed; a control that drives in longer pulses from then on does the same"
	}
	if f.has(driveUnknown) {
		return shown{.05, .01, .04, .1, .1}, "from one moment on it runs faster both ways; a supply that rose then does the same, and the motor's own volts were not logged"
	}
	return shown{.01, .01, .04, .12, .03}, "from one moment on it runs faster both ways at the same drive: a lost load, or grease that warmed"
}
