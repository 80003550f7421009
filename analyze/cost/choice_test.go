package cost

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"threewire/analyze"
)

// handPrices make round sums: a visit for the actuator is 50 + 0.5 h + 1 h =
// 200, for the air case 300 + 4 h + 1 h = 800, for the wiring 1 h + 1 h = 200.
const handPrices = `labour rate: 100
opening hours: 1
actuator price: 50
actuator hours: 0.5
air case price: 300
air case hours: 4
wiring price: 0
wiring hours: 1
`

// hand are these prices with more lines, and a free comeback where they name
// no other.
func hand(t *testing.T, more string) *Prices {
	t.Helper()
	if !strings.Contains(more, lineComeback) {
		more += lineComeback + ": 0\n"
	}
	return mustPrices(t, handPrices+more)
}

// judged is a report with the given probabilities and nothing else.
func judged(p ...float64) *analyze.Report {
	r := &analyze.Report{}
	for f, q := range p {
		r.Verdict.Chances = append(r.Verdict.Chances, analyze.Chance{Fault: analyze.Fault(f), Probability: q})
	}
	for _, f := range []analyze.Fault{analyze.NoFault, analyze.FeedbackSensor, analyze.DoorMechanism, analyze.WiringControl} {
		sum := 0.0
		for g, q := range p {
			if analyze.Fault(g).Part() == f.Part() {
				sum += q
			}
		}
		r.Verdict.PartChances = append(r.Verdict.PartChances, analyze.PartChance{Part: f.Part(), Probability: sum})
	}
	return r
}

func choiceOf(t *testing.T, rc *analyze.RepairChoice, do string) *analyze.Choice {
	t.Helper()
	for i := range rc.Choices {
		if rc.Choices[i].Do == do {
			return &rc.Choices[i]
		}
	}
	t.Fatalf("no choice %q in %+v", do, rc.Choices)
	return nil
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) < 1e-6) {
		t.Errorf("%s is %.6f, expected %.6f", what, got, want)
	}
}

// Worked by hand. No fault 0, sensor 0.6, motor 0.1, door 0.2, wiring 0.1.
func TestRepairChoiceByHand(t *testing.T) {
	t.Parallel()
	rep := judged(0, .6, .1, .2, .1)
	first := func(more, do string) *analyze.Choice {
		return choiceOf(t, Repairs(rep, hand(t, more)), do)
	}
	const a, air, wire = "replace the actuator", "open the air case", "repair the wiring or control"

	// Not cured with 0.3; then the door has 2/3. Wiring next: 200 + 2/3 x 800 =
	// 733.33; air case next: 800 + 1/3 x 200 = 866.67; both at once: 300 + 5 h +
	// 1 h = 900. So 200 + 0.3 x 733.33.
	c := first("", a)
	near(t, "actuator now", *c.Now, 200)
	near(t, "actuator in all", *c.Expected, 420)
	near(t, "actuator cheapest", *c.Least, 200)
	near(t, "actuator dearest", *c.Most, 1200)
	near(t, "actuator cures", c.Cures, .7)
	near(t, "actuator returns", c.Returns, .3)
	if strings.Join(c.Then, ", ") != wire+", "+air {
		t.Errorf("then %q", c.Then)
	}
	// 800 + 0.8 x (200 + 1/8 x 200) for the actuator next.
	near(t, "air case in all", *first("", air).Expected, 980)
	// 200 + 0.9 x (200 + 2/9 x 800).
	near(t, "wiring in all", *first("", wire).Expected, 540)
	// Without a comeback price waiting only puts it off.
	near(t, "waiting in all", *first("", "leave it and wait").Expected, 420)
	// Both: 50 + 1.5 h + 1 h = 300, then 0.2 x 800.
	near(t, "actuator and wiring in all", *first("", a+" and "+wire).Expected, 460)

	// Each return costs 40 + 0.2 h = 60: 420 + 0.3 x 60 + 0.2 x 60.
	near(t, "with comebacks", *first("comeback price: 40\ncomeback hours: 0.2\n", a).Expected, 450)
	near(t, "waiting with comebacks", *first("comeback price: 40\ncomeback hours: 0.2\n", "leave it and wait").Expected, 510)
	// All noticed while open: no opening again. 200 + 0.3 x (100 + 2/3 x 700).
	c = first("noticed before closing: 100 %\ncomeback price: 40\n", a)
	near(t, "all noticed", *c.Expected, 370)
	near(t, "returns when all is noticed", c.Returns, 0)
	// Half noticed. After the actuator: noticed (open), wiring next 100 + 2/3 x
	// (0.5 x 700 + 0.5 x 800) = 600; both at once 800; not noticed 200 + 500 =
	// 700. 200 + 0.3 x (300 + 350).
	c = first("noticed before closing: 50 %\n", a)
	near(t, "half noticed", *c.Expected, 395)
	// The customer comes back where it was not noticed that the actuator did not
	// cure, or after that not that the wiring did not: 0.3 x (1/2 + 1/2 x 2/3 x 1/2).
	near(t, "half noticed, returns", c.Returns, .2)
	// Nothing needs the dashboard opened: 100, 700, 100. 100 + 0.3 x (100 + 2/3
	// x 700).
	near(t, "nothing opened", *first("opened for: none\n", a).Expected, 270)
	// The air case alone is opened for, and an old actuator that fails (20 %)
	// costs its 100 again wherever it was left in place: 0.2 of the cases when
	// the air case comes first, none after the actuator.
	more := "opened for: air case\nhorizon: 24\nold actuator fails: 20 %\n"
	near(t, "actuator with the horizon", *first(more, a).Expected, 100+.3*(100+2./3*800))
	near(t, "air case with the horizon", *first(more, air).Expected, 800+.8*100+.1*100+.2*.2*100)
	near(t, "air case dearest", *first(more, air).Most, 1000)
}

