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
}
