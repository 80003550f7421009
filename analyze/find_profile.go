package analyze

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"threewire/analyze/nominal"
)

// AgainstProfile is how a capture compares with the profile of a known good
// actuator. Fields that the capture does not tell are absent.
type AgainstProfile struct {
	File string `json:"file"`
	// Used is false when the profile is not of such an actuator; Text says
	// why then.
	Used bool `json:"used"`

	LowShift  *float64 `json:"low_stop_shift,omitempty"`  // feedback unit, capture less profile
	HighShift *float64 `json:"high_stop_shift,omitempty"` // likewise
	Tolerance float64  `json:"stop_tolerance"`            // feedback unit, for the shifts
	Span      *float64 `json:"span_ratio,omitempty"`      // over the profile's

	// Up and Down are the speeds of the reading over the profile's, at the
	// capture's own drive; Good is where those of a good one lie, Times the
	// travel time over the profile's, both ways together.
	Up    *float64 `json:"speed_up,omitempty"`
	Down  *float64 `json:"speed_down,omitempty"`
	Good  Interval `json:"good_speed"`
	Times *float64 `json:"travel_time_ratio,omitempty"`

	Text string `json:"text"` // one plain sentence
}

// findAgainstProfile compares stops and travel times with the profile's.
func (w *work) findAgainstProfile() {
	p := w.opt.Profile
	if p == nil || !(p.High > p.Low) || !(p.TransitUp > 0) || !(p.TransitDown > 0) {
		return
	}
	a := &AgainstProfile{File: p.File, Used: true}
	w.against = a
	volts := w.unit() == p.Unit
	scale := 1.0
	if volts && w.refMeasured() && p.Unit == "V" && p.Reference > 0 {
		scale = w.ref / p.Reference // the wiper gives a share of its supply
	}
	s := profileStops{low: math.NaN(), high: math.NaN(), span: scale * p.Span()}
	s.tol = math.Sqrt(math.Pow(scale*p.Tolerance, 2) + w.tol*w.tol)
	a.Tolerance = s.tol
	if volts {
		for _, x := range w.stops {
			if !x.Extreme {
				continue
			}
			if x.Direction == Down {
				s.low, s.lowStalls = x.Level-scale*p.Low, x.Stalls
			} else {
				s.high, s.highStalls = x.Level-scale*p.High, x.Stalls
			}
		}
	}
	a.LowShift, a.HighShift = known(s.low), known(s.high)
	s.ratio = 1 + (s.high-s.low)/s.span
	a.Span = known(s.ratio)

	pace := w.paceAgainst(p, scale)
	s.band, s.times = pace.good, pace.times
	a.Good, a.Up, a.Down, a.Times = pace.good, known(pace.speed[1]), known(pace.speed[0]), known(pace.times)
	if why := foreign(p, w.sense, s); why != "" {
		a.Used, a.Text = false, why
		w.notes = append(w.notes, why)
		return
	}
	if p.Sense != 0 && w.sense != 0 && p.Sense != w.sense {
		w.notes = append(w.notes, "positive drive moves the reading the other way than in the profile: probes or leads are the other way round")
	}
	if volts {
		w.stopsAgainst(p, s)
	}
	w.speedAgainst(p, s, pace)
	a.Text = a.sentence(p, w.unit())
}

// known is x for JSON, nil for what is not known.
func known(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}

// zero is x, or 0 for what is not known.
func zero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}

// profileStops are the stops against a profile's; NaN where not reached.
type profileStops struct {
	low, high             float64 // shift, upwards positive
	lowStalls, highStalls int
	tol, span             float64
	ratio                 float64 // span over the profile's
	times                 float64 // travel time over the profile's
	band                  Interval
}

