package signal

import (
	"fmt"
	"strconv"
	"strings"
)

// An unsetProbe is a remark of the preamble: volts were measured through a divider that
// the instrument was not told of, so that it wrote a part of them.
type unsetProbe struct {
	factor float64 // from the written volts to those at the tip
	where  string  // normal words that name the channels
}

// unsetRatio reads a remark that a divider's ratio was not entered into the channel, as in
// "probe 1:10 not set" or "divider x10, channel left at 1:1": the factor from what is
// written to what was there, 0 where the text is no such remark. A ratio alone says
// nothing: mostly it was entered.
func unsetRatio(text string) float64 {
	s := strings.ToLower(text)
	if !strings.Contains(s, "probe") && !strings.Contains(s, "divider") && !strings.Contains(s, "attenuator") {
		return 0
	}
	unset := false
	for _, w := range []string{"not set", "not entered", "not applied", "not corrected", "not counted", "uncorrected", "left at 1:1", "left at x1", "left at 1x", "set to 1:1", "set to x1", "set to 1x", "multiply by"} {
		unset = unset || strings.Contains(s, w)
	}
	if !unset {
		return 0
	}
	for w := range strings.FieldsFuncSeq(s, func(r rune) bool { return strings.ContainsRune(" ,;()[]=\t\"'", r) }) {
		w = strings.ReplaceAll(w, "×", "x")
		for _, form := range []struct{ before, after string }{{"1:", ""}, {"", ":1"}, {"1/", ""}, {"x", ""}, {"", "x"}} {
			n, ok := strings.CutPrefix(w, form.before)
			if m, ok2 := strings.CutSuffix(n, form.after); ok && ok2 {
				if f, err := strconv.ParseFloat(m, 64); err == nil && f > 1 && f <= 1000 {
					return f
				}
			}
		}
	}
	return 0
}

// withoutProbe cuts a remark about a probe off a header text: its words name no channel.
func withoutProbe(name string) string {
	s := strings.ToLower(name)
	i := -1
	for _, w := range []string{"probe", "divider", "attenuator"} {
		if k := strings.Index(s, w); k > 0 && (i < 0 || k < i) {
			i = k
		}
	}
	if i < 0 || len(s) != len(name) {
		return name
	}
	rest := ""
	if j := strings.IndexAny(name[i:], ")]"); j >= 0 {
		rest = name[i+j:]
	}
	cut := strings.TrimRight(name[:i], " ,;-:")
	if open := strings.TrimRight(cut, "(["); open != cut && rest != "" { // nothing else in the brackets
		return strings.TrimSpace(open) + rest[1:]
	}
	return cut + rest
}

// onProbe gives a column's volts the factor of a divider that its own header text or the
// preamble says was not entered, and notes it.
func (p *plan) onProbe(j int, own float64) {
	c := &p.cols[j]
	f := own
	for _, u := range p.facts.unset {
		if f > 0 {
			break
		}
		role, _ := headerRole(c.name)
		named, _ := headerRole(u.where)
		if hasWords(u.where, "all") || hasWords(u.where, "every") || role != Unused && role == named || hasWords(u.where, normal(c.name)) {
			f = u.factor
		}
	}
	if f == 0 || c.unit.q != volts {
		return
	}
	c.unit.factor *= f
	c.probe = f
	p.note("probe-not-set", "%s: the file says that its 1:%.0f divider was not entered into the channel; its volts are multiplied by %.0f (a --scale for it is taken instead)", p.columnName(j), f, f)
}

// addUnset keeps a remark of the preamble about a divider that was not entered; it tells
// whether the text is one.
func (f *facts) addUnset(i int, text string) bool {
	factor := unsetRatio(text)
	if factor == 0 {
		return false
	}
	where := text
	if _, after, ok := strings.Cut(strings.ToLower(text), " on "); ok {
		where, _, _ = strings.Cut(after, ",")
	}
	f.unset = append(f.unset, unsetProbe{factor, normal(where)})
	f.add(i, "probe", []byte(text), fmt.Sprintf("volts times %.0f", factor))
	return true
}
