package analyze

// heldTable is how often verdicts held, by what they stated on the average: those of
// simulators by people who had never seen the program, at first sight (DEVELOPERS.md,
// Accuracy, "right"; the README's figures are of the same table).
func heldTable() (stated, held []float64) {
	return []float64{0.777, 0.828, 0.873, 0.926, 0.971}, []float64{0.718, 0.787, 0.825, 0.913, 0.955}
}

// Held is how often verdicts stated with a probability held where that was counted, on a
// line between the classes; false below the lowest class, of which nothing was counted.
func Held(p float64) (float64, bool) {
	stated, held := heldTable()
	const lowest = 0.74 // where the lowest class begins
	if p < lowest {
		return p, false
	}
	for i := range stated {
		switch {
		case p > stated[i]:
		case i == 0:
			return held[0], true
		default:
			share := (p - stated[i-1]) / (stated[i] - stated[i-1])
			return held[i-1] + share*(held[i]-held[i-1]), true
		}
	}
	return held[len(held)-1], true
}
