package analyze

// How long after a drive the reading counts as one at rest, in s. A motor that is let go
// coasts for a few of its mechanical time constants, of some hundredths of a second each,
// and links that were wound up let go (common practice, no source). The searches came one
// by one and can bear different remains of a motion; each figure is chosen, not derived.
const (
	// restAfter is the usual one: a leap or a slope after it is not the shaft's.
	restAfter = 0.35

	// restForNoise can be shorter: a line is taken out of each short window, and of
	// the windows the median.
	restForNoise = 0.3

	// restForMotion is longer, as what is sought is motion itself.
	restForMotion = 0.4

	// restForPower is the longest: what coasts would be part of the mean square or
	// of the spectrum of the whole rest.
	restForPower = 0.5
)

// lossesApart is the pause, in s, from which on two losses of the reading at rest are two
// (chosen, not derived).
const lossesApart = 0.3
