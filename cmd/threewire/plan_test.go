package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"threewire/analyze"
	"threewire/fixtures"
	"threewire/signal"
)

// The plan for a person, word for word.
func TestPlanText(t *testing.T) {
	for name, args := range map[string][]string{
		"plan.txt":       {"plan"},
		"plan-hunts.txt": {"plan", "--symptom", "Hunts", "--rate", "20", "--bits", "10", "--range", "5", "--channels", "4", "--clamp", "--transit", "8"},
		"plan-bench.txt": {"plan", "--bench", "--free", "--probe", "--channels", "2", "--rate", "1000", "--memory", "20000", "--bits", "12", "--range", "3.6", "--reference-volts", "3.3", "--transit", "4", "--symptom", "works sometimes"},
	} {
		code, out, errs := call("", args...)
		if code != 0 || errs != "" {
			t.Fatalf("%q ended with %d, said %q", args, code, errs)
		}
		golden(t, name, out)
		if m := slipsOfGrammar.FindString(strings.Join(strings.Fields(out), " ")); m != "" {
			t.Errorf("%q: the text says %q", args, m)
		}
	}
}

func TestPlanRefuses(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--channels", "1"}, "--channels 1: the drive takes one channel at least"},
		{[]string{"--range", "4"}, "--range 4: expected all volts"},
		{[]string{"--rate", "fast"}, "rate"},
		{[]string{"--symptom", "smells"}, `--symptom "smells" is unknown: expected one of: hunts at one end`},
		{[]string{"hunts", "at", "one", "end"}, `"hunts" is no earlier capture`},
		{[]string{"--rat", "20"}, "did you mean --rate"},
	} {
		code, out, errs := call("", append([]string{"plan"}, c.args...)...)
		if code != exitUsage || out != "" || !strings.Contains(errs, c.want) || strings.Count(errs, "\n") != 1 {
			t.Errorf("%q: %d, %q, %q (expected %q)", c.args, code, out, errs, c.want)
		}
	}
}

func TestPlanJSON(t *testing.T) {
	code, out, errs := call("", "plan", "--json", "--rate", "50")
	var p struct {
		Schema   string
		Prospect struct {
			Rows  int64
			Shows []analyze.Sight
		}
		Channels []struct{ Role string }
		Assumed  []string
		Commands []string
	}
	if err := json.Unmarshal([]byte(out), &p); err != nil || code != 0 || errs != "" {
		t.Fatalf("%v, %d, %q", err, code, errs)
	}
	if p.Schema != analyze.PlanSchema || p.Prospect.Rows != 2300 || len(p.Prospect.Shows) < 8 || len(p.Channels) != 3 || strings.Join(p.Assumed, " ") != "channels clamp probe bits range noise transit span" || len(p.Commands) != 2 {
		t.Errorf("%+v", p)
	}
}

// The command that a plan ends with is one that check takes: on a capture with
// the columns in the order of the channels.
func TestPlanCommandWorks(t *testing.T) {
	_, out, _ := call("", "plan", "--coupled", "--channels", "4")
	m := regexp.MustCompile(`threewire check coupled.csv(.*)`).FindStringSubmatch(out)
	if m == nil {
		t.Fatalf("no command in %s", out)
	}
	c, err := fixtures.Make(fixtures.Spec{Fault: fixtures.Healthy, Instrument: "deep-scope", Controller: "bench-hand", Channels: "reference", Seed: 3, Duration: 20})
	if err != nil {
		t.Fatal(err)
	}
	roles := []signal.Role{signal.LeadA, signal.LeadB, signal.Feedback, signal.Reference}
	csv := rewritten(c, roles, 100, 0) // no header: the flags must do
	code, _, errs := call(csv, append([]string{"check", "-"}, strings.Fields(m[1])...)...)
	if code != exitNoFault && code != exitCannotTell || errs != "" {
		t.Errorf("%q ended with %d: %s", m[0], code, errs)
	}
}

