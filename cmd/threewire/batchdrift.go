package main

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"time"

	"threewire/analyze"
	"threewire/analyze/stats"
)

// driftSeen is the chance of a false alarm that is allowed among the drifts
// reported (false discovery rate, Benjamini and Hochberg, J. R. Statist. Soc.
// B 57 (1995) 289): with hundreds of actuators a plain 5 % would accuse many
// healthy ones.
const driftSeen = 0.05

// drift is the trend of one end of the travel, or of the span between the
// ends, over the captures of an actuator.
type drift struct {
	what      string  // "low end", "high end" or "span"
	captures  int     // that reached both end stops
	slope     float64 // feedback units per day, or per capture
	low, high float64 // 95 % limits of slope
	per       string  // "day" or "capture"
	unit      string
	p, q      float64 // single test; after all tests of the batch

	x, y      []float64
	intercept float64
	span      float64 // feedback units, the middle one of the captures
}

// drifts tests every actuator of rows for a trend of its feedback span
// (Mann-Kendall; slope Theil-Sen) and returns the surest trend of each. Only
// captures that ran into both end stops count: a shorter travel is no drift.
func drifts(rows []*batchRow) map[string]drift {
	byActuator := map[string][]*batchRow{}
	copied := copies(rows)
	for _, r := range rows {
		// The door's stops are not the actuator's own: free runs would mix.
		if !r.Free && copied[r] == nil && r.Result != nil && r.Result.StopLow != nil && r.Result.StopHigh != nil {
			byActuator[r.Actuator] = append(byActuator[r.Actuator], r)
		}
	}
	type test struct {
		actuator string
		drift
	}
	var tests []test
	for name, list := range byActuator {
		unit := list[0].Result.Unit
		list = slices.DeleteFunc(list, func(r *batchRow) bool { return r.Result.Unit != unit })
		if len(list) < analyze.TrendLeast {
			continue
		}
		slices.SortFunc(list, inTime)
		x, per := times(list)
		low, high := make([]float64, len(list)), make([]float64, len(list))
		for i, r := range list {
			low[i], high[i] = *r.Result.StopLow, *r.Result.StopHigh
		}
		spans := make([]float64, len(list))
		for i := range list {
			spans[i] = high[i] - low[i]
		}
		for _, t := range analyze.SpanTrends(x, low, high, per) {
			least, most := t.Limits()
			tests = append(tests, test{name, drift{what: t.What, captures: t.Captures, slope: t.Slope, low: least, high: most,
				per: t.Per, unit: unit, p: t.P, x: t.X, y: t.Y, intercept: t.Intercept, span: stats.Median(spans)}})
		}
	}
	slices.SortFunc(tests, func(a, b test) int {
		return cmp.Or(cmp.Compare(a.p, b.p), strings.Compare(a.actuator, b.actuator), strings.Compare(a.what, b.what))
	})
	least := 1.0
	for i := len(tests) - 1; i >= 0; i-- {
		least = math.Min(least, tests[i].p*float64(len(tests))/float64(i+1))
		tests[i].q = least
	}
	out := map[string]drift{}
	for _, t := range tests {
		if _, ok := out[t.actuator]; !ok {
			out[t.actuator] = t.drift
		}
	}
	return out
}

// times are the captures' times in days, or their numbers when some have no
// date or all the same.
func times(list []*batchRow) (x []float64, per string) {
	var first time.Time
	for i, r := range list {
		layout := "2006-01-02T15:04:05"
		t, err := time.Parse(layout[:min(len(layout), len(r.When))], r.When)
		if err != nil || r.When == "" {
			x = nil
			break
		}
		if i == 0 {
			first = t
		}
		x = append(x, t.Sub(first).Hours()/24)
	}
	if len(x) == len(list) && x[len(x)-1] > x[0] {
		return x, "day"
	}
	x = make([]float64, len(list))
	for i := range x {
		x[i] = float64(i)
	}
	return x, "capture"
}

// inTime orders captures by date, then phase, then name with numbers as
// numbers.
func inTime(a, b *batchRow) int {
	// "before" would stand behind "after" by the alphabet.
	phase := func(r *batchRow) int {
		return map[string]int{"before": -1, "after": 1}[r.Phase]
	}
	return cmp.Or(strings.Compare(a.When, b.When), cmp.Compare(phase(a), phase(b)), natural(a.file(), b.file()), strings.Compare(a.file(), b.file()))
}

// natural compares names so that 9 stands before 10, and a name that ends before one that
// goes on: left.csv, left-b.csv.
func natural(a, b string) int {
	digits := func(s string) int {
		return len(s) - len(strings.TrimLeft(s, "0123456789"))
	}
	rank := func(c byte) int {
		if c == '.' {
			return -1
		}
		return int(c)
	}
	for a != "" && b != "" {
		m, n := digits(a), digits(b)
		if m > 0 && n > 0 {
			x, y := strings.TrimLeft(a[:m], "0"), strings.TrimLeft(b[:n], "0")
			if c := cmp.Or(cmp.Compare(len(x), len(y)), strings.Compare(x, y)); c != 0 {
				return c
			}
			a, b = a[m:], b[n:]
			continue
		}
		if a[0] != b[0] {
			return cmp.Compare(rank(a[0]), rank(b[0]))
		}
		a, b = a[1:], b[1:]
	}
	return cmp.Compare(len(a), len(b))
}
