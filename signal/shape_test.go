package signal

import (
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
	"unicode/utf16"
)

// A rec is a small capture with known values: the motor is driven up, rests,
// and is driven down, and the wiper follows.
type rec struct {
	dt      float64 // s
	t, d, v []float64
}

func newRec(rows int, dt float64) rec {
	r := rec{dt: dt}
	pos := 1.0
	for i := range rows {
		// Four strokes per capture whatever its length, with a rest between.
		d := 0.0
		switch ph := i * 40 / rows % 20; {
		case ph >= 1 && ph < 9:
			d = 12
		case ph >= 11 && ph < 19:
			d = -12
		}
		pos += d / 12 * 3 / (float64(rows) / 5)
		r.t = append(r.t, math.Round(float64(i)*dt*1e6)/1e6)
		r.d = append(r.d, d)
		r.v = append(r.v, math.Round(pos*1000)/1000)
	}
	return r
}

// rows renders one line per row.
func (r rec) rows(f func(i int, t, d, v float64) string) string {
	var b strings.Builder
	for i := range r.t {
		b.WriteString(f(i, r.t[i], r.d[i], r.v[i]))
		b.WriteByte('\n')
	}
	return b.String()
}

func comma(s string) string { return strings.ReplaceAll(s, ".", ",") }

func word(d float64, up, down, rest string) string {
	switch {
	case d > 0:
		return up
	case d < 0:
		return down
	}
	return rest
}

// A shape is one way to write a capture.
type shape struct {
	name string
	text func(r rec) string
	o    Options
	// What differs from the plain reading.
	polarity bool
	t0       float64 // time of the first row, s
	start    string  // wall clock of time 0
	vFactor  float64 // feedback as read over volts; 0 = 1
	vUnit    string  // "" = V
	tol      float64 // of times, in steps
}

var epoch0 = time.Date(2031, 5, 17, 23, 59, 58, 0, time.UTC)

func stampOf(t float64) time.Time {
	return epoch0.Add(time.Duration(math.Round(t*1e6)) * time.Microsecond)
}

func plainRow(i int, t, d, v float64) string { return fmt.Sprintf("%.3f,%.2f,%.3f", t, d, v) }

func inUTF16(s string, o binary.ByteOrder, mark bool) string {
	if mark {
		s = "\ufeff" + s
	}
	var b []byte
	for _, u := range utf16.Encode([]rune(s)) {
		b = append(b, 0, 0)
		o.PutUint16(b[len(b)-2:], u)
	}
	return string(b)
}

func inGzip(s string) string {
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	_, _ = w.Write([]byte(s)) // a bytes.Buffer does not fail
	_ = w.Close()
	return b.String()
}

// However a capture is written, the same capture is read.
func TestShapes(t *testing.T) {
	r := newRec(400, 0.02)
	for _, s := range shapes {
		t.Run(s.name, func(t *testing.T) {
			tr, err := Read(strings.NewReader(s.text(r)), s.o)
			if err != nil {
				t.Fatal(err)
			}
			checkShape(t, tr, r, s)
		})
	}
}

// Where the text is cut into blocks must not matter.
func TestShapesInSmallBlocks(t *testing.T) {
	r := newRec(400, 0.02)
	for _, s := range shapes {
		t.Run(s.name, func(t *testing.T) {
			s.o.block = 1500
			s.o.Workers = 3
			tr, err := Read(strings.NewReader(s.text(r)), s.o)
			if err != nil {
				t.Fatal(err)
			}
			checkShape(t, tr, r, s)
		})
	}
}

func checkShape(t *testing.T, tr *Trace, r rec, s shape) {
	t.Helper()
	if msg := broken(tr); msg != "" {
		t.Fatal(msg)
	}
	if tr.Len() != len(r.t) || tr.Rows != int64(len(r.t)) || tr.RowsPerBin != 1 {
		t.Fatalf("%d bins of %d rows, %d per bin; want %d", tr.Len(), tr.Rows, tr.RowsPerBin, len(r.t))
	}
	if tr.DriveIsPolarity != s.polarity {
		t.Errorf("DriveIsPolarity = %v", tr.DriveIsPolarity)
	}
	tol := max(s.tol, 0.001) * r.dt
	vf, vu := s.vFactor, s.vUnit
	if vf == 0 {
		vf = 1
	}
	if vu == "" {
		vu = "V"
	}
	if tr.Feedback.Unit != vu {
		t.Errorf("feedback in %q, want %q", tr.Feedback.Unit, vu)
	}
	for i := range r.t {
		d := r.d[i]
		if s.polarity {
			d /= 12
		}
		if math.Abs(tr.Time[i]-s.t0-r.t[i]) > tol {
			t.Fatalf("row %d: time %v, want %v", i, tr.Time[i], s.t0+r.t[i])
		}
		if math.Abs(float64(tr.Drive.Mean[i])-d) > 1e-5 {
			t.Fatalf("row %d: drive %v, want %v", i, tr.Drive.Mean[i], d)
		}
		if v := float64(tr.Feedback.Mean[i]); v == v && math.Abs(v-r.v[i]*vf) > 0.0011*vf {
			t.Fatalf("row %d: feedback %v, want %v", i, v, r.v[i]*vf)
		}
	}
	if math.Abs(tr.RowStep-r.dt) > 0.01*r.dt {
		t.Errorf("row step %v, want %v", tr.RowStep, r.dt)
	}
	switch {
	case s.start == "skip": // told only to a fraction of a second
	case s.start == "" && !tr.Start.IsZero():
		t.Errorf("start %v, want none", tr.Start)
	case s.start != "" && tr.Start.Format(time.RFC3339Nano) != s.start:
		t.Errorf("start %v, want %v", tr.Start.Format(time.RFC3339Nano), s.start)
	}
}

// broken checks what must hold for every trace, or returns "".
func broken(tr *Trace) string {
	n := len(tr.Time)
	for i := 1; i < n; i++ {
		if !(tr.Time[i] > tr.Time[i-1]) {
			return fmt.Sprintf("time does not rise at bin %d: %v, %v", i, tr.Time[i-1], tr.Time[i])
		}
	}
	for i, m := range tr.Remarks {
		if i > 0 && m.Time < tr.Remarks[i-1].Time || n > 0 && !(m.Time >= tr.Time[0] && m.Time <= tr.Time[n-1]) || m.Text == "" || m.Line < 1 || len(tr.Remarks) > mostRemarks {
			return fmt.Sprintf("remark %d of %d: %+v", i, len(tr.Remarks), m)
		}
	}
	list := map[string]*Series{"drive": &tr.Drive, "feedback": &tr.Feedback, "reference": tr.Reference, "supply": tr.Supply, "current": tr.Current, "command": tr.Command}
	for name, s := range list {
		if s == nil {
			continue
		}
		if len(s.Mean) != n || len(s.Min) != n || len(s.Max) != n {
			return fmt.Sprintf("%s has %d, %d, %d bins, time has %d", name, len(s.Mean), len(s.Min), len(s.Max), n)
		}
		for i, m := range s.Mean {
			lo, hi := s.Min[i], s.Max[i]
			if m != m && lo != lo && hi != hi {
				continue
			}
			if !(lo <= m && m <= hi) {
				return fmt.Sprintf("%s bin %d: min %v, mean %v, max %v", name, i, lo, m, hi)
			}
		}
	}
	return ""
}
