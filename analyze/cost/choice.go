package cost

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"threewire/analyze"
	"threewire/analyze/stats"
)

// Repairs works out the choices for a verdict. Probabilities are those that the
// verdict shows.
func Repairs(rep *analyze.Report, prices *Prices) *analyze.RepairChoice {
	p := rep.Verdict.ByFault()
	d := newDecision(p, prices)
	out := &analyze.RepairChoice{File: prices.File, Currency: prices.Currency, Tests: []analyze.TestWorth{}, Assumed: prices.assumed()}
	out.Missing = append([]string{}, prices.missingInAll()...)
	// Where waiting costs as much as to act, it comes after.
	var choices []choice
	for set := range allRepairs {
		choices = append(choices, d.choice(set+1))
	}
	waiting := d.choice(0)
	choices = append(choices, waiting)
	if d.priced {
		byMoney := func(i, j int) bool {
			a, b := &choices[i], &choices[j]
			if a.Offered != b.Offered {
				return a.Offered
			}
			return cents(*a.Expected) < cents(*b.Expected)
		}
		sort.SliceStable(choices, byMoney)
		// The best stays what it is by money; beside it, an idle one is none.
		for i := range choices[1:] {
			if c := &choices[i+1]; idle(c.set, p) {
				c.Offered = false
			}
		}
		sort.SliceStable(choices, byMoney)
		out.Best = d.best(choices)
		if !waiting.Offered {
			out.Best.WaitSaves = math.Max(0, *choices[0].Expected-*waiting.Expected)
		}
		out.Perfect = math.Max(0, stats.EVPI(p, d.utility))
		out.Tests = d.tests(rep.OpenTests())
	}
	for i := range choices {
		out.Choices = append(out.Choices, choices[i].Choice)
	}
	out.Renewal = renewal(rep, prices)
	return out
}

// choice is a first choice with the repairs that it makes.
type choice struct {
	analyze.Choice
	set repairSet
}

// cents takes the last digits of floating point off an amount.
func cents(x float64) float64 { return math.Round(1e4 * x) }

// decision holds every plan with its money under each fault.
type decision struct {
	p      []float64
	prices *Prices
	priced bool                      // in all
	first  [allRepairs + 1]planTable // by the repairs of the first visit
}

// planTable lists plans with their money under each fault, negative as a
// utility is.
type planTable struct {
	plans   []*plan
	utility [][]float64
}

func newDecision(p []float64, prices *Prices) *decision {
	d := &decision{p: p, prices: prices, priced: len(prices.missingInAll()) == 0}
	for _, pl := range allPlans() {
		u := prices.costs(pl)
		for i := range u {
			u[i] = -u[i]
		}
		t := &d.first[pl.do]
		t.plans, t.utility = append(t.plans, pl), append(t.utility, u)
	}
	return d
}

// cheapest is the plan that costs least on average, and its money.
func (t *planTable) cheapest(p []float64) (*plan, float64) {
	i, u := stats.BestAction(p, t.utility)
	return t.plans[i], -u
}

// cures is the chance that what is wrong is put right by a set of repairs; for
// none, that nothing is wrong.
func cures(set repairSet, p []float64) float64 {
	sum := 0.0
	for f, q := range p {
		if r, broken := repairOf(analyze.Fault(f)); broken && set.has(r) || !broken && set == 0 {
			sum += q
		}
	}
	return sum
}

// offered tells whether a first choice may be the best. Nothing broken costs
// nothing more, so that money alone would often have it waited for, however sure
// the fault. But a customer has complained, and that does not go away by
// waiting: it is offered only while it is likelier that nothing is broken than
// that something is. A repair that hardly ever cures is a dear way to wait, and
// not offered either.
func offered(set repairSet, p []float64) bool {
	if set == 0 {
		return cures(0, p) > 0.5
	}
	return cures(set, p) >= hardly
}

// hardly is the chance below which a repair hardly ever cures.
const hardly = 0.05

// idle tells whether a set repairs, beside another, a part that is hardly ever broken:
// nobody would choose it, and it hides what somebody would.
func idle(set repairSet, p []float64) bool {
	parts := set.list()
	return len(parts) > 1 && slices.ContainsFunc(parts, func(r repair) bool { return cures(1<<r, p) < hardly })
}

// cheapest is the plan that costs least on average among those whose first
// choice is offered at these probabilities, and its money. One always is: where
// waiting is not, some part has a sixth or more.
func (d *decision) cheapest(p []float64) (*plan, float64) {
	var best *plan
	least := math.Inf(1)
	for i := range d.first {
		// Waiting last: it must cost less than to act.
		set := repairSet(i+1) & allRepairs
		if !offered(set, p) {
			continue
		}
		if pl, money := d.first[set].cheapest(p); money < least {
			best, least = pl, money
		}
	}
	return best, least
}

