package signal

import "strings"

// statisticWords head a row of figures about each column, as some loggers write them
// between names and data.
var statisticWords = wordSet("min|max|mean|avg|average|minimum|maximum|minimal|maximal|mittelwert|mittel|moyenne|media|medio|promedio|rms|std|stdev|std dev|sd|sigma|sum|median|p p|pk pk|peak to peak|span")

// isStatistics tells whether a line gives a figure of each column, "Min,0.00,-13.28": a
// word of statistics where the rows have their first value, and values in most others.
func (t *table) isStatistics(i int) bool {
	if t.kinds[i] == nil || t.kind(i, 0) != cellWord || !statisticWords[strings.TrimSpace(normal(utf8String(t.text(i, 0))))] {
		return false
	}
	values, others := 0, 0
	for j := 1; j < len(t.kinds[i]); j++ {
		if k := t.kind(i, j); valueLike(k) {
			values++
		} else if k != cellEmpty && k != cellMissing {
			others++
		}
	}
	return values > 0 && others == 0
}
