package analyze

import (
	"math"
	"strings"
	"testing"

	"threewire/signal"
)

// pulledOff is an actuator with a door that costs it a third of its speed, 20 rows a second,
// swept up and down; from off on, and until on, the door is off it. A sweep takes 9 s with it.
func pulledOff(off, on float64, remarks ...signal.Remark) *signal.Trace {
	const step = 0.05
	t := &signal.Trace{Source: "door.csv", Step: step, RowStep: step, RowsPerBin: 1, Uniform: true, Remarks: remarks}
	v, noise := 0.5, []float64{0, 1, -1, 2, -2, 1, 0, -1, 1, -2, 2}
	var drive, feedback []float32
	for i := range 2400 {
		at := step * float64(i)
		d := 0.0
		switch k := math.Mod(at, 24); {
		case k >= 1 && k < 11.5:
			d = 12
		case k >= 13 && k < 23.5:
			d = -12
		}
		pace := 4.0 / 9
		if at >= off && at < on {
			pace = 4.0 / 6
		}
		v = math.Max(0.5, math.Min(4.5, v+pace*step*d/12))
		t.Time = append(t.Time, at)
		drive, feedback = append(drive, float32(d+0.01*noise[i%11])), append(feedback, float32(v+0.002*noise[i%7]))
	}
	t.Rows = int64(len(t.Time))
	series := func(name string, x []float32, low, high float64) signal.Series {
		return signal.Series{Name: name, Unit: "V", Mean: x, Min: x, Max: x, Stats: signal.Stats{Valid: int64(len(x)), Min: low, Max: high, Quantum: 0.001}}
	}
	t.Drive, t.Feedback = series("drive", drive, -12, 12), series("feedback", feedback, 0.5, 4.5)
	return t
}

// What is driven about the remark belongs to no part: typed late, the part on the door would
// show a load that leaves it, and typed early the other one a load that comes.
func TestPartsLeaveOutWhatIsDrivenAboutTheRemark(t *testing.T) {
	const pulled = 54.0 // in the midst of a sweep
	for _, typed := range []float64{pulled - 1.5, pulled, pulled + 2} {
		p, err := ExamineParts(pulledOff(pulled, 1e9, signal.Remark{Time: 20, Text: "door felt by hand"}, signal.Remark{Time: typed, Line: 5, Text: "arm pulled off"}), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		if len(p.List) != 2 || !strings.Contains(p.Told, "“arm pulled off”: this part is taken as uncoupled") {
			t.Fatalf("%g s: %d parts, %q", typed, len(p.List), p.Told)
		}
		on, off := p.List[0], p.List[1]
		if end := on.Trace.Time[on.Trace.Len()-1]; end > pulled || off.Trace.Time[0] < pulled || end < pulled-6 || off.Trace.Time[0] > pulled+6 {
			t.Errorf("%g s: parts up to %g and from %g s", typed, end, off.Trace.Time[0])
		}
		if len(on.Capture.Remarks) != 1 || len(off.Capture.Remarks) != 1 || off.Capture.Remarks[0].Text != "arm pulled off" {
			t.Errorf("%g s: remarks %v, %v", typed, on.Capture.Remarks, off.Capture.Remarks)
		}
		if rep := (Case{Now: []*Capture{on.Capture, off.Capture}, Same: true}).Judge(); rep.Verdict.Conclusion != NoFault {
			t.Errorf("%g s: %s (%.2f): %s", typed, rep.Verdict.Conclusion, rep.Verdict.Probability, rep.Verdict.Summary)
		}
	}
}

// Options and captures that are one: uncoupled as given, whole as asked, remarks of something
// else, and a remark at rest that leaves out nothing.
func TestPartsOfAFile(t *testing.T) {
	off := signal.Remark{Time: 48.5, Text: "arm pulled off"}
	free, whole := Defaults(), Defaults()
	free.Free, whole.Whole = true, true
	for name, c := range map[string]struct {
		remarks []signal.Remark
		opt     Options
		parts   string
	}{
		"no remark":   {nil, Defaults(), "c"},
		"plug":        {[]signal.Remark{{Time: 48.5, Text: "connector pulled off"}}, Defaults(), "c"},
		"given free":  {[]signal.Remark{off}, free, "f"},
		"whole":       {[]signal.Remark{off}, whole, "c"},
		"off":         {[]signal.Remark{off}, Defaults(), "cf"},
		"off twice":   {[]signal.Remark{off, {Time: 60, Text: "uncoupled"}}, Defaults(), "cf"},
		"back on":     {[]signal.Remark{off, {Time: 96.5, Text: "arm back on"}}, Defaults(), "cfc"},
		"on at first": {[]signal.Remark{{Time: 10, Text: "arm refitted"}, off}, Defaults(), "cf"},
		"too early":   {[]signal.Remark{{Time: 0.5, Text: "uncoupled"}}, Defaults(), "f"},
		"too late":    {[]signal.Remark{{Time: 119.6, Text: "uncoupled"}}, Defaults(), "c"},
	} {
		p, err := ExamineParts(pulledOff(48.5, 96.5, c.remarks...), c.opt)
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		rows := int64(0)
		for _, x := range p.List {
			rows += x.Capture.Rows
			if got += "c"; x.Capture.Free {
				got = got[:len(got)-1] + "f"
			}
		}
		if got != c.parts || len(got) > 1 && rows != 2400 || (p.Told != "") != (len(got) > 1 || strings.HasPrefix(name, "too")) {
			t.Errorf("%s: %s, %d rows, %q", name, got, rows, p.Told)
		}
	}
}
