package analyze

import (
	"strings"
	"testing"

	"threewire/signal"
)

// glued puts the trace of one draft behind another's, after a pause of a second; where the
// clock starts anew the trace knows of it.
func glued(a, b *draft, anew bool) *signal.Trace {
	from := a.time[len(a.time)-1] + 1
	for i := range b.time {
		a.time, a.drive, a.feed = append(a.time, from+b.time[i]-b.time[0]), append(a.drive, b.drive[i]), append(a.feed, b.feed[i])
	}
	t := a.trace()
	if anew {
		t.Anew = []signal.Restart{{Time: from, Line: 4711}}
		t.Notes = append(t.Notes, signal.Note{Code: signal.ClockRestarted, Text: "the clock starts anew in line 4711", Turns: true})
	}
	return t
}

// turned drives a draft the other way round, as with its leads changed over.
func turned(d *draft) *draft {
	for i := range d.drive {
		d.drive[i] = -d.drive[i]
	}
	return d
}

// Two recordings in one file that are not of one actuator, or of one with its leads changed
// over, are not judged as one, whatever either shows; two of one actuator are.
func TestTwoRecordingsInOneFile(t *testing.T) {
	t.Parallel()
	worn := func(seed uint64) *draft {
		d := newDraft(seed)
		d.read = func(d *draft) float64 {
			if d.x > 2 && d.x < 2.3 {
				return 0
			}
			return d.x
		}
		return d.sweeps(3)
	}
	for _, c := range []struct {
		name  string
		trace *signal.Trace
		apart string // "" where they are taken as one
	}{
		{"one actuator, clock anew", glued(newDraft(1).sweeps(3), newDraft(2).sweeps(3), true), ""},
		{"one actuator", glued(newDraft(1).sweeps(3), newDraft(2).sweeps(3), false), ""},
		{"turned, clock anew", glued(worn(1), turned(newDraft(2).sweeps(3)), true), "line 4711"},
		{"turned", glued(worn(1), turned(newDraft(2).sweeps(3)), false), "goes the other way"},
		{"another actuator, clock anew", glued(like(1, 0.5, 4.5, 0.8, 12), like(2, 1.5, 3, 2.4, 12), true), "line 4711"},
		{"one on a heavy door at 9 V, clock anew", glued(like(1, 0.5, 4.5, 0.8, 12), like(2, 0.5, 4.5, 0.42, 9), true), ""},
	} {
		m, err := Examine(c.trace, Defaults())
		if err != nil {
			t.Fatal(err)
		}
		v := Judge(m).Verdict
		switch {
		case (m.Apart != "") != (c.apart != "") || !strings.Contains(m.Apart, c.apart):
			t.Errorf("%s: %q, want %q", c.name, m.Apart, c.apart)
		case c.apart == "" && len(m.Doubts) > 0:
			t.Errorf("%s: in doubt though both were compared: %v", c.name, m.Doubts)
		case c.apart == "":
		case v.Conclusion != CannotTell || !strings.HasPrefix(v.Summary, m.Apart) || len(v.For) > 0 || v.Next[0].Name != "Split the file":
			t.Errorf("%s: %v %.2f: %s", c.name, v.Conclusion, v.Probability, v.Summary)
		}
	}
}

// A clock that starts anew where one part cannot be compared, because nothing moves there,
// stays in doubt.
func TestRestartNotCompared(t *testing.T) {
	t.Parallel()
	still := newDraft(2).run(0, 20)
	m, err := Examine(glued(newDraft(1).sweeps(3), still, true), Defaults())
	if err != nil {
		t.Fatal(err)
	}
	if m.Apart != "" || len(m.Doubts) != 1 || m.Doubts[0].Code != signal.ClockRestarted {
		t.Errorf("%q, doubts %v", m.Apart, m.Doubts)
	}
}

// A travel that takes less than a quarter of the least converter may be next to nothing of
// the next one's: it is said and clears less surely. One that takes most of it, and one of
// the same share beside its reference, is judged as before.
func TestConverterInDoubt(t *testing.T) {
	t.Parallel()
	in := func(lo, hi, full float64) *Capture {
		d := newDraft(3)
		d.lo, d.hi, d.x, d.rate = lo, hi, lo, 0.8*(hi-lo)/4
		return examineWith(t, d.sweeps(4).countsOf(full), nil, false)
	}
	wide, narrow := in(0.5, 4.5, 255), in(0.2, 1.2, 255)
	if len(wide.Doubts) > 0 || len(wide.Notes) == 0 || !strings.Contains(wide.Notes[0], "taken as one of 8 bits, 0 to 255") {
		t.Errorf("wide: doubts %v, notes %q", wide.Doubts, wide.Notes)
	}
	if len(narrow.Doubts) != 1 || narrow.Doubts[0].Code != ConverterAssumed {
		t.Fatalf("narrow: doubts %v", narrow.Doubts)
	}
	sure, less := Judge(wide).Verdict, Judge(narrow).Verdict
	if sure.Conclusion != NoFault || !(sure.Probability > 0.9) || less.Conclusion == NoFault && less.Probability > 0.88 {
		t.Errorf("wide: %v %.2f, narrow: %v %.2f", sure.Conclusion, sure.Probability, less.Conclusion, less.Probability)
	}
}
