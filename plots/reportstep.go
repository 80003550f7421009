package plots

import (
	"fmt"
	"slices"
	"strings"

	"threewire/analyze"
)

// stepWords is what to do next: the repair the verdict points to, and the one
// test that would tell most.
func stepWords(rep *analyze.Report) (step, test string, procedure shortened) {
	v := &rep.Verdict
	step = repairStep(rep)
	if order, decided := boughtStep(rep); decided {
		return order, "", shortened{}
	}
	if rep.Compared != nil {
		if s := rep.Compared.Second(v.Conclusion); s != "" {
			step += " " + s + " Settle that before anything is closed again."
		}
	}
	if untestedStep(rep) {
		return step, "", shortened{}
	}
	if len(v.Next) == 0 || !v.WorthTesting() {
		if surer := rep.Surer(); len(surer) > 0 {
			test, _, _ = strings.Cut(surer[0], ":") // why is for the technician
		}
		return step, test, shortened{}
	}
	n := &v.Next[0]
	test = n.Name
	if n.Minutes > 0 {
		test += fmt.Sprintf(" (about %.0f minutes)", n.Minutes)
	}
	var steps []string
	for _, t := range n.Procedure {
		// How to hand a capture to the program is nothing to the customer.
		t, _, _ = strings.Cut(t, " and give it with --")
		if !strings.Contains(t, "--") {
			steps = append(steps, t)
		}
	}
	return step, test, inFull(steps)
}

// repairStep is the repair that the verdict points to, and whether the test comes first.
func repairStep(rep *analyze.Report) string {
	v := &rep.Verdict
	step := ""
	switch v.Conclusion {
	case analyze.NoFault:
		return "No repair. If the complaint stays: see whether the air and the door follow, and log again while it shows."
	case analyze.FeedbackSensor, analyze.Motor:
		step = "Renew the actuator, then log again to prove the repair."
	case analyze.DoorMechanism:
		step = doorStep(rep)
	case analyze.WiringControl:
		step = "Check plugs, wires, supply and the commanding unit before renewing any actuator."
	default:
		return "Do not buy parts yet: make the test below first."
	}
	if c, other := rep.FirstByPrices(); other {
		return fmt.Sprintf("%s first: it is the least dear way to begin, though it cures with a chance of %s only. If it does not cure: %s", upper(c.Do), percent(c.Cures), lowerFirst(step))
	}
	// Where the test may well turn the verdict, it comes before the parts.
	if len(v.Next) > 0 && v.Next[0].Turns {
		if untestedStep(rep) {
			return step + " A test beforehand would cost more than it saves."
		}
		step += " First make the test below: it may turn the verdict."
	}
	return step
}

func doorStep(rep *analyze.Report) string {
	step := "Look for what holds the door: something fallen in, a broken door or linkage."
	if rep.DragsAllAlong() {
		step = "Look at the door's pivots and linkage first: what is dry or dirty there slows it both ways. Clean and grease them as the service manual says; then look for what rubs or is bent."
	}
	switch {
	case !rep.NamedFirst(): // by the shop's prices
	case rep.MayRenewActuator():
		step += " Do not renew the actuator before the test below."
	default:
		step += " Do not renew the actuator for it."
	}
	return step
}

// untestedStep tells whether a shop's prices leave the test out of a verdict that names a
// fault.
func untestedStep(rep *analyze.Report) bool {
	v := &rep.Verdict
	return v.Conclusion > analyze.NoFault && len(v.Next) > 0 && v.Next[0].Turns && rep.NoTestPays()
}

func lowerFirst(s string) string { return strings.ToLower(s[:1]) + s[1:] }

// boughtStep is the repair to begin with where the verdict is open and a shop's prices
// decide it: no test is worth its price, and one repair is likelier to cure than not.
func boughtStep(rep *analyze.Report) (string, bool) {
	c, ok := rep.PricesDecide()
	if !ok {
		return "", false
	}
	return fmt.Sprintf("%s (it cures with a chance of %s): a test beforehand would cost more than it saves. Then log again to prove the repair.", upper(c.Do), percent(c.Cures)), true
}

// showsWords say what the outcomes of the test would mean.
func showsWords(rep *analyze.Report, test string) shortened {
	v := &rep.Verdict
	if len(v.Next) == 0 || !strings.HasPrefix(test, v.Next[0].Name) {
		return shortened{}
	}
	return inFull(v.Next[0].Outcomes)
}

// whyWords say in one sentence why what was found points to what is named.
func whyWords(v *analyze.Verdict) string {
	if v.Conclusion <= analyze.NoFault || len(v.For) == 0 || v.For[0].Because == "" {
		return ""
	}
	return fmt.Sprintf("Why this points to the %s: %s.", v.Conclusion, lowerFirst(strings.TrimSuffix(plain(v.For[0].Because), ".")))
}

// elseWords say what comes next if the repair does not cure: what a customer who pays for
// a chance must know beforehand.
func elseWords(rep *analyze.Report) string {
	v := &rep.Verdict
	if v.Conclusion <= analyze.NoFault || rep.Choice != nil && !rep.NamedFirst() {
		return ""
	}
	part, p := v.NextPart()
	if p < 0.02 { // said of a hundred
		return "If that does not cure it, log again: no other cause was likely."
	}
	return fmt.Sprintf("If that does not cure it, the fault is most likely in the %s (now %s): look there next, and log again before anything more is renewed.", part, percent(p))
}

// partWords say how likely the part to pay for is at fault, where that is another number
// than the component's.
func partWords(v *analyze.Verdict) string {
	if v.Conclusion <= analyze.NoFault {
		return ""
	}
	i := slices.IndexFunc(v.PartChances, func(c analyze.PartChance) bool { return c.Part == v.Part })
	if i < 0 || percent(v.PartChances[i].Probability) == percent(v.Probability) {
		return ""
	}
	return fmt.Sprintf(" The part to pay for, the %s, is at fault with a chance of %s.", v.Part, percent(v.PartChances[i].Probability))
}

// repaired lays over the words what is to be done after a repair, and over the sign of a
// verdict that finds nothing that the repair is not proven by it.
func (w *reportWords) repaired(rep *analyze.Report) {
	r := rep.Repair
	w.Headline = repairWords(r) + w.Headline
	if rep.Verdict.Conclusion != analyze.NoFault {
		return
	}
	w.Test, w.Procedure, w.Shows = "", shortened{}, shortened{}
	if r.Result == analyze.RepairProven {
		w.Step = "Nothing more. If the complaint comes back, log again while it shows."
		return
	}
	w.Fault = analyze.CannotTell // no tick
	w.Step = "Do not take the repair for proven yet: nothing wrong shows after it, but what was wrong before might have been missed."
	if r.Result == analyze.RepairNotProven {
		w.Step = "The repair is not proven: look again at what was wrong before."
	}
	if len(r.Missing) > 0 {
		var ways []string
		for _, t := range r.Missing { // flags are nothing to the customer
			ways = append(ways, strings.ReplaceAll(t, " (--profile)", ""))
		}
		w.Test, w.Procedure = "What would settle it:", inFull(ways)
	}
}
