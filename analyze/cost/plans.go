package cost

import "threewire/analyze"

// plan is what to repair in one visit, and how to go on when that did not
// cure. A repair that did not cure rules its part out. A first visit without
// any repair waits and sees.
type plan struct {
	do       repairSet
	noticed  *plan // it was noticed before the dashboard was closed
	returned *plan // the customer came back
}

// plansFor lists every way to work through the parts that may be at fault:
// 1, 3 and 31 of them for one, two and three parts.
func plansFor(left repairSet) []*plan {
	var out []*plan
	for do := repairSet(1); do <= left; do++ {
		switch {
		case do&^left != 0:
		case do == left:
			out = append(out, &plan{do: do})
		default:
			next := plansFor(left &^ do)
			for _, noticed := range next {
				for _, returned := range next {
					out = append(out, &plan{do, noticed, returned})
				}
			}
		}
	}
	return out
}

// allPlans lists the plans that begin at once, and those that wait first.
func allPlans() []*plan {
	now := plansFor(allRepairs)
	out := now
	for _, p := range now {
		out = append(out, &plan{returned: p})
	}
	return out
}

// follow tells add what a plan comes to when a fault is the one there is: each
// way it can go, with its chance, its money, and how often the customer comes back
// on it. Assumed are one fault, a
// repair that cures when it is of the right part, and no comeback where nothing
// is broken. An actuator left in place may fail by itself within the horizon.
func (p *Prices) follow(pl *plan, f analyze.Fault, add func(chance, money float64, comebacks int)) {
	broken, is := repairOf(f)
	old := p.figures[lineOldFails]
	var visit func(pl *plan, open bool, done repairSet, chance, money float64, comebacks int)
	visit = func(pl *plan, open bool, done repairSet, chance, money float64, comebacks int) {
		if chance == 0 {
			return
		}
		money += p.visit(pl.do, open)
		open = open || pl.do&p.opens != 0
		done |= pl.do
		switch {
		case is && !done.has(broken):
			noticed := p.figures[lineNoticed]
			if pl.do == 0 {
				noticed = 0
			}
			visit(pl.noticed, open, done, chance*noticed, money, comebacks)
			visit(pl.returned, false, done, chance*(1-noticed), money+p.comeback(), comebacks+1)
		case !done.has(actuator) && old > 0:
			add(chance*old, money+p.later(), comebacks)
			add(chance*(1-old), money, comebacks)
		default:
			add(chance, money, comebacks)
		}
	}
	visit(pl, false, 0, 1, 0, 0)
}

// costs is the expected money of a plan under each fault.
func (p *Prices) costs(pl *plan) []float64 {
	faults := analyze.Faults()
	out := make([]float64, len(faults))
	for _, f := range faults {
		p.follow(pl, f, func(chance, money float64, _ int) { out[f] += chance * money })
	}
	return out
}
