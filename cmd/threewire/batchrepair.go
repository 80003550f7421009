package main

import (
	"fmt"
	"strings"

	"threewire/analyze"
)

// repairProof gathers the captures of a set that show what a repair did.
type repairProof struct {
	before, after map[int]bool // numbers of the captures asked for
	was, is       []*analyze.Capture
}

// repair picks the captures that prove a repair: those of the last day after
// one, and those of the last day before it. Only they are kept in memory, for
// an actuator may have been repaired many times.
func (s *batchSet) repair() *repairProof {
	p := &repairProof{before: map[int]bool{}, after: map[int]bool{}}
	last := func(phase, until string) (day string, ok bool) {
		for _, k := range s.keys {
			if d := k.day(); k.phase == phase && (until == "" || d <= until) && (!ok || d > day) {
				day, ok = d, true
			}
		}
		return day, ok
	}
	after, ok := last("after", "")
	if !ok {
		return p
	}
	before, ok := last("before", after)
	if !ok {
		return p
	}
	for i, k := range s.keys {
		p.before[i] = k.phase == "before" && k.day() == before
		p.after[i] = k.phase == "after" && k.day() == after
	}
	return p
}

// day is the date without the time of day.
func (k batchKey) day() string {
	day, _, _ := strings.Cut(k.when, "T")
	return day
}

// keep keeps capture number i if it is asked for.
func (p *repairProof) keep(i int, c *analyze.Capture) {
	switch {
	case p.before[i]:
		p.was = append(p.was, c)
	case p.after[i]:
		p.is = append(p.is, c)
	}
}

// mark writes the proof to the rows it is made of, if there is one.
func (p *repairProof) mark(rows []*batchRow) {
	if len(p.was) == 0 || len(p.is) == 0 {
		return
	}
	r := prove(p.was, p.is)
	for i, row := range rows {
		if row.Result != nil && (p.before[i] || p.after[i]) {
			row.Repair = r
		}
	}
}

// prove compares captures before and after a repair; like a single file, they
// must not end the run.
func prove(before, after []*analyze.Capture) (r *batchRepair) {
	defer func() {
		if p := recover(); p != nil {
			r = &batchRepair{Result: string(analyze.RepairUnclear), Missed: 1, Text: fmt.Sprintf("The program failed on this repair, please report it: %v", p)}
		}
	}()
	v := analyze.ProveRepair(before, after)
	return &batchRepair{Result: string(v.Result), Missed: rounded(v.Missed), Text: plainText(v.Text)}
}
