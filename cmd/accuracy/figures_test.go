package main

import (
	"bytes"
	"io"
	"math"
	"strings"
	"testing"

	"threewire/analyze"
	"threewire/fixtures"
)

// said makes an outcome.
func verdict(truth string, decidable bool, said string, p float64, acceptable ...string) *outcome {
	return &outcome{Kind: single, Captures: 1, Component: truth, Decidable: decidable, Said: said, Probability: p, Acceptable: acceptable,
		Part: partOf(said), PartProbability: p}
}

// What counts as right: an accepted component, or "cannot tell" where nothing
// can be told.
func TestRight(t *testing.T) {
	for _, c := range []struct {
		o     *outcome
		right bool
		part  bool
	}{
		{verdict(fixtures.Motor, true, fixtures.Motor, 0.9, fixtures.Motor), true, true},
		{verdict(fixtures.Motor, true, fixtures.Sensor, 0.9, fixtures.Motor), false, true}, // one actuator
		{verdict(fixtures.Motor, true, fixtures.Door, 0.9, fixtures.Motor), false, false},
		{verdict(fixtures.Motor, true, cannotTell, 0.5, fixtures.Motor), false, false},
		{verdict(fixtures.Motor, false, cannotTell, 0.5, fixtures.Motor, fixtures.Door), true, true},
		{verdict(fixtures.Motor, false, fixtures.Door, 0.7, fixtures.Motor, fixtures.Door), true, true},
		{verdict(fixtures.Motor, false, fixtures.Wiring, 0.7, fixtures.Motor, fixtures.Door), false, false},
		{verdict(fixtures.None, true, fixtures.None, 0.9, fixtures.None), true, true},
	} {
		if c.o.right() != c.right || c.o.partRight() != c.part {
			t.Errorf("%s for %s of %v (decidable %v): right %v, part %v", c.o.Said, c.o.Component, c.o.Acceptable, c.o.Decidable, c.o.right(), c.o.partRight())
		}
	}
}

// Counted by hand.
func TestCount(t *testing.T) {
	list := []*outcome{
		verdict(fixtures.None, true, fixtures.None, 0.9, fixtures.None),
		verdict(fixtures.None, true, fixtures.Door, 0.95, fixtures.None),                                 // a false alarm, sure
		verdict(fixtures.Sensor, true, fixtures.Motor, 0.95, fixtures.Sensor),                            // sure and wrong, the part right
		verdict(fixtures.Sensor, true, cannotTell, 0.5, fixtures.Sensor),                                 // wrongly undecided
		verdict(fixtures.Wiring, false, cannotTell, 0.5, fixtures.Sensor, fixtures.Wiring),               // rightly so
		verdict(fixtures.Wiring, false, fixtures.None, 0.7, fixtures.Wiring, fixtures.None),              // accepted
		{Kind: single, Captures: 1, Component: fixtures.Door, Error: "x"},                                // does not count
		{Kind: pair, Captures: 2, Component: fixtures.Door, Said: fixtures.Door, Acceptable: []string{}}, // undecidable, not accepted
	}
	f := count(list)
	for _, c := range []struct {
		name     string
		s        share
		hits, of int
	}{
		{"right", f.Right, 1, 4}, {"part", f.PartRight, 2, 4}, {"all", f.AllRight, 3, 7}, {"alarm", f.Alarm, 1, 2}, {"unsure", f.Unsure, 2, 7},
		{"unsure rightly", f.UnsureOK, 1, 2}, {"sure wrong", f.SureWrong, 2, 3}, {"sure part", f.SurePart, 1, 2}, {"undecidable", f.UndecidedK, 2, 3},
		{"named", f.Detected, 1, 5},
	} {
		if c.s.Hits != c.hits || c.s.Of != c.of {
			t.Errorf("%s: %s, expected %d of %d", c.name, c.s.of(), c.hits, c.of)
		}
	}
	if f.Cases != 8 || f.Captures != 9 || f.Failed != 1 {
		t.Errorf("%d cases, %d captures, %d failed", f.Cases, f.Captures, f.Failed)
	}
}

