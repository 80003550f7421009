package plots

import (
	"strings"

	"threewire/analyze"
)

// askedOfNobody are the doubts about captures for who was not there when they were taken:
// the question that ends them is the technician's, and files go by their names alone.
func askedOfNobody(rep *analyze.Report, doubts []string) []string {
	var out []string
	for _, t := range doubts {
		if strings.HasSuffix(t, "?") {
			k := max(strings.LastIndex(t, "; "), strings.LastIndex(t, ": "))
			if k < 0 {
				continue
			}
			t = t[:k] + "; whether that was one and the same actuator, the signals do not show"
		}
		for _, c := range rep.Captures {
			if c.Source != "" {
				t = strings.ReplaceAll(t, c.Source, captureName(c))
			}
		}
		out = append(out, t)
	}
	return out
}

// explainTerms says what a term of the trade means where the page first has it.
func (w *reportWords) explainTerms() {
	for _, term := range []struct{ name, means string }{
		{"unting", "driven to and fro about a place without coming to rest"},
		{"ead spot", "a place where the sensor gives no true reading"},
	} {
		w.explain(term.name, term.means)
	}
}

// explain puts the meaning behind the first mention, in the order of the page.
func (w *reportWords) explain(name, means string) {
	for _, list := range [][]string{w.Found, w.Compared, w.RulesOut.Items, w.Unknown.Items} {
		for i, t := range list {
			if k := strings.Index(t, name); k >= 0 {
				k += len(name)
				list[i] = t[:k] + " (" + means + ")" + t[k:]
				return
			}
		}
	}
}
