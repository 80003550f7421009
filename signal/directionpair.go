package signal

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// senses are words for the two ways of one motor, as a lead or an input is named for the
// way that it drives. Left out are words that name a place as often, or a state:
// "Motor left" and "Motor right" may be two motors, "Motor in" and "Motor out" a driver's
// two sides, "opened" and "closed" the switches at the ends.
var senses = [][2]string{
	{"open", "close"}, {"open", "shut"}, {"opening", "closing"}, {"forward", "reverse"}, {"forward", "backward"}, {"forwards", "backwards"},
	{"fwd", "rev"}, {"fwd", "bwd"}, {"up", "down"}, {"extend", "retract"}, {"cw", "ccw"},
	{"auf", "zu"}, {"öffnen", "schließen"}, {"oeffnen", "schliessen"}, {"vorwärts", "rückwärts"}, {"vor", "zurück"}, {"ausfahren", "einfahren"},
	{"ouvrir", "fermer"}, {"ouverture", "fermeture"}, {"avant", "arrière"}, {"abrir", "cerrar"}, {"apertura", "cierre"},
	{"apri", "chiudi"}, {"aprire", "chiudere"}, {"apertura", "chiusura"}, {"openen", "sluiten"},
}

// senseNames tells whether two names are alike but for one word, which says one way in
// the first and the other way in the second.
func senseNames(a, b string) bool {
	x, y := strings.Fields(withoutGround(withoutStates(a))), strings.Fields(withoutGround(withoutStates(b)))
	if len(x) != len(y) {
		return false
	}
	apart := -1
	for i := range x {
		if x[i] == y[i] {
			continue
		}
		if apart >= 0 {
			return false
		}
		apart = i
	}
	if apart < 0 {
		return false
	}
	for _, s := range senses {
		if x[apart] == s[0] && y[apart] == s[1] {
			return true
		}
	}
	return false
}

// pins are words for one conductor of a plug, by which two columns of one motor are told
// from those of two motors: "Motor pin 5", not "Motor 5".
const pins = " pin wire lead terminal contact leg side bridge node output pole cavity conductor klemme stift kontakt ader leitung kabel anschluss borne broche fil contacto cable cavo filo polo morsetto draad pen "

// ends are pairs of words for the two ends of one motor.
var ends = []string{"plus", "minus", "pos", "neg", "positive", "negative", "positiv", "negativ", "p", "n", "hi", "lo", "high", "low"}

// pinNames tells whether two names are alike but for the number or letter of a pin, or for
// what tells one end of a motor from the other, and whether the first has the lower one or
// is the first end.
func pinNames(a, b string) (low, ok bool) {
	x, y := strings.Fields(withoutGround(normal(a))), strings.Fields(withoutGround(normal(b)))
	if len(x) != len(y) {
		return false, false
	}
	apart := -1
	for i := range x {
		if x[i] != y[i] && apart >= 0 {
			return false, false
		}
		if x[i] != y[i] {
			apart = i
		}
	}
	if apart < 1 {
		return false, false
	}
	for k, e := range ends {
		if x[apart] == e && y[apart] == ends[k^1] {
			return k&1 == 0, true
		}
	}
	if !slices.ContainsFunc(x[:apart], func(w string) bool { return strings.Contains(pins, " "+w+" ") }) {
		return false, false
	}
	p, q := x[apart], y[apart]
	if m, err := strconv.Atoi(p); err == nil {
		n, err := strconv.Atoi(q)
		return m < n, err == nil
	}
	return p < q, len([]rune(p)) == 1 && len([]rune(q)) == 1
}

// sensePair takes two columns that both are named as the drive, each for one way of it or
// for one pin of the motor, as its two leads or inputs: what turns the motor is the one
// less the other, also where both rest at the supply or one never comes on. Columns that
// go below ground are two drives of their own.
func (a *assignment) sensePair(c []claim) bool {
	if len(c) != 2 {
		return false
	}
	x, y := c[0].j, c[1].j
	if senseNames(a.p.cols[y].name, a.p.cols[x].name) {
		x, y = y, x
	}
	named := "named for one way of the drive, column %d for the other; one of two leads"
	if !senseNames(a.p.cols[x].name, a.p.cols[y].name) {
		named = "named for one pin of the motor, column %d for the other; one of two leads"
		switch low, ok := pinNames(a.p.cols[x].name, a.p.cols[y].name); {
		case !ok:
			return false
		case !low:
			x, y = y, x
		}
	}
	if a.p.cols[x].unit != a.p.cols[y].unit || columnScale(&a.p.cols[x]) != columnScale(&a.p.cols[y]) {
		return false
	}
	for _, j := range []int{x, y} {
		if f := a.feat[j]; f == nil || f.valid == 0 || !a.inVolts(j) || !a.againstGround(j) {
			return false
		}
	}
	for _, k := range [][2]int{{x, y}, {y, x}} {
		r := LeadA
		if k[0] == y {
			r = LeadB
		}
		a.give(r, k[0], fmt.Sprintf(named, k[1]+1))
	}
	return true
}
