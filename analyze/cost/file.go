package cost

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"threewire/analyze"
	"threewire/analyze/textfile"
)

// priceUnit is what a figure of a prices file counts.
type priceUnit struct {
	words   []string // that may follow the number; the first is written in examples
	needed  bool     // one of them must follow
	most    float64
	factor  float64
	example string
}

// The units of the figures. Percent need their sign, which tells 0.5 % from one
// half.
func unitMoney() priceUnit   { return priceUnit{nil, false, 1e7, 1, "120"} }
func unitHours() priceUnit   { return priceUnit{[]string{"h", "hours", "hour"}, false, 1000, 1, "1.5 h"} }
func unitMinutes() priceUnit { return priceUnit{[]string{"min", "minutes"}, false, 10000, 1, "20 min"} }
func unitMonths() priceUnit {
	return priceUnit{[]string{"months", "month"}, false, 600, 1, "24 months"}
}
func unitPercent() priceUnit { return priceUnit{[]string{"%"}, true, 100, 0.01, "15 %"} }

// priceLine is one line with a figure.
type priceLine struct {
	name string
	unit priceUnit
}

// priceLines lists the lines with a figure, in the order in which messages and
// help name them.
func priceLines() []priceLine {
	out := []priceLine{{lineRate, unitMoney()}, {lineOpening, unitHours()}}
	for r := range repairCount {
		out = append(out, priceLine{r.String() + " price", unitMoney()}, priceLine{r.String() + " hours", unitHours()})
	}
	return append(out, priceLine{lineNoticed, unitPercent()}, priceLine{lineComeback, unitMoney()}, priceLine{lineComebackHours, unitHours()},
		priceLine{lineHorizon, unitMonths()}, priceLine{lineOldFails, unitPercent()})
}

// Parse reads a prices file; file is its name for messages. Every error
// is a [Error].
//
// One "name: value" a line in any order; # begins a comment. The names are
// currency, labour rate (for an hour), opening hours (to open the dashboard up
// and close it again), opened for (which repairs need that: actuator, air case,
// wiring, or none; all of them when left out), then price and hours of each of
// these repairs, noticed before closing (how often a repair that did not help
// is noticed before the dashboard is closed), comeback price, comeback hours,
// horizon with old actuator fails (the chance within it), and minutes of TEST.
// Any may be left out, and what needs it stays without a price. Unknown and
// repeated names are errors, so that a slip of the pen does not pass for a
// figure.
func Parse(file string, text []byte) (*Prices, error) {
	p := &Prices{File: file, figures: map[string]float64{}, minutes: map[string]float64{}, opens: allRepairs}
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	given := map[string]int{}
	for i, b := range bytes.Split(text, []byte("\n")) {
		at := &textfile.Place{File: file, Line: i + 1, Raw: string(b)}
		if !utf8.Valid(b) {
			return nil, at.Wrong("", "", "text in UTF-8", "save the prices as UTF-8")
		}
		s := at.Setting()
		if s == "" {
			continue
		}
		name, value, ok := strings.Cut(s, ":")
		if !ok {
			return nil, at.Wrong(s, s, "name: value", "for example: labour rate: 80; put # before a comment")
		}
		key := strings.ToLower(strings.Join(strings.Fields(name), " "))
		value = strings.TrimSpace(value)
		if n := given[key]; n > 0 {
			return nil, at.Wrong(s, key, "each line once", fmt.Sprintf("it stands in line %d already: keep one of them", n))
		}
		if value == "" {
			return nil, at.Wrong(s, s, "a value after the colon", "write it, or take the line out: what needs it then stays without a price")
		}
		if err := p.set(at, s, key, value); err != nil {
			return nil, err
		}
		given[key] = i + 1
	}
	if len(given) == 0 {
		return nil, &textfile.Error{File: file, Want: "lines such as \"labour rate: 80\"", Hint: "write one figure a line"}
	}
	for _, x := range [2][2]string{{lineHorizon, lineOldFails}, {lineOldFails, lineHorizon}} {
		if n := given[x[0]]; n > 0 && given[x[1]] == 0 {
			return nil, &textfile.Error{File: file, Line: n, Column: 1, Found: x[0], Want: fmt.Sprintf("a line %q beside it", x[1]), Hint: "a chance means something only together with its time: give both or neither"}
		}
	}
	return p, nil
}

