package analyze

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
)

// SchemaVersion is the version of the JSON form of [Report]. It changes when
// a field changes its meaning or goes away; new fields do not change it.
const SchemaVersion = "threewire-report/1"

// Report is the judgement of one actuator from one or more captures.
type Report struct {
	Schema   string     `json:"schema"`
	Verdict  Verdict    `json:"verdict"`
	Captures []*Capture `json:"captures"`

	// Compared is nil unless coupled and free captures were given.
	Compared *Comparison `json:"compared,omitempty"`

	// DoorLoad says how much slower the door makes its actuator, where that shows and is
	// no evidence of a fault; else it is empty.
	DoorLoad string `json:"door_load,omitempty"`

	// Repair is nil unless captures before a repair were given, which Before
	// lists; Captures are those after it then.
	Repair *Repair    `json:"repair,omitempty"`
	Before []*Capture `json:"before_repair,omitempty"`

	// Sides is nil unless captures of the same actuator on the healthy side
	// were given, which Good lists.
	Sides *SideBySide `json:"sides,omitempty"`
	Good  []*Capture  `json:"good_side,omitempty"`

	// Series is nil unless several captures of one coupling were given.
	Series *Series `json:"series,omitempty"`

	// Choice is nil unless a shop's prices were given; package cost sets it.
	Choice *RepairChoice `json:"repair_choice,omitempty"`
}

// Verdict is what the evidence says, how surely, and what to do next.
type Verdict struct {
	Conclusion  Fault   `json:"conclusion"`
	Part        string  `json:"part"`
	Probability float64 `json:"probability"` // of the conclusion; of the likeliest fault when it is "cannot tell"
	Summary     string  `json:"summary"`

	// Chain says in one sentence which fault led to which, where the captures
	// show both; empty otherwise.
	Chain string `json:"chain,omitempty"`

	Chances     []Chance     `json:"components"` // all faults, likeliest first
	PartChances []PartChance `json:"parts"`      // likeliest first

	For     []Evidence `json:"evidence_for"`
	Against []Evidence `json:"evidence_against"`
	Absent  []string   `json:"looked_for_not_found"`
	Unknown []string   `json:"cannot_tell"`

	Next     []NextTest `json:"next_tests"`
	Cautions []string   `json:"cautions"`
}

// Chance is the probability of one fault.
type Chance struct {
	Fault       Fault   `json:"fault"`
	Probability float64 `json:"probability"`
}

// PartChance is the probability that a part is at fault.
type PartChance struct {
	Part        string  `json:"part"`
	Probability float64 `json:"probability"`
}

// Evidence is one finding as it bears on the conclusion.
type Evidence struct {
	Capture string   `json:"capture,omitempty"`
	Finding Kind     `json:"finding"`
	Text    string   `json:"text"`
	Because string   `json:"because"`
	Time    Interval `json:"time"`             // s
	Volts   Interval `json:"volts"`            // V
	Ratio   float64  `json:"likelihood_ratio"` // for the conclusion over the best other fault
	Tie     string   `json:"tie,omitempty"`    // what it belongs to, and passes seen over passes made

	places []Interval // s, of the finding, which the JSON lists with it
	seen   int        // see [Finding.Seen]
}

// prior is the chance of each fault before looking, among actuators that a
// technician takes the trouble to log (common practice, no source: sensors
// first, then doors, then motors; and not every complaint has a fault).
func prior() []float64 { return []float64{0.30, 0.28, 0.14, 0.18, 0.10} }

// chanceToShow is the chance that a full capture of an actuator with the fault
// shows at least one sign of it, as our rig and one simulator by others bore it out on
// 2026-11-25 (how was not recorded). A door broken off, a cold motor and an
// intermittent contact can pass unseen.
func chanceToShow() []float64 { return []float64{0.02, 0.985, 0.96, 0.965, 0.96} }

// coverageShows is the chance that a fault which shows in a full capture shows in one of which
// the share seen is there, 0 to 1 (see seenShare). It has two ways to: what sits at a
// place may lie within what was driven, and what sits at none (motor, gears, leads, a
// control that hunts) shows wherever the shaft moves; a worn place, too, lies where a
// shaft is mostly sent. Taken as two independent chances. (Chosen, not derived; with the
// share alone, nine of ten actuators of which a half to three quarters was seen to be
// sound were so, where even odds were stated.)
func coverageShows(seen float64) float64 { return 1 - (1-seen)*(1-seen) }

