package analyze

import "math"

// byRests is the form of a drift that shows by a shaft that stands and does not read so.
const byRests = "scale, by the rests"

// findScaleByRests tells a sensor whose scale shrinks from a motor that slows: of a shaft that
// stands undriven the reading creeps towards one end, rest after rest, by a share of its distance
// from there, and at the rate at which the speed in V/s falls. A motor that heats leaves a rest
// as it is. The two rates may differ by a factor of two, each known from a few passes and rests.
func (w *work) findScaleByRests() {
	const apart = 2
	for i := range w.found {
		h := &w.found[i]
		if h.Kind != Heating || h.Tie != TiedToTime || h.Strength < 0.5 {
			continue
		}
		change, ok := h.Measure(changeOfSpeed)
		if !ok || !(change < 0) || change <= -100 || !(h.Time.Width() > 0) {
			continue
		}
		slower := -math.Log1p(change/100) / h.Time.Width() // 1/s
		rate, end, rests := w.creepAtRest()
		if rests == 0 || rate < slower/apart || rate > slower*apart {
			continue
		}
		f := Finding{Kind: SpanDrift, Form: byRests, Time: h.Time, Volts: w.span, Tie: TiedToTime, TieP: math.Min(h.TieP, math.Pow(0.5, float64(rests-1))), Event: "drift", Strength: 1,
			Seen: rests, Passes: rests, Measures: []Measure{{MeasureChangeOfSpan, -100 * math.Expm1(-rate*h.Time.Width()), "%"}, {towards, end, w.unit()}}}
		w.overrule(f.Event, Heating, Jam, SpanShift, SlowZone, WeakDrive, TravelChange, SpanDrift, SelfMotion)
		w.found = append(w.found, f)
		return
	}
}

// towards is the name of a measure: the reading from which the distances of all others shrink.
const towards = "towards"

// creepAtRest is the rate, 1/s, at which the distance of the reading from one end of the span
// shrinks while the shaft stands undriven, the median over the rests, that end, V, and the number
// of rests. It is 0 where there are less than three of them that creep, or one creeps the other
// way: two may be chance or a gust. The first half second is left to what coasts, and to filters.
func (w *work) creepAtRest() (rate, end float64, rests int) {
	const (
		settled = 0.5 // s
		long    = 2   // s
		near    = 0.2 // of the span from that end, where little is left to shrink
		enough  = 3
	)
	for _, pivot := range []float64{w.span.From, w.span.To} {
		var rates []float64
		against := 0
		for _, s := range w.resting() {
			first := s.first + w.rows(settled)
			if s.last-first < 10 || lapse(w.t[s.last-1], w.t[first]) < long {
				continue
			}
			part := (s.last - first) / 4
			a, b := medianOf(w.v[first:first+part]), medianOf(w.v[s.last-part:s.last])
			if math.Abs(a-pivot) < near*w.span.Width() || math.Abs(b-a) <= math.Max(w.noise, w.quantum) {
				continue
			}
			r := math.Log((a-pivot)/(b-pivot)) / lapse(w.t[s.last-1-part/2], w.t[first+part/2])
			if !(r > 0) {
				against++
				continue
			}
			rates = append(rates, r)
		}
		if len(rates) >= enough && against == 0 {
			return medianOf(rates), pivot, len(rates)
		}
	}
	return 0, 0, 0
}