// To leave it, or to do what cures nothing, is never the best where a fault is
// named, however cheap a comeback; where nothing is likely broken it is.
func TestComplaintIsNotLeft(t *testing.T) {
	t.Parallel()
	const more = "comeback price: 1\nwiring price: 1\nwiring hours: 0.01\nopened for: air case\n"
	prices := mustPrices(t, strings.NewReplacer("wiring price: 0\nwiring hours: 1\n", "").Replace(handPrices)+more)
	const wait = "leave it and wait"
	for _, c := range []struct {
		p    []float64
		best string
		wait bool // to wait would cost less
	}{
		{[]float64{.13, 0, .005, .86, .005}, "open the air case", true},
		{[]float64{.45, 0, .005, .54, .005}, "open the air case", true},
		{[]float64{.51, 0, .005, .48, .005}, wait, false},
		{[]float64{.97, .01, .01, .005, .005}, wait, false},
		// Worth trying: it costs 2 of 801.
		{[]float64{.13, 0, .02, .79, .06}, "repair the wiring or control", false},
	} {
		rc := Repairs(judged(c.p...), prices)
		if rc.Best.Do != c.best || rc.Choices[0].Do != c.best || (rc.Best.WaitSaves > 0) != c.wait {
			t.Errorf("%v: %+v", c.p, rc.Best)
		}
		if w := choiceOf(t, rc, wait); w.Offered != (c.best == wait) || w.Expected == nil {
			t.Errorf("%v: %+v", c.p, w)
		}
		for _, f := range rc.Best.Flips {
			if f.Then == wait && f.Part != "none" && f.At > f.Now || f.Then == wait && f.Part == "none" && f.At < 0.5-1e-9 {
				t.Errorf("%v: waits from %+v", c.p, f)
			}
		}
	}
}

