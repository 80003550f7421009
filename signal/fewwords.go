package signal

import (
	"fmt"
	"slices"
	"strings"
)

// mostWords is how many different words a column of direction holds at most: two ways,
// rest, brake, coast and what else a controller writes (common practice, no source).
const mostWords = 6

// fewWords lists the words of a column that is not read, where these are few and come again
// and again, as directions do; else it is empty. unknown are those that are no known
// direction.
func (p *plan) fewWords(j int) (words, unknown []string) {
	c := &p.cols[j]
	if c.kind != skipCol {
		return nil, nil
	}
	rows := 0
	for i := p.first; i < p.end; i++ {
		if p.kinds[i] == nil || len(p.text(i, j)) == 0 {
			continue
		}
		text := p.text(i, j)
		if k := p.kind(i, j); k != cellWord || len(text) > 32 {
			return nil, nil
		}
		rows++
		s := utf8String(text)
		if slices.Contains(words, s) {
			continue
		}
		if words = append(words, s); len(words) > mostWords {
			return nil, nil
		}
		if _, ok := c.polarity(text); !ok {
			unknown = append(unknown, s)
		}
	}
	if len(words) < 2 || rows < fewRows {
		return nil, nil
	}
	return words, unknown
}

// wordsUnknown says of a column of few words which of them are no known direction; "" of
// any other column.
func (p *plan) wordsUnknown(j int) string {
	words, unknown := p.fewWords(j)
	if len(unknown) == 0 {
		return ""
	}
	quoted := func(list []string) string {
		var q []string
		for _, w := range list {
			q = append(q, quote([]byte(w)))
		}
		return strings.Join(q, ", ")
	}
	are := "are no known directions"
	if len(unknown) == 1 {
		are = "is no known direction"
	}
	return fmt.Sprintf("%s holds the words %s, of which %s %s", p.columnName(j), quoted(words), quoted(unknown), are)
}

// wordsInstead is what to do with words that are not known.
const wordsInstead = "if they are the drive's direction, replace them by 1, -1 and 0 (one way, the other, stop), or by words such as open, close and stop"
