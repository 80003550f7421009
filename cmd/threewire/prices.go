package main

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"threewire/analyze"
	"threewire/analyze/cost"
	"threewire/fixtures"
)

// pricesHelp tells how a prices file is written.
func pricesHelp() string {
	return `
A prices file has the shop's own figures, one a line, for --prices; there are
none built in. What is left out is said, and what needs it has no price:

` + regexp.MustCompile(`(?m)^`).ReplaceAllString(strings.TrimSpace(fixtures.ShopPrices()), "  ") + "\n"
}

// readPrices reads a shop's prices.
func readPrices(path string) (*cost.Prices, error) {
	text, err := pricesFile.open(path)
	if err != nil {
		return nil, err
	}
	return cost.Parse(path, text)
}

// costTitle heads what a check says of money.
const costTitle = "What each choice costs"

// repairChoice says what to do first by the shop's own figures, and what each
// choice risks in money.
func (s *statement) repairChoice(rep *analyze.Report) {
	rc := rep.Choice
	s.section(costTitle)
	if rc.Best != nil {
		s.bestChoice(rep)
	} else {
		s.item(fmt.Sprintf("No best choice is named: what follows when one does not cure takes the figures of all three repairs and of a comeback. Missing in %s: %s.", rc.File, quoted(rc.Missing)))
	}
	together := 0
	for i := range rc.Choices {
		c := &rc.Choices[i]
		// Waiting is said in any case: it is what the others are measured by.
		if c.Expected != nil && !c.Offered && len(c.Parts) > 0 {
			continue
		}
		// Of those that repair several parts in one go, the cheapest.
		if len(c.Parts) > 1 {
			if together++; together > 1 || c.Expected == nil {
				continue
			}
		}
		s.item(choiceLine(c, rc.Currency))
		s.cells(choiceHead(), choiceCells(c, rc.Currency))
	}
	// Below one in ten it would only be one more line.
	if r := rc.Renewal; r != nil && r.Opened >= 0.1 {
		s.item(renewalLine(r, rc.Currency))
	}
	s.item("Amounts by the figures in " + rc.File + ".")
	if rc.Best != nil {
		s.note("Assumed: " + strings.Join(rc.Assumed, "; ") + ".")
	}
}

func quoted(lines []string) string { return `"` + strings.Join(lines, `", "`) + `"` }

// choiceName is a choice in short.
func choiceName(c *analyze.Choice) string {
	name := strings.ToUpper(c.Do[:1]) + c.Do[1:]
	switch len(c.Parts) {
	case 0:
		return name
	case 1:
		return name + " first"
	}
	return name + " in one go"
}

// choiceHead heads the columns of [choiceCells].
func choiceHead() []string {
	return []string{"choice", "costs now", "cures", "customer comes back", "with all that may follow"}
}

// choiceCells is [choiceLine] as a row of a table; none of what has no price.
func choiceCells(c *analyze.Choice, currency string) []string {
	money := moneyIn(currency)
	if c.Now == nil {
		return nil
	}
	back, all := "-", "-"
	if c.Returns > 0 {
		back = sure(c.Returns)
		if c.Expected == nil && len(c.Parts) > 0 {
			back += " or more"
		}
	}
	if c.Expected != nil {
		all = money(*c.Expected)
		if money(*c.Least) != money(*c.Most) {
			all += fmt.Sprintf(" (%s to %s)", analyze.Amount("", *c.Least), analyze.Amount("", *c.Most))
		}
	}
	now := money(*c.Now)
	if len(c.Parts) > 0 {
		now += fmt.Sprintf(" (%s)", holds(c, currency))
	}
	return []string{choiceName(c), now, sure(c.Cures), back, all}
}

// holds says what the price of a first visit is made of: what is called opening a case
// can hold a new one.
func holds(c *analyze.Choice, currency string) string {
	return fmt.Sprintf("parts %s, work %s h", analyze.Amount(currency, c.Bought), strconv.FormatFloat(math.Round(100*c.Hours)/100, 'f', -1, 64))
}

// moneyIn says amounts in a currency.
func moneyIn(currency string) func(float64) string {
	return func(x float64) string { return analyze.Amount(currency, x) }
}

