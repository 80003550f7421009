package analyze

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"threewire/analyze/nominal"
)

// Whatever is put together, the result is plain JSON (no NaN, no infinity),
// the probabilities add up, every text is said and the same case gives the
// same bytes.
func TestAnyCaseIsPlain(t *testing.T) {
	t.Parallel()
	p := goodProfile(t)
	var names []string
	for name := range cases() {
		names = append(names, name)
	}
	slices.Sort(names)
	var all []*Capture
	for i, name := range names {
		c := examineWith(t, cases()[name].make(uint64(i)), []*nominal.Profile{nil, p}[i%2], i%5 == 4)
		c.Source = name
		if i%3 > 0 {
			c.Start = time.Date(2026, 1, 1+i, 0, 0, 0, 0, time.UTC)
		}
		all = append(all, c)
	}
	check := func(c Case) {
		r := c.Judge()
		b, err := json.Marshal(r)
		if err != nil {
			t.Fatalf("%+v: %v", c, err)
		}
		if i := strings.Index(string(b), ":null"); i >= 0 {
			t.Errorf("a list is null, not empty: %s", b[max(0, i-60):i+5])
		}
		if again, _ := json.Marshal(c.Judge()); string(again) != string(b) {
			t.Errorf("the same case gives other bytes")
		}
		sum := 0.0
		for _, x := range r.Verdict.Chances {
			sum += x.Probability
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("probabilities add up to %v", sum)
		}
		if r.Repair != nil && (r.Repair.Text == "" || !(r.Repair.Missed >= 0 && r.Repair.Missed <= 1)) {
			t.Errorf("repair %+v", r.Repair)
		}
		if r.Sides != nil && r.Sides.Text == "" || r.Series != nil && r.Series.Text == "" {
			t.Errorf("nothing said: %+v %+v", r.Sides, r.Series)
		}
	}
	for i, a := range all {
		for k, b := range all {
			if (i+k)%3 > 0 {
				continue
			}
			check(Case{Now: []*Capture{a}, Before: []*Capture{b}, Good: []*Capture{all[(i+2*k)%len(all)]}})
		}
	}
	check(Case{Now: all})
	check(Case{Now: all[:7], Before: all[7:12], Good: all[12:]})
}

// Off its door an actuator may run further and faster than a profile made on
// the door, and on its door stop earlier and run slower than one made off it.
func TestProfileOfOtherCoupling(t *testing.T) {
	t.Parallel()
	p := goodProfile(t)
	fast := newDraft(3)
	fast.hi, fast.rate = 4.8, 1
	if c := examineWith(t, fast.sweeps(3), p, true); showsKind(c, SpanShift) || showsKind(c, Jam) || showsKind(c, WeakDrive) {
		t.Errorf("free against a coupled profile: %s", say(c, Judge(c).Verdict))
	}
	off := *p
	off.Free = true
	slow := newDraft(4)
	slow.hi, slow.rate = 4.1, 0.5
	if c := examineWith(t, slow.sweeps(3), &off, false); showsKind(c, SpanShift) || showsKind(c, Jam) || showsKind(c, WeakDrive) {
		t.Errorf("coupled against a free profile: %s", say(c, Judge(c).Verdict))
	}
	// But a free actuator slower than a coupled one was is weak.
	weak := newDraft(5)
	weak.rate = 0.45
	if c := examineWith(t, weak.sweeps(3), p, true); !showsKind(c, WeakDrive) || strings.Contains(c.Against.Text, "NaN") {
		t.Errorf("free and slow against a coupled profile: %s", say(c, Judge(c).Verdict))
	}
}
