package analyze

import (
	"math"
	"slices"
)

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
	all := 0 // those right after another one as well
	var ohms, current, drive []float64
	against, told := 0, 0 // rows with volts of the wrong sign, of those whose volts tell it
	along := w.currentAlong()
	for a := 1; a < len(w.t); a++ {
		if !short(a) || short(a-1) {
			continue
		}
		z := a
		for z < len(w.t) && short(z) {
			z++
		}
		lasting := z-a >= 2 && lapse(endOf(w.t, z, w.tr.Step), w.t[a]) >= lasts
		quiet := lasting
		for k := a - 2; k >= 0 && lapse(w.t[a], w.t[k]) < rest+2*w.tr.Step; k-- {
			quiet = quiet && amps(k) < least && volts(k) < 2*startVolts
		}
		if lasting {
			all++
		}
		if quiet {
			lo, hi := extremes(w.v[a:z])
			places = append(places, Occurrence{Interval{w.t[a], w.t[z-1]}, Interval{lo, hi}, None})
			for k := a; k < z; k++ {
				if u := float64(w.tr.Drive.Mean[k]); volts(k) > 0.1 {
					told++
					if u*float64(i.Mean[k])*along < 0 {
						against++
					}
				}
			}
			mid := (a + z) / 2
			ohms, current, drive = append(ohms, volts(mid)/amps(mid)), append(current, amps(mid)), append(drive, volts(mid))
		}
		a = z
	}
	// No resistance lets a current flow against its volts: there the volts were not those
	// of the motor. Nor were they where the shaft runs on without any: then the rows meet
	// pulses in their gaps, and the current goes on in these.
	if len(places) < few || 2*against > told || w.anyAsleep() {
		return
	}
	f := Finding{Kind: SupplySag, Form: shorted, Volts: w.span, Time: Interval{places[0].Time.From, places[len(places)-1].Time.To},
		Tie: TieUnknown, TieP: 1, Event: "supply", Seen: all, Passes: all, Places: places, Strength: 1 - math.Exp(-float64(len(places))/2),
		Measures: []Measure{{MeasureCurrent, medianOf(current), "A"}, {MeasureDriveMeanwhile, medianOf(drive), "V"}, {MeasureResistance, medianOf(ohms), "ohm"}}}
	// It was driven: the drive broke down.
	w.found = slices.DeleteFunc(w.found, func(f Finding) bool { return f.Kind == NoDrive })
	w.found = append(w.found, f)
}

// currentAlong is the sign of the current that a drive of plus volts makes, +1 or -1 as
// the clamp was put on; 0 where the current has no sign.
func (w *work) currentAlong() float64 {
	const least = 0.05 // A
	same, other := 0, 0
	for k, c := range w.tr.Current.Mean {
		switch p := float64(w.d.pol[k]) * float64(c); {
		case p > least:
			same++
		case p < -least:
			other++
		}
	}
	switch {
	case same > 4*other:
		return 1
	case other > 4*same:
		return -1
	}
	return 0
}
