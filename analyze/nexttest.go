package analyze

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
)

// NextTest is one test of the catalogue with what it is worth now.
type NextTest struct {
	Name      string   `json:"name"`
	Minutes   float64  `json:"minutes"` // common practice, no source
	Gain      float64  `json:"bits"`    // expected information, bits
	Procedure []string `json:"procedure"`
	Outcomes  []string `json:"outcomes"` // what each outcome would do to the verdict
	Cautions  []string `json:"cautions,omitempty"`

	// Turns tells whether an outcome that is at all likely would take the
	// verdict from the likeliest fault: to another, or below what is stated.
	Turns bool `json:"can_turn_verdict"`
}

// lacks tells whether the capture is blind to the kind for want of something.
func (c *Capture) lacks(k Kind, word string) bool {
	for _, b := range c.Blind {
		if b.Kind == k && contains(b.Text, word) {
			return true
		}
	}
	return false
}

// openTrials lists the tests of the catalogue that no capture has answered and that
// one of them at least gives a reason for.
func openTrials(captures []*Capture) []trial {
	open := slices.DeleteFunc(catalogue(), func(tr trial) bool {
		if tr.answered != nil && slices.ContainsFunc(captures, tr.answered) {
			return true
		}
		if tr.blindToAll(captures) {
			return true
		}
		for _, c := range captures {
			if tr.pointless == nil || !tr.pointless(c) {
				return false
			}
		}
		return len(captures) > 0
	})
	askWays(open, captures)
	return open
}

// blindToAll tells whether something was found, and nothing but what the test cannot show.
func (tr *trial) blindToAll(captures []*Capture) bool {
	found := 0
	for _, c := range captures {
		for i := range c.Findings {
			if tr.cannotShow == nil || !tr.cannotShow(&c.Findings[i]) {
				return false
			}
			found++
		}
	}
	return found > 0
}

// TestNames lists the tests of the catalogue.
func TestNames() []string {
	var out []string
	for _, tr := range catalogue() {
		out = append(out, tr.name)
	}
	return out
}

// NextTests keeps the three best of the tests that are worth anything at the
// probabilities p, in the order of Faults, after the captures.
func NextTests(p []float64, captures []*Capture) []NextTest {
	out := rankedTests(p, captures)
	// A cheap test that settles little must not hide one that settles much:
	// among the three shown, the most informative is always one.
	if len(out) > 3 {
		best := 0
		for i := range out {
			if out[i].Gain > out[best].Gain {
				best = i
			}
		}
		if best > 2 {
			out[2] = out[best]
		}
		out = out[:3]
	}
	// Beside one that can turn the verdict, those that cannot are not worth a line.
	if slices.ContainsFunc(out, func(n NextTest) bool { return n.Turns }) {
		out = slices.DeleteFunc(out, func(n NextTest) bool { return !n.Turns && n.Name != measureLeads })
	}
	return out
}

