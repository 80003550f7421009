package signal

import (
	"slices"
	"strings"
)

// letterPairs are the letters by which two ways of a drive are told apart: forward and
// reverse, left and right, two ways or leads by order, up and down, positive and negative,
// extend and retract, forward and backward, high and low, the German, Spanish and Italian
// ones, hot or heat and cold, open and close. Where two pairs are among three letters the
// earlier one is meant, and the third letter is the rest: brake beside forward and reverse,
// hold beside left and right.
var letterPairs = []string{"fr", "lr", "ab", "ud", "pn", "er", "vr", "fb", "hl", "az", "kw", "hc", "oc"}

// letterSigns reads a column of single letters by all of them together: the two of one pair
// say the ways, and one more, whatever it is, the rest. A letter by itself does not tell: O is
// open beside C, and off beside F and R. It is nil where no pair is among them, and knows
// none of the letters where they are hot, cold and off as well as open, close and hold.
func (p *plan) letterSigns(j int) map[string]float64 {
	seen := ""
	for i := p.first; i < p.end; i++ {
		if p.kinds[i] == nil {
			continue
		}
		t := p.text(i, j)
		if len(t) == 0 || len(t) == 1 && strings.ContainsRune("0-.", rune(t[0])) {
			continue
		}
		u := t[0] | 0x20
		if len(t) > 1 || u < 'a' || u > 'z' {
			return nil
		}
		if !strings.ContainsRune(seen, rune(u)) {
			seen += string(u)
		}
	}
	signs := map[string]float64{"0": 0, "-": 0, ".": 0}
	has := func(letters string) bool {
		return !strings.ContainsFunc(letters, func(r rune) bool { return !strings.ContainsRune(seen, r) })
	}
	k := slices.IndexFunc(letterPairs, has)
	switch {
	case k < 0 || len(seen) > 3:
		return nil
	case has("hco"):
		return signs
	}
	for _, u := range seen {
		signs[string(u)] = 0
	}
	signs[letterPairs[k][:1]], signs[letterPairs[k][1:]] = 1, -1
	return signs
}
