package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"threewire/analyze"
	"threewire/signal"
)

const planUsage = `Usage: threewire plan [flags] [FILE...]

Says how to take a capture that tells most, before anything is connected: which
channel on which wire, the settings, how to drive, what such a capture would
show and what not, how to see more, the cautions, and the check to run then.
What it would show is worked out from the settings by the rules that check
goes by. Settings not given are assumed, and it says so. Of channels and means
it promises only what you say you have: --channels, --clamp, --probe.

FILEs are earlier captures of the actuator (uncoupled where the name ends in
free, uncoupled or off-the-door): the plan then begins with what they leave open
and what to record, or to do, to settle it. Rate, span, transit, converter,
noise and clamp are theirs where no flag says otherwise.

  threewire plan --symptom "hunts at one end" --channels 4 --clamp
  threewire plan --clamp --channels 4 left-door.csv left-door-free.csv
  threewire plan --rate 20 --bits 10 --range 5 --channels 3 --transit 8
  threewire plan --bench --probe --channels 2 --rate 1000 --memory 20000

%s

Exit codes: 0 planned, 2 wrong use, or settings with which no capture decides.

Flags:
`

// planJSON is the output of plan --json.
type planJSON struct {
	*analyze.CapturePlan
	Assumed  []string `json:"assumed"` // flags that were not given
	Commands []string `json:"commands"`
	// Earlier is the verdict on the earlier captures given.
	Earlier *analyze.Verdict `json:"earlier,omitempty"`
}

// addPlanFlags adds the flags that tell the situation to the set.
func addPlanFlags(fs *pflag.FlagSet, s *analyze.Situation) {
	fs.Float64Var(&s.Rate, "rate", s.Rate, "`ROWS` a second that the instrument takes")
	fs.IntVar(&s.Channels, "channels", s.Channels, "`NUMBER` of its channels")
	fs.IntVar(&s.Bits, "bits", s.Bits, "`BITS` of its converter")
	fs.Float64Var(&s.Range, "range", s.Range, "all `VOLTS` that the feedback's channel covers, e.g. 20 for -10 to 10 V")
	fs.Float64Var(&s.Noise, "noise", 0, "its noise at rest in `VOLTS` rms, as check prints it")
	fs.Int64Var(&s.Memory, "memory", 0, "`ROWS` that one record holds, if few")
	fs.Float64Var(&s.Transit, "transit", s.Transit, "`SECONDS` from stop to stop: time one sweep with a watch")
	fs.Float64Var(&s.Reference, "reference-volts", s.Reference, "sensor supply in `V`")
	fs.Float64Var(&s.Span, "span", 0, "feedback's `VOLTS` from stop to stop (default: four fifths of the sensor supply)")
	fs.IntVar(&s.Sweeps, "sweeps", s.Sweeps, "full sweeps each way, a `NUMBER`")
	fs.Float64Var(&s.Hold, "stop-seconds", s.Hold, "`SECONDS` driven against each stop")
	fs.BoolVar(&s.Probe, "probe", false, "there is a differential probe for the drive")
	fs.BoolVar(&s.Clamp, "clamp", false, "there is a current clamp")
	fs.BoolVar(&s.Bench, "bench", false, "the actuator lies on the bench and is driven by hand from a fused supply")
	fs.BoolVar(&s.Coupled, "coupled", false, "only coupled: the actuator cannot be uncoupled from its door")
	fs.BoolVar(&s.Free, "free", false, "only uncoupled: the actuator is off its door")
	fs.StringVar(&s.Symptom, "symptom", "", "`WORDS` for the complaint, see above")
}

// symptomHelp lists the complaints, over lines behind their heading.
func symptomHelp() string {
	var b strings.Builder
	wrapTo(&b, helpWidth, "", "", "Symptoms: "+strings.Join(analyze.Symptoms(), "; ")+".")
	return strings.TrimSuffix(b.String(), "\n")
}

