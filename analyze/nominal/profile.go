// Package nominal holds what a known good actuator of one kind does, and its file.
package nominal

import "fmt"

// Profile is what a known good actuator of one kind does. [Parse] reads one, analyze
// makes one of captures.
type Profile struct {
	// File is where it was read from, for messages.
	File string

	// Low and High are the feedback at the stops, Tolerance how far the stops
	// of a good one may lie from them, all in Unit: "V", "%" or "counts".
	Low, High, Tolerance float64
	Unit                 string

	// TransitUp and TransitDown are the times from stop to stop in s, at
	// DriveVolts (V; 0: not known). TransitTolerance is how far, as a
	// fraction, the speed of a good one may lie from theirs at equal drive,
	// load and temperature.
	TransitUp, TransitDown float64
	TransitTolerance       float64
	DriveVolts             float64

	// Reference is the sensor supply in V (or the full scale in Unit).
	Reference float64

	// Sense is +1 when positive drive raises the feedback, -1 when it lowers
	// it, 0 when that is not known.
	Sense int

	// Free tells that it was made off the door: its stops are the actuator's
	// own, its speed is that without a load.
	Free bool

	// Origin says what it was made of, one line each; written as comments.
	Origin []string
}

// Span is the distance between the stops, in Unit.
func (p *Profile) Span() float64 { return p.High - p.Low }

// What a profile without own figures is given.
const (
	// StopShare is the stop tolerance as a share of the span: one good
	// actuator does not say how much others differ; mounting, linkage and
	// track ends do by a few percent (common practice, no source).
	StopShare = 0.04
	// Pace is the tolerance of the speed: small motors of one type
	// differ by up to a tenth (common practice, no source).
	Pace = 0.10
)

// Fill gives what a profile does not say its default.
func (p *Profile) Fill() {
	if p.Unit == "" {
		p.Unit = "V"
	}
	if p.Tolerance == 0 {
		p.Tolerance = StopShare * p.Span()
	}
	if p.TransitTolerance == 0 {
		p.TransitTolerance = Pace
	}
	if p.Reference == 0 {
		p.Reference = map[string]float64{"V": 5, "%": 100, "counts": 1023}[p.Unit]
	}
}

// senseWords are the values of the profile file's sense of drive.
func senseWords(sense int) string {
	switch {
	case sense > 0:
		return "positive raises"
	case sense < 0:
		return "positive lowers"
	}
	return "unknown"
}

// DoorWords tells whether an actuator hangs on its door.
func DoorWords(free bool) string {
	if free {
		return "uncoupled"
	}
	return "coupled"
}

// String is the profile in one line.
func (p *Profile) String() string {
	drive := "unknown drive"
	if p.DriveVolts > 0 {
		drive = fmt.Sprintf("%.1f V", p.DriveVolts)
	}
	return fmt.Sprintf("stops %.2f and %.2f %s, %.2f s up and %.2f s down at %s, %s", p.Low, p.High, p.Unit, p.TransitUp, p.TransitDown, drive, DoorWords(p.Free))
}
