package signal

import (
	"fmt"
	"strings"
)

var (
	// meanWords name the column that stands for a row of several readings.
	meanWords = wordSet("avg|mean|average|averaged|mittel|mittelwert|moyenne|media|medio|promedio|srednia|średnia|gem|gemiddelde")
	// besideWords name what is told beside it.
	besideWords = wordSet("min|minimum|minimal|mini|max|maximum|maximal|maxi|peak|std|stdev|stddev|sd|sigma|rms|pp|pkpk|range|count|n")
)

// statisticOf parts a name in normal words into that of the channel and whether it
// is a figure beside its readings.
func statisticOf(name string) (stem string, beside bool) {
	var left []string
	for w := range strings.SplitSeq(normal(name), " ") {
		beside = beside || besideWords[w]
		if !meanWords[w] && !besideWords[w] {
			left = append(left, w)
		}
	}
	return strings.Join(left, " "), beside
}

// besideMean sets aside the smallest, the largest and the scatter of what one row stands
// for, where the mean or the reading itself has a column too.
func (a *assignment) besideMean() {
	of := map[string]int{}
	for j, c := range a.p.cols {
		if stem, beside := statisticOf(c.name); stem != "" && !beside && a.free(j) && a.feat[j] != nil {
			if _, twice := of[stem]; twice {
				return // which of the two is meant is nobody's guess
			}
			of[stem] = j
		}
	}
	for j, c := range a.p.cols {
		stem, beside := statisticOf(c.name)
		if k, ok := of[stem]; ok && beside && a.free(j) && a.p.cols[k].unit.q == c.unit.q {
			a.reason[j] = fmt.Sprintf("a figure beside the readings in column %d", k+1)
		}
	}
}
