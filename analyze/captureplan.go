package analyze

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"threewire/signal"
)

// PlanSchema is the version of the JSON form of [CapturePlan].
const PlanSchema = "threewire-plan/1"

// Situation is what a technician has and suspects before anything is
// connected.
type Situation struct {
	Setup
	Channels int    `json:"channels"`
	Probe    bool   `json:"differential_probe"`
	Clamp    bool   `json:"current_clamp"`
	Bench    bool   `json:"on_the_bench"`      // driven by hand from a fused supply
	Coupled  bool   `json:"only_coupled"`      // it cannot be uncoupled from its door
	Free     bool   `json:"only_free"`         // it is off its door
	Memory   int64  `json:"memory"`            // rows of the instrument, 0: enough
	Symptom  string `json:"symptom,omitempty"` // one of [Symptoms], or empty

	wants []signal.Role // what earlier captures lacked most, see [Situation.Settle]
}

// UsualSituation is that of an ordinary scope on an ordinary actuator. Transit
// and channels are common practice, no source.
func UsualSituation() Situation {
	s := Situation{Setup: Setup{Rate: 100, Bits: 8, Range: 10, Reference: Defaults().ReferenceVolts, Transit: 5, Sweeps: 3, Hold: 1}, Channels: 3}
	s.Span = UsualSpan(s.Reference)
	return s
}

// Channel is one channel of the instrument and where it goes.
type Channel struct {
	Number int         `json:"number"`
	Role   signal.Role `json:"-"`
	Flag   string      `json:"role"` // as check calls it
	Where  string      `json:"where"`
	Volts  string      `json:"range"`
}

// CapturePlan is how to take a capture that tells most.
type CapturePlan struct {
	Schema    string     `json:"schema"`
	Situation Situation  `json:"situation"`
	Channels  []Channel  `json:"channels"`
	Settings  []string   `json:"settings"`
	Steps     []string   `json:"steps"`
	Looks     []string   `json:"what_decides"` // for the symptom
	Prospect  *Prospect  `json:"prospect"`
	Hides     []string   `json:"would_not_show"`
	Raise     []Improved `json:"to_see_more"`
	Cautions  []string   `json:"cautions"`
}

// Improved is what another setting would show.
type Improved struct {
	Change   string    `json:"change"`
	Text     string    `json:"text"`
	Prospect *Prospect `json:"prospect"`
}

// symptom is a complaint, with what separates its causes.
type symptom struct {
	name        string
	words       string        // that tell it in other words, all of them
	extra       []signal.Role // what a third or fourth signal is worth most, in order
	looks       string        // what decides
	byCurrent   string        // what a motor current decides beside
	byReference string        // and a reference
	steps       []string      // beyond the sweeps
	more        float64       // s of record that they take
}

// usualExtra are the channels beside drive and feedback that tell most of nearly all
// complaints, the best first.
func usualExtra() []signal.Role {
	return []signal.Role{signal.Current, signal.Reference, signal.Supply}
}