// With one choice between two repairs the threshold has a closed form: the
// actuator (100) goes before the wiring (50) while a > 100 / 150.
func TestRepairChoiceFlips(t *testing.T) {
	t.Parallel()
	text := strings.Replace(handPrices, "wiring hours: 1", "wiring hours: 0.5", 1) + "opened for: none\ncomeback price: 0\n"
	rc := Repairs(judged(0, .9, 0, 0, .1), mustPrices(t, text))
	if rc.Best == nil || rc.Best.Do != "replace the actuator" || len(rc.Best.Flips) == 0 {
		t.Fatalf("best %+v", rc.Best)
	}
	// 100 + 0.1 x 50 against 50 + 0.9 x 100, and 150 for both at once.
	near(t, "in all", *rc.Choices[0].Expected, 105)
	// Waiting cures nothing here and is no rival, though without a price for a
	// comeback it costs no more.
	near(t, "saves", rc.Best.Saves, 35)
	for _, f := range rc.Best.Flips {
		switch f.Part {
		case "actuator":
			near(t, "now", f.Now, .9)
			near(t, "flip of the actuator", f.At, 2./3)
		case "wiring or control":
			near(t, "flip of the wiring", f.At, 1./3)
		default:
			t.Errorf("flip of %q", f.Part)
		}
		if f.Then != "repair the wiring or control" {
			t.Errorf("then %q", f.Then)
		}
	}
	// The choice does flip there.
	for _, c := range []struct {
		a    float64
		want string
	}{{.67, "replace the actuator"}, {.66, "repair the wiring or control"}} {
		if got := Repairs(judged(0, c.a, 0, 0, 1-c.a), mustPrices(t, text)).Best.Do; got != c.want {
			t.Errorf("at %v: %s, expected %s", c.a, got, c.want)
		}
	}
	// Perfect information: 0.9 x 100 + 0.1 x 50 = 95 against 105.
	near(t, "perfect information", rc.Perfect, 10)
}

// The formula itself is checked against a published worked example in stats
// (TestSampleInformationReference). Two repairs of 100 each, one chance in two: 150 without a test. The track's
// resistance has steps with 0.85 under a sensor fault and 0.05 under a wiring
// fault. After steps (0.45) the sensor has 17/18: 100 + 100/18; without
// (0.55) the wiring has 19/22: 100 + 300/22. In all 100 + 2.5 + 7.5 = 110.
func TestTestWorthByHand(t *testing.T) {
	t.Parallel()
	rc := Repairs(judged(0, .5, 0, 0, .5), hand(t, "opened for: none\nminutes of measure the track end to end: 6\n"))
	near(t, "without", *rc.Choices[0].Expected, 150)
	near(t, "perfect information", rc.Perfect, 50)
	for _, w := range rc.Tests {
		if w.Name == "Measure the track end to end" {
			near(t, "worth", w.Worth, 40)
			near(t, "cost", w.Cost, 10)
			near(t, "net", w.Net, 30)
			near(t, "chance", w.Then[1].Chance, .45)
			near(t, "then", w.Then[1].Expected, 100+100./18)
			if w.Then[1].Do != "replace the actuator" || w.Then[0].Do != "repair the wiring or control" {
				t.Errorf("then %+v", w.Then)
			}
			return
		}
	}
	t.Errorf("the test is not in %+v", rc.Tests)
}

// leastCost is the same sum by another way: a dynamic programme over the parts
// not yet ruled out, in which weight is how probable each still is. may says
// which repairs the first visit may have.
func leastCost(p *Prices, weight map[analyze.Fault]float64, left repairSet, open bool, done repairSet, may func(repairSet) bool) float64 {
	all := func(repairSet) bool { return true }
	best := math.Inf(1)
	for do := repairSet(1); do <= allRepairs; do++ {
		if do&^left != 0 || !may(do) {
			continue
		}
		total, rest := 0.0, map[analyze.Fault]float64{}
		for f, w := range weight {
			total += w * p.visit(do, open)
			if r, broken := repairOf(f); broken && !do.has(r) {
				rest[f] = w
			} else if !(do | done).has(actuator) {
				total += w * p.figures[lineOldFails] * p.later()
			}
		}
		if len(rest) > 0 {
			n := p.figures[lineNoticed]
			total += n*leastCost(p, rest, left&^do, open || do&p.opens != 0, do|done, all) + (1-n)*leastCost(p, rest, left&^do, false, do|done, all)
			for _, w := range rest {
				total += (1 - n) * w * p.comeback()
			}
		}
		best = math.Min(best, total)
	}
	return best
}

