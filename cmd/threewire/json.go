package main

import (
	"encoding/json"
	"io"

	"threewire/analyze"
	"threewire/signal"
)

// jsonReport is the output of check --json: the report, and for each capture
// how its columns were read. DEVELOPERS.md documents the fields.
type jsonReport struct {
	*analyze.Report
	Columns [][]jsonColumn `json:"columns"`
	// Beside are the columns of the captures before a repair and of the good
	// side, in this order.
	Beside [][]jsonColumn `json:"columns_beside,omitempty"`
}

// jsonColumn says which column took which role and why.
type jsonColumn struct {
	Number int     `json:"number"`
	Name   string  `json:"name,omitempty"`
	Unit   string  `json:"unit,omitempty"`
	Scale  float64 `json:"scale"`
	Role   string  `json:"role"`
	Reason string  `json:"reason"`
}

// writeJSON writes the whole result.
func writeJSON(w io.Writer, j *judged) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return enc.Encode(jsonReport{Report: j.report, Columns: jsonColumns(j.traces), Beside: jsonColumns(j.others)})
}

func jsonColumns(traces []*signal.Trace) [][]jsonColumn {
	out := make([][]jsonColumn, len(traces))
	for i, t := range traces {
		for _, c := range t.Columns {
			out[i] = append(out[i], jsonColumn{c.Number, c.Name, c.Unit, c.Scale, c.Role.String(), c.Reason})
		}
	}
	return out
}