// stopsAgainst reports stops elsewhere than the profile's. Whether the shaft
// stops elsewhere or only reads otherwise is decided by the travel time: a
// shorter travel takes less time in proportion, a changed scale does not
// change the time.
func (w *work) stopsAgainst(p *nominal.Profile, s profileStops) {
	// The actuator's own stops may lie beyond its door's, never within.
	inner := !(p.Free && !w.opt.Free)
	outer := p.Free == w.opt.Free
	in := [2]float64{s.low, -s.high}        // how far inside the profile's stop
	chance := func(shift float64) float64 { // that a good one's stop is as far off
		return distuv.UnitNormal.Survival(2*math.Abs(shift)/s.tol) / distuv.UnitNormal.Survival(2)
	}
	inward := [2]bool{inner && in[0] > s.tol, inner && in[1] > s.tol}
	outward := [2]bool{outer && -in[0] > s.tol, outer && -in[1] > s.tol}
	// Both ends shifted alike: the travel is the same, only its reading moved.
	if math.Abs(s.low+s.high) > 2*s.tol && math.Abs(s.high-s.low) < s.tol && s.low*s.high > 0 {
		f := w.profileFinding(stopsShifted, math.Abs(s.low+s.high)/2, s)
		f.Strength = 1 - chance(math.Abs(s.low+s.high)/2)
		w.found = append(w.found, f)
		return
	}
	story := s.travelOrScale()
	for _, d := range []Direction{Down, Up} {
		i := side(d)
		if !inward[i] || w.covered(Jam, d) || w.covered(EndLoss, d) || w.covered(SpanDrift, None) {
			continue
		}
		stalls := max(s.lowStalls, 1)
		if d == Up {
			stalls = max(s.highStalls, 1)
		}
		f := w.profileFinding(jamShortOfProfile, in[i], s)
		f.Kind, f.Direction, f.Event = Jam, d, fmt.Sprintf("stall %s", d)
		f.Places = slices.DeleteFunc(f.Places, func(o Occurrence) bool { return o.Direction != d })
		f.Seen, f.Passes = stalls, stalls
		f.Volts = noInterval()
		for _, o := range f.Places {
			f.Volts = f.Volts.widen(o.Volts.From)
		}
		switch {
		case story > 1:
			f.Form = jamShortSooner
		case story < -1:
			f.Kind, f.Form, f.Event = SpanShift, scaleOff, "drift"
		}
		f.Strength = (1 - chance(in[i])) * (1 - math.Exp(-float64(stalls)))
		w.found = append(w.found, f)
	}
	if (outward[0] || outward[1]) && !w.covered(SpanDrift, None) && !w.covered(LoadLost, None) {
		far := math.Max(zero(-in[0]), zero(-in[1]))
		f := w.profileFinding("beyond the profile's stop", far, s)
		switch {
		case story > 1:
			f.Form = beyondProfileSlower
		case story < -1:
			f.Form = scaleOff
		}
		f.Strength = 1 - chance(far)
		w.found = append(w.found, f)
	}
}

// travelOrScale is the logarithm of how much better a changed travel explains
// the travel time than a changed scale of the sensor, within e^3 either way;
// 0 when the capture does not tell.
func (s *profileStops) travelOrScale() float64 {
	if math.IsNaN(s.times) || math.IsNaN(s.ratio) || !(s.ratio > 0) || !(s.times > 0) || !(s.band.From > 0) {
		return 0
	}
	return travelOverScale(s.times, s.ratio, s.band)
}

// travelOverScale weighs travel times over the expected ones, with the band of
// healthy speeds about them, against a travel and against a reading that
// changed to ratio: the logarithm, within 3 either way.
func travelOverScale(times, ratio float64, band Interval) float64 {
	sd := math.Log(band.To/band.From) / 4 // the band is two deviations either way
	t, q := math.Log(times), math.Log(ratio)
	l := (t*t - (t-q)*(t-q)) / (2 * sd * sd)
	return math.Max(-3, math.Min(3, l))
}

