package main

import (
	"math"

	"threewire/analyze/stats"
	"threewire/fixtures"
)

// share is a count with its Wilson interval at 95 %.
type share struct {
	Hits int     `json:"hits"`
	Of   int     `json:"of"`
	Rate float64 `json:"rate"` // 0 when Of is 0
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

func (s *share) add(hit bool) {
	s.Of++
	if hit {
		s.Hits++
	}
}

func (s *share) settle() {
	s.Rate, s.Low, s.High = 0, 0, 1
	if s.Of > 0 {
		s.Rate = float64(s.Hits) / float64(s.Of)
		s.Low, s.High = stats.Wilson(s.Hits, s.Of, 0.95)
	}
}

// spread is the size of errors: median, 90 % and the share within the aim.
type spread struct {
	Count  int     `json:"count"`
	Median float64 `json:"median"`
	P90    float64 `json:"p90"`
	Within share   `json:"within_aim"`
	all    []float64
	aim    float64
}

func (s *spread) add(x float64) {
	s.all = append(s.all, x)
	s.Within.add(x <= s.aim)
}

func (s *spread) settle() {
	s.Count = len(s.all)
	s.Median, s.P90 = finite(stats.Quantile(s.all, 0.5)), finite(stats.Quantile(s.all, 0.9))
	s.Within.settle()
}

// The aims of the places and frequencies: 1.5 % of the span, 1 %.
const (
	placeAim = 0.015
	huntAim  = 0.01
)

// figures are the results over some outcomes.
type figures struct {
	Cases    int `json:"cases"`
	Captures int `json:"captures"`
	Failed   int `json:"failed"`

	Right      share `json:"right_on_decidable"`
	PartRight  share `json:"part_right_on_decidable"`
	AllRight   share `json:"right_or_rightly_undecided"` // of all cases
	Alarm      share `json:"false_alarm_on_healthy"`
	Unsure     share `json:"cannot_tell"`
	UnsureOK   share `json:"cannot_tell_rightly"`       // of those that cannot tell
	UndecidedK share `json:"undecidable_handled_right"` // of those that are undecidable
	SureWrong  share `json:"component_wrong_at_90"`     // of those stated at 90 % or more
	SurePart   share `json:"part_wrong_at_90"`          // of actuator or air case stated so
	Detected   share `json:"component_named"`           // of all faulty

	Spot      share  `json:"spots_found"` // of those that left a mark
	Noisy     share  `json:"noisy_stretches_found"`
	FalseSpot share  `json:"captures_with_false_spots"`
	Spots     int    `json:"false_spots"`
	Edge      spread `json:"spot_edge_error_of_span"`
	Centre    spread `json:"spot_centre_error_of_span"`
	Told      spread `json:"spot_percentage_error"`
	JamFound  share  `json:"jams_found"`
	Jam       spread `json:"jam_error_of_span"`
	FalseJam  share  `json:"healthy_with_false_jam"`
	HuntFound share  `json:"hunting_found"`
	Hunt      spread `json:"hunting_frequency_error"`
	FalseHunt share  `json:"healthy_with_false_hunting"`
	Drift     share  `json:"drifting_ends_found"`
	Slope     spread `json:"drift_slope_error"`
	Change    spread `json:"drift_change_error_of_span"`
	Cover     share  `json:"drift_interval_covers"`
}

// shares lists all shares, to settle them.
func (f *figures) shares() []*share {
	return []*share{&f.Right, &f.PartRight, &f.AllRight, &f.Alarm, &f.Unsure, &f.UnsureOK, &f.UndecidedK, &f.SureWrong, &f.SurePart, &f.Detected,
		&f.Spot, &f.Noisy, &f.FalseSpot, &f.JamFound, &f.FalseJam, &f.HuntFound, &f.FalseHunt, &f.Drift, &f.Cover}
}

// count works out the figures of some outcomes.
func count(list []*outcome) figures {
	f := figures{Edge: spread{aim: placeAim}, Centre: spread{aim: placeAim}, Told: spread{aim: placeAim}, Jam: spread{aim: placeAim}, Hunt: spread{aim: huntAim},
		Slope: spread{aim: 0.1}, Change: spread{aim: placeAim}}
	for _, o := range list {
		f.Cases++
		f.Captures += o.Captures
		if o.Error != "" {
			f.Failed++
			continue
		}
		if o.Kind != extra {
			f.verdict(o)
		}
		if o.Kind == single || o.Kind == extra {
			f.measures(o)
		}
	}
	for _, s := range f.shares() {
		s.settle()
	}
	for _, s := range []*spread{&f.Edge, &f.Centre, &f.Told, &f.Jam, &f.Hunt, &f.Slope, &f.Change} {
		s.settle()
	}
	return f
}

// sureFrom is the probability from which a verdict is acted on unasked.
const sureFrom = 0.9

func (f *figures) verdict(o *outcome) {
	f.AllRight.add(o.right())
	if o.Decidable {
		f.Right.add(o.right())
		f.PartRight.add(o.partRight())
	} else {
		f.UndecidedK.add(o.right())
	}
	f.Unsure.add(!o.stated())
	switch {
	case !o.stated():
		f.UnsureOK.add(!o.Decidable)
	case o.Probability >= sureFrom:
		f.SureWrong.add(!o.right())
	}
	if o.buys() && o.PartProbability >= sureFrom {
		f.SurePart.add(!o.partRight())
	}
	if o.Component == fixtures.None {
		f.Alarm.add(o.stated() && o.Said != fixtures.None)
	} else {
		f.Detected.add(o.named())
	}
}

func (f *figures) measures(o *outcome) {
	for _, s := range o.Spots {
		switch {
		case s.Kind == "noisy" && s.Shown:
			f.Noisy.add(s.Found)
		case s.Shown:
			f.Spot.add(s.Found)
		}
		if s.Kind == "noisy" || !s.Found {
			continue
		}
		for _, e := range s.Edges {
			f.Edge.add(e)
		}
		if s.Centre != nil {
			f.Centre.add(*s.Centre)
			f.Told.add(*s.Told)
		}
	}
	f.Spots += o.FalseSpot
	f.FalseSpot.add(o.FalseSpot > 0)
	if o.Jam != nil {
		if f.JamFound.add(o.Jam.Found); o.Jam.Found {
			f.Jam.add(o.Jam.Error)
		}
	}
	if o.Hunt != nil {
		if f.HuntFound.add(o.Hunt.Found); o.Hunt.Found {
			f.Hunt.add(o.Hunt.Error)
		}
	}
	if o.Component == fixtures.None {
		f.FalseJam.add(o.FalseJam > 0)
		f.FalseHunt.add(o.FalseHunt > 0 && o.Hunt == nil)
	}
	for _, d := range o.Drift {
		if f.Drift.add(d.Found); !d.Found {
			continue
		}
		f.Slope.add(d.Error)
		f.Change.add(d.Off)
		if d.Ranged {
			f.Cover.add(d.Covered)
		}
	}
}

// finite guards numbers for JSON.
func finite(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	return x
}
