package analyze

import (
	"fmt"

	"threewire/analyze/stats"
)

// driftPerSecond gives the drift of one end against time, by Theil-Sen, with
// 95 % limits where the visits bound it: four reach 1 - 2/4! = 91.7 % at most,
// so it takes five.
func (w *work) driftPerSecond(name string, e *endSeries) []Measure {
	per := stats.TheilSen(e.at, e.level, 0.95)
	out := []Measure{{EndMeasure(name, "drift per second"), per.Slope, w.unit() + "/s"}}
	if lo, hi, ok := stats.SlopeLimits(e.at, e.level, 0.95); ok {
		out = append(out, Measure{EndMeasure(name, "drift per second, lower 95 %"), lo, w.unit() + "/s"},
			Measure{EndMeasure(name, "drift per second, upper 95 %"), hi, w.unit() + "/s"})
	}
	return out
}

// driftLimits says of which end's drift the visits give no 95 % limits.
func (w *work) driftLimits() {
	for i := range w.found {
		f := &w.found[i]
		for _, name := range []string{"low end", "high end"} {
			if f.has(EndMeasure(name, "drift per second")) && !f.has(EndMeasure(name, "drift per second, lower 95 %")) {
				w.blind = append(w.blind, Absence{SpanDrift, fmt.Sprintf("how surely the %s's drift per second is known: that takes five arrivals at the stop, this capture has fewer", name)})
			}
		}
	}
}
