// Package analyze turns a [signal.Trace] of a three-wire actuator into moves,
// findings and a verdict. It is pure: no input or output, and the same trace
// and options always give the same result.
//
// The flow is one-way:
//
//	Trace -> drive (polarity, moves) -> motion (what the feedback did in each
//	move) -> stops, sweeps, rate profile -> findings -> verdict
//
// [Examine] does the first part for one capture, [Judge] weighs one or more
// captures of the same actuator.
//
// Continuity of the shaft is the deciding physics: where the feedback stops
// telling and later resumes, the distance it is off by says whether the shaft
// stood still (door, motor) or moved on unseen (feedback sensor).
package analyze