// plan says how to take a capture that tells most.
func plan(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	fs := pflag.NewFlagSet("plan", pflag.ContinueOnError)
	fs.SetOutput(io.Discard)
	s := analyze.UsualSituation()
	addPlanFlags(fs, &s)
	asJSON := fs.Bool("json", false, "print the plan as JSON (schema "+analyze.PlanSchema+")")
	fail := func(err error) int {
		fmt.Fprintf(stderr, "threewire plan: %v\n", err)
		return exitUsage
	}
	if err := fs.Parse(args); err != nil {
		if errors.Is(err, pflag.ErrHelp) {
			fmt.Fprintf(stdout, planUsage, symptomHelp())
			fmt.Fprint(stdout, flagHelp(fs))
			return 0
		}
		return fail(flagError(fs, err))
	}
	j, err := earlier(ctx, fs.Args(), stdin)
	if err != nil {
		return fail(err)
	}
	assumed, told := complete(&s, fs, j)
	p, err := analyze.PlanCapture(s, analyze.Defaults().Limits)
	if err != nil {
		return fail(err)
	}
	commands := planCommands(p)
	colour := paint(stdout)
	err = printWhole(stdout, func(w io.Writer) error {
		if *asJSON {
			return writePlanJSON(w, p, assumed, commands, j)
		}
		var open *topics
		if j != nil {
			open = openTopics(j, clampOf(s.Clamp, fs.Changed("clamp")), strings.TrimSpace(told+fmt.Sprintf(" %s each way take %.0f s of record so.", plural(s.Sweeps, "full sweep"), p.Prospect.Duration)))
		}
		writePlan(w, p, open, assumed, commands, fs, colour)
		return nil
	})
	if err != nil {
		return fail(err)
	}
	return 0
}

// complete fills in what no flag tells of the situation: from the earlier
// captures, where there are any, else by what is usual. It returns the flags
// that are merely assumed and the sentence on what the captures told.
func complete(s *analyze.Situation, fs *pflag.FlagSet, j *judged) (assumed []string, told string) {
	if !fs.Changed("range") && s.Reference > s.Range {
		s.Range = 2 * s.Reference
	}
	if !fs.Changed("span") {
		s.Span = analyze.UsualSpan(s.Reference)
	}
	var learnt []string
	if j != nil {
		s.Settle(&j.report.Verdict)
		learnt, told = s.Learn(j.report.Captures, fs.Changed)
		if n := channelsUsed(j.traces); !fs.Changed("channels") && n > s.Channels {
			s.Channels = n
			learnt, told = append(learnt, "channels"), strings.TrimSpace(told+fmt.Sprintf(" They took %d channels.", n))
		}
	}
	for _, name := range []string{"rate", "channels", "clamp", "probe", "bits", "range", "noise", "transit", "span"} {
		if !fs.Changed(name) && !slices.Contains(learnt, name) {
			assumed = append(assumed, name)
		}
	}
	s.Symptom = completed(s.Symptom)
	return assumed, told
}

// writePlanJSON writes the plan for programs.
func writePlanJSON(w io.Writer, p *analyze.CapturePlan, assumed, commands []string, j *judged) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	out := planJSON{CapturePlan: p, Assumed: slices.Concat([]string{}, assumed), Commands: commands}
	if j != nil {
		out.Earlier = &j.report.Verdict
	}
	return enc.Encode(out)
}

// completed is the one symptom that the words begin, or the words as given.
func completed(words string) string {
	words = strings.ToLower(strings.Join(strings.Fields(words), " "))
	if near := nearest(words, analyze.Symptoms()); words != "" && len(near) == 1 {
		return near[0]
	}
	return words
}

// clampScale is what a current clamp with 100 mV for one ampere is read with,
// in A/V (common practice, no source).
const clampScale = 10