// decide is the least probability, before it is tempered, of a conclusion that is
// stated: three to two against all the rest together. What it becomes, see [stated].
const decide = 0.6

// seenEnough is the least share of what a healthy actuator does (see
// seenShare) that a capture must show to clear one: half of it.
const seenEnough = 0.5

// Judge weighs the captures of one actuator. Of none it cannot tell.
func Judge(captures ...*Capture) *Report { return Case{Now: captures}.Judge() }

// judge weighs captures, and what comparing them with others says beside.
func judge(captures []*Capture, beside []aside) *Report {
	r := &Report{Schema: SchemaVersion, Captures: captures}
	logp := make([]float64, faultCount)
	for i, p := range prior() {
		logp[i] = math.Log(p)
	}
	clean, all := true, vouched{}
	signs := make([]float64, faultCount)
	for i, e := range evidence(captures, nil) {
		logp[i] += e
	}
	for _, c := range captures {
		for i := range c.Findings {
			c.Findings[i].addSigns(signs)
		}
		clean = clean && !c.finds()
		all = all.with(c.vouches())
	}
	if r.Compared = compareFree(captures); r.Compared != nil {
		clean = clean && r.Compared.Short == 0
		for i, x := range r.Compared.Weights {
			logp[i] += x
			signs[i] = math.Max(signs[i], sign(x-r.Compared.Weights[NoFault]))
		}
	}
	for _, x := range beside {
		clean = x.weigh(logp, signs) && clean
	}
	short, idle := shortUnjudged(captures, r.Compared), unloadedOnDoor(captures)
	quieted := func(shown float64) []float64 {
		out := slices.Clone(logp)
		for i, v := range chanceToShow() {
			quiet := 1 - shown*v*(1-signs[i])
			if Fault(i) == DoorMechanism {
				quiet = max(quiet, short.likeDoor(), idle.likeDoor())
			}
			out[i] += math.Log(quiet)
		}
		return tempered(normalise(out))
	}
	p := quieted(all.shown)
	now, doubted := clearing(captures)
	if mostLikely(p) == NoFault {
		p = quieted(now.shown)
	} else {
		doubted = nil
	}
	r.Verdict = conclude(p, captures, clean, now.seen)
	if doubted != nil {
		r.Verdict.Unknown = append(r.Verdict.Unknown, doubted.notCleared())
	}
	if r.Compared != nil {
		if r.Verdict.Summary == "" {
			r.Verdict.Summary = r.Compared.Text
		}
		if r.Compared.Short > 0 {
			r.Verdict.Absent = slices.DeleteFunc(r.Verdict.Absent, func(s string) bool { return strings.HasPrefix(s, absentJam) })
		}
		e := r.Compared.evidence(r.Verdict.Chances[0].Fault, p)
		if e.Ratio >= 1 {
			r.Verdict.For = append([]Evidence{e}, r.Verdict.For...)
		} else {
			r.Verdict.Against = append([]Evidence{e}, r.Verdict.Against...)
		}
	}
	if why := longerThanFree(captures); why != "" {
		r.Verdict.Unknown = append(r.Verdict.Unknown, why)
	}
	if huntNotCompared(captures) {
		r.Verdict.Unknown = append(r.Verdict.Unknown, "Whether it hunts without the door: uncoupled no control was at work there that could have.")
	}
	short.argue(&r.Verdict)
	idle.argue(&r.Verdict)
	for _, x := range beside {
		x.argue(&r.Verdict, p)
	}
	r.Verdict.Chain = chainOf(captures, r.Verdict.Conclusion)
	return r
}

// mostLikely is the fault with the largest of probabilities in the order of Faults.
func mostLikely(p []float64) Fault {
	best := NoFault
	for i := range p {
		if p[i] > p[best] {
			best = Fault(i)
		}
	}
	return best
}

// addSigns raises for each fault how surely one of its signs was seen. A fault
// without any sign of its own keeps the burden of having shown none, even when
// there are signs of another: a slow motor does not explain why a worn track
// left no mark.
func (f *Finding) addSigns(signs []float64) {
	for k := range signs {
		signs[k] = math.Max(signs[k], sign(f.Weights[k]-f.Weights[NoFault]))
	}
	if f.Kind == WeakDrive && f.Form == againstUsual {
		signs[Motor] = math.Max(signs[Motor], f.Strength) // a weak motor has no other to show
	}
	if f.Form == roughEverywhere {
		signs[FeedbackSensor] = math.Max(signs[FeedbackSensor], f.Strength) // nor has a bad contact
	}
	if f.has(singleRows) {
		signs[WiringControl] = math.Max(signs[WiringControl], f.Strength) // a contact that lets go now and then shows no more
	}
}

