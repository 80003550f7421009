package plots

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"threewire/analyze"
)

// reportWords is what a report says, in words a customer understands; both
// formats print the same.
type reportWords struct {
	Shop, Address, Job, Date string
	Headline                 string // the verdict in a few words
	Meaning                  string // what that component is and does
	Fault                    analyze.Fault
	Tested                   []string
	Found                    []string // numbered as in the picture
	Nothing                  string   // stands where nothing was found
	More                     string   // how many findings were left out on paper
	Lesser                   []string // those findings
	Compared                 []string // what other captures beside this one add
	Sure                     []surety
	SureText                 string
	RulesOut                 shortened
	Unknown                  shortened
	Step                     string
	Test                     string
	Procedure                shortened
	Cautions                 shortened
	Foot                     string
}

type surety struct {
	Name    string
	Percent float64
	Text    string
}

// maxFound is as many findings as the picture numbers.
const maxFound = 5

func wordsOf(rep *analyze.Report, main int, o ReportOptions) reportWords {
	v := &rep.Verdict
	w := reportWords{Shop: o.Shop, Address: o.Address, Job: o.Job, Date: o.Date, Fault: v.Conclusion, Headline: verdictWords(v), Meaning: meaning(rep) + doubtWords(rep)}
	w.Tested = testedList(rep, main)
	w.Nothing = "Nothing unusual in what was logged."
	if main < len(rep.Captures) {
		if rep.Captures[main].Apart != "" {
			w.Nothing = "Nothing was judged. " + twoRecordings
		}
		if rep.Captures[main].MissesPolarity() != "" {
			w.Nothing = nothingFound(rep.Captures[main])
		}
		var list []analyze.Finding
		for i, f := range rep.Captures[main].Findings {
			if !rep.Captures[main].Explained(i) {
				list = append(list, f)
			}
		}
		for i := range list {
			if i >= maxFound {
				w.More = fmt.Sprintf("and %d lesser findings", len(list)-maxFound)
				if len(list) == maxFound+1 {
					w.More = "and one lesser finding"
				}
				w.Lesser = append(w.Lesser, plain(rep.TitleOf(rep.Captures[main], &list[i])))
				continue
			}
			w.Found = append(w.Found, plain(rep.TitleOf(rep.Captures[main], &list[i])))
		}
		if len(list) > 0 && v.Conclusion == analyze.NoFault && len(v.Against) == 0 {
			w.Found[len(w.Found)-1] += " A sound actuator can do it too."
		}
	}
	w.Compared = comparedWords(rep)
	if len(w.Found) == 0 && len(w.Compared) > 0 && len(rep.Captures) > 1 && rep.Captures[main].MissesPolarity() == "" {
		w.Nothing = "Nothing unusual in this capture by itself."
	}
	w.SureText = sureWords(v) + aboutWhat(rep)
	if rep.NothingSeen() {
		// Bars would read as if something spoke for the longest.
		w.SureText = "Nothing was tested: no cause is likelier than another, and none is ruled out."
	} else {
		for _, c := range v.Chances {
			w.Sure = append(w.Sure, surety{upper(c.Fault.String()), 100 * c.Probability, percent(c.Probability)})
		}
	}
	w.RulesOut = inFull(v.Absent)
	unknown := v.Unknown
	if rep.Series != nil { // a doubt whether all is of one actuator comes before all else
		unknown = slices.Concat(askedOfNobody(rep, rep.Series.Different), askedOfNobody(rep, rep.Series.Doubtful), unknown)
	}
	w.Unknown = inFull(unknown)
	w.Step, w.Test, w.Procedure = stepWords(rep)
	if r := rep.Repair; r != nil {
		w.Headline = repairWords(r) + w.Headline
		if r.Result == analyze.RepairProven && v.Conclusion == analyze.NoFault {
			w.Step, w.Test, w.Procedure = "Nothing more. If the complaint comes back, log again while it shows.", "", shortened{}
		}
	}
	w.Cautions = inFull(v.Cautions)
	if len(w.Cautions.Items) == 0 {
		w.Cautions = inFull([]string{"The service manual, local rules and licensed practice come before anything said here."})
	}
	w.explainTerms()
	w.Foot = "Made by threewire from the logged signals alone. Percentages are chances, not certainties, counted on simulated captures."
	return w
}

// owner is the shop and its address, those there are.
func (w *reportWords) owner() []string {
	var out []string
	for _, t := range []string{w.Shop, w.Address, w.Job} {
		if t != "" {
			out = append(out, t)
		}
	}
	return out
}