// utility is the money of the cheapest plan, negative.
func (d *decision) utility(p []float64) float64 {
	_, money := d.cheapest(p)
	return -money
}

// choice prices one first choice.
func (d *decision) choice(set repairSet) choice {
	c := choice{analyze.Choice{Do: set.do(), Parts: []string{}, Cures: cures(set, d.p), Offered: offered(set, d.p), Missing: d.prices.missing(set)}, set}
	for _, r := range set.list() {
		c.Parts = append(c.Parts, r.part())
	}
	for f, q := range d.p {
		switch r, broken := repairOf(analyze.Fault(f)); {
		case !broken || set.has(r):
		case set == 0:
			c.Returns += q
		default:
			c.Returns += q * (1 - d.prices.figures[lineNoticed])
		}
	}
	if len(c.Missing) == 0 {
		now := d.prices.visit(set, false)
		c.Now = &now
		c.Bought, c.Hours = d.prices.bought(set), d.prices.hours(set, false)
	}
	if !d.priced {
		return c
	}
	pl, expected := d.first[set].cheapest(d.p)
	least, most := math.Inf(1), math.Inf(-1)
	c.Returns = 0 // now that it is known what follows: on any of the visits
	for f, q := range d.p {
		if q > 0 {
			d.prices.follow(pl, analyze.Fault(f), func(chance, money float64, comebacks int) {
				if chance > 0 {
					least, most = math.Min(least, money), math.Max(most, money)
				}
				if comebacks > 0 {
					c.Returns += q * chance
				}
			})
		}
	}
	c.Expected, c.Least, c.Most = &expected, &least, &most
	for pl = pl.returned; pl != nil; pl = pl.returned {
		c.Then = append(c.Then, pl.do.do())
	}
	return c
}

// best compares the choices, best first, and looks for the probabilities at
// which another would be the best.
func (d *decision) best(choices []choice) *analyze.BestChoice {
	b := &analyze.BestChoice{Do: choices[0].Do, Flips: []analyze.Flip{}}
	if next := &choices[1]; next.Offered {
		b.Next, b.Saves = next.Do, *next.Expected-*choices[0].Expected
	}
	for _, of := range []analyze.Fault{analyze.NoFault, analyze.FeedbackSensor, analyze.DoorMechanism, analyze.WiringControl} {
		for _, to := range []float64{0, 1} {
			if f, ok := d.flip(choices[0].set, of.Part(), to); ok {
				b.Flips = append(b.Flips, f)
			}
		}
	}
	sort.SliceStable(b.Flips, func(i, j int) bool {
		return math.Abs(b.Flips[i].At-b.Flips[i].Now) < math.Abs(b.Flips[j].At-b.Flips[j].Now)
	})
	return b
}

// flip moves the probability of a part towards 0 or 1, the others kept in
// proportion, until set is no longer the best first choice.
func (d *decision) flip(set repairSet, part string, to float64) (analyze.Flip, bool) {
	of := func(f int) bool { return analyze.Fault(f).Part() == part }
	now := 0.0
	for f, q := range d.p {
		if of(f) {
			now += q
		}
	}
	if now <= 0 || now >= 1 {
		return analyze.Flip{}, false // no proportion to keep
	}
	then := set
	beaten := func(at float64) bool {
		p := slices.Clone(d.p)
		for f := range p {
			if of(f) {
				p[f] *= at / now
			} else {
				p[f] *= (1 - at) / (1 - now)
			}
		}
		_, own := d.first[set].cheapest(p)
		pl, other := d.cheapest(p)
		if offered(set, p) && own <= other+1e-9*(1+math.Abs(other)) {
			return false
		}
		then = pl.do
		return true
	}
	// The best plan's money is a concave function of the probability, and that
	// of the plans that begin alike another: they may part and meet again, so
	// look in small steps first.
	const steps = 100
	for i := 1; i <= steps; i++ {
		near, far := now+(to-now)*float64(i-1)/steps, now+(to-now)*float64(i)/steps
		if !beaten(far) {
			continue
		}
		for range 40 {
			if mid := (near + far) / 2; beaten(mid) {
				far = mid
			} else {
				near = mid
			}
		}
		beaten(far)
		return analyze.Flip{Part: part, Now: now, At: far, Then: then.do()}, true
	}
	return analyze.Flip{}, false
}