// sign is how far something seen, whose likelihood is e^x times as high under
// a fault as without one, counts as the sign that the fault was bound to show:
// not at all at two to one, fully at fifteen to one. A faint sign is itself
// what a fault seldom shows.
func sign(x float64) float64 {
	faint, plain := math.Log(2), math.Log(15)
	return math.Max(0, math.Min(1, (x-faint)/(plain-faint)))
}

// evidence adds up the findings of captures, in whatever order these come. Findings of
// one event of a capture count once, with the strongest of them; findings of different
// events that speak of the same kind of thing count, each further one, half as much as
// the stronger one before: a second dead spot is not news of a second independent fault,
// nor is the same one in a second capture. Coupled and free captures differ in their
// evidence, and are counted apart. What a finding is worth instead of its own weights, where
// comparing captures tells, stands in instead.
func evidence(captures []*Capture, instead map[*Finding][]float64) []float64 {
	type sort struct {
		kind Kind
		free bool
	}
	alike := map[sort][][]float64{}
	var sorts []sort
	for _, c := range captures {
		seenEvent := map[string]bool{}
		for i := range c.Findings { // strongest first
			f := &c.Findings[i]
			if f.Event != "" && seenEvent[f.Event] {
				continue
			}
			seenEvent[f.Event] = true
			s := sort{f.Kind, c.Free && !f.electrical()} // what is electrical hangs on no door
			if alike[s] == nil {
				sorts = append(sorts, s)
			}
			w := f.Weights
			if x := instead[f]; x != nil {
				w = x
			}
			alike[s] = append(alike[s], w)
		}
	}
	sum := make([]float64, faultCount)
	for _, s := range sorts {
		all := alike[s]
		slices.SortStableFunc(all, strongerFirst)
		for n, w := range all {
			share := math.Pow(0.5, float64(n))
			for k, x := range w {
				sum[k] += share * x
			}
		}
	}
	return sum
}

// strongerFirst orders log likelihoods by how far they speak against "no fault"; those
// that do so alike by all of them, so that what is added up has one order only.
func strongerFirst(a, b []float64) int {
	return cmp.Or(cmp.Compare(forceOf(b), forceOf(a)), slices.Compare(b, a))
}