// drawnPrices are prices at random, as text, and probabilities.
func drawnPrices(r *rand.Rand) (lines []string, p []float64) {
	num := func(most float64) string { return fmt.Sprintf("%.0f", most*r.Float64()) }
	lines = []string{"labour rate: " + num(150), "opening hours: " + num(4), "actuator price: " + num(200), "actuator hours: " + num(3),
		"air case price: " + num(900), "air case hours: " + num(12), "wiring price: " + num(80), "wiring hours: " + num(5), "comeback price: " + num(200)}
	for _, more := range []string{"noticed before closing: " + num(100) + " %", "comeback hours: " + num(2),
		"opened for: air case, actuator", "currency: EUR", "horizon: 24\nold actuator fails: " + num(60) + " %"} {
		if r.Float64() < 0.6 {
			lines = append(lines, more)
		}
	}
	sum := 0.0
	for range analyze.Faults() {
		x := math.Pow(r.Float64(), 3)
		p, sum = append(p, x), sum+x
	}
	for i := range p {
		p[i] /= sum
	}
	return lines, p
}

// What must hold whatever the figures.
func TestRepairChoiceProperties(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(1, 2))
	for range 100 {
		lines, p := drawnPrices(r)
		text := strings.Join(lines, "\n")
		prices := mustPrices(t, text)
		rc := Repairs(judged(p...), prices)
		best := *rc.Choices[0].Expected

		// The dynamic programme finds the same.
		all := map[analyze.Fault]float64{}
		waits := p[analyze.NoFault] * prices.figures[lineOldFails] * prices.later()
		for f, q := range p {
			all[analyze.Fault(f)] = q
		}
		least := leastCost(prices, all, allRepairs, false, 0, func(do repairSet) bool { return offered(do, p) })
		if p[analyze.NoFault] > 0.5 {
			delete(all, analyze.NoFault)
			waits += leastCost(prices, all, allRepairs, false, 0, func(repairSet) bool { return true }) + (1-p[analyze.NoFault])*prices.comeback()
			least = math.Min(least, waits)
		}
		near(t, text+"\nby the programme", best, least)

		// Knowing the fault for certain is never dearer, and no test is worth
		// more than that or less than nothing.
		perfect := 0.0
		for f, q := range p {
			least := math.Inf(1)
			for _, pl := range allPlans() {
				least = math.Min(least, prices.costs(pl)[f])
			}
			perfect += q * least
		}
		near(t, "perfect information", rc.Perfect, math.Max(0, best-perfect))
		if best < perfect-1e-9 {
			t.Errorf("%v expected, %v with perfect information", best, perfect)
		}
		for _, w := range rc.Tests {
			if w.Worth < 0 || w.Worth > rc.Perfect+1e-9 {
				t.Errorf("%s is worth %v of %v", w.Name, w.Worth, rc.Perfect)
			}
			after, changes := 0.0, false
			for _, o := range w.Then {
				after += o.Chance * o.Expected
				changes = changes || o.Do != w.Then[0].Do
			}
			// What changes nothing now is worth nothing now.
			if !changes {
				near(t, "worth without a change of "+w.Name, w.Worth, 0)
				continue
			}
			// A test may close what looks cheapest, to wait: then it is worth nothing.
			if w.Worth > 0 || after < best {
				near(t, "after "+w.Name, after, best-w.Worth)
			}
		}
		for i := range rc.Choices {
			c := &rc.Choices[i]
			if c.Offered && *c.Expected < best-1e-9 || *c.Least > *c.Expected+1e-9 || *c.Most < *c.Expected-1e-9 || *c.Now > *c.Least+1e-9 {
				t.Errorf("%s: now %v, %v in all, %v to %v, best %v", c.Do, *c.Now, *c.Expected, *c.Least, *c.Most, best)
			}
			if c.Cures+c.Returns > 1+1e-9 {
				t.Errorf("%s: cures %v, returns %v", c.Do, c.Cures, c.Returns)
			}
		}

		// Surer that it is the actuator: replacing it first is not dearer.
		surer := slices.Clone(p)
		for f := range surer {
			surer[f] *= 0.5
		}
		surer[analyze.FeedbackSensor] += 0.5
		was, is := choiceOf(t, rc, "replace the actuator"), choiceOf(t, Repairs(judged(surer...), prices), "replace the actuator")
		if *is.Expected > *was.Expected+1e-9 {
			t.Errorf("surer, but %v after %v", *is.Expected, *was.Expected)
		}

		// The order of lines does not matter.
		want, _ := json.Marshal(rc)
		r.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
		got, _ := json.Marshal(Repairs(judged(p...), mustPrices(t, strings.Join(lines, "\n"))))
		if string(got) != string(want) {
			t.Errorf("in another order:\n%s\n%s", got, want)
		}
	}
}

