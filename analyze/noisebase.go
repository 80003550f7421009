package analyze

import "math"

// noiseBase sets what second differences are where the track is not rough. It tells
// false where too few passes were made to say so.
func (w *work) noiseBase(n *noiseMap, cells int) bool {
	var all []float64
	byPlace := make([][]float64, cells)
	for _, p := range n.passes {
		for c := range p {
			if p[c].tells() {
				all, byPlace[c] = append(all, p[c].rough()), append(byPlace[c], p[c].rough())
			}
		}
	}
	if len(all) < 8 {
		return false
	}
	// Each place counts once, however often it was passed: requests may go to and
	// fro over a rough stretch and leave the rest of the track once.
	var places []float64
	for _, x := range byPlace {
		if len(x) > 0 {
			places = append(places, medianOf(x))
		}
	}
	base := math.Max(math.Min(medianOf(all), medianOf(places)), 0.7*w.bendAtRest(n))
	base = math.Max(base, w.quantum/math.Sqrt(float64(n.block)))
	if n.block > 1 {
		// A converter's steps come back with every pass, and the smoothness of a
		// sound track is 0.1 % of the supply (Bourns, "Output Smoothness"): half
		// of that to either side, against a limit of at least 2.5 times the base.
		base = math.Max(base, math.Max(w.quantum/4, math.Sqrt(6)/2.5*0.0005*w.ref))
		// Without noise to spread it over the codes a mean is off by up to half
		// a step, evenly: 0.29 steps rms, 0.7 for a second difference.
		if w.noise < 0.5*w.quantum {
			base = math.Max(base, 0.7*w.quantum)
		}
	}
	n.base = base
	return true
}

// bendAtRest is what second differences of the reading at rest are, in V, rms: those of
// noise without memory from row to row, or less where means leave more of it out, as they
// do of hum.
func (w *work) bendAtRest(n *noiseMap) float64 {
	const fewest = 30 // 13 % rms
	white := math.Sqrt(6/float64(n.block)) * w.noise
	sum, count := 0.0, 0
	for _, r := range w.resting() {
		for i := r.first/n.block + 2; n.block > 1 && (i+2)*n.block < r.last; i++ {
			d := n.bend(i)
			sum, count = sum+d*d, count+1
		}
	}
	if count < fewest {
		return white
	}
	return math.Min(white, math.Sqrt(sum/float64(count)))
}
