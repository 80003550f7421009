package analyze

import "math"

// shorted is the form of a drive that breaks down under a current.
const shorted = "breaks down under a current"

// findShorted reports a drive that is hardly there while a current flows, again and
// again out of rest: what the current goes through has less resistance than any door
// actuator's motor at rest. A motor that is braked drives a current at no volts as
// well, right after it ran.
func (w *work) findShorted() {
	const (
		most  = 2.5  // ohm; a small gear motor stalls at 2 A or less on 12 V, which is 6 ohm (common practice, no source)
		least = 0.25 // A, above what an instrument may be off by
		rest  = 0.2  // s before it
		few   = 3
		lasts = 0.03 // s; the channels of a logger may be read that far apart
	)
	i := w.tr.Current
	if i == nil || i.Unit != "A" || len(i.Mean) != len(w.t) || w.tr.DriveIsPolarity || w.tr.Drive.Unit != "V" {
		return
	}
	amps := func(k int) float64 { return math.Abs(float64(i.Mean[k])) }
	volts := func(k int) float64 { return math.Abs(float64(w.tr.Drive.Mean[k])) }
	short := func(k int) bool { return amps(k) > least && volts(k) < most*amps(k) }
	var places []Occurrence
	var ohms, current, drive []float64
	for a := 1; a < len(w.t); a++ {
		if !short(a) || short(a-1) {
			continue
		}
		z := a
		for z < len(w.t) && short(z) {
			z++
		}
		quiet := z-a >= 2 && endOf(w.t, z, w.tr.Step)-w.t[a] >= lasts
		for k := a - 2; k >= 0 && w.t[a]-w.t[k] < rest+2*w.tr.Step; k-- {
			quiet = quiet && amps(k) < least && volts(k) < 2*startVolts
		}
		if quiet {
			lo, hi := extremes(w.v[a:z])
			places = append(places, Occurrence{Interval{w.t[a], w.t[z-1]}, Interval{lo, hi}, None})
			mid := (a + z) / 2
			ohms, current, drive = append(ohms, volts(mid)/amps(mid)), append(current, amps(mid)), append(drive, volts(mid))
		}
		a = z
	}
	if len(places) < few {
		return
	}
	f := Finding{Kind: SupplySag, Form: shorted, Volts: w.span, Time: Interval{places[0].Time.From, places[len(places)-1].Time.To},
		Tie: TieUnknown, TieP: 1, Event: "supply", Seen: len(places), Passes: len(places), Places: places, Strength: 1 - math.Exp(-float64(len(places))/2),
		Measures: []Measure{{"current", medianOf(current), "A"}, {"drive meanwhile", medianOf(drive), "V"}, {"resistance", medianOf(ohms), "ohm"}}}
	for k := range w.found {
		if w.found[k].Kind == NoDrive {
			w.found[k].Event = f.Event
		}
	}
	w.found = append(w.found, f)
}