// rewritten is a capture as another instrument would have logged it: every so
// many rows, the feedback in coarser steps, without header.
func rewritten(c *fixtures.Capture, roles []signal.Role, every int, step float64) string {
	var b strings.Builder
	for i := 0; i < len(c.Time); i += every {
		fmt.Fprintf(&b, "%.6f", c.Time[i])
		for _, role := range roles {
			for _, col := range c.Columns {
				if col.Role == role {
					v := col.Values[i]
					if role == signal.Feedback && step > 0 {
						v = math.Round(v/step) * step
					}
					fmt.Fprintf(&b, ",%.6f", v)
				}
			}
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// What plan promises of dead spots holds on the rig: captures of spots drawn by
// the rig, logged again at settings whose promise lies just below the spot, find
// it; at settings whose promise lies far above, they mostly do not.
func TestPlanPromisesOnTheRig(t *testing.T) {
	above, below := [2]int{}, [2]int{} // found, made
	for seed := uint64(1); seed <= 20; seed++ {
		far := seed%2 == 0
		severity := 0.3 + 0.015*float64(seed)
		if far {
			severity = 0.1
		}
		c, err := fixtures.Make(fixtures.Spec{Fault: fixtures.DeadSpot, Severity: severity, Instrument: "data-recorder", Controller: "bench-hand", Channels: "none", Seed: seed})
		if err != nil {
			t.Fatal(err)
		}
		if len(c.Truth.DeadSpots) != 1 || c.Truth.DeadSpots[0].AtEnd {
			continue
		}
		spot := c.Truth.DeadSpots[0]
		width := spot.SeenTo - spot.SeenFrom
		roles := []signal.Role{signal.Drive, signal.Feedback}
		full := checked(t, rewritten(c, roles, 1, 0))
		if len(full.Captures[0].Sweeps) < 4 {
			continue
		}
		sweep := full.Captures[0].Sweeps[1]
		rate := float64(len(c.Time)-1) / (c.Time[len(c.Time)-1] - c.Time[0])
		// The coarsest settings that promise the spot with a third to spare; for
		// the faint ones the finest that promise only spots three times as wide.
		rates := []int{400, 200, 100, 50, 40, 25, 20, 10, 8, 5, 4, 2, 1}
		if far {
			slices.Reverse(rates)
		}
		for _, every := range rates {
			s := analyze.Setup{Rate: rate / float64(every), Bits: 10, Range: 6, Noise: c.Truth.Front.Noise, Reference: 5, Span: sweep.High - sweep.Low, Transit: sweep.Transit, Sweeps: 3, Hold: 1}
			p := analyze.Foresee(s, analyze.Defaults().Limits)
			held, _ := p.Sight("held reading")
			lost, _ := p.Sight("lost contact")
			if s.Rate > 500 || s.Rate*s.Transit < 20 || !far && held.Least > width/1.33 || far && lost.Least < 3*width {
				continue
			}
			rep := checked(t, rewritten(c, roles, every, s.Range/math.Exp2(float64(s.Bits))))
			found := false
			for _, f := range rep.Captures[0].Findings {
				found = found || (f.Kind == "dead spot" || f.Kind == "noisy track") && f.Volts.From < spot.SeenTo+0.1 && f.Volts.To > spot.SeenFrom-0.1
			}
			count := &above
			if far {
				count = &below
			}
			count[1]++
			if found {
				count[0]++
			}
			if found == far {
				t.Logf("seed %d (%s): %.3f V wide, promised from %.3f (held) and %.3f (lost) on at %.0f rows a second, found %v; %s", seed, c.Truth.Variant, width, held.Least, lost.Least, s.Rate, found, rep.Verdict.Conclusion)
			}
			break
		}
	}
	t.Logf("above the promise %d of %d found, far below it %d of %d", above[0], above[1], below[0], below[1])
	if above[1] < 8 || 10*above[0] < 9*above[1] {
		t.Errorf("above the promise only %d of %d found", above[0], above[1])
	}
	if below[1] < 3 || 2*below[0] > below[1] {
		t.Errorf("far below the promise %d of %d found", below[0], below[1])
	}
}

// checked is what check says of a capture of time, drive and feedback.
func checked(t *testing.T, csv string) (rep struct {
	Verdict  struct{ Conclusion string }
	Captures []struct {
		Sweeps   []struct{ Low, High, Transit float64 }
		Findings []struct {
			Kind  string
			Volts analyze.Interval
		}
	}
}) {
	t.Helper()
	_, out, errs := call(csv, "check", "--json", "--time", "1", "--drive", "2", "--feedback", "3", "-")
	if err := json.Unmarshal([]byte(out), &rep); err != nil {
		t.Fatalf("%v, %s", err, errs)
	}
	return rep
}

// Nothing of a current is promised without a clamp and a channel for it.
func TestPlanPromisesWhatIsThere(t *testing.T) {
	for _, symptom := range analyze.Symptoms() {
		for _, args := range [][]string{{"--channels", "4"}, {"--clamp"}, {"--channels", "4", "--clamp"}} {
			_, out, _ := call("", append([]string{"plan", "--symptom", symptom}, args...)...)
			_, decides, _ := strings.Cut(out, "\nWhat decides\n")
			decides, _, _ = strings.Cut(decides, "\n\n")
			if strings.Contains(decides, "current") && len(args) < 3 {
				t.Errorf("%q %q: %s", symptom, args, decides)
			}
			if strings.Contains(out, "A capture that decides") {
				t.Errorf("%q promises to decide", symptom)
			}
		}
	}
}

// With earlier captures the plan begins with what they leave open, and gives the
// channel that would settle it.
func TestPlanAfterEarlierCaptures(t *testing.T) {
	code, out, errs := call("", "plan", "--clamp", "--channels", "4", "../../fixtures/captures/rig7-left-temperature-door-jam.csv")
	if code != 0 || errs != "" {
		t.Fatalf("%d %q", code, errs)
	}
	open, next, channels := strings.Index(out, "\nWhat is still open\n"), strings.Index(out, "\nWhat settles it\n"), strings.Index(out, "\nChannels\n")
	if open < 0 || next < open || channels < next || !strings.Contains(out, "current clamp round one motor lead") || !strings.Contains(out, "DOOR MECHANISM") {
		t.Errorf("%s", out)
	}
	if code, _, errs := call("", "plan", "gone.csv"); code != exitUsage || !strings.Contains(errs, "gone.csv") {
		t.Errorf("%d %q", code, errs)
	}
}

// What is logged with a current clamp is not promised to who has none.
func TestPlanPromisesNoClamp(t *testing.T) {
	v := analyze.Verdict{Conclusion: analyze.CannotTell, Part: "none", Chances: []analyze.Chance{{Fault: analyze.Motor}, {Fault: analyze.DoorMechanism}}, Next: []analyze.NextTest{{Name: "Log the motor current too"}}}
	j := &judged{report: &analyze.Report{Verdict: v}}
	for _, clamp := range []clamped{clampUnsaid, clampNone, clampThere} {
		var b strings.Builder
		j.report.Verdict.Next[0].Procedure = []string{"Put a current clamp around one motor lead."}
		openTopics(j, clamp, "").write(&b, false)
		there := clamp == clampThere
		if strings.Contains(b.String(), "to be recorded") != there || strings.Contains(b.String(), "Put a current clamp") != there {
			t.Errorf("clamp %v: %s", clamp, b.String())
		}
	}
}

// What earlier captures tell of instrument and actuator is taken for the next one, and
// only what no flag says.
func TestPlanLearnsFromEarlierCaptures(t *testing.T) {
	const earlier = "../../fixtures/captures/rig3-left-temperature-door-dead-spot.csv"
	plan := func(args ...string) (p struct {
		Situation analyze.Situation
		Assumed   []string
	}) {
		code, out, errs := call("", append([]string{"plan", "--json", earlier}, args...)...)
		if err := json.Unmarshal([]byte(out), &p); err != nil || code != 0 || errs != "" {
			t.Fatalf("%v, %d, %q", err, code, errs)
		}
		return p
	}
	csv, err := os.ReadFile(earlier)
	if err != nil {
		t.Fatal(err)
	}
	c := checked(t, string(csv)).Captures[0]
	p := plan()
	if rows := strings.Count(string(csv), "\n") - 1; math.Abs(p.Situation.Rate-float64(rows)/60) > 0.5 { // of a minute
		t.Errorf("rate %g of %d rows", p.Situation.Rate, rows)
	}
	if len(c.Sweeps) == 0 {
		t.Fatal("the capture has no sweeps")
	}
	one := c.Sweeps[0]
	if way := one.High - one.Low; p.Situation.Span < way || p.Situation.Span > 1.5*way || p.Situation.Transit < 0.7*one.Transit || p.Situation.Transit > 1.8*one.Transit {
		t.Errorf("%g V in %g s, of %+v", p.Situation.Span, p.Situation.Transit, one)
	}
	for _, name := range []string{"rate", "span", "transit"} {
		if slices.Contains(p.Assumed, name) {
			t.Errorf("%s is said to be assumed", name)
		}
	}
	if p = plan("--rate", "500", "--transit", "9"); p.Situation.Rate != 500 || p.Situation.Transit != 9 {
		t.Errorf("flags do not stand: %+v", p.Situation)
	}
	_, out, _ := call("", "plan", earlier)
	if !strings.Contains(strings.Join(strings.Fields(out), " "), "Taken from them for what follows:") {
		t.Errorf("not said: %s", out)
	}
}

// A plan with a run off the door says how its file is told from the other; one without
// says nothing of it.
func TestPlanSaysHowToNameTheFreeFile(t *testing.T) {
	for _, c := range []struct {
		args []string
		want bool
	}{{nil, true}, {[]string{"--free"}, true}, {[]string{"--coupled"}, false}} {
		code, out, _ := call("", append([]string{"plan"}, c.args...)...)
		out = strings.Join(strings.Fields(out), " ")
		if told := strings.Contains(out, "told by --free that it is uncoupled") && strings.Contains(out, "left-door-free.csv"); code != 0 || told != c.want {
			t.Errorf("%q: %d, told %v, want %v", c.args, code, told, c.want)
		}
	}
	if !nameKey("left-door-free.csv").free || nameKey("left-door.csv").free {
		t.Error("the names that it gives are not known")
	}
}
