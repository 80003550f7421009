package signal

import (
	"io"
	"math"
	"time"
)

// A Layout is how a file is read.
type Layout struct {
	Source      string         `json:"source"`
	Encoding    string         `json:"encoding"`
	Gzip        bool           `json:"gzip"`
	LineEnd     string         `json:"line_end"`
	Delimiter   string         `json:"delimiter"`
	DecimalMark string         `json:"decimal_mark"`
	NamesLine   int64          `json:"names_line,omitempty"` // 0 = the file has no such row
	UnitsLine   int64          `json:"units_line,omitempty"`
	DataLine    int64          `json:"data_line"` // first row of data
	Facts       []Fact         `json:"preamble,omitempty"`
	Rows        int64          `json:"rows"`
	PerRow      int            `json:"values_per_row,omitempty"` // above 1 when rows are pieces of a single series
	Time        TimeLayout     `json:"time"`
	RowsPerBin  int            `json:"rows_per_bin"`
	Gaps        int64          `json:"gaps"`
	Columns     []ColumnLayout `json:"columns"`
	Notes       []Note         `json:"notes,omitempty"`
	// Problem is what would stop a reading for analysis, "" when nothing.
	Problem string `json:"problem,omitempty"`
}

// TimeLayout is where times come from and what they are like. From, To and
// Step are in s, Rate in Hz.
type TimeLayout struct {
	Source  string     `json:"source"` // "column", "clock", "count" or "none"
	Column  int        `json:"column,omitempty"`
	Column2 int        `json:"column2,omitempty"` // the time of day beside a date
	Reason  string     `json:"reason"`
	Step    float64    `json:"step"`
	Rate    float64    `json:"rate"`
	Uniform bool       `json:"uniform"`
	From    float64    `json:"from"`
	To      float64    `json:"to"`
	Start   *time.Time `json:"start,omitempty"`
}

// ColumnLayout is how one column is read. Min, Max and Quantum are in the
// base unit and absent when the column holds no valid number.
type ColumnLayout struct {
	Number   int      `json:"number"`
	Name     string   `json:"name"`
	Unit     string   `json:"unit"`
	Scale    float64  `json:"scale"`
	Min      *float64 `json:"min,omitempty"`
	Max      *float64 `json:"max,omitempty"`
	Quantum  float64  `json:"quantum,omitempty"`
	Valid    int64    `json:"valid"`
	Missing  int64    `json:"missing"`
	Overflow int64    `json:"overflow"`
	Role     string   `json:"role"`
	Reason   string   `json:"reason"`
}

// Inspect reads all of r and tells how, without demanding any role. Errors
// are those of text that is no table, and of wrong flags.
func Inspect(r io.Reader, o Options) (*Layout, error) {
	red, a, err := readAll(r, &o)
	if err != nil {
		return nil, err
	}
	p := red.p
	red.doubts(a)
	l := &Layout{
		Source: p.file, Encoding: p.source.encoding, Gzip: p.source.gzip, LineEnd: p.source.lineEnd,
		Delimiter: delimNames[p.delim], DecimalMark: string(rune(p.dec)),
		NamesLine: int64(p.head.names + 1), UnitsLine: int64(p.head.units + 1), DataLine: int64(p.first + 1),
		Facts: p.facts.list, Rows: red.rows, RowsPerBin: red.k, Gaps: red.gapCount, Notes: p.notes,
	}
	if p.long != nil {
		l.Delimiter, l.DataLine = delimNames[p.long.delim], int64(p.long.first+1)
	}
	if n := red.perRow(); n > 1 {
		l.PerRow = n
	}
	l.Time = red.timeLayout()
	if l.PerRow > 1 {
		l.Time.To = l.Time.From + float64(red.rows*int64(l.PerRow)-1)*l.Time.Step
	}
	for _, c := range red.columns(a, &o) {
		l.Columns = append(l.Columns, columnLayout(&c, red))
	}
	if a.err != nil {
		l.Problem = a.err.Error()
	}
	return l, nil
}

func (r *reducer) timeLayout() TimeLayout {
	t := &r.p.time
	l := TimeLayout{Reason: t.reason, Step: r.rowStep(), Uniform: r.uniform(), From: r.firstOut, To: r.lastT}
	switch t.mode {
	case timeNumber:
		l.Source, l.Column = "column", t.col+1
	case timeClock:
		l.Source, l.Column = "clock", t.col+1
	case timeDate:
		l.Source, l.Column, l.Column2 = "clock", t.col+1, t.col2+1
	case timeCount:
		l.Source = "count"
	default:
		l.Source, l.Reason = "none", t.problem
		l.Step = 0
	}
	if l.Step > 0 {
		l.Rate = 1 / l.Step
	}
	if math.IsInf(l.From, 0) {
		l.From, l.To = 0, 0
	}
	if s := r.startTime(); !s.IsZero() {
		l.Start = &s
	}
	return l
}

func columnLayout(c *Column, r *reducer) ColumnLayout {
	l := ColumnLayout{Number: c.Number, Name: c.Name, Unit: c.Unit, Scale: c.Scale, Quantum: c.Stats.Quantum, Valid: c.Stats.Valid,
		Missing: c.Stats.Missing, Overflow: c.Stats.Over, Role: c.Role.String(), Reason: c.Reason}
	if c.Stats.Valid > 0 {
		l.Min, l.Max = &c.Stats.Min, &c.Stats.Max
	}
	if c.Role == TimeRole && r.p.time.mode == timeNumber {
		l.Valid = r.rows
		from, to := r.firstOut, r.lastT
		l.Min, l.Max = &from, &to
	}
	return l
}