func normalise(logp []float64) []float64 {
	top := math.Inf(-1)
	for _, x := range logp {
		top = math.Max(top, x)
	}
	out := make([]float64, len(logp))
	sum := 0.0
	for i, x := range logp {
		out[i] = math.Exp(x - top)
		sum += out[i]
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}

// conclude turns probabilities into a verdict.
func conclude(p []float64, captures []*Capture, clean bool, seen float64) Verdict {
	var v Verdict
	for i, x := range p {
		v.Chances = append(v.Chances, Chance{Fault(i), x})
	}
	sort.SliceStable(v.Chances, func(a, b int) bool { return v.Chances[a].Probability > v.Chances[b].Probability })
	part := map[string]float64{}
	for i, x := range p {
		part[Fault(i).Part()] += x
	}
	for _, f := range []Fault{NoFault, FeedbackSensor, DoorMechanism, WiringControl} {
		v.PartChances = append(v.PartChances, PartChance{f.Part(), part[f.Part()]})
	}
	sort.SliceStable(v.PartChances, func(a, b int) bool { return v.PartChances[a].Probability > v.PartChances[b].Probability })

	against := "" // what no finding explains
	if clean {
		against = contrary(captures)
	}
	alone := travelsAlone(captures)
	alone = cmp.Or(apartOf(captures), alone)
	against = cmp.Or(alone, against)
	best := v.Chances[0]
	v.Conclusion, v.Probability = best.Fault, best.Probability
	v.Part = best.Fault.Part()
	if !(best.Probability >= stated(best.Fault)) || best.Fault == NoFault && (seen < seenEnough || against != "") || alone != "" {
		v.Conclusion = CannotTell
		v.Part = CannotTell.Part()
		// The part can be certain where the component is not: motor and sensor are one
		// actuator. It is not where one of the two named is of another part.
		if q := v.PartChances[0]; alone == "" && q.Probability >= stated(best.Fault) && q.Part != "none" && best.Fault.Part() == q.Part && v.Chances[1].Fault.Part() == q.Part {
			v.Part = q.Part
		}
	}
	v.Summary = summarise(&v, captures, seen, against)
	fillEvidence(&v, captures, best.Fault)
	if v.Conclusion > NoFault {
		v.Unknown = slices.DeleteFunc(v.Unknown, func(s string) bool { return s == brokenOff })
	}
	v.Next = NextTests(p, captures)
	if slices.ContainsFunc(captures, func(c *Capture) bool { return c.MissesPolarity() != "" }) {
		v.Next = []NextTest{logBothLeads()}
	} else if apartOf(captures) != "" {
		v.Next = []NextTest{splitFile()}
	} else if against != "" {
		v.Next = append([]NextTest{checkClips()}, v.Next[:min(2, len(v.Next))]...)
	} else if v.Conclusion <= NoFault && slices.ContainsFunc(captures, (*Capture).oneLead) {
		v.Next = append([]NextTest{logBothLeads()}, v.Next[:min(2, len(v.Next))]...)
	}
	v.Cautions = cautions(v.Next, v.Conclusion)
	// JSON lists are empty, never null.
	v.For, v.Against, v.Absent, v.Unknown = list(v.For), list(v.Against), list(v.Absent), list(v.Unknown)
	v.Next, v.Cautions = list(v.Next), list(v.Cautions)
	return v
}

// summarise is the first line of the text output, without the probability; against
// says that travel goes against the drive, where no finding explains it.
func summarise(v *Verdict, captures []*Capture, seen float64, against string) string {
	// The strongest finding that speaks for the conclusion, of a coupled capture before
	// an uncoupled one, and of those alike the one that any order of them gives.
	var lead *Finding
	coupled := false
	for _, c := range captures {
		for i := range c.Findings {
			f := &c.Findings[i]
			if v.Conclusion <= NoFault || f.Weights[v.Conclusion] <= -1e-9 || f.force() <= 0 || c.Free && coupled {
				continue
			}
			if lead == nil || !c.Free && !coupled || cmp.Or(strongerFirst(f.Weights, lead.Weights), cmp.Compare(f.Title, lead.Title)) < 0 {
				lead, coupled = f, !c.Free
			}
		}
	}
	switch v.Conclusion {
	case NoFault:
		return "Nothing wrong in what was logged." // more is said when all evidence is there
	case CannotTell:
		if len(captures) == 0 {
			return "There is no capture to judge."
		}
		if s := captures[0].MissesPolarity(); s != "" && len(captures) == 1 {
			return strings.ToUpper(s[:1]) + s[1:] + " (--lead-a and --lead-b)."
		}
		if s := apartOf(captures); s != "" {
			return s
		}
		a, b := v.Chances[0], v.Chances[1]
		if against != "" {
			return strings.ToUpper(against[:1]) + against[1:] + ": leads, clips or columns may have been changed over, so nothing is cleared."
		}
		if s := tooBrief(captures); s != "" {
			return s
		}
		if s := undriven(captures); s != "" {
			return s
		}
		if untested(captures) {
			return "Too little of the travel was driven to test anything."
		}
		if a.Fault == NoFault && a.Probability > 0.5 && seen < seenEnough {
			return "The capture shows no fault, but not enough of the travel to clear the actuator."
		}
		return fmt.Sprintf("The capture does not decide between %s (%.0f %%) and %s (%.0f %%).", a.Fault, 100*a.Probability, b.Fault, 100*b.Probability)
	}
	if lead == nil {
		return ""
	}
	return lead.Title
}

// tooBrief says that no capture lasts as long as an actuator needs to show anything;
// "" where one does, or where something was found but a missing drive.
func tooBrief(captures []*Capture) string {
	const least = 2.0 // s; chosen, not derived: no actuator goes its whole way in less
	longest := 0.0
	for _, c := range captures {
		for i := range c.Findings {
			if c.Findings[i].Kind != NoDrive {
				return ""
			}
		}
		longest = math.Max(longest, c.Duration)
	}
	if longest >= least || len(captures) == 0 {
		return ""
	}
	return fmt.Sprintf("The capture is too short to judge: it lasts %s, and an actuator needs seconds for its way.", SecondsText(longest))
}