// choiceLine is one choice in one sentence.
func choiceLine(c *analyze.Choice, currency string) string {
	name, money := choiceName(c), moneyIn(currency)
	if c.Now == nil {
		return fmt.Sprintf("%s: not priced, for want of %s.", name, quoted(c.Missing))
	}
	s := fmt.Sprintf("%s: costs %s now (%s). The chance that it cures is %s", name, money(*c.Now), holds(c, currency), sure(c.Cures))
	if len(c.Parts) == 0 {
		s = fmt.Sprintf("%s: costs nothing now. The chance that nothing is broken is %s", name, sure(c.Cures))
	}
	if c.Returns > 0 {
		s += fmt.Sprintf(", that the customer comes back %s", sure(c.Returns))
		if c.Expected == nil && len(c.Parts) > 0 {
			s += " or more" // by what follows
		}
	}
	if c.Expected == nil {
		return s + "."
	}
	s += fmt.Sprintf(". With all that may follow: %s on average", money(*c.Expected))
	if money(*c.Least) != money(*c.Most) {
		s += fmt.Sprintf(", at best %s, at worst %s", money(*c.Least), money(*c.Most))
	}
	return s + "."
}

// cures is the chance that a choice cures, 1 for one that is not listed.
func cures(rc *analyze.RepairChoice, do string) float64 {
	for i := range rc.Choices {
		if rc.Choices[i].Do == do {
			return rc.Choices[i].Cures
		}
	}
	return 1
}

// bestChoice names the test that pays, the best first choice and how far the
// probabilities may be off before another is better.
func (s *statement) bestChoice(rep *analyze.Report) {
	rc, b, money := rep.Choice, rep.Choice.Best, moneyIn(rep.Choice.Currency)
	lead := "Best first choice: "
	tested := len(rc.Tests) > 0 && rc.Tests[0].Net > 0
	if tested {
		t := &rc.Tests[0]
		s.item(fmt.Sprintf("%s: %s (about %.0f min). The test costs %s, and what it shows saves %s on average; to know the fault for certain would save %s.", testLead(rep), lower(t.Name), t.Minutes, money(t.Cost), money(t.Worth), money(rc.Perfect)))
		for i := range t.Then { // all, so that the sum can be checked
			s.note(outcomeLine(&t.Then[i], money))
		}
		lead = "Without a test the best first choice is: "
	}
	if cures(rc, b.Do) < 0.5 {
		lead = "The least dear first choice, though likelier not to cure, is: "
		if tested {
			lead = "Without a test the least dear, though likelier not to cure, is: "
		}
	}
	text := lead + b.Do
	switch {
	case b.Next == "":
	case b.Saves < 0.5:
		text += fmt.Sprintf(", but to %s costs no more", b.Next)
	default:
		text += fmt.Sprintf(". It costs %s less on average than the next best, to %s", money(b.Saves), b.Next)
	}
	s.item(text + ". " + flipLine(rc))
	if why := adviceLine(rep); why != "" {
		s.note(why)
	}
	if b.WaitSaves >= 0.5 {
		s.note(fmt.Sprintf("Leaving it would cost %s less still on average, but something is likelier broken than not, and a complaint does not go away by waiting.", money(b.WaitSaves)))
	}
	if len(rc.Tests) > 0 && !tested {
		t, even, rest := &rc.Tests[0], "even the best one", ""
		if v := &rep.Verdict; len(v.Next) > 0 && v.WorthTesting() && v.Next[0].Name == t.Name {
			even, rest = "the first above", ", and no other saves what it costs"
		}
		shows := fmt.Sprintf("what it shows saves only %s on average", money(t.Worth))
		if t.Worth == 0 {
			shows = "whatever it shows, the first choice stays"
		}
		s.item(fmt.Sprintf("No test pays: %s (%s) costs %s, and %s%s. To know the fault for certain would save %s.", even, lower(t.Name), money(t.Cost), shows, rest, money(rc.Perfect)))
	}
}

// outcomeLine says what to do after one outcome of a test; where money speaks for another
// part than the likeliest, that too.
func outcomeLine(o *analyze.TestThen, money func(float64) string) string {
	why := ""
	if o.Cures < o.LikeliestChance && o.Likeliest != analyze.NoFault.Part() {
		why = fmt.Sprintf(" first, for its price (the %s is likelier at fault, %s; this cures with a chance of %s)", o.Likeliest, sure(o.LikeliestChance), sure(o.Cures))
	}
	return fmt.Sprintf("If %s (chance %s): %s%s, which then costs %s on average, with all that may follow.", o.If, sure(o.Chance), o.Do, why, money(o.Expected))
}

