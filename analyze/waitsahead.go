package analyze

import "math"

// runsAhead tells whether somewhere else nearly all passes, and those of both directions,
// get ahead of their pace by a good part of what they fall behind where they wait, pass
// after pass beyond what they scatter: no gear and no catch gives travel, and a spring
// gives it one way. A track that is worn reads too little here and too much there,
// whichever way it is passed.
func runsAhead(all []lags, p *waitPlace) bool {
	usual, _ := p.behind()
	if len(all) == 0 {
		return false
	}
	for c := range all[0].behind {
		var ahead, crossed [2]int
		for i := range all {
			l := &all[i]
			if c >= len(l.behind) || math.IsNaN(l.behind[c]) {
				continue
			}
			d := side(l.dir)
			crossed[d]++
			if l.behind[c] < -math.Max(waitWithin*usual, 2*l.scatter) {
				ahead[d]++
			}
		}
		if ahead[0] >= 2 && ahead[1] >= 2 && 5*ahead[0] >= 4*crossed[0] && 5*ahead[1] >= 4*crossed[1] {
			return true
		}
	}
	return false
}