// mixed takes the likelihoods of a changed travel and of a changed scale
// together, l being the logarithm of how much likelier the travel is.
func mixed(l float64, travel, scale shown) shown {
	share := 1 / (1 + math.Exp(-l))
	var out shown
	for i := range out {
		out[i] = share*travel[i] + (1-share)*scale[i]
	}
	return out
}

// profileFinding is a finding about the stops, places and numbers filled in.
func (w *work) profileFinding(form string, by float64, s profileStops) Finding {
	f := Finding{Kind: SpanShift, Form: form, Volts: w.span, Time: w.drivenTime(), Tie: TiedToPosition, TieP: 1, Event: "drift",
		Seen: s.lowStalls + s.highStalls, Passes: s.lowStalls + s.highStalls}
	f.Measures = []Measure{{MeasureFromProfileStop, by, w.unit()}, {MeasureTolerance, s.tol, w.unit()},
		{"low stop shift", s.low, w.unit()}, {"high stop shift", s.high, w.unit()},
		{MeasureSpanOverProfile, s.ratio, ""}, {MeasureTimeOverProfile, s.times, ""},
		{logTravel, s.travelOrScale(), ""}}
	if w.tr.Reference == nil && s.inProportion(w.opt.Profile) {
		f.Measures = append(f.Measures, Measure{MeasureEndsInProportion, 1, ""})
	}
	for _, x := range w.stops {
		if x.Extreme {
			for _, at := range x.Times {
				f.Places = append(f.Places, Occurrence{Interval{at, at}, Interval{x.Level, x.Level}, x.Direction})
			}
		}
	}
	return f
}

// speedAgainst reports an actuator slower both ways than the profile allows.
func (w *work) speedAgainst(p *nominal.Profile, s profileStops, pace profilePace) {
	if p.Free && !w.opt.Free {
		return // a load that was not there explains it
	}
	// Both ways together: what a door's weight and springs take from one they
	// give to the other.
	best := (pace.speed[0] + pace.speed[1]) / 2
	alone := math.IsNaN(best)
	if alone {
		best = math.Max(zero(pace.speed[0]), zero(pace.speed[1]))
	}
	if best == 0 {
		return
	}
	// A sensor that shows less of the same travel shows less speed.
	if s.travelOrScale() < -1 && s.times > 0 {
		best = 1 / s.times
	}
	if best >= pace.good.From {
		return
	}
	sd := (1 - pace.good.From) / 2
	z := (1 - best) / sd
	f := Finding{Kind: WeakDrive, Form: weakAgainstProfile, Volts: w.span, Time: w.drivenTime(), Tie: TieUnknown, TieP: 1, Event: "slower",
		Seen: len(w.sweeps), Passes: len(w.sweeps)}
	f.Strength = 1 - distuv.UnitNormal.Survival(z)/distuv.UnitNormal.Survival(2)
	if alone {
		f.Strength *= 0.7
	}
	f.Measures = []Measure{{MeasureSpeedOverGood, best, ""}, {"least that a good one does here", pace.good.From, ""}, {"deviations", z, ""}}
	w.found = append(w.found, f)
}

// foreign says why a profile is not of such an actuator, or "": span and
// travel time both far off, and not in a way that one fault explains.
func foreign(p *nominal.Profile, sense int, s profileStops) string {
	if math.IsNaN(s.ratio) || math.IsNaN(s.times) || !(s.ratio > 0) {
		return ""
	}
	// A jam shortens both alike, a scale leaves the time, a weak motor leaves
	// the span. What none of them does is another actuator.
	far := math.Log(1.5)
	q, t := math.Log(s.ratio), math.Log(s.times)
	other := p.Sense != 0 && sense != 0 && p.Sense != sense
	if math.Abs(q) > far && math.Abs(t) > far && math.Abs(t-q) > far || other && math.Abs(q) > far {
		return fmt.Sprintf("the profile %s does not fit: span %.0f %% of it, travel time %.0f %%; it is of another actuator, or two things changed at once, and was not used", p.File, 100*s.ratio, 100*s.times)
	}
	return ""
}