// set takes one line, whose text is s.
func (p *Prices) set(at *textfile.Place, s, key, value string) error {
	switch key {
	case lineCurrency:
		if utf8.RuneCountInString(value) > 12 || strings.ContainsFunc(value, func(r rune) bool { return !unicode.IsPrint(r) || unicode.IsDigit(r) }) {
			return at.Wrong(value, value, "a word or sign of at most 12 letters", "for example: currency: EUR")
		}
		p.Currency = value
		return nil
	case lineOpenedFor:
		return p.setOpens(at, value)
	}
	if test, ok := strings.CutPrefix(key, lineMinutesOf); ok {
		names := analyze.TestNames()
		if !slices.ContainsFunc(names, func(n string) bool { return strings.EqualFold(n, test) }) {
			return at.Wrong(s, test, "minutes of one of the tests: "+strings.Join(names, ", "), "correct the name")
		}
		unit := unitMinutes()
		v, err := unit.read(at, value)
		p.minutes[test] = v
		return err
	}
	lines := priceLines()
	k := slices.IndexFunc(lines, func(l priceLine) bool { return l.name == key })
	if k < 0 {
		known := []string{lineCurrency}
		for _, l := range lines {
			known = append(known, l.name)
		}
		return at.Wrong(s, key, "one of "+strings.Join(append(known, lineOpenedFor, lineMinutesOf+"TEST"), ", "), "correct the name, or put # before the line")
	}
	v, err := lines[k].unit.read(at, value)
	if err != nil {
		return err
	}
	p.figures[key] = v
	return nil
}

// setOpens reads which repairs need the dashboard opened.
func (p *Prices) setOpens(at *textfile.Place, value string) error {
	p.opens, p.opensGiven = 0, true
	if strings.EqualFold(value, "none") {
		return nil
	}
words:
	for word := range strings.SplitSeq(value, ",") {
		word = strings.TrimSpace(word)
		for r := range repairCount {
			if strings.EqualFold(strings.Join(strings.Fields(word), " "), r.String()) {
				p.opens |= 1 << r
				continue words
			}
		}
		return at.Wrong(value, word, "actuator, air case or wiring, joined by commas, or none", "for example: opened for: actuator, air case")
	}
	return nil
}

// read takes a figure.
func (u *priceUnit) read(at *textfile.Place, value string) (float64, error) {
	want := "a number, e.g. " + u.example
	hint := "write the number alone"
	if len(u.words) > 0 {
		hint = fmt.Sprintf("write it as in %s", u.example)
	}
	end := strings.IndexFunc(value, func(r rune) bool { return !strings.ContainsRune("0123456789.", r) })
	number, word := value, ""
	if end >= 0 {
		number, word = value[:end], strings.TrimSpace(value[end:])
	}
	switch {
	case strings.HasPrefix(value, "-"):
		return 0, at.Wrong(value, value, "0 or more", hint)
	case strings.HasPrefix(word, ","):
		return 0, at.Wrong(value, value, want, "write a decimal point, and no sign between thousands")
	}
	v, err := strconv.ParseFloat(number, 64)
	known := slices.ContainsFunc(u.words, func(w string) bool { return strings.EqualFold(w, word) })
	if err != nil || word != "" && !known || word == "" && u.needed {
		return 0, at.Wrong(value, value, want, hint)
	}
	if v > u.most {
		return 0, at.Wrong(value, value, fmt.Sprintf("at most %.0f", u.most), hint)
	}
	return v * u.factor, nil
}
