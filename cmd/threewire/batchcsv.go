package main

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
)

// csvColumns are the columns of --csv, in order, with the value of each for a
// row. What a row does not have is empty.
func csvColumns() []struct {
	name  string
	value func(*batchRow) string
} {
	result := func(f func(*batchResult) string) func(*batchRow) string {
		return func(r *batchRow) string {
			if r.Result == nil {
				return ""
			}
			return f(r.Result)
		}
	}
	volts := func(f func(*batchResult) *float64) func(*batchRow) string {
		return result(func(r *batchResult) string {
			if v := f(r); v != nil {
				return decimal(*v)
			}
			return ""
		})
	}
	joined := func(f func(*batchVerdict) string) func(*batchRow) string {
		return func(r *batchRow) string {
			if r.Joined == nil {
				return ""
			}
			return f(r.Joined)
		}
	}
	return []struct {
		name  string
		value func(*batchRow) string
	}{
		{"path", func(r *batchRow) string { return r.Path }},
		{"actuator", func(r *batchRow) string { return r.Actuator }},
		{"when", func(r *batchRow) string { return r.When }},
		{"phase", func(r *batchRow) string { return r.Phase }},
		{"free", func(r *batchRow) string { return strconv.FormatBool(r.Free) }},
		{"error", func(r *batchRow) string { return r.Error }},
		{"conclusion", result(func(r *batchResult) string { return r.Conclusion })},
		{"part", result(func(r *batchResult) string { return r.Part })},
		{"probability", result(func(r *batchResult) string { return decimal(r.Probability) })},
		{"summary", result(func(r *batchResult) string { return r.Summary })},
		{"findings", result(func(r *batchResult) string { return strings.Join(r.Findings, "; ") })},
		{"next_test", result(func(r *batchResult) string { return r.Next })},
		{"joined_conclusion", joined(func(v *batchVerdict) string { return v.Conclusion })},
		{"joined_part", joined(func(v *batchVerdict) string { return v.Part })},
		{"joined_probability", joined(func(v *batchVerdict) string { return decimal(v.Probability) })},
		{"rows", result(func(r *batchResult) string { return strconv.FormatInt(r.Rows, 10) })},
		{"duration_s", result(func(r *batchResult) string { return decimal(r.Duration) })},
		{"sweeps", result(func(r *batchResult) string { return strconv.Itoa(r.Sweeps) })},
		{"feedback_unit", result(func(r *batchResult) string { return r.Unit })},
		{"span_low", volts(func(r *batchResult) *float64 { return r.SpanLow })},
		{"span_high", volts(func(r *batchResult) *float64 { return r.SpanHigh })},
		{"stop_low", volts(func(r *batchResult) *float64 { return r.StopLow })},
		{"stop_high", volts(func(r *batchResult) *float64 { return r.StopHigh })},
		{"noise_rms", volts(func(r *batchResult) *float64 { return r.Noise })},
		{"size", func(r *batchRow) string { return strconv.FormatInt(r.Size, 10) }},
		{"sha256", func(r *batchRow) string { return r.SHA256 }},
	}
}

func decimal(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// writeBatchCSV writes rows as RFC 4180 with a header line.
func writeBatchCSV(w io.Writer, rows []*batchRow) error {
	cols := csvColumns()
	out := csv.NewWriter(w)
	record := make([]string, len(cols))
	for i, c := range cols {
		record[i] = c.name
	}
	if err := out.Write(record); err != nil {
		return err
	}
	for _, r := range rows {
		for i, c := range cols {
			record[i] = c.value(r)
		}
		if err := out.Write(record); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}