// A figure that is missing takes away what needs it and no more.
func TestRepairChoiceMissing(t *testing.T) {
	t.Parallel()
	text := strings.Replace(handPrices, "air case hours: 4\n", "", 1) + "comeback hours: 0.5\n"
	rc := Repairs(judged(.1, .5, .1, .2, .1), mustPrices(t, text))
	if rc.Best != nil || rc.Perfect != 0 || len(rc.Tests) != 0 || strings.Join(rc.Missing, "; ") != "air case hours" {
		t.Errorf("%+v", rc)
	}
	for i := range rc.Choices {
		c := &rc.Choices[i]
		if needs := strings.Contains(c.Do, "air case"); (c.Now == nil) != needs || c.Expected != nil || (len(c.Missing) > 0) != needs {
			t.Errorf("%s: %+v", c.Do, c)
		}
	}
	if rc.Renewal == nil {
		t.Error("the actuator's own figures are there")
	}
	// Without the price of a comeback, to wait would always look cheapest.
	rc = Repairs(judged(.1, .5, .1, .2, .1), mustPrices(t, handPrices))
	if rc.Best != nil || strings.Join(rc.Missing, "; ") != "comeback price" || rc.Choices[0].Now == nil {
		t.Errorf("%+v", rc)
	}
}

// 50 + 0.5 h = 100 while open against 200 on another day: from 50 % on.
func TestRenewal(t *testing.T) {
	t.Parallel()
	rep := judged(.05, .05, .05, .8, .05)
	for _, c := range []struct {
		more string
		pays bool
	}{{"", false}, {"horizon: 12\nold actuator fails: 49 %\n", false}, {"horizon: 12\nold actuator fails: 51 %\n", true}} {
		r := Repairs(rep, mustPrices(t, handPrices+c.more)).Renewal
		near(t, "now", r.Now, 100)
		near(t, "later", r.Later, 200)
		near(t, "break-even", r.BreakEven, .5)
		near(t, "opened for another part", r.Opened, .85)
		if r.Pays != c.pays || (r.Chance == nil) != (c.more == "") || r.Note != "" {
			t.Errorf("%q: %+v", c.more, r)
		}
	}
	rep.Verdict.Chain = "Likely order: ..."
	if r := Repairs(rep, mustPrices(t, handPrices)).Renewal; !strings.Contains(r.Note, "likely higher") {
		t.Errorf("with a chain: %+v", r)
	}
	// Where it is reached without opening, nothing is saved.
	if r := Repairs(rep, mustPrices(t, handPrices+"opened for: air case\n")).Renewal; r != nil {
		t.Errorf("not opened for the actuator: %+v", r)
	}
}
