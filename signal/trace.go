package signal

import "time"

// Trace is one capture, reduced to bins and converted to base units. Bin i
// covers a run of consecutive rows; every non-nil Series has exactly
// len(Time) bins. A Trace is not changed after reading.
type Trace struct {
	// Source is the file the trace was read from, "-" for standard input.
	Source string

	// Time is the mean time of the rows in each bin, in s, strictly
	// increasing. The origin is the instrument's own (a scope's trigger is
	// often 0, so times may be negative); clock stamps are counted from the
	// first row, whose wall-clock time is Start.
	Time []float64

	// Start is the wall-clock time of Time == 0 if the file told it, else
	// the zero time.
	Start time.Time

	// Step is the typical interval between bins and RowStep the typical
	// interval between rows, both the median in s. RowsPerBin is their ratio
	// as a whole number: 1 means nothing was reduced.
	Step       float64
	RowStep    float64
	RowsPerBin int

	// Rows is the number of data rows read.
	Rows int64

	// Uniform tells that every row interval agrees with RowStep to within
	// the printed resolution of the time column (gaps apart).
	Uniform bool

	// Drive is the signed motor drive V(lead A) - V(lead B) in V, or -1, 0,
	// +1 when DriveIsPolarity. Feedback is the wiper voltage in V (or in the
	// unit the Series names, when the file had converter counts or percent).
	Drive           Series
	DriveIsPolarity bool
	Feedback        Series

	// Optional channels; nil when the capture has none.
	Reference *Series
	Supply    *Series
	Current   *Series

	// Command is what the controller wanted of the drive, from -1 to +1, when
	// the file tells it beside the drive that came of it; else nil.
	Command *Series

	// Both is what the two motor leads stand at together, in V against ground: the
	// lower of the two, where each has a column in volts; else nil. The drive is
	// their difference and does not tell it.
	Both *Series

	// Gaps are stretches in which rows are missing: the time step was more
	// than three times the typical one.
	Gaps []Span

	// Anew are the times, in s, of the first bins after places where the file's clock
	// starts anew: what stands before and after was recorded apart.
	Anew []Restart

	// Remarks are what somebody wrote beside the readings, in the order of time.
	Remarks []Remark

	// Columns says how every column of the file was read, in file order.
	Columns []Column

	// Notes are doubts about the data, to be shown with the result.
	Notes []Note
}

// Len is the number of bins.
func (t *Trace) Len() int { return len(t.Time) }

// Duration is the time from the first bin to the last, in s.
func (t *Trace) Duration() float64 {
	if len(t.Time) < 2 {
		return 0
	}
	return t.Time[len(t.Time)-1] - t.Time[0]
}

// Series is one channel of a Trace in base units. Min and Max are the
// extremes of the rows in each bin; they share Mean's memory when RowsPerBin
// is 1. A bin without any valid cell is NaN in all three.
type Series struct {
	Name string // the file's own column name, or "column 3"
	Unit string // "V", "A", or "%" / "counts" / "" where volts are unknown

	Mean, Min, Max []float32

	Stats Stats // over all rows of the file
}

// Stats summarises one column over all rows, before any reduction.
type Stats struct {
	Valid   int64   // cells with a number
	Missing int64   // empty cells and overflow marks
	Over    int64   // of Missing: overflow marks (inf, OL, ---)
	Min     float64 // in base units
	Max     float64
	// Quantum is the smallest step between distinct values that explains the
	// others (a converter's step), in base units; 0 when none was found.
	Quantum float64
	// AtMin and AtMax count the cells equal to Min and Max: a large share
	// while the signal moves is clipping.
	AtMin, AtMax int64
}

// ClockRestarted is the code of the note on a [Restart].
const ClockRestarted = "clock-restarted"

// Restart is a place where the clock of a file starts anew.
type Restart struct {
	Time float64 // s, of the first row after it
	Line int64   // of that row in the file
}

// Span is a stretch of time, in s.
type Span struct{ From, To float64 }

// Note is a doubt about the data: what was seen, with the place.
type Note struct {
	Code string // short stable key, e.g. "gap", "clipped", "slow-sampling"
	Text string // one plain sentence

	// Turns tells that the verdict could be another one if what was taken is not so: it is
	// said beside the verdict, not only among how the file was read.
	Turns bool `json:"-"`
}