// adviceLine says in one sentence why the least dear choice is not what verdict and report
// advise; empty where they agree.
func adviceLine(rep *analyze.Report) string {
	v := &rep.Verdict
	if !rep.NamedFirst() {
		return fmt.Sprintf("That is another part than the verdict's (%s, %s): it is tried first only because it costs less, and going on after it is counted in.", v.Part, sure(partChance(v, v.Part)))
	}
	_, decided := rep.PricesDecide()
	asks := v.Conclusion == analyze.CannotTell && len(v.Next) > 0
	tests := rep.Choice.Tests
	if asks && !decided && len(tests) > 0 && tests[0].Net <= 0 {
		return "The report asks for a test first all the same: no part is sure enough to be bought without one."
	}
	return ""
}

// testLead introduces the test that pays: it is the first of the verdict, unless
// another must come before any, or the verdict needs none.
func testLead(rep *analyze.Report) string {
	if first := rep.FirstOfAll(); first != "" && first != rep.Choice.Tests[0].Name {
		return "Once that is done (" + lower(first) + "), test first"
	}
	if !rep.Verdict.WorthTesting() {
		return "By your prices a test pays, though the verdict asks for none"
	}
	return "Test first"
}

// movedLine says that the prices put a test first, and before which.
func movedLine(rc *analyze.RepairChoice) string {
	than := "does not pay"
	if rc.Moved.Net > 0 {
		than = "saves " + analyze.Amount(rc.Currency, rc.Moved.Net)
	}
	return fmt.Sprintf("It comes first by your prices: after its cost it saves %s on average, and what tells most for its time (%s) %s.", analyze.Amount(rc.Currency, rc.Tests[0].Net), lower(rc.Moved.Before), than)
}

// flipLine says at which probability another choice is better: that of what
// the best choice repairs where it is one part, else the nearest.
func flipLine(rc *analyze.RepairChoice) string {
	b := rc.Best
	if len(b.Flips) == 0 {
		return "That holds however probable each fault is."
	}
	f := b.Flips[0]
	own := "none"
	for i := range rc.Choices {
		if c := &rc.Choices[i]; c.Do == b.Do && len(c.Parts) > 0 {
			own = c.Parts[0]
			if len(c.Parts) > 1 {
				own = ""
			}
		}
	}
	for _, x := range b.Flips {
		if x.Part == own && x.At < x.Now {
			f = x
			break
		}
	}
	what := "the fault is in the " + f.Part
	if f.Part == "none" {
		what = "nothing is broken"
	}
	if f.At < 0.1 && f.Now > 0.5 {
		// What is best then is the answer to another question.
		return fmt.Sprintf("That holds unless a test all but rules out that %s (chance below %s, now %s).", what, sure(f.At), sure(f.Now))
	}
	if f.At < f.Now {
		return fmt.Sprintf("It stays the best as long as the chance that %s is above %s (now %s); below that, better: %s.", what, sure(f.At), sure(f.Now), f.Then)
	}
	return fmt.Sprintf("It stays the best as long as the chance that %s is below %s (now %s); above that, better: %s.", what, sure(f.At), sure(f.Now), f.Then)
}

// renewalLine says whether to renew the actuator while the dashboard is open.
func renewalLine(r *analyze.Renewal, currency string) string {
	money := moneyIn(currency)
	s := fmt.Sprintf("If the dashboard is opened for something else, a new actuator costs %s then, and %s on another day", money(r.Now), money(r.Later))
	switch {
	case r.Chance == nil:
		s += fmt.Sprintf(". Renewing it then pays where the old one's chance to fail before you would want to be called back is more than %s (no line \"old actuator fails\").", sure(r.BreakEven))
	case r.Pays:
		s += fmt.Sprintf(". Renewing it then pays: by your figures the old one fails within %.0f months with a chance of %s, and %s is enough.", r.Months, sure(*r.Chance), sure(r.BreakEven))
	default:
		s += fmt.Sprintf(". Renewing it then does not pay: by your figures the old one fails within %.0f months with a chance of %s, and it takes %s or more to pay.", r.Months, sure(*r.Chance), sure(r.BreakEven))
	}
	if r.Note != "" {
		s += " But " + r.Note + "."
	}
	return s
}

func lower(s string) string { return strings.ToLower(s[:1]) + s[1:] }
