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
	Test                     string // or what would settle it, with its lead
	Procedure                shortened
	Shows                    shortened // what the outcomes of the test would mean
	Why                      string    // it points there, "" where nothing is named
	Else                     string    // what follows if it does not cure, "" where nothing is repaired
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
	w.Shows, w.Why, w.Else = showsWords(rep, w.Test), whyWords(v), elseWords(rep)
	if w.Test != "" {
		w.Test = "To be surer: " + w.Test
	}
	if rep.Repair != nil {
		w.repaired(rep)
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
	return plain(t+".") + writtenWords(c)
}

// writtenWords are the remarks of the recording, in the words of who took it.
func writtenWords(c *analyze.Capture) string {
	const few = 3
	list := c.RemarksText(few)
	if len(list) == 0 {
		return ""
	}
	return " Written beside it, " + strings.Join(list, ", ") + "."
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

// sureWords says what the probability is worth by what was counted, with no step that two
// captures a percent apart could fall on either side of.
func sureWords(v *analyze.Verdict) string {
	if v.Conclusion == analyze.CannotTell {
		return "Not sure enough to name one cause."
	}
	held, ok := analyze.Held(v.Probability)
	if !ok {
		return fmt.Sprintf("Stated with a chance of %s: how often verdicts of that chance hold was not counted.%s", percent(v.Probability), partWords(v))
	}
	n := math.Round(100 * held)
	return fmt.Sprintf("Stated with a chance of %s: of 100 verdicts as sure as that, about %.0f held and %.0f did not.%s", percent(v.Probability), n, 100-n, partWords(v))
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
