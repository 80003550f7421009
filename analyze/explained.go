package analyze

import "slices"

// explained gives the captures with nothing in them for evidence that something else than a
// fault of now accounts for: why tells by what a finding is, and false where it is evidence.
// Captures without such findings are as given, and none given is changed.
func explained(now []*Capture, why func(a *Capture, f *Finding) (because string, ok bool)) []*Capture {
	out := slices.Clone(now)
	for i, a := range now {
		c := *a
		for k := range a.Findings {
			because, ok := why(a, &a.Findings[k])
			if !ok {
				continue
			}
			if out[i] == a {
				c.Findings = slices.Clone(a.Findings)
				out[i] = &c
			}
			c.Findings[k].Weights = make([]float64, len(a.Findings[k].Weights))
			c.Findings[k].Because = because
		}
	}
	return out
}
