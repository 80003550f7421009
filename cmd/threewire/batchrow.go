package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"math"
	"strings"

	"threewire/analyze"
)

// batchSchema is the version of the JSON form of [batchRow].
const batchSchema = "threewire-batch/1"

// batchRow is what a batch says about one capture: one line of JSON.
type batchRow struct {
	Schema string `json:"schema"`
	Set    string `json:"set"` // shared by the captures that are judged in one go
	Path   string `json:"path"`
	// PathBytes is the path when it is no UTF-8; Path has \xNN then.
	PathBytes []byte `json:"path_bytes,omitempty"`
	Size      int64  `json:"size"`   // bytes
	SHA256    string `json:"sha256"` // of the file as it lies there; empty if it could not be read
	// Fingerprint is of everything the row follows from: the bytes of all
	// captures of the set, their names and the flags. A row with the same
	// fingerprint need not be made again.
	Fingerprint string `json:"fingerprint"`

	Actuator string `json:"actuator"`
	When     string `json:"when,omitempty"`
	Phase    string `json:"phase,omitempty"`
	Free     bool   `json:"free"`

	// Occasion is shared by the coupled and free capture of one time; empty
	// when it is Set.
	Occasion string `json:"occasion,omitempty"`

	Error  string        `json:"error,omitempty"`
	Result *batchResult  `json:"result,omitempty"` // of this capture alone
	Joined *batchVerdict `json:"joined,omitempty"` // of the occasion, when it has both coupled and free
	Repair *batchRepair  `json:"repair,omitempty"` // when the capture is one of those before and after
}

// batchRepair is what captures before and after a repair prove, in short.
type batchRepair struct {
	Result string  `json:"result"`
	Missed float64 `json:"chance_missed"` // that the fault is still there and did not show
	Text   string  `json:"text"`
}

// batchVerdict is a verdict in short.
type batchVerdict struct {
	Conclusion  string  `json:"conclusion"`
	Part        string  `json:"part"`
	Probability float64 `json:"probability"`
	Likeliest   string  `json:"likeliest,omitempty"` // whose probability it is
	Summary     string  `json:"summary"`
	Next        *string `json:"next_test"` // nil when no test is worth doing
}

// batchResult is what one capture shows. Voltages that the capture does not
// tell are null: every result has the same fields.
type batchResult struct {
	batchVerdict
	Findings []string `json:"findings"` // kinds, strongest first
	Rows     int64    `json:"rows"`
	Duration float64  `json:"duration_s"`
	Sweeps   int      `json:"sweeps"`
	Unit     string   `json:"feedback_unit"`
	SpanLow  *float64 `json:"span_low"`
	SpanHigh *float64 `json:"span_high"`
	StopLow  *float64 `json:"stop_low"`
	StopHigh *float64 `json:"stop_high"`
	Noise    *float64 `json:"noise_rms"`
}

// file is the path as the file system knows it.
func (r *batchRow) file() string {
	if r.PathBytes != nil {
		return string(r.PathBytes)
	}
	return r.Path
}

// occasion is what the coupled and the free capture of one time share.
func (r *batchRow) occasion() string { return cmp.Or(r.Occasion, r.Set) }

// compareRows is the order of all output. Sets stay together.
func compareRows(a, b *batchRow) int {
	return cmp.Or(strings.Compare(a.Set, b.Set), strings.Compare(a.file(), b.file()))
}

// line is the row as one line, its end included.
func (r *batchRow) line() ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	err := enc.Encode(r)
	return b.Bytes(), err
}

// newRow is a row without a result.
func newRow(path string, key batchKey) *batchRow {
	r := &batchRow{Schema: batchSchema, Set: key.set(), Path: plainText(path), Actuator: key.actuator,
		When: key.when, Phase: key.phase, Free: key.free}
	if r.Path != path {
		r.PathBytes = []byte(path)
	}
	if key.occasion != r.Set {
		r.Occasion = key.occasion
	}
	return r
}

func shortVerdict(v *analyze.Verdict) batchVerdict {
	s := batchVerdict{Conclusion: v.Conclusion.String(), Part: v.Part, Probability: rounded(v.Probability), Summary: plainText(v.Summary)}
	if len(v.Chances) > 0 {
		s.Likeliest = v.Chances[0].Fault.String()
	}
	if len(v.Next) > 0 && v.WorthTesting() {
		name := v.Next[0].Name // a copy, which keeps no tests in memory
		s.Next = &name
	}
	return s
}

func shortResult(c *analyze.Capture, v *analyze.Verdict) *batchResult {
	r := &batchResult{batchVerdict: shortVerdict(v), Findings: []string{}, Rows: c.Rows, Duration: rounded(c.Duration),
		Sweeps: len(c.Sweeps), Unit: c.Unit, SpanLow: number(c.Span.From), SpanHigh: number(c.Span.To), Noise: number(c.Noise)}
	for _, f := range c.Findings {
		r.Findings = append(r.Findings, string(f.Kind))
	}
	for _, s := range c.Stops {
		switch {
		case s.Extreme && s.Direction == analyze.Down:
			r.StopLow = number(s.Level)
		case s.Extreme && s.Direction == analyze.Up:
			r.StopHigh = number(s.Level)
		}
	}
	return r
}

// number is x for JSON, which has no NaN.
func number(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	x = rounded(x)
	return &x
}

// rounded keeps microvolts: the last bits of a float differ between kinds of
// processors, and shards of one batch may run on several.
func rounded(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	return math.Round(x*1e6) / 1e6
}