// rankedTests ranks the catalogue by expected information per minute and leaves
// out what is worth nothing. A shop's prices can put another first, see
// [Report.PutFirst].
func rankedTests(p []float64, captures []*Capture) []NextTest {
	h := entropy(p)
	likeliest := 0
	for i := range p {
		if p[i] > p[likeliest] {
			likeliest = i
		}
	}
	var out []NextTest
	for _, tr := range openTrials(captures) {
		n := NextTest{Name: tr.name, Minutes: tr.minutes, Procedure: tr.procedure, Cautions: tr.cautions}
		if k := sweepsLogged(captures); tr.name == fullSweeps && k >= enoughSweeps {
			continue
		} else if tr.name == fullSweeps && k > 1 {
			has := "The capture has"
			if len(captures) > 1 {
				has = "All captures together have"
			}
			n.Procedure = slices.Insert(n.Procedure, 1, fmt.Sprintf("%s %d sweeps over most of the travel seen: these come on top.", has, k))
		}
		left := 0.0
		var shows []testShows
		for _, o := range tr.after(p) {
			q, sum, best := o.p, o.chance, o.best
			if sum < 0.02 { // not worth a line
				left += sum * h
				continue
			}
			left += sum * entropy(q)
			if best != likeliest || q[best] < decide { // p is tempered, what is asked is not
				n.Turns = true
			}
			shows = append(shows, testShows{o.text, Fault(best), q[best], nextBest(q, best), p[best], raisedMost(p, q)})
		}
		n.Outcomes = outcomeLines(shows)
		if untested(captures) {
			n.Outcomes = untestedLines(shows)
		}
		n.Gain = math.Max(0, h-left)
		if n.Gain > 0.02 {
			out = append(out, n)
		}
	}
	// What can turn the verdict comes first, then what tells most for its time; but
	// where nothing was driven, nothing else can be tested before something is.
	first := func(n *NextTest) bool { return n.Name == measureLeads && undriven(captures) != "" }
	sort.SliceStable(out, func(a, b int) bool {
		if x, y := first(&out[a]), first(&out[b]); x != y {
			return x
		}
		if out[a].Turns != out[b].Turns {
			return out[a].Turns
		}
		return out[a].Gain/out[a].Minutes > out[b].Gain/out[b].Minutes
	})
	return out
}

// posterior is what is to be believed after one outcome of a test.
type posterior struct {
	text   string
	chance float64   // of the outcome, now
	p      []float64 // of the faults, after it
	best   int       // the likeliest of them
}

// after gives what every outcome of a test would do to the probabilities by Bayes' rule.
// They start from the probabilities that the verdict shows: weighted by their chances, the
// outcomes then add up to these (law of total probability), and no reader finds a test
// that can only raise what is stated, or only lower it.
func (tr *trial) after(p []float64) []posterior {
	var out []posterior
	for _, o := range tr.outcomes {
		x := posterior{text: o.text, p: make([]float64, len(p))}
		for i := range p {
			x.p[i] = p[i] * o.p[i]
			x.chance += x.p[i]
		}
		for i := range x.p {
			if x.chance > 0 {
				x.p[i] /= x.chance
			}
			if x.p[i] > x.p[x.best] {
				x.best = i
			}
		}
		out = append(out, x)
	}
	return out
}

// testShows is one outcome of a test with the fault that is likeliest after it.
type testShows struct {
	text  string
	fault Fault
	p     float64
	next  Chance // the likeliest of the others
	was   float64
	gain  gain // what the outcome speaks for
}

// gain is the fault that an outcome raises most, and from what to what.
type gain struct {
	fault    Fault
	from, to float64
}

// raisedMost is the fault that gains most from before an outcome to after it.
func raisedMost(before, after []float64) gain {
	best := 0
	for i := range after {
		if after[i]-before[i] > after[best]-before[best] {
			best = i
		}
	}
	return gain{Fault(best), before[best], after[best]}
}

// nextBest is the likeliest fault but one.
func nextBest(p []float64, but int) Chance {
	next := Chance{Probability: -1}
	for i, x := range p {
		if i != but && x > next.Probability {
			next = Chance{Fault: Fault(i), Probability: x}
		}
	}
	return next
}

// outcomeLines says what each outcome would do to the verdict; those that leave it about
// the same in one line.
func outcomeLines(shows []testShows) []string {
	const alike = 0.1 // outcomes are judged to one digit
	var out []string
	told := make([]bool, len(shows))
	for i, first := range shows {
		if told[i] {
			continue
		}
		text, least, most, n := "", first.p, first.p, 0
		for k, o := range shows {
			if told[k] || o.fault != first.fault || math.Abs(o.p-first.p) > alike {
				continue
			}
			told[k] = true
			n++
			if text != "" {
				text += ", or "
			}
			text += "if " + o.text
			least, most = math.Min(least, o.p), math.Max(most, o.p)
		}
		chance := percentText(most)
		if low := percentText(least); low != chance {
			chance = strings.TrimSuffix(low, " %") + " to " + chance
		}
		if g := first.gain; n == 1 && g.fault != first.fault && first.was-first.p > alike {
			// Else it would read as if the outcome spoke for what it speaks against.
			out = append(out, fmt.Sprintf("%s: %s rises from %s to %s, %s stays likelier, %s", text, g.fault,
				strings.TrimSuffix(percentText(g.from), " %"), percentText(g.to), first.fault, chance))
			continue
		}
		line := text + ": " + first.fault.String() + " " + chance
		// What decides nothing leaves the reader to ask where the rest is.
		if most < decide && first.next.Probability > alike {
			line += ", " + first.next.Fault.String() + " " + percentText(first.next.Probability)
		}
		out = append(out, line)
	}
	return out
}