// symptomTable lists the complaints in plain words. Which extra signal decides
// follows from the physics (current tells a blocked shaft from one that turns
// unseen; the reference tells the sensor from its supply).
func symptomTable() []symptom {
	current := usualExtra()
	return []symptom{
		{"hunts at one end", "hunt", current,
			"at that end: a reading that stands and then leaps is a worn track, one that goes on where it stood a blocked door; the other end must settle",
			"running current while the reading stands is a worn track, stall current is a blocked door", "",
			[]string{"Then let it try for half a minute to hold the end that hunts."}, 30},
		{"no air at one outlet", "no air", current,
			"a stall short of a stop that comes at the same reading each time, the other way free, is a jam; sweeps that run as light as uncoupled are a broken link", "", "",
			[]string{"Watch the door or feel the air at each stop, and write down which sweep it was."}, 0},
		{"no heat", "no heat", current,
			"with a coolant that is hot, a temperature door that stalls short of its warm stop at the same reading each time, or does not leave the cold one, is a jam; a reading that gets to both stops while the air stays cold is a broken link, or no fault of the actuator", "", "",
			[]string{"First feel both hoses of the heater core with the engine warm: where one stays cold it gets no coolant, and no door helps. Then feel the air at each stop, and write down which sweep it was."}, 0},
		{"clicks", "click", current,
			"a reading that falls back while the drive stays the same is gear teeth that let go; with every turn of a gear it is a broken tooth; drives in vain are a control that cannot find its place", "", "",
			[]string{"Write down when it clicks: at a stop, at a place, or all along."}, 0},
		{"slow", "slow", []signal.Role{signal.Current, signal.Supply, signal.Reference},
			"slow both ways everywhere is the motor or its supply; slow in one band is a door that binds; slower with each sweep is heat; a good actuator's profile tells slow from usual", "", "",
			[]string{"Log the good side with the same settings, for --good-side."}, 0},
		{"works sometimes", "sometimes", []signal.Role{signal.Reference, signal.Current, signal.Supply},
			"losses that come at rest too, and move with the cable, are wiring; losses at one place in every pass are the track", "", "a reference that moves with the losses is the sensor's supply",
			[]string{"Then go on recording for a minute without drive: bend the cable and press the connectors of the actuator and of the control unit, one after the other."}, 60},
		{"nothing moves", "nothing move", []signal.Role{signal.Current, signal.Supply, signal.Reference},
			"no drive at all is wiring or control; drive that moves nothing is the motor's circuit or a shaft that is held",
			"drive without current is an open motor circuit, drive with stall current a blocked or seized one", "",
			[]string{"Where nothing moves, three drives of three seconds each way do instead of the sweeps."}, 0},
	}
}

// Symptoms lists the complaints that a plan knows.
func Symptoms() []string {
	var out []string
	for _, s := range symptomTable() {
		out = append(out, s.name)
	}
	return out
}

// PlanError is a setting with which no capture can decide.
type PlanError struct{ Setting, Msg string }

func (e *PlanError) Error() string { return "--" + e.Setting + " " + e.Msg }

// check refuses what cannot be, or cannot decide.
func (s *Situation) check() error {
	bad := func(setting, format string, a ...any) error {
		return &PlanError{setting, fmt.Sprintf(format, a...)}
	}
	within := func(x, least, most float64) bool { return x >= least && x <= most } // false for NaN
	switch {
	case !within(s.Rate, 0.1, 1e9):
		return bad("rate", "%g: expected rows a second, e.g. 100", s.Rate)
	case s.Bits < 4 || s.Bits > 32:
		return bad("bits", "%d: expected the bits of the converter, e.g. 8 for a scope or 12 for a logger", s.Bits)
	case !within(s.Reference, 0.5, 60):
		return bad("reference-volts", "%g: expected the sensor's supply in volts, e.g. 5", s.Reference)
	case !within(s.Range, s.Reference, 1000*s.Reference):
		return bad("range", "%g: expected all volts that the feedback's channel covers, from its lowest to its highest; the wiper goes from 0 to %g V, so choose %g or the next wider one", s.Range, s.Reference, s.Reference)
	case !within(s.Span, 0.01*s.Reference, s.Reference):
		return bad("span", "%g: expected the volts from stop to stop, at most the sensor's supply of %g V", s.Span, s.Reference)
	case !within(s.Transit, fastestTransit, 600):
		return bad("transit", "%g: expected the seconds of one sweep from stop to stop, usually 3 to 15: time one with a watch", s.Transit)
	case !within(s.Noise, 0, s.Reference):
		return bad("noise", "%g: expected volts rms at rest, e.g. 0.002 (threewire check prints it in mV)", s.Noise)
	case s.Sweeps < 1 || s.Sweeps > 1000:
		return bad("sweeps", "%d: expected full sweeps each way, e.g. 3", s.Sweeps)
	case !within(s.Hold, 0, 60):
		return bad("stop-seconds", "%g: expected the seconds at each stop, e.g. 1", s.Hold)
	case s.Memory < 0:
		return bad("memory", "%d: expected the rows that one record holds", s.Memory)
	case s.Channels < fewestChannels:
		return bad("channels", "%d: the drive takes one channel at least, the feedback another: use an instrument with %d or more", s.Channels, fewestChannels)
	case s.Coupled && s.Free:
		return bad("free", "and --coupled exclude each other: give the one that it is, or neither where you can record both")
	case s.Transit*s.Rate < fewestRows:
		return bad("rate", "%g: that is %.2g rows for one travel of %g s, and no fault shows in so few; expected %.2g rows a second at least, %g are good", s.Rate, s.Transit*s.Rate, s.Transit, fewestRows/s.Transit, UsualSituation().Rate)
	case s.Memory > 0 && float64(s.Memory) < fewestRows/s.Transit*s.RecordSeconds():
		return bad("memory", "%d: the sweeps take %.0f s, and so few rows show no fault in them; expected %.0f at least, or fewer --sweeps", s.Memory, s.RecordSeconds(), fewestRows/s.Transit*s.RecordSeconds())
	case s.Channels > 1000:
		return bad("channels", "%d: expected the channels of the instrument, e.g. 4", s.Channels)
	}
	if s.Symptom != "" && s.symptom() == nil {
		return bad("symptom", "%q is unknown: expected one of: %s", s.Symptom, strings.Join(Symptoms(), "; "))
	}
	return nil
}

