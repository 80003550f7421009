package analyze

import (
	"math"

	"threewire/analyze/stats"
)

// brokenUnloaded is the form of a [Broken] drive that shows by the volts alone.
const brokenUnloaded = "driven, the volts those without current"

// atOnePlaceOnly is the name of a measure: a wire that opens knows no place, gears do.
const atOnePlaceOnly = "all at one place"

// findUnloaded reports stands of the shaft in which the drive's volts are higher than
// while it runs. Drivers, wires and supply have resistance: V = V0 - R I. A shaft that is
// held takes the current of a stall and with it the fewest volts of all, as at the stops;
// one that stands at more volts than a running motor leaves has no current. So this needs
// no current channel, only volts that are seen to fall at the stops.
func (w *work) findUnloaded() {
	// A shaft that sticks all along the way is wound up and springs on: its stands have any
	// current.
	if !w.driveKnown() || w.d.pulsed || w.tr.Current != nil || w.sure(StickSlip) {
		return
	}
	fall, noise := w.fallAtStops(), w.voltsNoise()
	// Running takes a tenth of the stall current and more (common practice, no source).
	least := math.Max(0.06*fall, 4*noise)
	if !(fall > 3*least) || math.IsNaN(noise) {
		return
	}
	var open []opening
	sure := false
	for i := range w.events {
		e := &w.events[i]
		// For a shorter time a motor turns unloaded while it takes up slack and winds a
		// shaft that sticks.
		if e.place > 1 || e.seconds < 0.3 || math.Abs(e.moved) > 0.3*e.expected || e.expected < 3*w.visible() {
			continue
		}
		// Turned over, the motor runs light until the slack of gears and links is taken up.
		if e.place == atStart && e.expected < mostPlay*math.Max(w.span.Width(), w.leastTravel()) {
			continue
		}
		over, ok := w.voltsOverRunning(e)
		if !ok || over < least {
			continue
		}
		sure = sure || over > 2*least
		open = append(open, opening{first: e.first, last: e.last, midst: e.place == 0, dir: w.moves[e.move].Direction, stood: true})
	}
	if len(open) == 0 || len(open) == 1 && !sure {
		return
	}
	f := w.brokenFinding(brokenUnloaded, open)
	f.Strength = 1 - math.Exp(-float64(len(open)))
	f.Measures = append(f.Measures, Measure{"volts fall at a stop by", fall, "V"})
	midst := 0
	for _, o := range open {
		if o.midst {
			midst++
		}
	}
	if midst == 0 {
		f.Measures = append(f.Measures, Measure{fromStandstill, float64(len(open)), ""})
	}
	w.found = append(w.found, f)
}

// fromStandstill is the name of a measure: starts that fail, of drives that then run.
const fromStandstill = "from standstill only"

// voltsOverRunning is by how much the volts in a stand are above those of the motor that
// runs in the same move: the higher of just before and just after it.
func (w *work) voltsOverRunning(e *event) (over float64, ok bool) {
	const (
		settle = 0.2 // s in which a motor that starts takes more
		about  = 1.0 // s
	)
	m := &w.moves[e.move]
	edge := min(w.rows(0.1)+1, (e.last-e.first)/4)
	in, n := w.meanVolts(e.first+edge, e.last-edge)
	if n < 3 {
		return 0, false
	}
	k, s := w.rows(about)+1, w.rows(settle)+1
	ran, seen := math.Inf(-1), false
	if e.place == 0 {
		if v, n := w.meanVolts(max(m.first+s, e.first-k), e.first-edge); n >= 3 {
			ran, seen = v, true
		}
	}
	after, n := w.meanVolts(e.last+s, min(e.last+s+k, m.last-w.rows(m.Stalled+0.1)))
	if n >= 3 {
		ran, seen = math.Max(ran, after), seen || e.place == 1
	} else if e.place == 1 {
		seen = false
	}
	return in - ran, seen
}

// meanVolts is the mean of the unsigned drive over bins [from, to), and their number.
func (w *work) meanVolts(from, to int) (float64, int) {
	if from < 0 || to > len(w.d.mean) || to <= from {
		return 0, 0
	}
	sum := 0.0
	for _, v := range w.d.mean[from:to] {
		sum += math.Abs(v)
	}
	return sum / float64(to-from), to - from
}

// fallAtStops is by how many volts the drive falls as the running motor is stopped by a
// stop, the median over the moves; 0 where there are too few.
func (w *work) fallAtStops() float64 {
	var fall []float64
	edge, k := w.rows(0.1)+1, w.rows(1)+1
	for i := range w.events {
		e := &w.events[i]
		m := &w.moves[e.move]
		end := w.span.From
		if m.Direction == Up {
			end = w.span.To
		}
		if e.place != 2 || math.Abs(e.volts().Mid()-end) > w.lim.EndZone*w.span.Width() {
			continue
		}
		ran, n := w.meanVolts(max(m.first+2*edge, e.first-k-edge), e.first-edge)
		// The first second: what opens later must not count.
		held, h := w.meanVolts(e.first+edge, min(e.last-edge, e.first+k))
		if n >= 3 && h >= 3 {
			fall = append(fall, ran-held)
		}
	}
	if len(fall) < 2 {
		return 0
	}
	return medianOf(fall)
}

// voltsNoise is the scatter of the drive's volts from one stretch of running to the next,
// 0.15 s each and half a second apart: noise, and what wanders. NaN where there are too few.
func (w *work) voltsNoise() float64 {
	const length, apart = 0.15, 0.5
	n, a := max(3, w.rows(length)), w.rows(apart)+1
	var d []float64
	for k := range w.moves {
		for _, s := range w.moves[k].segs {
			if s.state != track {
				continue
			}
			for i := s.first + 2*n; i+a+n < s.last-n; i += n {
				x, _ := w.meanVolts(i, i+n)
				y, _ := w.meanVolts(i+a, i+a+n)
				d = append(d, y-x)
			}
		}
	}
	if len(d) < 10 {
		return math.NaN()
	}
	return stats.MAD(d)
}

// joinPlaces adds to a broken drive that its breaks all lie at one place: three or more,
// in moves of their own, nearer together than a twentieth of the travel.
func (w *work) joinPlaces() {
	for i := range w.found {
		f := &w.found[i]
		if f.Kind != Broken || f.Form != brokenNoCurrent && f.Form != brokenUnloaded || len(f.Places) < 3 {
			continue
		}
		at := f.Volts.Mid()
		if f.Volts.Width() > 0.05*w.span.Width() || math.Min(at-w.span.From, w.span.To-at) < w.lim.EndZone*w.span.Width() {
			continue
		}
		moves := map[int]bool{}
		for _, p := range f.Places {
			for k := range w.moves {
				if w.moves[k].Time.Overlaps(p.Time) {
					moves[k] = true
				}
			}
		}
		if len(moves) >= 3 {
			f.Measures = append(f.Measures, Measure{atOnePlaceOnly, float64(len(f.Places)), ""})
			f.Tie = TiedToPosition
		}
	}
}
