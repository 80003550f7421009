package analyze

import (
	"cmp"
	"math"
	"slices"
)

// sayOnce leaves of what several captures do not show, each with other numbers, the
// one that claims least: what the coarsest of them would have missed may be there,
// and the shortest of them says the least of a trend.
func sayOnce(absent []string, captures []*Capture) []string {
	for kind, claims := range map[Kind]func(*Capture) float64{
		DeadSpot:  func(c *Capture) float64 { return -c.leastHold / math.Max(c.Span.Width(), 1e-9) },
		SpanDrift: func(c *Capture) float64 { return float64(len(c.Sweeps)) },
		Heating:   func(c *Capture) float64 { return float64(len(c.Sweeps)) },
	} {
		type said struct {
			text   string
			claims float64
		}
		var all []said
		for _, c := range captures {
			for _, a := range c.Absent {
				if a.Kind == kind && slices.Contains(absent, a.Text) {
					all = append(all, said{a.Text, claims(c)})
				}
			}
		}
		if len(all) < 2 {
			continue
		}
		keep := slices.MinFunc(all, func(a, b said) int { return cmp.Compare(a.claims, b.claims) }).text
		absent = slices.DeleteFunc(absent, func(s string) bool {
			return s != keep && slices.ContainsFunc(all, func(x said) bool { return x.text == s })
		})
	}
	return absent
}

// notDenied leaves out what the captures after a repair would seem to deny: what was wrong
// and may have been missed, and what is new beside those of before.
func (r *Repair) notDenied(absent []string, now []*Capture) []string {
	doubted := map[Kind]bool{}
	for _, f := range r.Findings {
		if f.State != "gone" {
			doubted[f.Finding] = true
		}
	}
	for _, n := range r.New {
		doubted[n.Finding] = true
	}
	return leaveOut(absent, now, doubted)
}

// leaveOut takes from what the captures do not show what is of such kinds.
func leaveOut(absent []string, captures []*Capture, kinds map[Kind]bool) []string {
	return slices.DeleteFunc(absent, func(s string) bool {
		return slices.ContainsFunc(captures, func(c *Capture) bool {
			return slices.ContainsFunc(c.Absent, func(a Absence) bool { return a.Text == s && kinds[a.Kind] })
		})
	})
}
