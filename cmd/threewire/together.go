package main

import (
	"fmt"
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

// together is what several captures say together: a repair, a trend over
// them, the good side.
func (s *statement) together(rep *analyze.Report) {
	if r := rep.Repair; r != nil {
		s.section("The repair")
		for _, f := range r.Findings {
			s.item(fmt.Sprintf("%s %s: %s.", sentence("Before: "+strings.TrimPrefix(f.Text, "Before, ")), strings.ToUpper(f.State[:1])+f.State[1:], strings.TrimSuffix(f.Because, ".")))
		}
		for _, n := range r.New {
			s.item("New: " + sentence(n.Text))
		}
		if r.Result != analyze.RepairProven {
			for _, m := range r.Missing {
				s.item("Still missing: " + sentence(m))
			}
		}
	}
	coupled := 0
	for _, c := range rep.Captures {
		if !c.Free {
			coupled++
		}
	}
	if x := rep.Series; x != nil && (coupled > 1 || len(x.Different)+len(x.Doubtful) > 0) {
		s.section("Captures together")
		for _, d := range x.Different {
			s.item(d + ".") // begins with a file name, which keeps its case
		}
		if len(x.Different) > 0 && len(x.LeftOut) == 0 {
			s.item("They were judged together all the same, as --same-actuator says.")
		}
		for _, d := range x.Doubtful {
			s.item(d)
		}
		if len(x.LeftOut) > 0 {
			was, it := " was", "it by itself"
			if len(x.LeftOut) > 1 {
				was, it = " were", "them one by one"
			}
			s.item(strings.Join(x.LeftOut, ", ") + was + " left out of the verdict for that: check " + it + ". If the actuator is the same all the same, say so with --same-actuator.")
		}
		if coupled > 1 || len(x.Different) > 0 {
			s.item(x.Text)
		}
		s.item(fmt.Sprintf("Order (%s): %s", x.Order, strings.Join(x.Files, ", ")))
	}
	if x := rep.Sides; x != nil {
		s.section("Beside the good side")
		s.item(x.Text)
		if x.Mirrored {
			s.item("Its drive moves the reading the other way round; it was compared mirrored.")
		}
	}
}

// controller says what the controller did of its own: position checks and
// drives in vain.
func (s *statement) controller(rep *analyze.Report) {
	begun := false
	for _, c := range rep.Captures {
		for _, k := range c.Checks {
			if !begun {
				s.section("What the controller did")
				begun = true
			}
			text := k.Text
			if len(rep.Captures) > 1 {
				text = c.Source + ": " + text
			}
			s.item(text)
		}
	}
}
