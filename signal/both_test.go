package signal

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// leadsFile is a file of two leads against ground, in the given units: driven one way,
// the other way, and twice with both leads up; one cell is empty.
func leadsFile(a, b string, full float64) string {
	var s strings.Builder
	fmt.Fprintf(&s, "Time (s),Lead A%s,Lead B%s,Feedback (V)\n", a, b)
	for i := range 1200 {
		x, y := 0.0, 0.0
		switch i / 100 % 6 {
		case 1:
			x = full
		case 3:
			y = full
		case 5:
			x, y = full, 0.9*full
		}
		cell := fmt.Sprintf("%.3f", y)
		if i == 550 {
			cell = ""
		}
		fmt.Fprintf(&s, "%.2f,%.3f,%s,%.3f\n", float64(i)/100, x, cell, 2+math.Sin(float64(i)/100)*float64(i%100)/100)
	}
	return s.String()
}

// What both leads stand at together is the lower of the two, as the drive is their
// difference; only columns of each lead in volts tell it.
func TestBoth(t *testing.T) {
	ten := Options{Scale: map[Role]float64{Drive: 10}}
	for _, c := range []struct {
		name string
		text string
		opt  Options
	}{
		{"volts", leadsFile(" (V)", " (V)", 12), Options{}},
		{"millivolts beside volts", leadsFile(" (mV)", " (mV)", 12000), Options{}},
		{"a divider by ten, told of the drive", leadsFile(" (V)", " (V)", 1.2), ten},
		{"a divider by ten, told of each lead", leadsFile(" (V)", " (V)", 1.2), Options{Scale: map[Role]float64{LeadA: 10, LeadB: 10}}},
		{"clips changed over", leadsFile(" (V)", " (V)", 12), Options{Scale: map[Role]float64{Drive: -1}}},
	} {
		tr := mustRead(t, c.text, c.opt)
		if tr.Both == nil || tr.Both.Unit != "V" || len(tr.Both.Mean) != tr.Len() {
			t.Errorf("%s: both leads: %+v", c.name, tr.Both)
			continue
		}
		for i, want := range map[int]float64{50: 0, 150: 0, 350: 0, 501: 10.8, 599: 10.8, 1150: 10.8, 550: math.NaN()} {
			if got := float64(tr.Both.Mean[i]); math.Abs(got-want) > 0.01 || math.IsNaN(got) != math.IsNaN(want) {
				t.Errorf("%s: row %d: both leads at %g V, want %g", c.name, i, got, want)
			}
		}
		if lo, hi := tr.Both.Stats.Min, tr.Both.Stats.Max; math.Abs(lo) > 0.01 || math.Abs(hi-10.8) > 0.01 {
			t.Errorf("%s: both leads from %g to %g V, want 0 to 10.8", c.name, lo, hi)
		}
	}
	one := strings.ReplaceAll(strings.ReplaceAll(leadsFile(" (V)", " (V)", 12), "Lead A", "Drive"), "Lead B", "Supply")
	for name, text := range map[string]string{"one column of drive": one, "leads that are on or off": leadsFile("", "", 1)} {
		if tr := mustRead(t, strings.ReplaceAll(text, "0.900", "1.000"), Options{}); tr.Both != nil {
			t.Errorf("%s: both leads at %v", name, tr.Both.Stats)
		}
	}
}

// Without leaves out the bins that are marked, in every channel, and changes nothing of
// the trace it is asked of.
func TestWithout(t *testing.T) {
	series := func(from float32) *Series {
		s := &Series{Unit: "V", Stats: Stats{Valid: 6, Max: 9}}
		for i := range 6 {
			x := from + float32(i)
			s.Mean, s.Min, s.Max = append(s.Mean, x), append(s.Min, x-1), append(s.Max, x+1)
		}
		return s
	}
	tr := &Trace{Time: []float64{0, 1, 2, 3, 4, 5}, Step: 1, RowStep: 0.5, Rows: 12, Drive: *series(10), Feedback: *series(20),
		Reference: series(30), Supply: series(40), Current: series(50), Command: series(60), Both: series(70)}
	got := tr.Without([]bool{true, false, false, true, true, false})
	if fmt.Sprint(got.Time) != "[1 2 5]" || got.Rows != 12 || got.Step != 1 {
		t.Errorf("times %v, step %g, %d rows", got.Time, got.Step, got.Rows)
	}
	for k, s := range []*Series{&got.Drive, &got.Feedback, got.Reference, got.Supply, got.Current, got.Command, got.Both} {
		x := 10 * (k + 1)
		if want := fmt.Sprint([]int{x + 1, x + 2, x + 5}); fmt.Sprint(s.Mean) != want || s.Min[2] != float32(x+4) || s.Max[2] != float32(x+6) || s.Stats.Max != 9 {
			t.Errorf("channel %d: %v from %v to %v, want %s", k, s.Mean, s.Min, s.Max, want)
		}
	}
	if tr.Len() != 6 || len(tr.Both.Mean) != 6 || tr.Both.Mean[0] != 70 || len(tr.Feedback.Min) != 6 {
		t.Error("the trace itself was changed")
	}
	if all := tr.Without(make([]bool, 6)); all.Len() != 6 || len(all.Both.Mean) != 6 {
		t.Errorf("%d bins of 6, though none is marked", all.Len())
	}
	bare := &Trace{Time: tr.Time, Drive: tr.Drive, Feedback: tr.Feedback}
	if got := bare.Without([]bool{false, true, true, true, true, true}); got.Len() != 1 || got.Both != nil || got.Supply != nil {
		t.Errorf("a trace of two channels: %+v", got)
	}
}