// fewestRows is the least number of rows in a travel with which a plan is made:
// below, no two windows of the rate regression lie apart.
const fewestRows = 8.0

func (s *Situation) symptom() *symptom {
	told := strings.ToLower(s.Symptom)
	for _, x := range symptomTable() {
		if strings.EqualFold(x.name, told) {
			return &x
		}
	}
	// In other words: all that matter of one complaint, and of one only.
	var found *symptom
	for _, x := range symptomTable() {
		if x.words != "" && !slices.ContainsFunc(strings.Fields(x.words), func(w string) bool { return !strings.Contains(told, w) }) {
			if found != nil {
				return nil
			}
			found = &x
		}
	}
	return found
}

// PlanCapture plans a capture. The error is a *PlanError: it names the setting with
// which no capture can decide.
func PlanCapture(s Situation, lim Limits) (*CapturePlan, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if x := s.symptom(); x != nil {
		s.More = x.more
	}
	p := &CapturePlan{Schema: PlanSchema, Hides: []string{}, Looks: []string{}, Raise: []Improved{}}
	asked := s.Rate
	// A record that ends before the sweeps do shows less than a coarser one.
	short := s.Memory > 0 && float64(s.Memory) < math.Ceil(s.RecordSeconds()*s.Rate)
	if short {
		s.Rate = float64(s.Memory) / s.RecordSeconds()
		if s.Rate >= 1 {
			s.Rate = math.Floor(s.Rate)
		}
	}
	p.Situation = s
	p.Prospect = Foresee(s.Setup, lim)
	if s.Free { // no door to bind
		p.Prospect.Sights = slices.DeleteFunc(p.Prospect.Sights, func(x Sight) bool { return x.What == seesSlow })
	}
	p.channels(&s)
	p.settings(&s, asked, short)
	p.steps(&s)
	p.hides(&s)
	p.raise(&s, lim)
	p.Cautions = []string{cautionGround}
	if !s.Bench {
		p.Cautions = append(p.Cautions, cautionAirbag)
	}
	p.Cautions = append(p.Cautions, cautionPinch)
	if s.Bench {
		// A fuse of 1 A: common practice, no source.
		p.Cautions = append(p.Cautions, "A supply by hand needs a fuse of 1 A and its leads insulated; let go of a stop after a second or two, a stalled motor heats.", "Unplug the actuator from the vehicle before driving it from a supply: else current goes into the control unit.")
	} else {
		p.Cautions = append(p.Cautions, cautionCoolant)
	}
	p.Cautions = append(p.Cautions, "Measure at the connector from behind or with a breakout lead; no needle through insulation, no probe that spreads a contact.",
		"The service manual, local rules and licensed practice come before anything said here.")
	return p, nil
}

