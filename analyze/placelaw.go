package analyze

import (
	"math"
	"slices"

	"threewire/analyze/stats"
)

// placeLaw is the measure of a slow place that was crossed at drives of different volts: the
// logarithm of how much better one share of the speed there explains the passes than one loss
// of speed, see [work.findTwoSlopes]. A flat piece of track takes its share at any drive; a
// drag that leaves a third of the speed at 12 V stops the shaft at 7.
const placeLaw = "log of chance, a track's slope over a drag, at its place"

// twoDrives is by what factor the drives differ that tell them, at least: at less, what a
// drag takes more is less than passes differ by (a tenth, see sameSpeed).
const twoDrives = 1.2

// joinPlaceLaw measures it.
func (w *work) joinPlaceLaw() {
	if !w.driveKnown() {
		return
	}
	for i := range w.found {
		f := &w.found[i]
		if !isSlowBand(*f) || f.has(builtLaw) || f.has(currentBeside) || f.Seen < 2 {
			continue
		}
		width := f.Volts.Width()
		place := func(v, span float64) (slow, compared bool) {
			off := math.Max(f.Volts.From-v, v-f.Volts.To) // from its nearer edge, less than 0 within
			beside := math.Min(besideSlope*span, math.Max(2*width, 0.1*span))
			return off < 0, off < -width/8 || off > width/2 && off < beside
		}
		passes := w.slopePasses(width/4, width/2, place)
		var drives []float64
		for _, p := range passes {
			drives = append(drives, p.drive)
		}
		if len(drives) < 2 || slices.Max(drives) < twoDrives*slices.Min(drives) {
			continue
		}
		if law, _ := lawOrDrag(passes, w.scatterBeside(f.Volts)); law > placeLawSays {
			f.Measures = append(f.Measures, Measure{placeLaw, law, ""})
		}
	}
}

// placeLawSays is the law from which it is said: twice as likely.
const placeLawSays = 0.7

// scatterBeside is by which share of the usual speed the cells of the profiles outside of a
// band differ from each other.
func (w *work) scatterBeside(band Interval) float64 {
	var x []float64
	for _, p := range w.prof {
		if p == nil {
			continue
		}
		usual := w.typicalRate(p)
		for _, q := range p.Points {
			if off := math.Max(band.From-q.Position, q.Position-band.To); off > band.Width()/2 && usual > 0 {
				x = append(x, q.Rate/usual)
			}
		}
	}
	return math.Max(0.02, stats.MAD(x))
}
