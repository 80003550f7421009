package analyze

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// Outcomes of the tests are told in full: of each fault, one of them comes. Else what a
// test is worth in money would be no expectation either.
func TestOutcomesOfATestAddUp(t *testing.T) {
	for _, tr := range catalogue() {
		for f := range faultCount {
			sum := 0.0
			for _, o := range tr.outcomes {
				sum += o.p[f]
			}
			if math.Abs(sum-1) > 1e-9 {
				t.Errorf("%s: the outcomes of %s add up to %g", tr.name, Fault(f), sum)
			}
		}
	}
}

// What outcomes would do to the verdict adds up to what it states now, by their chances:
// of each fault, in each test that is offered; and the text gives these numbers.
func TestOutcomesAddUpToTheVerdict(t *testing.T) {
	t.Parallel()
	sticks := func(seed uint64, at, width float64) *draft {
		d := newDraft(seed)
		d.speed = func(d *draft, dir float64) float64 {
			if math.Abs(d.x-at) < width {
				return 0.3
			}
			return 1
		}
		return d.sweeps(2)
	}
	stuck := newDraft(6)
	stuck.speed = func(*draft, float64) float64 { return 0 }
	stuck.run(0, 1).run(12, 8).run(0, 1).run(-12, 8).run(0, 1)
	jam := newDraft(7)
	jam.block = func(d *draft, dir float64) bool { return dir > 0 && d.x > 3.1 }
	worn := newDraft(8)
	worn.read = func(d *draft) float64 {
		if d.x > 2 && d.x < 2.3 {
			return 0
		}
		return d.x
	}
	tests := 0
	for k, d := range []*draft{newDraft(1).sweeps(1), newDraft(2).sweeps(4), sticks(3, 2.5, 0.2), sticks(4, 3.5, 0.05), newDraft(5).run(0, 1).run(12, 2).run(0, 1), stuck, jam.sweeps(2), worn.sweeps(2)} {
		c, v := look(t, d)
		p := v.ByFault()
		texts := map[string]string{}
		for _, n := range rankedTests(p, []*Capture{c}) {
			texts[n.Name] = strings.Join(n.Outcomes, "; ")
		}
		for _, tr := range openTrials([]*Capture{c}) {
			lines, offered := texts[tr.name]
			if !offered {
				continue
			}
			tests++
			outcomes := tr.after(p)
			for f, now := range p {
				sum, least, most := 0.0, 1.0, 0.0
				for _, o := range outcomes {
					sum += o.chance * o.p[f]
					least, most = math.Min(least, o.p[f]), math.Max(most, o.p[f])
				}
				if math.Abs(sum-now) > 1e-9 || least > now+1e-9 || most < now-1e-9 {
					t.Errorf("draft %d, %s, %s: %g now, %g by the outcomes, from %g to %g", k, tr.name, Fault(f), now, sum, least, most)
				}
			}
			if untested([]*Capture{c}) {
				continue
			}
			for _, o := range outcomes {
				if o.chance < 0.02 {
					continue
				}
				// Alike outcomes share a line, whose ends are numbers of single ones.
				near := slices.ContainsFunc(outcomes, func(x posterior) bool {
					return x.chance >= 0.02 && x.best == o.best && math.Abs(x.p[x.best]-o.p[o.best]) <= 0.1 && strings.Contains(lines, strings.TrimSuffix(percentText(x.p[x.best]), " %"))
				})
				if !near || !strings.Contains(lines, fmt.Sprint(Fault(o.best))) {
					t.Errorf("draft %d, %s: %q is %s %.3f, but the text says %q", k, tr.name, o.text, Fault(o.best), o.p[o.best], lines)
				}
			}
		}
	}
	if tests < 20 {
		t.Errorf("only %d tests were offered", tests)
	}
}
