package nominal

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"threewire/analyze/textfile"
)

// profileHead is the first line of a profile file, without its version.
const profileHead = "threewire actuator profile"

// profileVersion is the version that is written and read.
const profileVersion = "1"

// profileField is one line of a profile file.
type profileField struct {
	key     string
	about   string // comment of a written file
	units   []string
	words   []string // instead of a number
	needed  bool
	set     func(p *Profile, v float64, unit, word string)
	get     func(p *Profile) (value, unit string)
	least   float64 // a number must lie above
	most    float64 // and not above
	example string
}

// profileFields lists the lines in the order in which they are written.
func profileFields() []profileField {
	level := []string{"V", "mV", "%", "counts"}
	num := func(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
	return []profileField{
		{key: "low stop", about: "feedback at the lower stop", units: level, needed: true, least: -1e6, most: 1e6, example: "0.50 V",
			set: func(p *Profile, v float64, u, _ string) { p.Low, p.Unit = v, u },
			get: func(p *Profile) (string, string) { return num(p.Low), p.Unit }},
		{key: "high stop", about: "feedback at the upper stop", units: level, needed: true, least: -1e6, most: 1e6, example: "4.50 V",
			set: func(p *Profile, v float64, _, _ string) { p.High = v },
			get: func(p *Profile) (string, string) { return num(p.High), p.Unit }},
		{key: "stop tolerance", about: "how far the stops of a good one may lie from these", units: level, least: 0, most: 1e6, example: "0.12 V",
			set: func(p *Profile, v float64, _, _ string) { p.Tolerance = v },
			get: func(p *Profile) (string, string) { return num(p.Tolerance), p.Unit }},
		{key: "travel time up", about: "lower to upper stop, at the drive below", units: []string{"s", "ms"}, needed: true, least: 0, most: 1000, example: "5.0 s",
			set: func(p *Profile, v float64, _, _ string) { p.TransitUp = v },
			get: func(p *Profile) (string, string) { return num(p.TransitUp), "s" }},
		{key: "travel time down", about: "upper to lower stop", units: []string{"s", "ms"}, needed: true, least: 0, most: 1000, example: "5.0 s",
			set: func(p *Profile, v float64, _, _ string) { p.TransitDown = v },
			get: func(p *Profile) (string, string) { return num(p.TransitDown), "s" }},
		{key: "travel time tolerance", about: "at the same drive, load and temperature", units: []string{"%"}, least: 0, most: 50, example: "10 %",
			set: func(p *Profile, v float64, _, _ string) { p.TransitTolerance = v / 100 },
			get: func(p *Profile) (string, string) { return num(100 * p.TransitTolerance), "%" }},
		{key: "drive", about: "between the motor leads while it ran", units: []string{"V", "mV"}, words: []string{"unknown"}, least: 0, most: 60, example: "12.0 V",
			set: func(p *Profile, v float64, _, w string) {
				if w == "" {
					p.DriveVolts = v
				}
			},
			get: func(p *Profile) (string, string) {
				if p.DriveVolts == 0 {
					return "unknown", ""
				}
				return num(p.DriveVolts), "V"
			}},
		{key: "reference", about: "the sensor's supply", units: level, least: 0, most: 1e6, example: "5.00 V",
			set: func(p *Profile, v float64, _, _ string) { p.Reference = v },
			get: func(p *Profile) (string, string) { return num(p.Reference), p.Unit }},
		{key: "sense of drive", about: "what positive drive does to the feedback", words: []string{"positive raises", "positive lowers", "unknown"},
			set: func(p *Profile, _ float64, _, w string) {
				p.Sense = slices.Index([]string{"positive lowers", "unknown", "positive raises"}, w) - 1
			},
			get: func(p *Profile) (string, string) { return senseWords(p.Sense), "" }},
		{key: "door", about: "whether it hung on its door", words: []string{"coupled", "uncoupled"},
			set: func(p *Profile, _ float64, _, w string) { p.Free = w == "uncoupled" },
			get: func(p *Profile) (string, string) { return DoorWords(p.Free), "" }},
	}
}

// base is the base unit of a unit and the factor to it.
func base(u string) (string, float64) {
	switch u {
	case "mV":
		return "V", 1e-3
	case "ms":
		return "s", 1e-3
	}
	return u, 1
}

// Text is the profile as a file: a version line, comments that say what it
// was made of, and one "key: value unit" a line. [Parse] reads it back
// to six significant digits.
func (p *Profile) Text() []byte {
	q := *p
	q.Fill()
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s %s\n", profileHead, profileVersion)
	for _, s := range q.Origin {
		for _, line := range strings.Split(s, "\n") {
			fmt.Fprintf(&b, "# %s\n", strings.TrimRight(line, "\r"))
		}
	}
	fmt.Fprintln(&b)
	for _, f := range profileFields() {
		v, unit := f.get(&q)
		line := strings.TrimSpace(f.key + ": " + v + " " + unit)
		fmt.Fprintf(&b, "%-34s # %s\n", line, f.about)
	}
	return b.Bytes()
}

// Parse reads a profile file; file is its name for messages. Every
// error is an [Error].
//
// The first line is "threewire actuator profile 1". Then one "key: value
// unit" or "key = value unit" a line in any order; # begins a comment. Needed:
// low stop, high stop, travel time up, travel time down. What is left out gets
// a documented default. Unknown and repeated keys are errors, so that a slip
// of the pen does not pass for a setting.
func Parse(file string, text []byte) (*Profile, error) {
	p := &Profile{File: file}
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	if !utf8.Valid(text) {
		return nil, &textfile.Error{File: file, Line: 1, Column: 1, Want: "text in UTF-8", Hint: "is this a profile? threewire profile GOOD.csv -o FILE makes one"}
	}
	lines := strings.Split(string(text), "\n")
	first := &textfile.Place{File: file, Line: 1, Raw: lines[0]}
	head := strings.Join(strings.Fields(first.Setting()), " ")
	switch version, ok := strings.CutPrefix(head, profileHead+" "); {
	case !ok:
		return nil, first.Wrong(first.Setting(), head, fmt.Sprintf("%q", profileHead+" "+profileVersion), "is this a profile? threewire profile GOOD.csv -o FILE makes one")
	case version != profileVersion:
		return nil, first.Wrong(first.Setting(), head, "version "+profileVersion, "make it again with threewire profile, or use the version of threewire that wrote it")
	}
	fields := profileFields()
	line := map[string]*textfile.Place{}
	unit := map[string]string{}
	for i, raw := range lines[1:] {
		place := &textfile.Place{File: file, Line: i + 2, Raw: raw}
		s := place.Setting()
		if s == "" {
			continue
		}
		at := strings.IndexAny(s, ":=")
		if at < 0 {
			return nil, place.Wrong(s, s, "key: value", "put # before a comment")
		}
		key := strings.ToLower(strings.Join(strings.Fields(s[:at]), " "))
		k := slices.IndexFunc(fields, func(f profileField) bool { return f.key == key })
		if k < 0 {
			return nil, place.Wrong(s, strings.TrimSpace(s[:at]), "one of "+strings.Join(profileKeys(fields), ", "), "correct the key, or put # before the line")
		}
		if first := line[key]; first != nil {
			return nil, place.Wrong(s, key, "each key once", fmt.Sprintf("it stands in line %d already: take one away", first.Line))
		}
		u, err := fields[k].read(p, place, strings.TrimSpace(s[at+1:]))
		if err != nil {
			return nil, err
		}
		line[key], unit[key] = place, u
	}
	for _, f := range fields {
		if f.needed && line[f.key] == nil {
			return nil, &textfile.Error{File: file, Want: fmt.Sprintf("a line %q", f.key+": "+f.example), Hint: "add it, or make the profile again with threewire profile"}
		}
		if k := f.key; line[k] != nil && slices.Contains(f.units, "counts") && unit[k] != p.Unit {
			return nil, line[k].Wrong(unit[k], unit[k], "the unit of the low stop, "+p.Unit, "give stops, tolerance and reference in one unit")
		}
	}
	if !(p.High > p.Low) {
		return nil, line["high stop"].Wrong("", strconv.FormatFloat(p.High, 'g', -1, 64), fmt.Sprintf("a high stop above the low stop %g", p.Low), "the low stop is the lower reading, whatever the drive")
	}
	if p.Tolerance >= p.Span()/2 {
		return nil, line["stop tolerance"].Wrong("", strconv.FormatFloat(p.Tolerance, 'g', -1, 64), fmt.Sprintf("less than half of the span %g", p.Span()), "with such a tolerance every stop would fit")
	}
	p.Fill()
	return p, nil
}

func profileKeys(fields []profileField) []string {
	var keys []string
	for _, f := range fields {
		keys = append(keys, f.key)
	}
	return keys
}

// read takes the value s of the line at a place.
func (f *profileField) read(p *Profile, at *textfile.Place, s string) (unit string, _ error) {
	word := strings.ToLower(strings.Join(strings.Fields(s), " "))
	if slices.Contains(f.words, word) {
		f.set(p, 0, "", word)
		return "", nil
	}
	if f.units == nil {
		return "", at.Wrong(s, s, "one of "+strings.Join(f.words, ", "), "correct "+strconv.Quote(f.key))
	}
	// The unit begins where the number ends, with or without a space.
	end := strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune("0123456789+-.eE", r) })
	number, u := s, ""
	if end >= 0 {
		number, u = s[:end], strings.TrimSpace(s[end:])
	}
	want := fmt.Sprintf("a number with a unit (%s), e.g. %s", strings.Join(f.units, ", "), f.example)
	hint := "correct " + strconv.Quote(f.key)
	if strings.Contains(s, ",") {
		hint = "write a decimal point, not a comma"
	}
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return "", at.Wrong(s, s, want, hint)
	}
	if !slices.Contains(f.units, u) {
		return "", at.Wrong(s, s, want, hint)
	}
	u, factor := base(u)
	v *= factor
	// A zero tolerance would mean "not given".
	if !(v > f.least && v <= f.most) {
		return "", at.Wrong(s, s, fmt.Sprintf("a value above %g and not above %g", f.least, f.most), hint)
	}
	f.set(p, v, u, "")
	return u, nil
}
