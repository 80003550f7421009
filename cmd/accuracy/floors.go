package main

import (
	"fmt"
	"io"
)

// watched is one figure that the gate holds against its record.
type watched struct {
	name  string
	share share
	least bool // recorded is a floor, else a ceiling
}

// watch lists the figures with a record. Errors of places count as the share
// within the aim, so that one interval serves them all.
func (f *figures) watch() []watched {
	return []watched{
		{"component right on decidable", f.Right, true},
		{"part right on decidable", f.PartRight, true},
		{"right of all", f.AllRight, true},
		{"false alarm on healthy", f.Alarm, false},
		{"component wrong at 90 %", f.SureWrong, false},
		{"part wrong at 90 %", f.SurePart, false},
		{"cannot tell rightly", f.UnsureOK, true},
		{"spots found", f.Spot, true},
		{"spot edges within aim", f.Edge.Within, true},
		{"captures with a false spot", f.FalseSpot, false},
		{"jams found", f.JamFound, true},
		{"jams within aim", f.Jam.Within, true},
		{"hunting found", f.HuntFound, true},
		{"hunting frequency within aim", f.Hunt.Within, true},
		{"drifting ends found", f.Drift, true},
		{"drift interval covers", f.Cover, true},
	}
}

// calibrationName is the record of the calibration error, which has a
// bootstrap interval of its own.
const calibrationName = "calibration error"

// below reports every figure that is worse than recorded by more than its own
// interval (95 %), so that chance alone does not fail a run.
func below(w io.Writer, s *rangeSummary, records map[string]float64) bool {
	bad := false
	complain := func(what string, got, recorded float64) {
		bad = true
		fmt.Fprintf(w, "accuracy: %s: %s: 95 %% bound %.3f is worse than the recorded %.3f\n", s.Range, what, got, recorded)
	}
	for _, f := range s.All.watch() {
		rec, ok := records[f.name]
		switch {
		case !ok || f.share.Of == 0:
		case f.least && f.share.High < rec:
			complain(f.name, f.share.High, rec)
		case !f.least && f.share.Low > rec:
			complain(f.name, f.share.Low, rec)
		}
	}
	if rec, ok := records[calibrationName]; ok && s.Calibration.ECE.Low > rec {
		complain(calibrationName, s.Calibration.ECE.Low, rec)
	}
	return bad
}

// writeRecord writes the figures of a range as lines for records.go.
func (s *rangeSummary) writeRecord(w io.Writer) error {
	p := &printer{w: w}
	p.line("\t\t%q: {", s.Range)
	for _, f := range s.All.watch() {
		if f.share.Of > 0 {
			p.line("\t\t\t%q: %.3f, // %s", f.name, f.share.Rate, f.share.of())
		}
	}
	p.line("\t\t\t%q: %.3f,", calibrationName, s.Calibration.ECE.Value)
	p.line("\t\t},")
	return p.err
}
