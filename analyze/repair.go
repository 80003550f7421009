package analyze

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// RepairResult is what captures before and after a repair prove.
type RepairResult string

// The results. Proven: everything that was wrong is gone, and would have
// shown. NotProven: something is still there, or something new is wrong.
// RepairUnclear: the captures do not tell.
const (
	RepairProven    RepairResult = "repair proven"
	RepairNotProven RepairResult = "repair not proven"
	RepairUnclear   RepairResult = "cannot tell"
)

// Repair compares captures before and after a repair.
type Repair struct {
	Result RepairResult `json:"result"`
	// Missed is the chance that something that was wrong is still there and
	// did not show, all findings together; 1 when it could not have shown.
	Missed   float64       `json:"chance_missed"`
	Text     string        `json:"text"` // one plain sentence
	Findings []Repaired    `json:"findings"`
	New      []RepairedNew `json:"new"`
	Missing  []string      `json:"still_missing"` // what would prove it

	// Differs is what else is not as it was and is no fault that was found: a renewed
	// actuator explains it, and so does a capture of another door.
	Differs []string `json:"differs,omitempty"`

	asides []aside // what is wrong now, by comparison with before
}

// Repaired is one finding of before and what became of it.
type Repaired struct {
	Capture string `json:"capture"` // where it was found
	Finding Kind   `json:"finding"`
	Text    string `json:"text"`
	State   string `json:"state"` // "gone", "still there", "not seen", "could not show"

	Seen   int     `json:"seen"`          // before: passes (drives, arrivals, events) that showed it
	Of     int     `json:"passes"`        // before: that could have
	After  int     `json:"passes_after"`  // after: that could have, and did not
	Missed float64 `json:"chance_missed"` // that it is still there and none of them showed it

	Because string `json:"because"`

	group  int  // findings of one damage have one group
	placed bool // it belongs to a place on the travel
}

// RepairedNew is a finding that was not there before.
type RepairedNew struct {
	Capture string `json:"capture"`
	Finding Kind   `json:"finding"`
	Text    string `json:"text"`
}

// repairLimit is the chance of having missed a fault up to which a repair
// counts as proven: one in twenty, the usual limit of a test.
const repairLimit = 0.05

// ProveRepair compares the captures of one actuator before and after a
// repair. A finding is gone when it does not show any more although as many
// passes as needed, at such a rate and noise, would have shown it.
//
// Captures that are evidently of two actuators prove nothing.
func ProveRepair(before, after []*Capture) *Repair { return proveRepair(before, after, false) }

// proveRepair is [ProveRepair]; same tells that the captures are of one actuator, however
// unlike they are.
func proveRepair(before, after []*Capture, same bool) *Repair {
	r := &Repair{Findings: []Repaired{}, New: []RepairedNew{}, Missing: []string{}}
	groups := 0
	for _, b := range before {
		first := len(r.Findings)
		var of []*Finding
		for i := range b.Findings { // strongest first
			f := &b.Findings[i]
			if f.force() <= math.Log(3) {
				continue
			}
			x := follow(b, f, after)
			x.placed = f.placed()
			groups++
			x.group = groups
			for k, g := range of {
				if f.Event != "" && f.Event == g.Event || f.placed() && sameTrouble(b, g, b, f) || b.unread(f, g) {
					x.group = r.Findings[first+k].group
					break
				}
			}
			of = append(of, f)
			r.Findings = append(r.Findings, x)
		}
	}
	r.together()
	for _, a := range after {
		for i := range a.Findings {
			f := &a.Findings[i]
			if f.force() <= math.Log(3) {
				continue
			}
			old := false
			for _, b := range before {
				for k := range b.Findings {
					old = old || sameTrouble(b, &b.Findings[k], a, f)
				}
				old = old || f.blamesStop() && b.endsAt(f.Direction, sameShare(a, b, f.Volts))
			}
			if !old {
				r.New = append(r.New, RepairedNew{a.Source, f.Kind, f.Title})
			}
		}
	}
	apart := strangers(before, after)
	if same || apart == "" && otherSense(before, after) == "" {
		r.travelRepaired(before, after) // two actuators have each a travel of their own
	}
	r.conclude()
	if len(r.Findings) == 0 && !showNothing(before) {
		r.Text = strings.Replace(r.Text, nothingBefore, openBefore, 1)
	}
	if why := undriven(before); why != "" && len(r.Findings) == 0 {
		r.Text = "Before the repair: " + why
	}
	if apart != "" && !same && !r.stays() {
		r.Result, r.Missed = RepairUnclear, 1
		r.Text = "Before and after do not look like captures of one kind of actuator: " + apart + ". So nothing is proven by what shows before and not after; if they are of one all the same, say so with --same-actuator."
		r.Missing = appendNew(r.Missing, "captures before and after of the same actuator, or of one of its kind")
	}
	if !same {
		r.doubtSense(before, after)
		r.sayDiffers()
	}
	return r
}

// What is said of captures before a repair that hold no finding whose absence could prove it:
// they look sound, or they do not and leave open what it is.
const (
	nothingBefore = "The captures before the repair show nothing wrong, so there is nothing whose absence would prove it."
	openBefore    = "The captures before the repair do not look sound, but no finding in them is sure enough for its absence to prove anything."
)

