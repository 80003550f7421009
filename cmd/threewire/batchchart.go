package main

import (
	"cmp"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"threewire/plots"
)

// chartFormat is the picture format a file's name asks for, "" if none.
func chartFormat(path string) string {
	format := strings.TrimPrefix(strings.ToLower(filepath.Ext(path)), ".")
	if !slices.Contains(plots.Formats(), format) {
		return ""
	}
	return format
}

// writeChart draws the faults and the drifts of rows.
func writeChart(path string, rows []*batchRow) error {
	list := judgements(rows)
	b := plots.Batch{Title: plural(len(rows), "capture") + ", " + plural(len(list), "verdict")}
	count := map[string]int{}
	for _, j := range list {
		count[j.Conclusion]++
	}
	for name, n := range count {
		b.Faults = append(b.Faults, plots.Tally{Name: name, Count: n})
	}
	slices.SortFunc(b.Faults, func(p, q plots.Tally) int {
		return cmp.Or(cmp.Compare(q.Count, p.Count), strings.Compare(p.Name, q.Name))
	})
	b.Drifts, b.Unit, b.Axis = chartDrifts(rows)
	return writeAtomic(path, true, func(w io.Writer) error {
		return plots.DrawBatch(w, chartFormat(path), b, plots.Options{})
	})
}

// chartDrifts picks the trends that fit on one pair of axes: dated ones if
// there are any, in the unit of the first.
func chartDrifts(rows []*batchRow) (list []plots.Drift, unit, axis string) {
	trend := drifts(rows)
	per := "capture"
	names := make([]string, 0, len(trend))
	for name, d := range trend {
		names = append(names, name)
		if d.per == "day" {
			per = "day"
		}
	}
	slices.SortFunc(names, func(a, b string) int {
		return cmp.Or(cmp.Compare(trend[a].q, trend[b].q), natural(a, b), strings.Compare(a, b))
	})
	for _, name := range names {
		d := trend[name]
		if d.per != per || unit != "" && d.unit != unit {
			continue
		}
		unit = d.unit
		// The end of a long path is the name of the door.
		list = append(list, plots.Drift{Name: filepath.Base(name) + ", " + d.what, X: d.x, Y: d.y,
			Slope: d.slope, Intercept: d.intercept, Sure: d.q < driftSeen})
	}
	axis = "captures since the first"
	if per == "day" {
		axis = "time since the first capture of the actuator, days"
	}
	return list, unit, axis
}