// channels gives every channel a wire.
func (p *CapturePlan) channels(s *Situation) {
	add := func(role signal.Role, flag, where, volts string) {
		p.Channels = append(p.Channels, Channel{len(p.Channels) + 1, role, flag, where, volts})
	}
	switch {
	case s.Probe:
		add(signal.Drive, "drive", "differential probe across the two motor leads", "-16 to +16 V or wider")
	case s.driveByCurrent():
		add(signal.Current, "current", currentWhere, currentRange)
	case s.oneLead():
		add(signal.Drive, "drive", "motor lead A against ground, tip only; lead B in a record of its own", "0 to 16 V or wider")
	default:
		add(signal.LeadA, "lead-a", "motor lead A, tip only", "0 to 16 V or wider")
		add(signal.LeadB, "lead-b", "motor lead B, tip only", "as lead A")
	}
	add(signal.Feedback, "feedback", "the wiper's wire at the actuator", fmt.Sprintf("0 to %g V at least (%g V in all)", s.Reference, s.Range))
	// Without a complaint the current is worth most, as for nearly all of them.
	extra := usualExtra()
	if x := s.symptom(); x != nil {
		extra = x.extra
	}
	extra = slices.Concat(s.wants, extra)
	for _, role := range extra {
		if len(p.Channels) >= s.Channels {
			return
		}
		switch {
		case p.has(role):
		case role == signal.Current && s.Clamp:
			add(role, "current", currentWhere, currentRange)
		case role == signal.Reference:
			add(role, "reference", "the sensor's reference wire at the actuator", fmt.Sprintf("0 to %g V, the same as the feedback's", s.Reference))
		case role == signal.Supply:
			add(role, "supply", "the control unit's battery feed (bench: the supply's positive)", "0 to 16 V or wider")
		}
	}
}

// has tells whether a role got a channel.
func (p *CapturePlan) has(role signal.Role) bool {
	for _, c := range p.Channels {
		if c.Role == role {
			return true
		}
	}
	return false
}

func (p *CapturePlan) settings(s *Situation, asked float64, short bool) {
	f := p.Prospect
	add := func(format string, a ...any) { p.Settings = append(p.Settings, fmt.Sprintf(format, a...)) }
	if short {
		add("%.4g rows a second: %d rows hold no more of %.0f s (%.4g were asked)", s.Rate, s.Memory, f.Duration, asked)
	} else {
		add("%.4g rows a second, point by point or averaged; no peak or roll mode that drops rows", s.Rate)
	}
	add("%.0f s of record, %d rows a channel, started before the first drive; save it as CSV with its header", f.Duration, f.Rows)
	add("the instrument's ground on the sensor's ground pin at the actuator, and nowhere else: never on a motor lead")
	add("direct coupling on all channels (no AC), one time base")
	if s.Range > 1.5*s.Reference {
		add("feedback's channel: %g V in all is wide for 0 to %g V; the next narrower range that still holds %g V sees finer", s.Range, s.Reference, s.Reference)
	}
}

func (p *CapturePlan) steps(s *Situation) {
	add := func(format string, a ...any) { p.Steps = append(p.Steps, fmt.Sprintf(format, a...)) }
	add("Record %.0f s at rest first: that measures the noise.", firstRest)
	times := counted(s.Sweeps, "full sweep")
	if s.Bench {
		// A track has some kilohms and takes about a milliampere; 20 mA burn none
		// (common practice, no source).
		add("Feed the sensor %.3g V between its reference and ground pins from an output limited to some 20 mA, its negative joined to that of the motor's supply.", s.Reference)
		add("By hand with a fused 12 V supply: %s each way, stop to stop, lead A positive, then lead B; %.3g s against each stop, half a second off between.", times, s.Hold)
	} else {
		add("Ignition on, and let the position check end. Then by the control panel: %s each way, from one end of the setting to the other; wait until the motor has stopped, and %.3g s more.", times, s.Hold)
		add("Where the panel does not reach both stops, switch ignition off and on: many controls then sweep to the stops.")
	}
	x := s.symptom()
	if x != nil {
		p.Steps = append(p.Steps, x.steps...)
		p.Looks = append(p.Looks, x.looks)
		if x.byCurrent != "" && p.has(signal.Current) {
			p.Looks = append(p.Looks, x.byCurrent)
		}
		if x.byReference != "" && p.has(signal.Reference) {
			p.Looks = append(p.Looks, x.byReference)
		}
	}
	switch {
	case s.Free:
		add("It is off its door: record it coupled too, if ever it can be put back.")
	case s.Coupled:
		add("Since it cannot be uncoupled, motor and door are told apart by place, direction and current alone.")
	default:
		add("Uncouple it from the door and record the same once more: the two together decide most questions.")
	}
	p.twoChannelSteps(s)
	if s.Transit*s.Rate < rowsATravel {
		add("If it can be slowed (a supply of 9 V on the bench), do: that gives more rows for each piece of the travel.")
	}
}

