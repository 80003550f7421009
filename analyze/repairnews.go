package analyze

import (
	"math"
	"slices"
)

// onlyNews gives the captures after a change with nothing in them for evidence that the
// captures before show alike, kind and place, where these are judged sound for all that:
// what was there while nothing was wrong is no sign of what came. What shows twice as
// strongly since is news. Without such findings they are the captures themselves.
func onlyNews(before, now []*Capture) []*Capture {
	if len(before) == 0 || len(now) == 0 || judge(before, nil).Verdict.Conclusion != NoFault {
		return now
	}
	return explained(now, func(a *Capture, f *Finding) (string, bool) {
		return "The captures before show the same at the same place, and nothing was wrong then: it is no news.", old(before, a, f)
	})
}

// old tells whether a finding after a change shows in a capture of before alike, in the
// same form and not half as strongly.
func old(before []*Capture, a *Capture, g *Finding) bool {
	return slices.ContainsFunc(before, func(b *Capture) bool {
		return b.Free == a.Free && slices.ContainsFunc(b.Findings, func(f Finding) bool {
			return f.Form == g.Form && f.placed() && sameTrouble(b, &f, a, g) && g.force() < f.force()+math.Ln2
		})
	})
}