// tests values the tests that the captures have not answered yet.
func (d *decision) tests(open []analyze.OpenTest) []analyze.TestWorth {
	out := []analyze.TestWorth{}
	for _, o := range open {
		var likelihood [][]float64
		for _, x := range o.Outcomes {
			likelihood = append(likelihood, x.Chance)
		}
		t := analyze.TestWorth{Name: o.Name, Minutes: d.prices.testMinutes(o.Name, o.Minutes), Then: []analyze.TestThen{}}
		t.Cost = t.Minutes / 60 * d.prices.figures[lineRate]
		for _, x := range o.Outcomes {
			q, ok := stats.Posterior(d.p, x.Chance)
			if !ok {
				continue
			}
			chance := 0.0
			for f := range d.p {
				chance += d.p[f] * x.Chance[f]
			}
			pl, money := d.cheapest(q)
			then := analyze.TestThen{If: x.Text, Chance: chance, Do: pl.do.do(), Cures: cures(pl.do, q), Expected: money}
			then.Likeliest, then.LikeliestChance = likeliestPart(q)
			t.Then = append(t.Then, then)
		}
		if changesChoice(t.Then) {
			t.Worth = math.Max(0, stats.EVSI(d.p, likelihood, d.utility))
		}
		t.Net = t.Worth - t.Cost
		out = append(out, t)
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].Net > out[b].Net })
	return out
}

// changesChoice tells whether the outcomes of a test lead to more than one first choice.
// Where they do not, the test is worth nothing now: what it would change comes after that
// choice did not cure, and so can the test. No information is worth anything that cannot
// change the act (source: as [stats.EVPI]).
func changesChoice(then []analyze.TestThen) bool {
	return slices.ContainsFunc(then, func(t analyze.TestThen) bool { return t.Do != then[0].Do })
}

// likeliestPart is the part that is likeliest at fault, "none" for no fault, and its
// probability.
func likeliestPart(p []float64) (string, float64) {
	parts := map[string]float64{}
	best := analyze.NoFault.Part()
	for f, q := range p {
		part := analyze.Fault(f).Part()
		if parts[part] += q; parts[part] > parts[best] {
			best = part
		}
	}
	return best, parts[best]
}

// renewal compares the actuator's price while the dashboard is open with what
// it costs to come back for it. It is nil where prices are missing, or where
// the actuator is reached without opening: then nothing is saved.
func renewal(rep *analyze.Report, p *Prices) *analyze.Renewal {
	if len(p.missing(1<<actuator)) > 0 || !p.opens.has(actuator) || p.figures[lineOpening]*p.figures[lineRate] == 0 {
		return nil
	}
	r := &analyze.Renewal{Now: p.visit(1<<actuator, true), Later: p.later()}
	r.BreakEven = r.Now / r.Later
	for _, c := range rep.Verdict.PartChances {
		for _, other := range []repair{airCase, wiring} {
			if p.opens.has(other) && c.Part == other.part() {
				r.Opened += c.Probability
			}
		}
	}
	if q, ok := p.figures[lineOldFails]; ok {
		r.Chance, r.Months = &q, p.figures[lineHorizon]
		r.Pays = q*r.Later > r.Now
	}
	if rep.Verdict.Chain != "" {
		r.Note = "the captures show that this one has been labouring (" + chainMark + "): its chance of failing is then likely higher than your figure for any old one"
	}
	return r
}

// chainMark says where the order of faults stands in the output.
const chainMark = "see the order of faults under the verdict"

// assumed says in plain sentences what the money rests on.
func (p *Prices) assumed() []string {
	out := []string{
		"one fault at a time; a repair of the right part cures, one that did not cure rules its part out, and the next best follows until it is cured",
		"where nothing is broken, the customer does not come back",
		"what cures less than one time in twenty is no choice, nor is leaving it while something is likelier broken than not",
	}
	add := func(line, text string) {
		if _, ok := p.figures[line]; !ok {
			out = append(out, text+" (no line \""+line+"\")")
		}
	}
	if !p.opensGiven {
		out = append(out, "all three repairs need the dashboard opened (no line \""+lineOpenedFor+"\")")
	}
	add(lineNoticed, "a repair that did not cure is noticed by the customer, not before closing")
	if q, ok := p.figures[lineOldFails]; ok && p.priced(1<<actuator) {
		out = append(out, fmt.Sprintf("an actuator that was not replaced fails within %.0f months with a chance of %.0f %%, and costs %s then; what may follow holds that, on average and at worst", p.figures[lineHorizon], 100*q, p.amount(p.later())))
	}
	add(lineOldFails, "an old actuator left in place costs nothing later")
	return out
}
