package analyze

import (
	"fmt"
	"math"
	"slices"
)

// fillEvidence sorts the findings into for and against the likeliest fault.
func fillEvidence(v *Verdict, captures []*Capture, best Fault) {
	for _, c := range captures {
		for i := range c.Findings {
			f := &c.Findings[i]
			other := math.Inf(-1)
			for k, x := range f.Weights {
				if Fault(k) != best {
					other = math.Max(other, x)
				}
			}
			e := Evidence{Finding: f.Kind, Text: f.Title, Because: f.Because, Time: f.Time, Volts: f.Volts, Ratio: math.Exp(f.Weights[best] - other), Tie: f.Told, places: timesOf(f.Places), seen: f.Seen}
			if len(captures) > 1 {
				e.Capture = c.Source
			}
			if e.Ratio < 1 && c.overruled(f) {
				continue
			}
			// What points at two components alike is evidence for either, what points
			// at none only for a sound actuator.
			if e.Ratio >= 1 && (best == NoFault || f.force() > 0) || e.Ratio >= 0.5 && f.Weights[best]-f.Weights[NoFault] > math.Log(3) {
				v.For = append(v.For, e)
			} else {
				v.Against = append(v.Against, e)
			}
		}
		// What an uncoupled run lacks is the comparison's business; here it
		// would only repeat the coupled one in other numbers.
		if c.Free && len(captures) > 1 {
			continue
		}
		if c.Free {
			v.Unknown = appendNew(v.Unknown, "the actuator was logged off its door: nothing of this tells how the door is")
		}
		for _, a := range c.Absent {
			if !shownBy(captures, a.Kind) && !(a.Kind == Jam && standsShort(captures)) {
				v.Absent = appendNew(v.Absent, a.Text)
			}
		}
		for _, a := range c.Blind {
			text := a.Text
			// What another of the captures can tell is said of this one only.
			if slices.ContainsFunc(captures, func(o *Capture) bool { return o.Free == c.Free && !slices.Contains(o.Blind, a) }) {
				text += " (" + c.Source + ")"
			}
			v.Unknown = appendNew(v.Unknown, text)
		}
	}
	v.For, v.Against = fewSpells(v.For), fewSpells(v.Against)
}

// mostSpells is how many spells of hunting of one capture are listed: more of them
// say the same.
const mostSpells = 3

// fewSpells keeps the strongest spells of hunting of each capture, which come first,
// and says how many more there are.
func fewSpells(all []Evidence) []Evidence {
	var out []Evidence
	n, last := map[string]int{}, map[string]int{}
	for _, e := range all {
		if e.Finding == Hunting {
			if n[e.Capture]++; n[e.Capture] > mostSpells {
				continue
			}
			last[e.Capture] = len(out)
		}
		out = append(out, e)
	}
	for name, k := range n {
		if more := k - mostSpells; more > 0 {
			e := &out[last[name]]
			e.Text = fmt.Sprintf("%s And %s of hunting.", e.Text, counted(more, "more spell"))
		}
	}
	return out
}

// overruled tells whether a finding is only what another one, of the same event and
// likelier than not, makes the reading look like.
func (c *Capture) overruled(f *Finding) bool {
	return f.Strength <= 0.3 && slices.ContainsFunc(c.Findings, func(g Finding) bool {
		return g.Event == f.Event && g.Kind != f.Kind && g.Strength > 0.5
	})
}

// shownBy tells whether any of the captures shows a kind of finding: what one of
// them shows another cannot deny.
func shownBy(captures []*Capture, k Kind) bool {
	return slices.ContainsFunc(captures, func(c *Capture) bool {
		return slices.ContainsFunc(c.Findings, func(f Finding) bool { return f.Kind == k && f.force() > math.Log(2) })
	})
}

// standsShort tells whether any of the captures shows the shaft standing under drive on its
// way: then no reader takes it that no stall was found, though it went on each time.
func standsShort(captures []*Capture) bool {
	return shownBy(captures, Pauses) || shownBy(captures, StickSlip) || slices.ContainsFunc(captures, func(c *Capture) bool {
		return slices.ContainsFunc(c.Findings, func(f Finding) bool {
			return f.Kind == SlowZone && f.Form == standsAndGoes && f.force() > math.Log(2)
		})
	})
}

func appendNew(s []string, x string) []string {
	for _, y := range s {
		if x == y {
			return s
		}
	}
	return append(s, x)
}
