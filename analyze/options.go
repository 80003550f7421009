package analyze

import "threewire/analyze/nominal"

// Options steer the analysis. The zero value is not useful: start from
// [Defaults].
type Options struct {
	// ReferenceVolts is the sensor supply assumed when the capture has no
	// reference channel. Default 5 V, the usual supply of a ratiometric
	// sensor (common practice, no source).
	ReferenceVolts float64

	// ReferenceTold tells that ReferenceVolts is what the user says it is, and no
	// usual value.
	ReferenceTold bool

	// RailBand is the fraction of the reference next to either rail in which
	// a reading counts as open or shorted. Default 0.04: a sensor-interface
	// maker's tutorial clamps at 4 % and 96 %; 5 % and 95 % are also in use.
	RailBand float64

	// Free marks a capture taken with the actuator uncoupled from its door.
	Free bool

	// Whole takes a capture as one, also where its remarks say that the actuator was
	// uncoupled in between, see [ExamineParts].
	Whole bool

	// Profile, if not nil, is what a known good actuator of this kind does.
	Profile *nominal.Profile

	Limits Limits
}

// Limits are the numbers that decide what counts, each with its reason. What was
// measured on simulated captures says so where it stands: [temper], [temperNone] and
// the weight of agreement with a profile ([Capture.asGood]).
type Limits struct {
	// NoiseSigmas is how many standard deviations of the capture's own noise
	// a single reading must differ by to be a change. Default 6: with 10^8
	// Gaussian readings the expected number of false alarms is 0.2.
	NoiseSigmas float64

	// DriveOn and DriveOff are the fractions of the full drive at which a
	// move begins and ends. Defaults 0.2 and 0.12: below a fifth of its
	// voltage a loaded gear motor does not start (common practice, no source), and the
	// pair gives hysteresis against ripple.
	DriveOn, DriveOff float64

	// Bridge is the longest pause, in s, between pulses of one polarity that
	// still counts as one move. Default 0.06: about two mechanical time
	// constants of such a motor and gear train, so the shaft does not notice.
	Bridge float64

	// Still and Fast are fractions of the nominal rate: slower than Still is
	// standing, faster than Fast cannot be the motor. Defaults 0.15 and 2: a
	// DC motor cannot exceed its no-load speed, and a gear motor runs at
	// well over half of that.
	Still, Fast float64

	// Slow is the fraction of the nominal rate below which a zone is slow.
	// Default 0.75: by the speed-torque line of a DC motor that takes another
	// 25 % of the stall torque, more than door weight and over-centre bumps
	// ask (common practice, no source).
	Slow float64

	// StallSeconds is the shortest stand under drive, at the end of a move,
	// that counts as a stall. Default 0.1: several mechanical time constants.
	StallSeconds float64

	// EndZone is the fraction of the span next to a stop where compliance
	// and coasting bend the rate. Default 0.03.
	EndZone float64

	// Significance is the p-value below which a statistical test counts.
	// Default 0.01.
	Significance float64
}

// Defaults returns the documented default options.
func Defaults() Options {
	return Options{
		ReferenceVolts: 5,
		RailBand:       0.04,
		Limits: Limits{
			NoiseSigmas:  6,
			DriveOn:      0.2,
			DriveOff:     0.12,
			Bridge:       0.06,
			Still:        0.15,
			Fast:         2,
			Slow:         0.75,
			StallSeconds: 0.1,
			EndZone:      0.03,
			Significance: 0.01,
		},
	}
}