// Findings set against a truth made by hand: a span of 4 V from 0.5 V.
func TestMeasure(t *testing.T) {
	truth := &fixtures.Truth{Fault: string(fixtures.DeadSpot), Component: fixtures.Sensor, Decidable: true, RateHz: 100,
		Shown: fixtures.TrueShown{Low: 0.5, High: 4.5}, Front: fixtures.TrueFront{PerVolt: 1, Resolution: 0.01},
		DeadSpots: []fixtures.TrueSpot{
			{Kind: "open", Shown: 3, SeenFrom: 2, SeenTo: 2.2},
			{Kind: "open", Shown: 2, SeenFrom: 4.3, SeenTo: 4.6, AtEnd: true},
			{Kind: "open", Shown: 1, SeenFrom: 1, SeenTo: 1.1},
		},
		Jam:       &fixtures.TrueJam{Touched: 2, StallVolts: 3},
		Hunting:   &fixtures.TrueHunt{From: 10, To: 15, Reversals: 5},
		Reversals: []float64{2, 10, 11, 12, 13, 14},
		Drift:     &fixtures.TrueDrift{High: fixtures.TrueTrend{Visits: 5, Slope: -0.001, Change: -0.1}},
	}
	c := &analyze.Capture{Findings: []analyze.Finding{
		{Kind: analyze.DeadSpot, Strength: 1, Volts: analyze.Interval{From: 2.02, To: 2.24}, Percent: analyze.Interval{From: 39, To: 43}},
		{Kind: analyze.EndLoss, Strength: 1, Volts: analyze.Interval{From: 4.34, To: 4.5}},
		{Kind: analyze.NoisyTrack, Strength: 1, Volts: analyze.Interval{From: 3.5, To: 3.6}},
		{Kind: analyze.DeadSpot, Strength: 0.2, Volts: analyze.Interval{From: 1, To: 1.1}},
		{Kind: analyze.Jam, Strength: 1, Measures: []analyze.Measure{{Name: "level", Value: 3.04, Unit: "V"}}},
		{Kind: analyze.Hunting, Strength: 1, Time: analyze.Interval{From: 10, To: 15}, Measures: []analyze.Measure{{Name: "frequency", Value: 0.51, Unit: "Hz"}}},
		{Kind: analyze.SpanDrift, Strength: 1, Measures: []analyze.Measure{
			{Name: "high end drift", Value: -0.11, Unit: "V"}, {Name: "high end drift per sweep", Value: -0.011, Unit: "V"},
			{Name: "high end drift per sweep, lower 95 %", Value: -0.012, Unit: "V"}, {Name: "high end drift per sweep, upper 95 %", Value: -0.0095, Unit: "V"}}},
	}}
	near := func(got, want float64) bool { return math.Abs(got-want) < 1e-9 }
	for name, counts := range map[string]float64{"volts": 1, "counts": 204.8} {
		tr := *truth
		tr.Front.PerVolt = counts
		list := &analyze.Capture{}
		for _, f := range c.Findings {
			f.Volts.From, f.Volts.To = f.Volts.From*counts, f.Volts.To*counts
			var m []analyze.Measure
			for _, x := range f.Measures {
				if counts != 1 && x.Unit == "V" {
					x.Value, x.Unit = x.Value*counts, "counts"
				}
				m = append(m, x)
			}
			f.Measures = m
			list.Findings = append(list.Findings, f)
		}
		o := &outcome{Kind: single}
		o.measure(&tr, list)
		if s := o.Spots; len(s) != 3 || !s[0].Found || !s[1].Found || s[2].Found || o.FalseSpot != 1 ||
			!near(s[0].Edges[0], 0.005) || !near(s[0].Edges[1], 0.01) || !near(*s[0].Centre, 0.0075) || !near(*s[0].Told, 0.01) || len(s[1].Edges) != 1 || !near(s[1].Edges[0], 0.01) {
			t.Errorf("%s: spots %+v, %d false", name, s, o.FalseSpot)
		}
		if o.Jam == nil || !o.Jam.Found || !near(o.Jam.Error, 0.01) {
			t.Errorf("%s: jam %+v", name, o.Jam)
		}
		if o.Hunt == nil || !o.Hunt.Found || !near(o.Hunt.Error, 0.02) {
			t.Errorf("%s: hunting %+v", name, o.Hunt)
		}
		if d := o.Drift; len(d) != 1 || !d[0].Found || !near(d[0].Error, 0.1) || !near(d[0].Off, 0.0025) || !d[0].Covered {
			t.Errorf("%s: drift %+v", name, d)
		}
	}
}

