package signal

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// twoLeads drives an actuator to and fro five times, both leads logged against ground at
// their own scales; back tells how much of a way it comes back with the second lead.
func twoLeads(a, b, back float64) string {
	var s strings.Builder
	s.WriteString("time (s),lead A (V),lead B (V),feedback (V)\n")
	v := 1.0
	for i := range 1000 {
		x, y := 0.0, 0.0
		switch phase := i % 200; {
		case phase < 80:
			x, v = 12, v+0.03
		case phase >= 100 && phase < 180:
			y, v = 12, v-0.03*back
		}
		fmt.Fprintf(&s, "%.2f,%.3f,%.3f,%.3f\n", float64(i)*0.02, a*x, b*y, v)
	}
	return s.String()
}

func TestProbeFactor(t *testing.T) {
	for _, c := range []struct {
		name         string
		a, b, back   float64
		high, low    float64 // of the drive
		noted        bool
		scaleOfLeads float64
	}{
		{"as it is", 1, 1, 1, 12, -12, false, 0},
		{"a lead a tenth", 1, 0.1, 1, 12, -12, true, 0},
		{"the other a tenth", 0.1, 1, 1, 12, -12, true, 0},
		{"a lead tenfold", 10, 1, 1, 12, -12, true, 0},
		{"both tenfold", 10, 10, 1, 12, -12, true, 0},
		{"a leg that gives a tenth moves nothing", 1, 0.1, 0, 12, -1.2, false, 0},
		{"a leg that gives a half", 1, 0.5, 0.5, 12, -6, false, 0},
		{"a factor that was given", 1, 0.1, 1, 12, -1.2, false, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := Options{Source: "x.csv"}
			if c.scaleOfLeads != 0 {
				o.Scale = map[Role]float64{LeadA: c.scaleOfLeads}
			}
			tr, err := Read(strings.NewReader(twoLeads(c.a, c.b, c.back)), o)
			if err != nil {
				t.Fatal(err)
			}
			if s := tr.Drive.Stats; math.Abs(s.Max-c.high) > 0.05 || math.Abs(s.Min-c.low) > 0.05 {
				t.Errorf("drive from %.2f to %.2f V, want %.2f to %.2f", s.Min, s.Max, c.low, c.high)
			}
			noted := false
			for _, n := range tr.Notes {
				noted = noted || n.Code == "probe-factor"
			}
			if noted != c.noted {
				t.Errorf("noted %v: %v", noted, tr.Notes)
			}
		})
	}
}

// A log that was started anew, or whose counter was reset, goes on behind a pause.
func TestClockStartsAnew(t *testing.T) {
	part := goodRows(60)                                                                          // 0 to 1.18 s
	second, third := strings.Replace(part, "\n", "1\n", 1), strings.Replace(part, "\n", "2\n", 1) // no copies
	tr, err := Read(strings.NewReader(threeCols+part+second+third), Options{Source: "x.csv"})
	if err != nil {
		t.Fatal(err)
	}
	if tr.Len() != 180 || len(tr.Gaps) != 2 {
		t.Errorf("%d rows, pauses %v", tr.Len(), tr.Gaps)
	}
	for i := 1; i < tr.Len(); i++ {
		if tr.Time[i] <= tr.Time[i-1] {
			t.Fatalf("row %d at %g s after one at %g s", i, tr.Time[i], tr.Time[i-1])
		}
	}
	if end := tr.Time[179]; end < 3*1.18+2*3*0.02 || end > 4 {
		t.Errorf("ends at %.2f s", end)
	}
	n := 0
	for _, note := range tr.Notes {
		if note.Code == "gap" {
			t.Errorf("told of missing rows: %s", note.Text)
		}
		if note.Code == "clock-restarted" {
			n++
			if !strings.Contains(note.Text, "line 62") && !strings.Contains(note.Text, "line 122") {
				t.Errorf("note without its line: %s", note.Text)
			}
		}
	}
	if n != 2 {
		t.Errorf("%d notes", n)
	}
	// A few rows only, or somewhere on the way: that is no clock.
	for _, text := range []string{
		threeCols + part + "0.00,1,4\n0.02,1,4\n0.00,1,4\n0.02,1,4\n",
		threeCols + part + "0.50,1,4\n0.52,1,4\n",
	} {
		if _, err := Read(strings.NewReader(text), Options{Source: "x.csv"}); err == nil || !strings.Contains(err.Error(), "time runs backwards") {
			t.Errorf("error %v", err)
		}
	}
}
