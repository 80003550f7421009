package main

import (
	"math"
	"slices"
	"testing"
)

func TestNameKey(t *testing.T) {
	for _, c := range []struct{ path, actuator, when, phase, occasion string }{
		{"rig-3-left.csv", "rig-3-left", "", "", "rig-3-left"},
		{"Rig 3/left-2026-03-01.csv.gz", "Rig 3/left", "2026-03-01", "", "Rig 3/left-2026-03-01"},
		{"Rig 3/left-20260301-1430.csv", "Rig 3/left", "2026-03-01T14:30:00", "", "Rig 3/left-20260301-1430"},
		{"left_2026-03-01T14.30.05_after.TXT", "left", "2026-03-01T14:30:05", "after", "left_2026-03-01T14.30.05_after"},
		{"left before 2026-03-01.csv", "left", "2026-03-01", "before", "left before 2026-03-01"},
		{"2026-03-01/left.csv", "left", "2026-03-01", "", "2026-03-01/left"},
		{"left-2026-13-41.csv", "left-2026-13-41", "", "", "left-2026-13-41"}, // no such day
		{"left-2026-02-30.csv", "left-2026-02-30", "", "", "left-2026-02-30"},
		{"0001-2026-05-05-before.csv", "0001", "2026-05-05", "before", "0001-2026-05-05-before"},
		{"rig 1203 2026-05-05 14.30.csv", "rig 1203", "2026-05-05T14:30:00", "", "rig 1203 2026-05-05 14.30"},
		{"00012026-05-05.csv", "00012026-05-05", "", "", "00012026-05-05"},
		{"rig-12345678.csv", "rig-12345678", "", "", "rig-12345678"},
		{"free.csv", "free", "", "", "free"},
		{"freewheel.csv", "freewheel", "", "", "freewheel"},
		{"2026-03-01.csv", "2026-03-01", "", "", "2026-03-01"},
		{"left-\xe9.csv", `left-\xe9`, "", "", `left-\xe9`},
	} {
		got := keyer{}.named(c.path)
		want := batchKey{actuator: c.actuator, when: c.when, phase: c.phase, occasion: c.occasion}
		if got != want {
			t.Errorf("%q: %+v, want %+v", c.path, got, want)
		}
	}
}

// A free capture is found together with its coupled one wherever the word
// stands.
func TestKeyPairs(t *testing.T) {
	byName, err := newKeyer("", "")
	if err != nil {
		t.Fatal(err)
	}
	byPattern, err := newKeyer(`(?P<actuator>rig\d+_[a-z]+)((?P<free>_bare)|(?P<coupled>_door))?_(?P<when>\d{8})`, "")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		k             keyer
		coupled, free string
		actuator      string
	}{
		{byName, "Rig 3/left.csv", "Rig 3/left-free.csv", "Rig 3/left"},
		{byName, "Rig 3/left-coupled.csv", "Rig 3/left-Uncoupled.csv", "Rig 3/left"},
		{byName, "left-2026-03-01.csv", "left-free-2026-03-01.csv", "left"},
		{byName, "a/job3.csv", "a/job3-off-the-door.csv", "a/job3"},
		{byName, "left door.csv", "left door Off Door.csv", "left door"},
		{byName, "left-after-2026-03-01.csv", "left-after-2026-03-01 free.csv", "left"},
		{byPattern, "a/rig3_left_20260301.csv", "a/rig3_left_bare_20260301.csv", "rig3_left"},
		{byPattern, "rig3_left_door_20260301.csv", "rig3_left_bare_20260301.csv", "rig3_left"},
	} {
		a, b := c.k.named(c.coupled), c.k.named(c.free)
		if a.free || !b.free {
			t.Errorf("%q free %t, %q free %t", c.coupled, a.free, c.free, b.free)
		}
		b.free = false
		if a != b || a.actuator != c.actuator {
			t.Errorf("%q and %q: %+v and %+v, want one occasion of %s", c.coupled, c.free, a, b, c.actuator)
		}
	}
}

func TestNaturalOrder(t *testing.T) {
	want := []string{"", "a", "a2", "a02b", "a9", "a10", "a10b", "b1", "ba"}
	for i, a := range want {
		for j, b := range want {
			got, back := natural(a, b), natural(b, a)
			if got != -back || (i < j && got > 0) {
				t.Errorf("natural(%q, %q) = %d, reversed %d", a, b, got, back)
			}
		}
	}
	for _, c := range [][2]string{{"a9", "a10"}, {"left.csv", "left-b.csv"}, {"left.csv", "left (2).csv"}, {"left.csv", "left2.csv"}} {
		if natural(c[0], c[1]) >= 0 || natural(c[1], c[0]) <= 0 {
			t.Errorf("%s does not stand before %s", c[0], c[1])
		}
	}
}

// driftRows are captures of one actuator a month apart.
func driftRows(name string, low, high func(i int) float64, n int) []*batchRow {
	when := []string{"2026-01-01", "2026-01-31", "2026-03-02", "2026-04-01", "2026-05-01", "2026-05-31", "2026-06-30", "2026-07-30"}
	var rows []*batchRow
	for i := range n {
		l, h := low(i), high(i)
		rows = append(rows, &batchRow{Actuator: name, When: when[i], Path: name + when[i], Result: &batchResult{Unit: "V", StopLow: &l, StopHigh: &h}})
	}
	slices.Reverse(rows) // the test puts them in order
	return rows
}

func TestDriftFindsATrend(t *testing.T) {
	flat := func(x float64) func(int) float64 {
		return func(i int) float64 { return x + []float64{0.004, -0.003, 0.001, -0.002, 0.003, -0.004, 0, 0.002}[i] }
	}
	rows := driftRows("drifting", flat(0.5), func(i int) float64 { return 4.5 - 0.03*float64(i) }, 8)
	rows = append(rows, driftRows("steady", flat(0.5), flat(4.5), 8)...)
	rows = append(rows, driftRows("few", flat(0.5), func(i int) float64 { return 4.5 - 0.1*float64(i) }, 4)...)
	got := drifts(rows)
	d := got["drifting"]
	if d.what != "high end" || d.per != "day" || d.captures != 8 || d.q >= driftSeen {
		t.Errorf("drifting: %+v, want a sure drift of the high end", d)
	}
	// 30 mV a month of 30 days.
	if math.Abs(d.slope+0.001) > 1e-9 {
		t.Errorf("slope %g V/day, want -0.001", d.slope)
	}
	// Eight values in order: two of 8! arrangements are as extreme.
	if want := 2.0 / 40320; math.Abs(d.p-want) > 1e-12 {
		t.Errorf("p = %g, want %g", d.p, want)
	}
	if s := got["steady"]; s.q < driftSeen {
		t.Errorf("steady actuator accused: %+v", s)
	}
	if f, ok := got["few"]; ok {
		t.Errorf("tested on four captures: %+v", f)
	}
}
