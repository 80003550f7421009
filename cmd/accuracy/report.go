package main

import (
	"fmt"
	"io"

	"threewire/analyze"
	"threewire/analyze/stats"
)

// figures are the counts a floor is held against.
type figures struct {
	right, decidable int
	alarms, healthy  int
	sureWrong, sure  int
	calibrationError float64
}

// report prints the tables of one range.
func report(w io.Writer, name string, res []result) figures {
	type tally struct{ n, decidable, right, unsure int }
	byFault := map[string]*tally{}
	var order []string
	truths := []string{"none", "feedback sensor", "motor", "door mechanism", "wiring or control"}
	said := append(append([]string{}, truths...), "cannot tell")
	confusion := map[string]map[string]int{}
	var p []float64
	var hit []bool
	var decidable, correct, healthy, alarms, unsure, unsureOK, sure, sureWrong, failed int
	for i := range res {
		r := &res[i]
		if r.err != nil {
			failed++
			continue
		}
		t := byFault[string(r.spec.Fault)]
		if t == nil {
			t = &tally{}
			byFault[string(r.spec.Fault)] = t
			order = append(order, string(r.spec.Fault))
		}
		t.n++
		if confusion[r.truth.Component] == nil {
			confusion[r.truth.Component] = map[string]int{}
		}
		confusion[r.truth.Component][r.said()]++
		if r.said() == "cannot tell" {
			t.unsure++
			unsure++
			if !r.truth.Decidable {
				unsureOK++
			}
		} else {
			p = append(p, r.verdict.Probability)
			hit = append(hit, r.right())
			if r.verdict.Probability >= 0.9 {
				sure++
				if !r.right() {
					sureWrong++
				}
			}
		}
		if r.truth.Component == "none" {
			healthy++
			if r.verdict.Conclusion != analyze.NoFault && r.verdict.Conclusion != analyze.CannotTell {
				alarms++
			}
		}
		if r.truth.Decidable {
			t.decidable++
			decidable++
			if r.right() {
				t.right++
				correct++
			}
		}
	}
	fmt.Fprintf(w, "== %s: %d captures, %d failed\n", name, len(res), failed)
	rate := func(what string, k, n int) {
		lo, hi := stats.Wilson(k, n, 0.95)
		fmt.Fprintf(w, "%-44s %6.2f %%  (%d of %d, 95 %% %.2f..%.2f %%)\n", what, 100*float64(k)/float64(max(1, n)), k, n, 100*lo, 100*hi)
	}
	rate("right on decidable captures", correct, decidable)
	rate("false alarm on healthy", alarms, healthy)
	rate("wrong though stated at 90 % or more", sureWrong, sure)
	rate("cannot tell, of all", unsure, len(res))
	rate("cannot tell rightly so", unsureOK, unsure)
	fig := figures{correct, decidable, alarms, healthy, sureWrong, sure, 0}
	if len(p) > 0 {
		ece, mce := stats.ECE(p, hit, 10)
		fig.calibrationError = ece
		fmt.Fprintf(w, "%-44s %.4f (largest gap %.3f)\n", "expected calibration error of stated verdicts", ece, mce)
		fmt.Fprintf(w, "%-44s %.4f\n", "Brier score of stated verdicts", stats.Brier(p, hit))
		for _, b := range stats.Reliability(p, hit, 10) {
			if b.Count > 0 {
				fmt.Fprintf(w, "    stated %.2f right %.2f n %d\n", b.Forecast, b.Observed, b.Count)
			}
		}
	}
	fmt.Fprintf(w, "%-20s", "truth \\ said")
	for _, s := range said {
		fmt.Fprintf(w, " %8.8s", s)
	}
	fmt.Fprintln(w)
	for _, t := range truths {
		fmt.Fprintf(w, "%-20s", t)
		for _, s := range said {
			fmt.Fprintf(w, " %8d", confusion[t][s])
		}
		fmt.Fprintln(w)
	}
	for _, f := range order {
		t := byFault[f]
		fmt.Fprintf(w, "%-18s n %3d decidable %3d right %3d cannot tell %3d\n", f, t.n, t.decidable, t.right, t.unsure)
	}
	return fig
}