// showNothing tells whether captures look sound, by their own verdict.
func showNothing(captures []*Capture) bool {
	v := Judge(captures...).Verdict
	return v.Chances[0].Fault == NoFault
}

// sayDiffers says what a proof rests on besides: that before and after are of one door. A
// repair may renew the whole actuator, so captures unlike each other prove the complaint
// gone all the same, where it could have been the same door.
func (r *Repair) sayDiffers() {
	if r.Result == RepairProven && len(r.Differs) > 0 {
		r.Text += " That holds if both captures are of the same door: " + strings.Join(r.Differs, "; ") + ". A renewed actuator or motor explains that; so would another door's capture."
	}
}

// stays tells whether something that was wrong before still shows.
func (r *Repair) stays() bool {
	return slices.ContainsFunc(r.Findings, func(f Repaired) bool { return f.State == "still there" })
}

// doubtSense refuses the proof where the drive moves the reading the other way round
// than before.
func (r *Repair) doubtSense(before, after []*Capture) {
	why := otherSense(before, after)
	if why == "" || r.stays() {
		return
	}
	why += ", or crossed at the repair"
	if r.Result == RepairNotProven { // whichever it is, what is new is there
		r.Text += " And " + why + "."
		return
	}
	r.Result, r.Missed = RepairUnclear, 1
	r.Text = "Before and after look like two actuators: " + why + " (then the control drives away from where it should go). Take the capture after on the same actuator and leads; if they are the same all the same, say so with --same-actuator."
	r.Missing = appendNew(r.Missing, "captures before and after of the same actuator, with the leads logged alike")
}

// conclude draws the result from the single findings.
func (r *Repair) conclude() {
	stays, unclear := "", ""
	kept := 1.0
	counted := map[int]bool{}
	for _, f := range r.Findings {
		if counted[f.group] && f.State == "gone" {
			continue
		}
		counted[f.group] = true
		switch f.State {
		case "still there":
			stays = joinWords(stays, string(f.Finding))
			kept = 0
		case "gone":
			kept *= 1 - f.Missed
		default:
			unclear = joinWords(unclear, string(f.Finding))
			r.Missing = appendNew(r.Missing, f.Because)
			kept *= 1 - f.Missed
		}
	}
	r.Missed = 1 - kept
	news := ""
	for _, n := range r.New {
		news = joinWords(news, string(n.Finding))
	}
	switch {
	case len(r.Findings) == 0:
		r.Result = RepairUnclear
		if news != "" {
			r.Result = RepairNotProven
		}
		r.Missed = 1
		r.Text = nothingBefore
		r.Missing = appendNew(r.Missing, "a capture before the repair that shows the complaint")
		if news != "" {
			r.Text += " New after it: " + news
			if len(r.New) == 1 {
				t := strings.TrimSuffix(r.New[0].Text, ".")
				r.Text += " (" + strings.ToLower(t[:1]) + t[1:] + ")"
			}
			r.Text += ". Are the files before and after swapped?"
		}
	case stays != "":
		r.Result = RepairNotProven
		r.Text = "Still there: " + stays + "."
		if news != "" {
			r.Text += " New: " + news + "."
		}
	case news != "":
		r.Result = RepairNotProven
		r.Text = "What was wrong does not show any more, but something new does: " + news + "."
	case unclear != "" || r.Missed > repairLimit:
		r.Result = RepairUnclear
		if unclear == "" {
			unclear = "several findings together"
			r.Missing = appendNew(r.Missing, "more passes: each finding alone would be proven gone, all together not yet")
		}
		r.Text = fmt.Sprintf("Nothing wrong shows after the repair, but it might have been missed: %s.", unclear)
	default:
		r.Result = RepairProven
		r.Text = fmt.Sprintf("What was wrong is gone (%s); the chance that it is still there and did not show is %s.", kindsOf(r.Findings), ChanceText(r.Missed))
	}
}

func kindsOf(f []Repaired) string {
	s := ""
	for _, x := range f {
		s = joinWords(s, string(x.Finding))
	}
	return s
}

// joinWords adds a word to a list, once.
func joinWords(s, word string) string {
	switch {
	case s == "":
		return word
	case s == word || contains(", "+s+",", ", "+word+","):
		return s
	}
	return s + ", " + word
}

// ChanceText says a small chance without claiming none.
func ChanceText(p float64) string {
	switch {
	case p < 0.001:
		return "under 0.1 %"
	case p < 0.1:
		return fmt.Sprintf("%.1f %%", 100*p)
	}
	return percentText(p)
}

// placed tells whether the finding belongs to a place on the travel.
func (f *Finding) placed() bool {
	switch f.Kind {
	case DeadSpot, NoisyTrack, BentTrack, EndLoss, Jam, SlowZone, Hunting:
		return true
	case GearSlip:
		return f.Tie == TiedToPosition
	}
	return false
}

