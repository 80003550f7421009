package main

import (
	"slices"

	"threewire/analyze"
	"threewire/fixtures"
)

// outcome is one case judged, with all the report needs: the captures
// themselves are let go, so memory stays bounded.
type outcome struct {
	Range      string  `json:"range"`
	Kind       string  `json:"kind"`
	Fault      string  `json:"fault"`
	Variant    string  `json:"variant,omitempty"`
	Severity   float64 `json:"severity"`
	Seed       uint64  `json:"seed"`
	Case       int     `json:"case,omitempty"` // of the seed; the foreign simulator's
	Controller string  `json:"controller"`
	Instrument string  `json:"instrument"`
	Captures   int     `json:"captures"`
	Duration   float64 `json:"duration_s"`
	RateHz     float64 `json:"rate_hz"`
	Bits       int     `json:"bits"`
	// Noise is the smallest change one row can show, as a share of the span.
	Noise float64 `json:"noise_of_span"`

	Component  string   `json:"component"`
	Decidable  bool     `json:"decidable"`
	Acceptable []string `json:"acceptable"`
	Why        string   `json:"why"`

	Said            string             `json:"said"` // a component, "none" or "cannot tell"
	Probability     float64            `json:"probability"`
	Likeliest       string             `json:"likeliest"`
	Chances         map[string]float64 `json:"chances"` // of each component
	Part            string             `json:"part"`    // said; "cannot tell" when not
	PartProbability float64            `json:"part_probability"`

	Spots     []spotFound  `json:"spots,omitempty"`
	FalseSpot int          `json:"false_spots"`
	FalseJam  int          `json:"false_jams"`
	FalseHunt int          `json:"false_hunts"`
	Jam       *placeFound  `json:"jam,omitempty"`
	Hunt      *huntFound   `json:"hunting,omitempty"`
	Drift     []driftFound `json:"drift,omitempty"`
	findings  []analyze.Finding

	// Refused says why the analysis took no such capture; that counts as
	// "cannot tell".
	Refused string `json:"refused,omitempty"`
	Error   string `json:"error,omitempty"`
}

const cannotTell = "cannot tell"

// component is a fault in the words of the truth file.
func component(f analyze.Fault) string {
	if f == analyze.NoFault {
		return fixtures.None
	}
	return f.String()
}

// right tells whether the verdict is one a careful reader may give.
func (o *outcome) right() bool {
	if o.Said == cannotTell {
		return !o.Decidable
	}
	return slices.Contains(o.Acceptable, o.Said)
}

// stated tells whether a component was named, none included.
func (o *outcome) stated() bool { return o.Said != cannotTell }

// named tells whether the verdict names the component at fault.
func (o *outcome) named() bool { return o.Said == o.Component }

// partRight is right for the part verdict: actuator, air case or wiring.
func (o *outcome) partRight() bool {
	if o.Part == cannotTell {
		return !o.Decidable
	}
	for _, c := range o.Acceptable {
		if partOf(c) == o.Part {
			return true
		}
	}
	return false
}

// partOf is the part one would buy for a component.
func partOf(c string) string {
	for _, f := range analyze.Faults() {
		if component(f) == c {
			return f.Part()
		}
	}
	return cannotTell
}

// buys tells whether the part verdict makes somebody buy a part.
func (o *outcome) buys() bool { return o.Part == "actuator" || o.Part == "air case" }
