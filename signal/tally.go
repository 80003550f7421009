package signal

import "strings"

// cellTally counts what the cells of one column in the head are.
type cellTally struct {
	n [cellBad + 1]int

	pol, polNonzero, polNumbers int // words and numbers of direction; not rest; numbers
	dashes, plusses, turns      int // lone dashes and plus signs; words of a direction
	onOff                       int
	distinct                    map[string]bool // words, up to 64
	unitCells                   int             // words that are units
	stamps                      []stamp
	suffixes                    map[string]int // units behind numbers
}

func (a *cellTally) numeric() int { return a.n[cellNumber] + a.n[cellQuantity] + a.n[cellGrouped] }

func (a *cellTally) filled() int {
	return a.numeric() + a.n[cellClock] + a.n[cellWord] + a.n[cellBad] + a.n[cellOver] + a.n[cellMissing]
}

// tally counts the cells of column j.
func (p *plan) tally(j int) *cellTally {
	c := &p.cols[j]
	a := &cellTally{distinct: map[string]bool{}, suffixes: map[string]int{}}
	rests, highLow := 0, 0
	for i := p.first; i < p.end; i++ {
		if p.kinds[i] == nil {
			continue
		}
		k := p.kind(i, j)
		a.n[k]++
		t := p.text(i, j)
		switch k {
		case cellClock:
			if s, ok := readClock(t); ok && len(a.stamps) < 4000 {
				a.stamps = append(a.stamps, s)
			}
		case cellQuantity:
			if _, m := scanNumber(t, 0, p.decOf(j)); m > 0 {
				a.suffixes[strings.TrimSpace(utf8String(t[m:]))]++
			}
		case cellWord, cellMissing, cellOver, cellNumber:
			if v, ok := c.polarity(t); ok {
				a.pol++
				a.addSign(t, v)
				if v != 0 {
					a.polNonzero++
				} else {
					rests++
				}
				if k == cellNumber {
					a.polNumbers++
				}
				if u := t[0] | 0x20; len(t) == 1 && (u == 'h' || u == 'l') {
					highLow++
				}
			}
			if k == cellNumber {
				continue // no word
			}
			if _, ok := onOffWords[strings.ToLower(string(t))]; ok {
				a.onOff++
			}
			if k == cellWord {
				a.addWord(t)
			}
		}
	}
	if highLow > 0 && highLow == a.polNonzero && rests == 0 {
		a.pol, a.polNonzero = 0, 0 // nothing but H and L: a logic line
	}
	return a
}

// signsAndRests tells a column that says the direction by words or signs and the rest, which
// may be most of it, by 0.
func (a *cellTally) signsAndRests(c *planCol) bool {
	r, _ := headerRole(c.name)
	return (c.direction || r == Drive && c.unit.q == noQuantity) && a.turns+a.plusses > 0 && a.polNumbers > 0 && a.polNumbers == a.numeric() && a.pol*10 >= a.filled()*9
}

// addSign counts what tells whether a dash stands for minus or for nothing.
func (a *cellTally) addSign(t []byte, v float64) {
	switch {
	case len(t) == 1 && t[0] == '-':
		a.dashes++
	case len(t) == 1 && t[0] == '+':
		a.plusses++
	case v != 0 && (t[0] < '0' || t[0] > '9') && t[0] != '-' && t[0] != '+':
		a.turns++
	}
}

func (a *cellTally) addWord(t []byte) {
	if len(a.distinct) < 64 {
		a.distinct[string(t)] = true
	}
	if _, ok := findUnit(utf8String(t)); ok {
		a.unitCells++
	}
}