// untestedLines says what outcomes point to where nothing was tested yet: a number would
// be little more than the chance before looking, and a sound part clears no other.
func untestedLines(shows []testShows) []string {
	var out []string
	for _, o := range shows {
		points := o.fault.String()
		if o.fault == NoFault {
			points = "no fault shown so far"
		}
		out = append(out, "if "+o.text+": "+points)
	}
	return out
}

// sweepsLogged is the number of sweeps over most of the travel seen, in all captures together.
func sweepsLogged(captures []*Capture) int {
	n := 0
	for _, c := range captures {
		n += len(c.Sweeps)
	}
	return n
}

// contrary says of the first capture of which much of the travel goes against the
// drive how little follows it; "" where none is.
func contrary(captures []*Capture) string {
	for _, c := range captures {
		if c.contrary != "" {
			return c.contrary
		}
	}
	return ""
}

// checkClips is the first test where the reading travels against the drive.
func checkClips() NextTest {
	return NextTest{
		Name: "Check clips and columns", Minutes: 5, Turns: true,
		Procedure: []string{
			"See with the command threewire columns that the drive and the feedback are those of one actuator, and of one recording.",
			"Look whether the clips on the motor leads slipped or were changed over, or the leads themselves.",
			"Repeat the capture with three full sweeps each way and leave the clips alone.",
		},
		Outcomes: []string{},
		Cautions: []string{cautionPinch, cautionGround},
	}
}

// entropy in bits.
func entropy(p []float64) float64 {
	h := 0.0
	for _, x := range p {
		if x > 0 {
			h -= x * math.Log2(x)
		}
	}
	return h
}

// cautions gathers those of the tests, each once, and those of any work on
// the actuator and of logging it once more where something is to be done.
func cautions(tests []NextTest, conclusion Fault) []string {
	var out []string
	if conclusion != NoFault {
		out = []string{cautionAirbag}
		// When to test with the ignition on belongs beside when not to have it on.
		if slices.ContainsFunc(tests, func(t NextTest) bool { return slices.Contains(t.Cautions, cautionLive) }) {
			out = append(out, cautionLive)
		}
		out = append(out, cautionPinch, cautionGround)
	}
	for _, t := range tests {
		for _, c := range t.Cautions {
			out = appendNew(out, c)
		}
	}
	if len(out) > 0 {
		out = append(out, "The service manual, local rules and licensed practice come before anything said here.")
	}
	return out
}

// IfComplaintStays says what to do where no fault was found and the vehicle is still at
// fault: what moves nothing shows in no capture, and what was not logged neither. Empty
// where something was found.
func (v *Verdict) IfComplaintStays() []string {
	if v.Conclusion != NoFault {
		return nil
	}
	return []string{
		"Feel the air, or watch the door's lever, while the actuator runs from end to end. Where they do not follow, the door or its linkage is broken or off.",
		"Where they follow, log again while the complaint shows: cold or hot, at the same setting, with the same plug in its place.",
		"A good actuator of the same kind, the other side's for one, tells whether this one is slow or its travel short from the start.",
	}
}

// WorthTesting tells whether a further test is offered at all: not where nothing
// is wrong and nine in ten such verdicts hold.
func (v *Verdict) WorthTesting() bool {
	return v.Conclusion != NoFault || v.Probability < 0.9
}
