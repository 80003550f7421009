package analyze

import "fmt"

// together takes findings of one damage as one: had it stayed, each of them
// would show with its own chance, so that none shows is no likelier than for
// the surest of them.
func (r *Repair) together() {
	r.notThere()
	best := map[int]int{}
	for i, f := range r.Findings {
		if k, ok := best[f.group]; !ok || f.Missed < r.Findings[k].Missed {
			best[f.group] = i
		}
	}
	for i := range r.Findings {
		f, b := &r.Findings[i], &r.Findings[best[r.Findings[i].group]]
		if f.State == "not seen" && b.State == "gone" {
			f.State, f.Missed = "gone", b.Missed
			f.Because = fmt.Sprintf("the same damage as the %s, which would have shown: chance of having missed it %s", b.Finding, ChanceText(b.Missed))
		}
	}
}

// notThere takes back what seems gone where the same damage belongs to a place at which no
// drive was after the repair: what a reading did from there on, or how the control hunted
// about it, comes again when the shaft does.
func (r *Repair) notThere() {
	unvisited := map[int]Kind{}
	for _, f := range r.Findings {
		if f.placed && f.After == 0 && f.State != "gone" {
			unvisited[f.group] = f.Finding
		}
	}
	for i := range r.Findings {
		f := &r.Findings[i]
		if k, ok := unvisited[f.group]; ok && !f.placed && f.State == "gone" {
			f.State, f.Missed = "could not show", 1
			f.Because = fmt.Sprintf("%s: the same damage as the %s, where no drive went after the repair; drive it there", f.Finding, k)
		}
	}
}
