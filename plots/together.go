package plots

import (
	"slices"

	"threewire/analyze"
)

// mostTogether is as many sentences about a pair as leave its picture room.
const mostTogether = 2

// together is what captures show only beside one another, in sentences: a picture that
// left it out would deny its own headline.
func (d *drawing) together() []string {
	if d.panels[0] == Contact || d.fig.Report == nil || d.o.Blank {
		return nil
	}
	out := comparedWords(d.fig.Report)
	if r := d.repair(); r != nil {
		out = append([]string{upper(plain(r.Text))}, out...)
	}
	return out[:min(len(out), mostTogether)]
}

// repair is what became of a repair whose captures before and after are drawn, else nil.
func (d *drawing) repair() *analyze.Repair {
	if slices.Contains(d.panels, Compare) {
		return d.fig.Repair
	}
	return nil
}

// repairWords head what became of a repair.
func repairWords(r *analyze.Repair) string {
	switch {
	case r == nil:
		return ""
	case r.Result == analyze.RepairUnclear:
		return "Repair: cannot tell yet. "
	}
	return upper(string(r.Result)) + ". "
}

// heldEarly tells whether a stop of the capture is one that the uncoupled run goes past:
// it is what hangs on the actuator that stands there, not the actuator's own stop.
func (d *drawing) heldEarly(st analyze.Stop) bool {
	r := d.fig.Report
	return r != nil && r.Compared != nil && r.Compared.Short > 0 && !d.fig.Capture.Free && r.Compared.Early() == st.Direction
}

// stopsBefore are the outermost stops that the door gave the shaft before it came off,
// until so many s: what the runs before went to.
func (d *drawing) stopsBefore(until float64) []analyze.Stop {
	var out []analyze.Stop
	for _, dir := range []analyze.Direction{analyze.Down, analyze.Up} {
		best := -1
		for i, st := range d.fig.Capture.Stops {
			if st.Extreme || st.Direction != dir || len(st.Times) == 0 || slices.Max(st.Times) > until {
				continue
			}
			if best < 0 || float64(dir)*(st.Level-d.fig.Capture.Stops[best].Level) > 0 {
				best = i
			}
		}
		if best >= 0 {
			out = append(out, d.fig.Capture.Stops[best])
		}
	}
	return out
}

// stopsFrom is the time from which the outermost stops are there, where a door came off:
// before that, the door's own stops kept the shaft from them.
func (d *drawing) stopsFrom() (from float64, ok bool) {
	for i := range d.fig.Capture.Findings {
		f := &d.fig.Capture.Findings[i]
		if _, passed := f.Measure(analyze.MeasureLowStopPassed); passed && f.Kind == analyze.LoadLost {
			return f.Time.From, true
		}
	}
	return 0, false
}
