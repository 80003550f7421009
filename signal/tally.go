package signal

import "strings"

// cellTally counts what the cells of one column in the head are.
type cellTally struct {
	n [cellBad + 1]int

	pol, polNonzero, polNumbers int // words and numbers of direction; not rest; numbers
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
			if _, m := scanNumber(t, 0, p.dec); m > 0 {
				a.suffixes[strings.TrimSpace(utf8String(t[m:]))]++
			}
		case cellWord, cellMissing, cellOver, cellNumber:
			if v, ok := c.polarity(t); ok {
				a.pol++
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

func (a *cellTally) addWord(t []byte) {
	if len(a.distinct) < 64 {
		a.distinct[string(t)] = true
	}
	if _, ok := findUnit(utf8String(t)); ok {
		a.unitCells++
	}
}
