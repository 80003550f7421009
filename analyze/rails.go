package analyze

// How near to a rail a reading is no wiper's, as shares of the reference.
// [Options.RailBand], 4 %, is for a single reading, from a published limit, and may be
// set by the user; twice that is [work.wideRail]. The others differ in what they are for:
const (
	// wiperMargin is next to either rail, where no wiper comes to rest (common practice,
	// no source). It is wider than the rail band as an instrument's own zero may be off.
	wiperMargin = 0.05

	// bareRail is nearer than that: only a wire that is open or shorted lies there, to
	// what an instrument's zero and gain are off by (chosen, not derived).
	bareRail = 0.02

	// aboveNothing is what a reading was at least before it fell to nothing: a little
	// more than wiperMargin, so that no noise about that limit passes for a fall
	// (chosen, not derived).
	aboveNothing = 0.06
)

// wideRail is the band next to a rail, in V, to which a leap goes from an open track:
// twice the rail band, as an input holds what is open a little off its rail (the factor is
// chosen, not derived).
func (w *work) wideRail() float64 { return 2 * w.opt.RailBand * w.ref }
