package main

import (
	"fmt"
	"io"
	"strings"

	"threewire/analyze"
)

// repairLine is the result of a repair in one line.
func repairLine(r *analyze.Repair) string {
	name := strings.ToUpper(string(r.Result))
	if r.Result == analyze.RepairUnclear {
		name = "REPAIR: " + name
	}
	return name + ". " + r.Text
}

// writeTogether is what several captures say together: a repair, a trend over
// them, the good side.
func writeTogether(w io.Writer, rep *analyze.Report, strong func(string) string) {
	if r := rep.Repair; r != nil {
		section(w, strong("The repair"))
		for _, f := range r.Findings {
			item(w, fmt.Sprintf("%s %s: %s.", sentence("Before: "+strings.TrimPrefix(f.Text, "Before, ")), strings.ToUpper(f.State[:1])+f.State[1:], strings.TrimSuffix(f.Because, ".")))
		}
		for _, n := range r.New {
			item(w, "New: "+sentence(n.Text))
		}
		if r.Result != analyze.RepairProven {
			for _, m := range r.Missing {
				item(w, "Still missing: "+sentence(m))
			}
		}
	}
	coupled := 0
	for _, c := range rep.Captures {
		if !c.Free {
			coupled++
		}
	}
	if s := rep.Series; s != nil && (coupled > 1 || len(s.Different)+len(s.Doubtful) > 0) {
		section(w, strong("Captures together"))
		for _, d := range s.Different {
			item(w, d+".") // begins with a file name, which keeps its case
		}
		if len(s.Different) > 0 {
			item(w, "They were judged together all the same: check them one by one.")
		}
		for _, d := range s.Doubtful {
			item(w, d)
		}
		if coupled > 1 || len(s.Different) > 0 {
			item(w, s.Text)
		}
		item(w, fmt.Sprintf("Order (%s): %s", s.Order, strings.Join(s.Files, ", ")))
	}
	if s := rep.Sides; s != nil {
		section(w, strong("Beside the good side"))
		item(w, s.Text)
		if s.Mirrored {
			item(w, "Its drive moves the reading the other way round; it was compared mirrored.")
		}
	}
}

// writeController says what the controller did of its own: position checks and
// drives in vain.
func writeController(w io.Writer, rep *analyze.Report, strong func(string) string) {
	begun := false
	for _, c := range rep.Captures {
		for _, k := range c.Checks {
			if !begun {
				section(w, strong("What the controller did"))
				begun = true
			}
			text := k.Text
			if len(rep.Captures) > 1 {
				text = c.Source + ": " + text
			}
			item(w, text)
		}
	}
}
