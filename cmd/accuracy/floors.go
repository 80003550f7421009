package main

import (
	"fmt"
	"io"

	"threewire/analyze/stats"
)

// floor is a recorded result: the share right on decidable captures, and the
// ceilings of false alarms and of sure but wrong verdicts.
type floor struct{ right, alarm, sureWrong float64 }

// floors are the figures of the dated table in DEVELOPERS.md; the sure but
// wrong of "wide" pools that run with an earlier one of other seeds (7 of 162,
// rounded up), since either alone has few of them.
func floors() map[string]floor {
	return map[string]floor{
		"narrow": {right: 0.912, alarm: 0.019, sureWrong: 0.053},
		"wide":   {right: 0.824, alarm: 0.031, sureWrong: 0.05},
	}
}

// below reports every figure that is worse than recorded by more than its own
// Wilson interval (95 %), so that chance alone does not fail a run.
func below(w io.Writer, name string, f figures) bool {
	rec, ok := floors()[name]
	if !ok {
		return false
	}
	bad := false
	complain := func(what string, got, recorded float64) {
		bad = true
		fmt.Fprintf(w, "accuracy: %s: %s: 95 %% bound %.3f is worse than the recorded %.3f\n", name, what, got, recorded)
	}
	if _, hi := stats.Wilson(f.right, f.decidable, 0.95); hi < rec.right {
		complain("right on decidable captures", hi, rec.right)
	}
	if lo, _ := stats.Wilson(f.alarms, f.healthy, 0.95); lo > rec.alarm {
		complain("false alarms on healthy", lo, rec.alarm)
	}
	if lo, _ := stats.Wilson(f.sureWrong, f.sure, 0.95); lo > rec.sureWrong {
		complain("wrong though stated at 90 % or more", lo, rec.sureWrong)
	}
	return bad
}