// lead is the fault that the finding speaks for most.
func (f *Finding) lead() Fault {
	best := NoFault
	for k := range f.Weights {
		if f.Weights[k] > f.Weights[best] {
			best = Fault(k)
		}
	}
	return best
}

// sameShare carries a band from one capture to another by its share of the
// travel when both reached both stops (a new actuator reads other volts at the
// same door), else by its volts; to nowhere when those cannot be compared.
func sameShare(from, to *Capture, band Interval) Interval {
	if !from.bothStops() || !to.bothStops() {
		k, ok := levelScale(from, to)
		if !ok {
			return nowhere
		}
		return Interval{k * band.From, k * band.To}
	}
	return Interval{ownShare(from, to, band.From), ownShare(from, to, band.To)}
}

func (c *Capture) bothStops() bool {
	s := steadyOf(c)
	return s.high > s.low && c.Span.Width() > 0
}

// follow looks for a finding of before in the captures after.
func follow(b *Capture, f *Finding, after []*Capture) Repaired {
	r := Repaired{Capture: b.Source, Finding: f.Kind, Text: f.Title, Missed: 1}
	for _, a := range after {
		for i := range a.Findings {
			if g := &a.Findings[i]; sameTrouble(b, f, a, g) || g.force() > math.Log(3) && otherLook(b, f, a, g) {
				r.State, r.Because = "still there", g.Title
				return r
			}
		}
		if stays, _ := leapt(b, f, a); stays {
			r.State, r.Because = "still there", a.Source+" has its stops at the levels that they had after the leap"
			return r
		}
	}
	var able []*Capture
	why := "there is no capture after the repair"
	for _, a := range after {
		w := blindTo(b, f, a)
		if w == "" {
			_, w = leapt(b, f, a)
		}
		if w != "" {
			why = w
			continue
		}
		able = append(able, a)
	}
	if len(able) == 0 {
		r.State, r.Because = "could not show", fmt.Sprintf("%s: %s", f.Kind, why)
		return r
	}
	var unit string
	var need float64
	inState, _ := b.lasted(f)
	switch {
	case inState == 0 && f.inTime():
		r.Seen, r.Of, r.Missed, need = overTime(b, f, able)
		r.After, unit = 0, "seconds of recording"
	case f.Kind == SpanDrift || f.Kind == TravelChange || f.Kind == Heating:
		if f.Form != "" && contains(f.Form, "step") {
			r.State, r.Because = "could not show", string(f.Kind)+": one step does not come twice; compare the span with a profile (--profile)"
			return r
		}
		r.Seen, r.Of = f.Seen, f.Passes
		r.After, r.Missed, need = trendAfter(f, able)
		unit = "full sweeps"
	default:
		var n int
		r.Seen, r.Of, unit = seenBefore(b, f)
		for _, a := range able {
			n += a.chances(f, placeAfter(b, f, a)) + comingBack(b, f, a)
		}
		r.After = n
		limit := repairLimit / math.Max(f.Strength, repairLimit)
		if f.bodily() {
			r.Missed, need = bodyMissed(r.Seen, r.Of, n), float64(bodyPassesFor(r.Seen, r.Of, limit)-n)
		} else {
			r.Missed, need = missedChance(r.Seen, r.Of, n), float64(passesFor(r.Seen, r.Of, limit)-n)
		}
	}
	// What was no more than noise before cannot remain.
	r.Missed *= f.Strength
	if r.Missed <= repairLimit {
		r.State = "gone"
		r.Because = goneText(r.Seen, r.Of, r.After, unit, r.Missed)
		if r.After == 0 {
			r.Because = fmt.Sprintf("%s before, never since: chance of having missed it %s", timesText(r.Seen), ChanceText(r.Missed))
		}
		return r
	}
	r.State = "not seen"
	r.Because = fmt.Sprintf("%s: chance of having missed it %s", f.Kind, ChanceText(r.Missed))
	if need >= 1 {
		r.Because += "; " + moreOf(math.Ceil(need), unit) + " without it would prove the repair"
	}
	return r
}

// goneText says that what showed in seen of so many passes, drives or the like (unit, in
// the plural) before the repair shows in none after it, and the chance of having missed it.
func goneText(seen, of, after int, unit string, missed float64) string {
	if unit == "full sweeps" {
		unit = "passes" // a trend is seen in those that run short as well
	}
	if of == 1 {
		unit = singular(unit)
	}
	return fmt.Sprintf("in %d of %d %s before, in none of %d after: chance of having missed it %s", seen, of, unit, after, ChanceText(missed))
}

// moreOf says how many more of something are needed.
func moreOf(n float64, unit string) string {
	const longest = 180 // s, which a person counts
	if unit == "seconds of recording" && n > longest {
		n, unit = math.Ceil(n/60), "minutes of recording"
	}
	if n > 1 {
		return fmt.Sprintf("%.0f more %s", n, unit)
	}
	return "one more " + singular(unit)
}

// singular names one of what a count of the repair counts.
func singular(unit string) string {
	return strings.NewReplacer("passes", "pass", "drives", "drive", "arrivals", "arrival", "settlings", "settling", "sweeps", "sweep", "seconds", "second").Replace(unit)
}
