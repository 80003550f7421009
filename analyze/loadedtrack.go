package analyze

import (
	"fmt"
	"math"
	"slices"
)

// loadedTrack is a potentiometer that a resistance from its wiper to a rail loads, with all
// readings as shares of its supply: with the track's resistance k times that of the leak, a
// wiper at share x reads (x + kx(1-x)r)/(1 + kx(1-x)), where the rail r is 0, ground, or 1,
// the supply (the loaded divider; textbook). The reading rises with x whatever k is.
type loadedTrack struct{ rail, k float64 }

// reading is what a wiper at x reads.
func (l loadedTrack) reading(x float64) float64 {
	load := l.k * x * (1 - x)
	return (x + load*l.rail) / (1 + load)
}

// place is where a wiper is that reads v.
func (l loadedTrack) place(v float64) float64 {
	lo, hi := 0.0, 1.0
	for range 40 {
		if x := (lo + hi) / 2; l.reading(x) < v {
			lo = x
		} else {
			hi = x
		}
	}
	return (lo + hi) / 2
}

// slope is how far the reading goes of a small step of the wiper at x.
func (l loadedTrack) slope(x float64) float64 {
	load := 1 + l.k*x*(1-x)
	return (1 + l.k*((1-l.rail)*x*x+l.rail*(1-x)*(1-x))) / (load * load)
}

// loadedBy gives the loaded track on which a shaft of an even speed would make the speeds of
// the reading that were measured along the travel, both ways, false where none explains
// two thirds of what varies in them (as in onOneCurve).
func (w *work) loadedBy() (l loadedTrack, ok bool) {
	const (
		enough = 8       // cells each way, as in onOneCurve
		part   = 2.0 / 3 // of what varies, likewise
		least  = 0.2     // k: below, the line is off by no more than a crooked track's
		most   = 30.0    // k: of the reading hardly a third of the travel is left
	)
	if !w.refSure || !(w.ref > 0) || w.prof[0] == nil || w.prof[1] == nil {
		return loadedTrack{}, false
	}
	var points [2][]ProfilePoint
	end := w.lim.EndZone * w.span.Width()
	for d, p := range w.prof {
		for _, q := range p.Points {
			if q.Rate > 0 && q.Position > w.span.From+end && q.Position < w.span.To-end {
				points[d] = append(points[d], q)
			}
		}
		if len(points[d]) < enough {
			return loadedTrack{}, false
		}
	}
	left := func(l loadedTrack) (sum float64) {
		for _, way := range points {
			var y []float64
			mean := 0.0
			for _, q := range way {
				off := math.Log(q.Rate / l.slope(l.place(q.Position/w.ref)))
				y, mean = append(y, off), mean+off/float64(len(way))
			}
			for _, off := range y {
				sum += (off - mean) * (off - mean)
			}
		}
		return sum
	}
	all := left(loadedTrack{})
	var best loadedTrack
	fewest := math.Inf(1)
	for rail := range 2 {
		for k := least; k < most; k *= 1.1 {
			if l := (loadedTrack{float64(rail), k}); left(l) < fewest {
				best, fewest = l, left(l)
			}
		}
	}
	return best, fewest < (1-part)*all
}

// bentLoaded is the form of a line that a leak bends, known by where a stop lies then.
const bentLoaded = "loaded"

const (
	stopUnbent    = "stop without the leak" // measures of such a line
	leaksToSupply = "leaks to the supply"
)

// leakMovesStop tells whether a leak of which the speeds tell makes a stop of a direction
// read as far inside the supply as it does: without it the stop lies in the outer quarter,
// where stops lie. The control then drives on for a place that is never read, and nothing
// need be in the way. It says so with the bent line.
func (w *work) leakMovesStop(dir Direction, level float64) bool {
	const clear = 0.05 // of the supply: less a control takes for the stop all the same (chosen, not derived)
	l, ok := w.loadedBy()
	if !ok {
		return false
	}
	at := l.place(level / w.ref)
	inside, moved := at, level/w.ref-at
	if dir == Up {
		inside, moved = 1-at, -moved
	}
	if inside > outerQuarter || moved < clear {
		return false
	}
	k := slices.IndexFunc(w.found, func(f Finding) bool { return f.Kind == BentLine })
	if k < 0 {
		k = len(w.found)
		w.found = append(w.found, Finding{Kind: BentLine, Event: "bent", Tie: TiedToPosition, TieP: 1, Seen: 1, Passes: 1,
			Volts: w.span, Time: Interval{w.t[0], w.t[len(w.t)-1]}})
		if off := w.lineOff(); !math.IsNaN(off) {
			w.found[k].Measures = append(w.found[k].Measures, Measure{MeasureLinearity, 100 * off, "% of span"})
		}
	}
	f := &w.found[k]
	f.Form, f.Strength = bentLoaded, 1
	f.Measures = append(f.Measures, Measure{MeasureLevel, level, w.unit()}, Measure{stopUnbent, at * w.ref, w.unit()}, Measure{leaksToSupply, l.rail, ""})
	return true
}

// joinLoaded makes hunting against a stop that a leak puts so far inside the supply a part of
// that: the control aims where stops lie.
func (w *work) joinLoaded() {
	for _, b := range w.found {
		if b.Kind != BentLine || b.Form != bentLoaded {
			continue
		}
		for i := range w.found {
			f := &w.found[i]
			if level, ok := f.Measure(stallFarInside); ok && f.Kind == Hunting && math.Abs(level-b.value(MeasureLevel)) < w.lim.EndZone*w.span.Width() {
				f.Event, f.Strength = b.Event, 0.3*f.Strength
				f.Measures = slices.DeleteFunc(f.Measures, func(m Measure) bool { return m.Name == stallFarInside })
			}
		}
	}
}

// titleLoaded names a line that a leak bends.
func (f *Finding) titleLoaded(t told) string {
	rail := "ground"
	if f.value(leaksToSupply) > 0 {
		rail = "the sensor's supply"
	}
	return fmt.Sprintf("The line bends as a leak from the wiper to %s bends it: without it, the stop at %s would read %s.", rail, amount(f.value(MeasureLevel), t.unit), amount(f.value(stopUnbent), t.unit))
}
