package main

import "testing"

func TestSwappedNames(t *testing.T) {
	for _, c := range []struct {
		now, free string
		refused   bool
	}{
		{"rig3-door-free.csv", "rig3-door.csv", true},
		{"rig3-door.csv", "rig3-door-free.csv", false},
		{"a.csv", "b.csv", false},
		{"door-free.csv", "other.csv", false}, // another name says nothing
	} {
		err := caseFiles{now: []string{c.now}, free: []string{c.free}}.swapped()
		if (err != nil) != c.refused {
			t.Errorf("%s --free %s: %v", c.now, c.free, err)
		}
	}
	for _, f := range []caseFiles{
		{now: []string{"rig3-door.csv", "rig3-door-free.csv"}},
		{now: []string{"rig3-door-free.csv"}, before: []string{"rig3-door.csv"}},
	} {
		if f.swapped() == nil {
			t.Errorf("%+v: an uncoupled capture is taken for a coupled one", f)
		}
	}
	// Alone, or uncoupled both before and after, it is what it is said to be.
	for _, f := range []caseFiles{
		{now: []string{"rig3-door-free.csv"}},
		{now: []string{"rig3-door-free.csv"}, before: []string{"rig3-door-free-before.csv"}},
		{now: []string{"rig3-door.csv", "rig4-door-free.csv"}},
	} {
		if err := f.swapped(); err != nil {
			t.Errorf("%+v: %v", f, err)
		}
	}
}
