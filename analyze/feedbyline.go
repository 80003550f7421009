package analyze

import (
	"math"

	"threewire/analyze/stats"
)

// feedByLine gives the level of the drive at the largest current, in V, and the share that
// is lost there, where all volts of the capture lie on the one line V = V0 - R I: as the
// load under way lays it, so the starts, the stands, the gusts and the light ways lie. It
// needs neither a start in the rows nor a stop, as [work.feedByCurrent] does.
//
// A bench supply at its current limit and a control that turns down at a stop hold their
// volts under way, however loaded, so their line is flat or leads elsewhere; a control that
// turns the drive down on the way lowers the current with it or leaves it as it was, at one
// load; leads of unlike scale give a heavy way other volts, but the same at its starts. What
// a sound feed may take is as for [work.feedByCurrent].
func (w *work) feedByLine() (level, drop float64, ok bool) {
	const sure = 4 // standard errors by which the line must slope: not by chance in any capture
	c := w.tr.Current
	if c == nil || !w.driveKnown() || w.d.pulsed {
		return 0, 0, false
	}
	line, under, ok := w.lineUnderWay()
	if !ok || !(-line.Slope > sure*line.Residual/line.Spread) {
		return 0, 0, false
	}
	rows := w.settledRows(0)
	if len(rows) < 40 || !leadsBeyond(line, under, rows) {
		return 0, 0, false
	}
	var amps, off []float64
	for _, x := range rows {
		amps = append(amps, x.amps)
		off = append(off, math.Abs(line.Intercept+line.Slope*x.amps-x.volts))
	}
	r, full := -line.Slope, line.Intercept
	many := quantileOf(amps, 0.97)
	drop = r * many / full
	if quantileOf(off, 0.9) > givesFit*full || c.Unit == "A" && r < feedOhms && drop < feedOhms/(feedOhms+strongMotor) {
		return 0, 0, false
	}
	return full - r*many, drop, true
}

// lineUnderWay lays a line of volts over current through the pieces of the even run, both
// ways, and gives the range of their current.
func (w *work) lineUnderWay() (line stats.Line, under Interval, ok bool) {
	const fewest = 10 // pieces
	var volts, amps []float64
	w.piecesUnderWay(func(_ *Move, a, b int) {
		if i := math.Abs(medianOf32(w.tr.Current.Mean[a:b])); !math.IsNaN(i) {
			volts, amps = append(volts, math.Abs(mean(w.d.mean[a:b]))), append(amps, i)
		}
	})
	if len(amps) < fewest {
		return line, under, false
	}
	under.From, under.To = extremes(amps)
	line, ok = stats.FitLine(amps, volts)
	return line, under, ok
}

// settledRows lists the bins under drive from one on, away from the moment of switching,
// where the two columns may be rows apart.
func (w *work) settledRows(from int) []feedRow {
	var out []feedRow
	for i := from + 2; i+2 < len(w.d.pol); i++ {
		p, a := w.d.pol[i], math.Abs(float64(w.tr.Current.Mean[i]))
		if p != 0 && w.d.pol[i-2] == p && w.d.pol[i+2] == p && !math.IsNaN(a) {
			out = append(out, feedRow{math.Abs(w.d.mean[i]), a})
		}
	}
	return out
}

// leadsBeyond tells whether the line foretells the rows of more current, and those of less,
// than it was laid through; one of the two must be there.
func leadsBeyond(line stats.Line, under Interval, rows []feedRow) bool {
	const (
		beyond = 2    // half ranges from the middle: what noise takes there has half of the share
		agrees = 0.35 // of what the line says, as at the starts of feedByCurrent
		few    = 5    // rows
	)
	middle := (under.From + under.To) / 2
	at := line.Intercept + line.Slope*middle
	var less, more []float64 // what they lost over what the line says
	for _, x := range rows {
		if math.Abs(x.amps-middle) <= beyond*under.Width()/2 {
			continue
		}
		share := (x.volts - at) / (line.Slope * (x.amps - middle))
		if x.amps > middle {
			more = append(more, share)
		} else {
			less = append(less, share)
		}
	}
	seen := false
	for _, s := range [][]float64{less, more} {
		if len(s) < few {
			continue
		}
		if !(math.Abs(medianOf(s)-1) < agrees) {
			return false
		}
		seen = true
	}
	return seen
}