func captureName(c *analyze.Capture) string {
	if c.Source == "-" || c.Source == "" {
		return "capture"
	}
	return filepath.Base(c.Source)
}

// testedList says how each capture was taken, three of a kind at most.
func testedList(rep *analyze.Report, main int) []string {
	var out []string
	for _, g := range []struct {
		word string
		list []*analyze.Capture
	}{{"", rep.Captures}, {"Before the repair: ", rep.Before}, {"The healthy side: ", rep.Good}} {
		for i, c := range g.list {
			if i == 3 {
				out = append(out, fmt.Sprintf("%sand %d more captures.", g.word, len(g.list)-3))
				break
			}
			shown := g.word == "" && i == main && len(rep.Captures)+len(rep.Before)+len(rep.Good) > 1
			out = append(out, g.word+testedWords(c, shown))
		}
	}
	return out
}

// comparedWords is what comparing captures adds to what each shows.
func comparedWords(rep *analyze.Report) []string {
	var out []string
	if r := rep.Repair; r != nil {
		out = append(out, upper(plain(r.Text)))
	}
	if c := rep.Compared; c != nil {
		out = append(out, upper(plain(c.Text)))
	}
	if c := rep.Sides; c != nil {
		out = append(out, upper(plain(c.Text)))
	}
	// What only the two together show is in no list of findings.
	for _, e := range rep.Verdict.For {
		if t := upper(plain(e.Text)); e.Finding == analyze.FreeRun && !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	out = append(out, plain(rep.DoorLoad))
	return slices.DeleteFunc(out, func(t string) bool { return t == "" })
}

// cut shortens a name that would fill lines of a page.
func cut(t string, most int) string {
	r := []rune(t)
	if len(r) <= most {
		return t
	}
	return string(r[:most/2]) + "…" + string(r[len(r)-most/2+1:])
}

func testedWords(c *analyze.Capture, pictured bool) string {
	how := "taken as coupled to its door"
	if c.Free {
		how = "free of its door"
	}
	t := fmt.Sprintf("%s: actuator %s, %s logged, ", cut(captureName(c), 60), how, lasting(c.Duration))
	if len(c.Moves) == 0 {
		t += "never driven"
	} else {
		t += fmt.Sprintf("driven %s for %s", times(len(c.Moves)), lasting(c.Driven))
	}
	if n := len(c.Sweeps); n > 0 {
		t += fmt.Sprintf(", %s over most of the travel seen", times(n))
	}
	if c.Span.Width() > 0 && c.Unit == "V" {
		t += fmt.Sprintf("; position voltage %.2f to %.2f V", c.Span.From, c.Span.To)
	}
	if pictured {
		t += " (pictured)"
	}
	return plain(t + ".")
}

// lasting is a duration as people say it.
func lasting(s float64) string {
	switch {
	case s < 10:
		return fmt.Sprintf("%.1f s", s)
	case s < 180:
		return fmt.Sprintf("%.0f s", s)
	}
	return fmt.Sprintf("%.0f minutes", s/60)
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// meaning says what the component does.
func meaning(rep *analyze.Report) string {
	v := &rep.Verdict
	switch v.Conclusion {
	case analyze.NoFault:
		if v.Doubted() {
			return "In what was logged, the actuator mostly did what it was told; what speaks against it is too little to call it a fault."
		}
		return "In what was logged, the actuator did what it was told."
	case analyze.FeedbackSensor:
		return "Most likely the sensor inside the actuator that reports where the door stands does not report it truly. Motor and sensor are sold as one part, the actuator."
	case analyze.Motor:
		return "Most likely the motor or its gears do not move the door as they should. Motor and sensor are sold as one part, the actuator."
	case analyze.DoorMechanism:
		const door = "the air door or its linkage does not move freely over its whole way"
		if slices.ContainsFunc(v.Against, func(e analyze.Evidence) bool { return e.Doubts() }) {
			return "Most likely " + door + "; not all that was found fits that."
		}
		return "Most likely the actuator works, and " + door + "."
	case analyze.WiringControl:
		return "Most likely the actuator does not get what it needs: the fault lies in wires, plugs, supply or the unit that commands it."
	}
	if slices.ContainsFunc(rep.Captures, func(c *analyze.Capture) bool { return c.Apart != "" }) {
		return twoRecordings + " More must be known before parts are bought."
	}
	if rep.NothingSeen() {
		return "Nothing was seen that could tell one cause from another. More must be known before parts are bought."
	}
	const open = "The signs in this capture fit more than one cause."
	if _, bought := boughtStep(rep); bought {
		return open // the prices say what to buy all the same
	}
	return open + " More must be known before parts are bought."
}

// sureWords says what the probability is worth, with no step that two captures a percent
// apart could fall on either side of.
func sureWords(v *analyze.Verdict) string {
	n := math.Round(100 * v.Probability)
	switch {
	case v.Conclusion == analyze.CannotTell:
		return "Not sure enough to name one cause."
	case v.Probability > 0.99:
		return "Of 100 verdicts as sure as this one, more than 99 should hold."
	}
	return fmt.Sprintf("Of 100 verdicts as sure as this one, about %.0f should hold and %.0f should not.", n, 100-n)
}

// aboutWhat tells the two numbers of a proven repair apart: one is of the old fault, the
// other of all faults there may be.
func aboutWhat(rep *analyze.Report) string {
	r := rep.Repair
	if r == nil || r.Result != analyze.RepairProven || rep.Verdict.Conclusion != analyze.NoFault {
		return ""
	}
	return fmt.Sprintf(" That is about any fault that may be in it now. The chance that the old one is still there and did not show is %s.", analyze.ChanceText(r.Missed))
}

// stepWords is what to do next: the repair the verdict points to, and the one
// test that would tell most.
func stepWords(rep *analyze.Report) (step, test string, procedure shortened) {
	v := &rep.Verdict
	switch v.Conclusion {
	case analyze.NoFault:
		step = "No repair. If the complaint stays: see whether the air and the door follow, and log again while it shows."
	case analyze.FeedbackSensor, analyze.Motor:
		step = "Renew the actuator, then log again to prove the repair."
	case analyze.DoorMechanism:
		step = "Look for what holds the door: something fallen in, a broken door or linkage."
		if rep.DragsAllAlong() {
			step = "Look at the door's pivots and linkage first: what is dry or dirty there slows it both ways. Clean and grease them as the service manual says; then look for what rubs or is bent."
		}
		if rep.NamedFirst() { // by the shop's prices
			step += " Do not renew the actuator for it."
		}
	case analyze.WiringControl:
		step = "Check plugs, wires, supply and the commanding unit before renewing any actuator."
	default:
		step = "Do not buy parts yet: make the test below first."
	}
	if order, decided := boughtStep(rep); decided {
		return order, "", shortened{}
	}
	// Where the test may well turn the verdict, it comes before the parts.
	switch v.Conclusion {
	case analyze.FeedbackSensor, analyze.Motor, analyze.DoorMechanism, analyze.WiringControl:
		if len(v.Next) > 0 && v.Next[0].Turns {
			step += " First make the test below: it may turn the verdict."
		}
	}
	if rep.Compared != nil {
		if s := rep.Compared.Second(v.Conclusion); s != "" {
			step += " " + s + " Settle that before anything is closed again."
		}
	}
	if len(v.Next) == 0 || !v.WorthTesting() {
		if surer := rep.Surer(); len(surer) > 0 {
			test, _, _ = strings.Cut(surer[0], ":") // why is for the technician
		}
		return step, test, shortened{}
	}
	n := &v.Next[0]
	test = n.Name
	if n.Minutes > 0 {
		test += fmt.Sprintf(" (about %.0f minutes)", n.Minutes)
	}
	var steps []string
	for _, t := range n.Procedure {
		// How to hand a capture to the program is nothing to the customer.
		t, _, _ = strings.Cut(t, " and give it with --")
		if !strings.Contains(t, "--") {
			steps = append(steps, t)
		}
	}
	return step, test, inFull(steps)
}

// boughtStep is the repair to begin with where the verdict is open and a shop's prices
// decide it: no test is worth its price, and one repair is likelier to cure than not.
func boughtStep(rep *analyze.Report) (string, bool) {
	c, ok := rep.PricesDecide()
	if !ok {
		return "", false
	}
	return fmt.Sprintf("%s (it cures with a chance of %s): a test beforehand would cost more than it saves. Then log again to prove the repair.", upper(c.Do), percent(c.Cures)), true
}

// mainCapture is the capture the report pictures: the one that shows most.
func mainCapture(rep *analyze.Report) int {
	best, most := 0, -1
	for i, c := range rep.Captures {
		if n := len(c.Findings); n > most {
			best, most = i, n
		}
	}
	return best
}

// altReport is the report's picture in words.
func altReport(w *reportWords) string {
	return "Verdict: " + w.Headline + ". " + strings.Join(w.Found, " ")
}
