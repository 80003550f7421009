package signal

import "strings"

// referenceWords say the sensor's supply, or what a controller steers for.
var referenceWords = wordSet("reference|ref|referenz|référence|referencia|riferimento|referentie|referens|referencja|vref")

// notReference tells why a column whose name speaks of a reference is none: a sensor's
// supply is steady by nature, so that one which moves was named for something else. Its
// role is Feedback where the name says so too.
func (a *assignment) notReference(j int) (r Role, word, why string) {
	f := a.feat[j]
	if f == nil || f.valid == 0 || a.standsAtFive(j) {
		return Reference, "", ""
	}
	name := a.p.cols[j].name
	beside := besideReference(name)
	scale := columnScale(&a.p.cols[j])
	swings := (f.max-f.min)*scale > 1
	switch s := " " + normal(name) + " "; {
	case isComputed(name) && !f.flat && (beside.role == Feedback || beside.role == Supply || beside.role == Drive):
		return Unused, "", "computed from other columns"
	case beside.role != Feedback || f.flat:
	case strings.ContainsAny(name, "/÷") && f.min > -0.1 && f.max < 1.3:
		return Unused, "", "a ratio of other columns"
	case strings.ContainsAny(name, "-−–") && f.min*scale < -0.5:
		return Unused, "", "a difference of other columns"
	case swings && anyOf(beside.text, positionWords...) && !anyOf(s, "sensor", "supply", "pot", "wiper"):
		return Unused, "", "named as the reference of a position, and it moves: a set point, not the sensor's supply"
	case swings && f.gliding() && !anyOf(s, "supply", "feed", "excitation") && !hasReference(s) && !a.namedFeedback(j):
		return Feedback, beside.text, ""
	}
	return Reference, "", ""
}

// namedFeedback tells whether another column of numbers is named as the feedback.
func (a *assignment) namedFeedback(j int) bool {
	for k := range a.p.cols {
		c := &a.p.cols[k]
		if r, _ := headerRole(c.name); k != j && c.kind == numberCol && r == Feedback && !isSetPoint(c.name) {
			return true
		}
	}
	return false
}

// positionWords are what has a set point.
var positionWords = []string{"position", "pos", "angle", "travel", "stellung", "lage", "posición", "posicion", "posizione", "positie", "pozycja", "läge", "door position"}

// standsAtFive tells whether a column stands at a sensor's 5 V most of the time.
func (a *assignment) standsAtFive(j int) bool {
	m := a.feat[j].median * columnScale(&a.p.cols[j])
	return m > 4.5 && m < 5.5 && a.p.cols[j].unit.q != counts
}

func hasReference(s string) bool {
	for w := range strings.FieldsSeq(s) {
		if referenceWords[w] {
			return true
		}
	}
	return false
}

// besideReference is the phrase of a role that a name holds beside its reference.
func besideReference(name string) rolePhrase {
	var left []string
	for w := range strings.FieldsSeq(bareName(normal(name))) {
		if !referenceWords[w] && w != "5" && w != "v" {
			left = append(left, w)
		}
	}
	return bestPhrase(strings.Join(left, " "))
}

// isComputed tells whether a name says that the column was computed.
func isComputed(name string) bool {
	return anyOf(normal(name), "math", "ratio", "difference", "diff", "quotient", "divided by", "computed", "calculated", "calc", "verhältnis", "differenz", "rapport", "différence", "minus")
}
