package main

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
)

// csvColumn is a column of --csv.
type csvColumn struct {
	name  string
	value func(*batchRow) string
}

// csvColumns are the columns of --csv, in order, with the value of each for a
// row. What a row does not have is empty. Cells whose text comes from a file
// or its name pass [inert]. Without whole, those that take all rows are left out.
func csvColumns(whole *batchWhole) []csvColumn {
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
	repair := func(f func(*batchRepair) string) func(*batchRow) string {
		return func(r *batchRow) string {
			if r.Repair == nil {
				return ""
			}
			return f(r.Repair)
		}
	}
	out := []csvColumn{
		{"path", func(r *batchRow) string { return inert(r.Path) }},
		{"actuator", func(r *batchRow) string { return inert(r.Actuator) }},
		{"when", func(r *batchRow) string { return inert(r.When) }},
		{"phase", func(r *batchRow) string { return inert(r.Phase) }},
		{"free", func(r *batchRow) string { return strconv.FormatBool(r.Free) }},
		{"error", func(r *batchRow) string { return inert(r.Error) }},
		{"conclusion", result(func(r *batchResult) string { return r.Conclusion })},
		{"part", result(func(r *batchResult) string { return r.Part })},
		{"probability", result(func(r *batchResult) string { return decimal(r.Probability) })},
		{"likeliest", result(func(r *batchResult) string { return r.Likeliest })},
		{"summary", result(func(r *batchResult) string { return inert(r.Summary) })},
		{"findings", result(func(r *batchResult) string { return strings.Join(r.Findings, "; ") })},
		{"next_test", result(func(r *batchResult) string {
			if r.Next == nil {
				return ""
			}
			return *r.Next
		})},
		{"joined_conclusion", joined(func(v *batchVerdict) string { return v.Conclusion })},
		{"joined_part", joined(func(v *batchVerdict) string { return v.Part })},
		{"joined_probability", joined(func(v *batchVerdict) string { return decimal(v.Probability) })},
		{"joined_likeliest", joined(func(v *batchVerdict) string { return v.Likeliest })},
		{"repair", repair(func(v *batchRepair) string { return v.Result })},
		{"repair_text", repair(func(v *batchRepair) string { return inert(v.Text) })},
		{"rows", result(func(r *batchResult) string { return strconv.FormatInt(r.Rows, 10) })},
		{"duration_s", result(func(r *batchResult) string { return decimal(r.Duration) })},
		{"sweeps", result(func(r *batchResult) string { return strconv.Itoa(r.Sweeps) })},
		{"feedback_unit", result(func(r *batchResult) string { return inert(r.Unit) })},
		{"span_low", volts(func(r *batchResult) *float64 { return r.SpanLow })},
		{"span_high", volts(func(r *batchResult) *float64 { return r.SpanHigh })},
		{"stop_low", volts(func(r *batchResult) *float64 { return r.StopLow })},
		{"stop_high", volts(func(r *batchResult) *float64 { return r.StopHigh })},
		{"noise_rms", volts(func(r *batchResult) *float64 { return r.Noise })},
		{"size", func(r *batchRow) string { return strconv.FormatInt(r.Size, 10) }},
		{"sha256", func(r *batchRow) string { return r.SHA256 }},
	}
	if whole == nil {
		return out
	}
	return append(out,
		csvColumn{"counted", func(r *batchRow) string { return whole.counts[r] }},
		csvColumn{"counted_note", func(r *batchRow) string { return inert(whole.note(r)) }},
		csvColumn{"drift", func(r *batchRow) string { return whole.drift(r) }})
}

func decimal(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// inert keeps a spreadsheet from taking text for a formula, for a file name
// can be made to do harm: a quote mark is put before a cell that begins with
// one of the characters that begin one. See "CSV Injection", OWASP,
// owasp.org/www-community/attacks/CSV_Injection, which lists = + - @, tab,
// carriage return, line feed and the wide forms of the first four. --out has the
// text as it is. Numbers are left: they are our own.
func inert(s string) string {
	if strings.IndexAny(s, "=+-@\t\r\n\uff1d\uff0b\uff0d\uff20") == 0 {
		return "'" + s
	}
	return s
}

// csvTable writes rows as RFC 4180, with LF line ends.
type csvTable struct {
	out     *csv.Writer
	columns []csvColumn
}

// newCSVTable writes the header line; whole is nil where rows are added as they come.
func newCSVTable(w io.Writer, whole *batchWhole) (*csvTable, error) {
	t := &csvTable{csv.NewWriter(w), csvColumns(whole)}
	var names []string
	for _, c := range t.columns {
		names = append(names, c.name)
	}
	return t, t.out.Write(names)
}

// add writes rows and hands them on at once.
func (t *csvTable) add(rows []*batchRow) error {
	for _, r := range rows {
		var record []string
		for _, c := range t.columns {
			record = append(record, c.value(r))
		}
		if err := t.out.Write(record); err != nil {
			return err
		}
	}
	t.out.Flush()
	return t.out.Error()
}

// writeBatchCSV writes a whole table.
func writeBatchCSV(w io.Writer, rows []*batchRow) error {
	t, err := newCSVTable(w, wholeOf(rows))
	if err != nil {
		return err
	}
	return t.add(rows)
}
