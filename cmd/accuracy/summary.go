package main

import (
	"fmt"
	"slices"

	"threewire/analyze"
	"threewire/fixtures"
)

// schema names the layout of the JSON report.
const schema = "threewire-accuracy/1"

// summary is the whole report.
type summary struct {
	Schema  string         `json:"schema"`
	Command string         `json:"command"`
	Notice  string         `json:"notice"`
	Ranges  []rangeSummary `json:"ranges"`
}

// notice stands over every report.
const notice = `Nobody may fit, tune or choose anything on the seeds kept for judging: they judge what was fitted on others.`

// rangeSummary is the report of one range.
type rangeSummary struct {
	Range     string `json:"range"`
	Use       string `json:"use"`
	FirstSeed uint64 `json:"first_seed"`
	Seeds     string `json:"seeds"`

	All         figures     `json:"all"`
	Calibration calibration `json:"calibration"`          // component, against what a careful reader may say
	Strict      calibration `json:"calibration_to_truth"` // component, against the fault that was put in
	Parts       calibration `json:"calibration_of_parts"`

	Confusion  confusion `json:"confusion"`
	Kinds      []group   `json:"by_kind"`
	Severities []group   `json:"by_severity"`
	Rates      []group   `json:"by_rate"`
	Bits       []group   `json:"by_bits"`
	Noises     []group   `json:"by_noise"`
	Faults     []group   `json:"by_fault"`

	// Curves are, for each component, the share of its faults that the
	// verdict names, by severity, rate and noise.
	Curves map[string]curves `json:"detection"`
}

type curves struct {
	Severity []group `json:"by_severity"`
	Rate     []group `json:"by_rate"`
	Noise    []group `json:"by_noise"`
}

// group is the figures of the outcomes that share a property. At is a number
// to draw them at.
type group struct {
	Name string  `json:"name"`
	At   float64 `json:"at"`
	figures
}

// use says what a range is for.
func use(r fixtures.Range) string {
	switch r {
	case fixtures.Narrow:
		return "fitting"
	case fixtures.Wide:
		return "developing"
	}
	return "robustness"
}

// seedsAre says what a first seed may be used for.
func seedsAre(first uint64) string {
	if first < fitBelow {
		return "open to fitting"
	}
	return "kept for judging"
}

// summarise reports one range.
func summarise(rg fixtures.Range, first uint64, res []outcome) rangeSummary {
	list := make([]*outcome, len(res))
	for i := range res {
		list[i] = &res[i]
	}
	s := rangeSummary{Range: rg.String(), Use: use(rg), FirstSeed: first, Seeds: seedsAre(first), All: count(list)}
	s.Calibration = calibrateBy(list, (*outcome).acceptedAt)
	s.Strict = calibrateBy(list, (*outcome).truthAt)
	s.Parts = calibrateBy(list, (*outcome).partAt)
	s.Confusion = confuse(list)
	s.Kinds = groupBy(list, byKind)
	alone := only(list, func(o *outcome) bool { return o.Kind == single || o.Kind == extra })
	s.Severities = groupBy(only(alone, faulty), bySeverity)
	s.Rates = groupBy(alone, byRate)
	s.Bits = groupBy(alone, byBits)
	s.Noises = groupBy(alone, byNoise)
	var names []string
	for _, f := range fixtures.Faults() {
		names = append(names, f.Name)
	}
	s.Faults = groupBy(list, func(o *outcome) (string, float64) { return o.Fault, float64(slices.Index(names, o.Fault)) })
	s.Curves = map[string]curves{}
	for _, f := range analyze.Faults()[1:] {
		c := component(f)
		mine := only(alone, func(o *outcome) bool { return o.Component == c })
		s.Curves[c] = curves{groupBy(mine, bySeverity), groupBy(mine, byRate), groupBy(mine, byNoise)}
	}
	return s
}

// confusion counts what was said of each component.
type confusion map[string]map[string]int

func confuse(list []*outcome) confusion {
	c := confusion{}
	for _, o := range list {
		if o.Error == "" && o.Kind != extra {
			if c[o.Component] == nil {
				c[o.Component] = map[string]int{}
			}
			c[o.Component][o.Said]++
		}
	}
	return c
}

func faulty(o *outcome) bool { return o.Component != fixtures.None }

func only(list []*outcome, want func(*outcome) bool) []*outcome {
	var out []*outcome
	for _, o := range list {
		if o.Error == "" && want(o) {
			out = append(out, o)
		}
	}
	return out
}

// groupBy gathers outcomes of one name, in the order of the numbers.
func groupBy(list []*outcome, key func(*outcome) (string, float64)) []group {
	members := map[string][]*outcome{}
	var out []group
	for _, o := range list {
		name, at := key(o)
		if members[name] == nil {
			out = append(out, group{Name: name, At: at})
		}
		members[name] = append(members[name], o)
	}
	slices.SortStableFunc(out, func(a, b group) int {
		switch {
		case a.At < b.At:
			return -1
		case a.At > b.At:
			return 1
		}
		return 0
	})
	for i := range out {
		out[i].figures = count(members[out[i].Name])
	}
	return out
}

func byKind(o *outcome) (string, float64) {
	return o.Kind, float64(slices.Index([]string{single, pair, later, extra}, o.Kind))
}

func bySeverity(o *outcome) (string, float64) {
	return fmt.Sprintf("severity %.2f", o.Severity), o.Severity
}

// step is a class of a number: everything up to Top.
type step struct {
	name string
	top  float64
	at   float64
}

func class(x float64, steps []step) (string, float64) {
	for _, s := range steps {
		if x <= s.top {
			return s.name, s.at
		}
	}
	last := steps[len(steps)-1]
	return last.name, last.at
}

// The classes of rates: mechanics live below about 100 Hz, so up to 50 Hz
// misses some, and above a kilohertz there is nothing more to see.
func byRate(o *outcome) (string, float64) {
	return class(o.RateHz, []step{{"up to 50 Hz", 50, 30}, {"51 to 200 Hz", 200, 100}, {"201 to 1000 Hz", 1000, 500}, {"1 to 5 kHz", 5000, 2500}, {"over 5 kHz", 1e9, 20000}})
}

func byBits(o *outcome) (string, float64) {
	return class(float64(o.Bits), []step{{"6 to 8 bits", 8, 8}, {"9 to 11 bits", 11, 10}, {"12 to 13 bits", 13, 12}, {"14 bits or more", 99, 16}})
}

func byNoise(o *outcome) (string, float64) {
	return class(100*o.Noise, []step{{"up to 0.3 % of span", 0.3, 0.2}, {"0.3 to 1 %", 1, 0.6}, {"1 to 3 %", 3, 1.7}, {"over 3 %", 1e9, 5}})
}