// planCommands are the commands to run on the captures. Column 1 is the time.
func planCommands(p *analyze.CapturePlan) []string {
	files := "coupled.csv --free uncoupled.csv"
	first := "coupled.csv"
	switch {
	case p.Situation.Coupled:
		files = first
	case p.Situation.Free:
		first, files = "uncoupled.csv", "--free uncoupled.csv"
	}
	if p.TakesLeadsInTurn() { // each record beside the one with the other lead
		files = strings.NewReplacer("uncoupled.csv", "uncoupled-a.csv", "coupled.csv", "coupled-a.csv coupled-b.csv").Replace(files)
		first = strings.Replace(first, ".csv", "-a.csv", 1)
		if p.Situation.Free {
			files += " --free uncoupled-b.csv"
		}
	}
	check := "threewire check " + files
	for _, c := range p.Channels {
		check += fmt.Sprintf(" --%s %d", c.Flag, c.Number+1)
		if c.Role == signal.Current {
			check += fmt.Sprintf(" --scale current=%d", clampScale)
		}
	}
	logged := slices.ContainsFunc(p.Channels, func(c analyze.Channel) bool { return c.Role == signal.Reference })
	if p.Situation.Reference != 5 && !logged {
		check += fmt.Sprintf(" --reference-volts %g", p.Situation.Reference)
	}
	return []string{"threewire columns " + first, check}
}

// writePlan is the plan for a person.
func writePlan(w io.Writer, p *analyze.CapturePlan, open *topics, assumed, commands []string, fs *pflag.FlagSet, colour bool) {
	strong := emphasis(colour)
	head := "The capture to take"
	if s := p.Situation.Symptom; s != "" {
		head += ": " + s
	}
	fmt.Fprintln(w, strong(head))
	if len(assumed) > 0 {
		var words []string
		for _, name := range assumed {
			f := fs.Lookup(name)
			switch f.Value.String() {
			case "false":
				words = append(words, "no --"+name)
			default:
				words = append(words, "--"+name+" "+f.Value.String())
			}
		}
		wrap(w, "", "", "Assumed, because not given: "+strings.Join(words, ", ")+".")
	}
	if open != nil {
		open.write(w, colour)
	}
	planTopics(p).write(w, colour)
	section(w, strong("Then"))
	for _, c := range commands {
		fmt.Fprintf(w, "  %s\n", c) // never wrapped: it is to be copied
	}
	text := "Numbers are columns, with the time in the first; columns shows them before anything is judged."
	if strings.Contains(commands[1], "--scale current") {
		text += fmt.Sprintf(" The scale is that of a clamp with %d mV for one ampere.", 1000/clampScale)
	}
	note(w, text)
	if strings.Contains(commands[1], "--free ") {
		note(w, freeNote)
	}
}

// freeNote says how the file of a run off the door is told from one on it: check goes by
// the flag, the others by the name ([nameKey]).
const freeNote = "Save the run off the door as a file of its own. check is told by --free that it is uncoupled; where its name ends in -free (left-door-free.csv beside left-door.csv), batch and a later plan know it by the name too."

// planTopics is what a plan says, in the order of reading.
func planTopics(p *analyze.CapturePlan) *topics {
	var s topics
	s.section("Channels")
	for _, c := range p.Channels {
		s.item(fmt.Sprintf("Channel %d: %s; %s", c.Number, c.Where, c.Volts))
	}
	if free := p.Situation.Channels - len(p.Channels); free > 0 {
		s.note(fmt.Sprintf("%s left free.", plural(free, "channel")))
	}
	s.list("Settings", p.Settings)
	s.list("How to drive", p.Steps)
	s.list("What decides", p.Looks)
	s.section("What such a capture would show")
	for _, x := range p.Prospect.Sights {
		s.item(sentence(x.Text))
	}
	s.list("What it would not tell", p.Hides)
	if len(p.Raise) > 0 {
		s.section("How to see more")
		for _, r := range p.Raise {
			s.item(sentence(r.Change + ": " + r.Text))
		}
	}
	s.list("Cautions", p.Cautions)
	return &s
}
