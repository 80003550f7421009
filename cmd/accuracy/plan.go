package main

import (
	"slices"

	"threewire/fixtures"
)

// The kinds of cases.
const (
	single = "single"         // one capture
	pair   = "coupled + free" // one actuator on its door and off it
	later  = "before + after" // one actuator before the fault came and with it
	// extra are more single captures of the faults with a place or a trend to
	// measure. They count for the errors of places and trends only: verdicts
	// keep the mix of one of each fault.
	extra = "places, trends"
)

// Seeds. Fitting takes first seeds below fitBelow; the others are fixed so
// that nobody tunes on what judges. Cases add at most 1e8 to the first seed,
// ranges lie 1e9 apart.
const (
	fitBelow    = 1_000_000_000
	judgedSeeds = 7_300_000_000_000
	gateSeeds   = 5_900_000_000_000
)

// plan says which cases to make.
type plan struct {
	ranges     []string
	faults     []string  // empty: all
	severities []float64 // of single captures
	seeds      int       // captures for each fault and severity
	together   []float64 // severities of the pairs and the before-and-afters
	pairs      int       // of each for each fault and severity
	extras     int       // more captures to measure, for each such fault and severity
	first      uint64    // 0: the seeds kept for judging
}

// fullPlan makes 33 faults x 6 severities x 4 seeds alone and 33 x 3 x 1 of
// either kind of two captures, and 5 x 6 x 6 more to measure: 1,368 captures a
// range, 4,104 in all.
func fullPlan() plan {
	return plan{ranges: []string{"narrow", "wide", "other"}, severities: []float64{0.05, 0.2, 0.4, 0.6, 0.8, 1}, seeds: 4,
		together: []float64{0.3, 0.6, 0.9}, pairs: 1, extras: 6}
}

// gatePlan is the fixed smaller version that floors are recorded for.
func gatePlan() plan {
	return plan{ranges: []string{"narrow", "wide"}, severities: []float64{0.2, 0.6, 1}, seeds: 1,
		together: []float64{0.7}, pairs: 1, extras: 1, first: gateSeeds}
}

// task is one case to make and judge.
type task struct {
	kind  string
	specs []fixtures.Spec // coupled before free, before before after
}

// seedOf is the first seed of a range.
func (p *plan) seedOf(rg fixtures.Range) uint64 {
	switch {
	case p.first == 0:
		return judgedSeeds + fitBelow*uint64(rg)
	case p.first >= fitBelow:
		return p.first + fitBelow*uint64(rg)
	}
	return p.first
}

// tasks lists the cases of one range.
func (p *plan) tasks(rg fixtures.Range) []task {
	var out []task
	base := p.seedOf(rg)
	each := func(kind int, severities []float64, n int, make func(fixtures.Spec) task) {
		for fi, f := range fixtures.Faults() {
			if len(p.faults) > 0 && !slices.Contains(p.faults, f.Name) || kind == 3 && !measured(fixtures.Fault(f.Name)) {
				continue
			}
			for si, sev := range severities {
				for k := range n {
					out = append(out, make(fixtures.Spec{Fault: fixtures.Fault(f.Name), Severity: sev, Range: rg,
						Seed: base + uint64(10_000_000*kind+100_000*fi+1000*si+k)}))
				}
			}
		}
	}
	each(0, p.severities, p.seeds, func(s fixtures.Spec) task { return task{single, []fixtures.Spec{s}} })
	each(1, p.together, p.pairs, func(s fixtures.Spec) task {
		free := s
		free.Free = true
		return task{pair, []fixtures.Spec{s, free}}
	})
	each(2, p.together, p.pairs, func(s fixtures.Spec) task {
		before := s
		switch s.Fault {
		case fixtures.SpanDrift:
			s.Before = 10 // sweeps made between the two
		case fixtures.ShortTravel, fixtures.Inverted, fixtures.DoorWeight, fixtures.OverCentre:
			// Of the build, which does not change from one capture to the next.
		default:
			before.Fault = fixtures.Healthy
		}
		before.Take = 1
		return task{later, []fixtures.Spec{before, s}}
	})
	each(3, p.severities, p.extras, func(s fixtures.Spec) task { return task{extra, []fixtures.Spec{s}} })
	return out
}

// measured tells whether a fault has a place or a trend to measure; worn ends
// and objects make controllers hunt besides.
func measured(f fixtures.Fault) bool {
	switch f {
	case fixtures.DeadSpot, fixtures.TrackNoise, fixtures.EndLoss, fixtures.SpanDrift, fixtures.Jam:
		return true
	}
	return false
}

// rangeNamed finds a range by its name.
func rangeNamed(name string) (fixtures.Range, bool) {
	for _, r := range fixtures.Ranges() {
		if r.String() == name {
			return r, true
		}
	}
	return 0, false
}