// Forecasts that are right as often as they say score nothing, and the
// interval holds the value.
func TestCalibrate(t *testing.T) {
	var p []float64
	var hit []bool
	for i := range 400 {
		q := []float64{0.65, 0.85}[i%2]
		p = append(p, q)
		hit = append(hit, float64(i/2%20) < 20*q)
	}
	c := calibrate(p, hit)
	if c.ECE.Value > 1e-9 || c.Count != 400 || len(c.Bins) != 2 {
		t.Errorf("%+v", c)
	}
	// The Brier score of calibrated forecasts is the mean of p(1-p).
	if want := (0.65*0.35 + 0.85*0.15) / 2; math.Abs(c.Brier.Value-want) > 1e-9 || c.Brier.Low > want || c.Brier.High < want || c.Brier.High-c.Brier.Low > 0.1 {
		t.Errorf("Brier score %+v, expected %.4f", c.Brier, want)
	}
	if empty := calibrate(nil, nil); empty.Count != 0 || empty.Bins != nil {
		t.Errorf("%+v of nothing", empty)
	}
}

// A figure fails only when even its interval is worse than the record.
func TestBelow(t *testing.T) {
	for _, c := range []struct {
		name       string
		hits       int
		rec        float64
		fails      bool
		set        func(*figures) *share
		recordName string
	}{
		{"at the record", 180, 0.9, false, func(f *figures) *share { return &f.Right }, "component right on decidable"},
		{"a little worse", 174, 0.9, false, func(f *figures) *share { return &f.Right }, "component right on decidable"},
		{"clearly worse", 140, 0.9, true, func(f *figures) *share { return &f.Right }, "component right on decidable"},
		{"alarms at the record", 4, 0.02, false, func(f *figures) *share { return &f.Alarm }, "false alarm on healthy"},
		{"many alarms", 40, 0.02, true, func(f *figures) *share { return &f.Alarm }, "false alarm on healthy"},
		{"jams off", 100, 0.95, true, func(f *figures) *share { return &f.Jam.Within }, "jams within aim"},
	} {
		s := rangeSummary{Range: "narrow"}
		v := c.set(&s.All)
		v.Hits, v.Of = c.hits, 200
		v.settle()
		var out bytes.Buffer
		if got := below(&out, &s, map[string]float64{c.recordName: c.rec}); got != c.fails || got != strings.Contains(out.String(), "worse than the recorded") {
			t.Errorf("%s: fails %v: %q", c.name, got, out.String())
		}
	}
	s := rangeSummary{Range: "narrow"}
	s.Calibration.ECE = scored{0.1, 0.08, 0.12}
	if !below(io.Discard, &s, map[string]float64{calibrationName: 0.05}) || below(io.Discard, &s, map[string]float64{calibrationName: 0.09}) {
		t.Error("the calibration error is not held against its interval")
	}
}

// Every record names a figure that is watched.
func TestRecordsAreWatched(t *testing.T) {
	known := map[string]bool{calibrationName: true}
	var f figures
	for _, w := range f.watch() {
		known[w.name] = true
	}
	for rg, rec := range records() {
		if len(rec) == 0 {
			t.Errorf("%s has no record", rg)
		}
		for name := range rec {
			if !known[name] {
				t.Errorf("%s: nothing is called %q", rg, name)
			}
		}
	}
}
