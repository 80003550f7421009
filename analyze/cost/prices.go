// Package cost weighs what can be done next in money, by a shop's own figures. It
// knows of a report what everybody may read of it: the probabilities of the
// verdict, and the tests that are still open.
package cost

import (
	"slices"
	"strings"

	"threewire/analyze"
)

// Prices are a shop's own figures, read from a text file (see [Parse]).
// There are none built in: what a file does not give is missing, and whatever
// needs it stays without a price.
type Prices struct {
	File     string // for messages
	Currency string // a word beside amounts, may be empty

	figures    map[string]float64 // by the name of the line; money, h, months or 0..1
	opens      repairSet          // repairs that need the dashboard opened
	opensGiven bool               // else it is all three
	minutes    map[string]float64 // of tests, where they differ from the catalogue
}

// Names of the lines of a prices file, besides price and hours of each repair.
const (
	lineRate          = "labour rate"
	lineOpening       = "opening hours"
	lineNoticed       = "noticed before closing"
	lineComeback      = "comeback price"
	lineComebackHours = "comeback hours"
	lineHorizon       = "horizon"
	lineOldFails      = "old actuator fails"
	lineOpenedFor     = "opened for"
	lineCurrency      = "currency"
	lineMinutesOf     = "minutes of " // and the name of a test
)

// repair is one of the three repairs.
type repair uint8

const (
	actuator repair = iota
	airCase
	wiring
	repairCount
)

func (r repair) String() string {
	return [...]string{"actuator", "air case", "wiring"}[r]
}

// part is the part that the repair puts right.
func (r repair) part() string {
	return [...]analyze.Fault{analyze.FeedbackSensor, analyze.DoorMechanism, analyze.WiringControl}[r].Part()
}

// do says the repair as an order.
func (r repair) do() string {
	return [...]string{"replace the actuator", "open the air case", "repair the wiring or control"}[r]
}

// repairOf is the repair that cures a fault; false for no fault.
func repairOf(f analyze.Fault) (repair, bool) {
	for r := range repairCount {
		if f > analyze.NoFault && f.Part() == r.part() {
			return r, true
		}
	}
	return 0, false
}

// repairSet holds repairs, one bit each.
type repairSet uint8

const allRepairs = repairSet(1<<repairCount - 1)

func (s repairSet) has(r repair) bool { return s>>r&1 == 1 }

func (s repairSet) list() []repair {
	var out []repair
	for r := range repairCount {
		if s.has(r) {
			out = append(out, r)
		}
	}
	return out
}

// do says the repairs of one visit as one order.
func (s repairSet) do() string {
	if s == 0 {
		return "leave it and wait"
	}
	var words []string
	for _, r := range s.list() {
		words = append(words, r.do())
	}
	return strings.Join(words, " and ")
}

// missing lists the lines without which a visit with these repairs has no
// price, in the order of a prices file.
func (p *Prices) missing(s repairSet) []string {
	var need []string
	if s != 0 {
		need = append(need, lineRate)
	}
	if s&p.opens != 0 {
		need = append(need, lineOpening)
	}
	for _, r := range s.list() {
		need = append(need, r.String()+" price", r.String()+" hours")
	}
	return slices.DeleteFunc(need, func(line string) bool {
		_, ok := p.figures[line]
		return ok
	})
}

// missingInAll lists the lines without which nothing has a price in all: those
// of every repair that may follow, and what a customer who returns costs.
func (p *Prices) missingInAll() []string {
	need := p.missing(allRepairs)
	_, price := p.figures[lineComeback]
	if _, hours := p.figures[lineComebackHours]; !price && !hours {
		need = append(need, lineComeback)
	}
	return need
}

// visit is the money for repairs done in one go: parts, their work, and
// opening up and closing once where one of them needs it and it is not open.
func (p *Prices) visit(s repairSet, open bool) float64 {
	return p.bought(s) + p.hours(s, open)*p.figures[lineRate]
}

// bought is the money for the parts of repairs alone.
func (p *Prices) bought(s repairSet) float64 {
	money := 0.0
	for _, r := range s.list() {
		money += p.figures[r.String()+" price"]
	}
	return money
}

// hours are those of repairs done in one go, with opening up and closing once where one
// of them needs it and it is not open.
func (p *Prices) hours(s repairSet, open bool) float64 {
	hours := 0.0
	for _, r := range s.list() {
		hours += p.figures[r.String()+" hours"]
	}
	if s&p.opens != 0 && !open {
		hours += p.figures[lineOpening]
	}
	return hours
}

// priced tells whether a visit with these repairs has a price.
func (p *Prices) priced(s repairSet) bool { return len(p.missing(s)) == 0 }

// amount says money in whole units, with the currency where one is given.
func (p *Prices) amount(x float64) string { return analyze.Amount(p.Currency, x) }

// comeback is the money for a customer who returns, besides the next repair.
func (p *Prices) comeback() float64 {
	return p.figures[lineComeback] + p.figures[lineComebackHours]*p.figures[lineRate]
}

// later is what it costs to replace the actuator on another day.
func (p *Prices) later() float64 { return p.visit(1<<actuator, false) }

// testMinutes is how long a test takes here.
func (p *Prices) testMinutes(name string, usual float64) float64 {
	if m, ok := p.minutes[strings.ToLower(name)]; ok {
		return m
	}
	return usual
}