func (p *CapturePlan) hides(s *Situation) {
	add := func(format string, a ...any) { p.Hides = append(p.Hides, fmt.Sprintf(format, a...)) }
	if p.Prospect.Travel < rowsATravel {
		add("worn places in general: %.0f rows for one travel, where %d are the least", p.Prospect.Travel, rowsATravel)
	}
	if _, ok := p.Prospect.Sight(seesDrift); !ok {
		add("drift of the stops: that takes three visits of each or more")
	}
	if _, ok := p.Prospect.Sight(seesHeating); !ok {
		add("a motor that heats: that takes %d sweeps or more", heatingPasses)
	}
	p.twoChannelHides(s)
	if !p.has(signal.Current) {
		why := "no channel is left"
		if !s.Clamp {
			why = "no clamp"
		}
		add("a blocked shaft from a motor that turns unseen, where the reading stands (no motor current: %s)", why)
	}
	if !p.has(signal.Reference) {
		add("a change of the sensor's supply from a change of the sensor (no reference channel)")
	}
	if s.Rate < 250 {
		add("mains hum of 50 or 60 Hz as what it is: below 250 rows a second it folds down and looks like a slow swing")
	}
	if s.Rate < 40e3 {
		add("a pulsed drive pulse by pulse, where its pulses are faster than %.4g a second; its mean shows all the same if the instrument averages", s.Rate/2)
	}
	add("a motor that was weak from the start, or a travel that was always short: that takes a profile of a good one or the good side")
	if s.Free {
		add("anything of the door, which is off")
	} else {
		add("a door broken off its shaft: watch the air or the door itself")
	}
}

// raise works out what better settings would show.
func (p *CapturePlan) raise(s *Situation, lim Limits) {
	try := func(change string, to Setup) {
		f := Foresee(to, lim)
		if text := gained(p.Prospect, f); text != "" {
			p.Raise = append(p.Raise, Improved{change, text, f})
		}
	}
	for _, rate := range []float64{100, 1000} {
		if s.Rate < 0.7*rate {
			to := s.Setup
			to.Rate = rate
			more := ""
			if n := to.RecordSeconds() * rate; s.Memory > 0 && float64(s.Memory) < n {
				more = fmt.Sprintf(" (%.0f rows, more than the memory holds: fewer sweeps a record)", n)
			}
			try(fmt.Sprintf("at %.4g rows a second instead of %.4g%s", rate, s.Rate, more), to)
		}
	}
	if narrow := 1.2 * s.Reference; s.Range > 1.5*narrow {
		to := s.Setup
		to.Range = narrow
		try(fmt.Sprintf("with a range of %.2g V for the feedback instead of %g V", narrow, s.Range), to)
	}
	if s.Bits < 12 {
		to := s.Setup
		to.Bits = 12
		try(fmt.Sprintf("with 12 bits instead of %d", s.Bits), to)
	}
	if s.Sweeps < 5 {
		to := s.Setup
		to.Sweeps = 5
		try(fmt.Sprintf("with five sweeps each way instead of %d (%.0f s)", s.Sweeps, to.RecordSeconds()), to)
	}
	p.twoChannelRaise(s)
}

// gained lists what one prospect shows at least a fifth finer than another.
func gained(was, is *Prospect) string {
	var words []string
	for _, what := range []string{seesLoss, seesHold, seesRough, seesHunting, seesDrift, seesHeating} {
		a, had := was.Sight(what)
		b, has := is.Sight(what)
		switch {
		case !has || had && what == seesHunting && b.Least < 1.25*a.Least || had && what != seesHunting && b.Least > 0.8*a.Least:
		case what == seesHunting:
			words = append(words, fmt.Sprintf("%s up to %.2g Hz", what, b.Least))
		case b.Unit == "%":
			words = append(words, fmt.Sprintf("%s from %.0f %%", what, b.Least))
		default:
			words = append(words, fmt.Sprintf("%s from %s", what, shareText(b.Percent)))
		}
	}
	return strings.Join(words, ", ")
}
