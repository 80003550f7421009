package signal

import (
	"strings"
	"unicode"
)

// A quantity is what kind of thing a unit measures.
type quantity uint8

const (
	noQuantity quantity = iota
	seconds
	volts
	amperes
	hertz
	percent
	counts
	otherQuantity // a known unit of no use here: degrees, pascals, metres
)

// A unit is a factor to the base unit of its quantity.
type unit struct {
	q      quantity
	factor float64
	base   string // the base unit as printed
}

// ofWhole is a reading as a part of its whole, from 0 to 1, kept as percent. In a row
// of units the SI writes a plain 1 for it (ISO 80000-1, quantities of dimension one).
var ofWhole = unit{percent, 100, "%"}

// unitWords are the spellings seen in exports, after lower-casing all but the
// SI prefix letter (see findUnit). Prefixed spellings are derived.
var unitWords = map[string]unit{
	"s": {seconds, 1, "s"}, "sec": {seconds, 1, "s"}, "secs": {seconds, 1, "s"}, "second": {seconds, 1, "s"}, "seconds": {seconds, 1, "s"},
	"sek": {seconds, 1, "s"}, "sekunde": {seconds, 1, "s"}, "sekunden": {seconds, 1, "s"}, "seconde": {seconds, 1, "s"}, "secondes": {seconds, 1, "s"},
	"segundo": {seconds, 1, "s"}, "segundos": {seconds, 1, "s"}, "secondi": {seconds, 1, "s"}, "secondo": {seconds, 1, "s"}, "seg": {seconds, 1, "s"},
	"min": {seconds, 60, "s"}, "mins": {seconds, 60, "s"}, "minute": {seconds, 60, "s"}, "minutes": {seconds, 60, "s"}, "minuten": {seconds, 60, "s"},
	"h": {seconds, 3600, "s"}, "hr": {seconds, 3600, "s"}, "hrs": {seconds, 3600, "s"}, "hour": {seconds, 3600, "s"}, "hours": {seconds, 3600, "s"}, "stunden": {seconds, 3600, "s"},
	"days": {seconds, 86400, "s"}, "day": {seconds, 86400, "s"},
	"v": {volts, 1, "V"}, "volt": {volts, 1, "V"}, "volts": {volts, 1, "V"}, "vdc": {volts, 1, "V"}, "vac": {volts, 1, "V"}, "vrms": {volts, 1, "V"},
	"vpp": {volts, 1, "V"}, "voltage": {volts, 1, "V"}, "voltios": {volts, 1, "V"}, "voltio": {volts, 1, "V"}, "vcc": {volts, 1, "V"}, "v dc": {volts, 1, "V"}, "v ac": {volts, 1, "V"},
	"a": {amperes, 1, "A"}, "amp": {amperes, 1, "A"}, "amps": {amperes, 1, "A"}, "ampere": {amperes, 1, "A"}, "amperes": {amperes, 1, "A"}, "adc": {amperes, 1, "A"},
	"aac": {amperes, 1, "A"}, "a dc": {amperes, 1, "A"},
	"hz": {hertz, 1, "Hz"}, "hertz": {hertz, 1, "Hz"}, "sps": {hertz, 1, "Hz"}, "s/s": {hertz, 1, "Hz"}, "sa/s": {hertz, 1, "Hz"}, "samples/s": {hertz, 1, "Hz"},
	"samples/sec": {hertz, 1, "Hz"}, "samples/second": {hertz, 1, "Hz"}, "1/s": {hertz, 1, "Hz"}, "pts/s": {hertz, 1, "Hz"}, "samples per second": {hertz, 1, "Hz"},
	"s/sec": {hertz, 1, "Hz"}, "scans/s": {hertz, 1, "Hz"}, "scans/sec": {hertz, 1, "Hz"}, "points/s": {hertz, 1, "Hz"}, "readings/s": {hertz, 1, "Hz"},
	"%": {percent, 1, "%"}, "pct": {percent, 1, "%"}, "percent": {percent, 1, "%"}, "prozent": {percent, 1, "%"}, "%fs": {percent, 1, "%"}, "% fs": {percent, 1, "%"},
	"ratio": ofWhole, "p.u.": ofWhole, "pu": ofWhole, "v/v": ofWhole,
	"counts": {counts, 1, "counts"}, "count": {counts, 1, "counts"}, "cnt": {counts, 1, "counts"}, "cnts": {counts, 1, "counts"}, "lsb": {counts, 1, "counts"},
	"digits": {counts, 1, "counts"}, "raw": {counts, 1, "counts"}, "adu": {counts, 1, "counts"}, "bit": {counts, 1, "counts"}, "bits": {counts, 1, "counts"},
	"adc counts": {counts, 1, "counts"},
}

// otherUnits are units of things that are neither a motor's nor a wiper's
// voltage. Knowing them keeps a temperature from being taken for a feedback.
var otherUnits = map[string]string{
	"°c": "°C", "degc": "°C", "deg c": "°C", "c": "°C", "°f": "°F", "degf": "°F", "deg f": "°F", "f": "°F", "k": "K", "kelvin": "K", "celsius": "°C",
	"ºc": "°C", "℃": "°C", "oc": "°C",
	"°": "°", "deg": "°", "degree": "°", "degrees": "°", "rad": "rad", "rad/s": "rad/s", "rpm": "rpm", "1/min": "rpm", "u/min": "rpm", "deg/s": "°/s",
	"pa": "Pa", "kpa": "kPa", "mpa": "MPa", "hpa": "hPa", "bar": "bar", "mbar": "mbar", "psi": "psi", "atm": "atm", "torr": "Torr",
	"m": "m", "mm": "mm", "cm": "cm", "um": "um", "in": "in", "inch": "in", "ft": "ft", "m/s": "m/s", "m/s^2": "m/s²", "m/s2": "m/s²", "m/s²": "m/s²", "g": "g", "kg": "kg",
	"n": "N", "newton": "N", "newtons": "N", "nm": "Nm", "ncm": "Ncm", "w": "W", "mw": "mW", "watt": "W", "watts": "W", "kw": "kW", "j": "J", "wh": "Wh", "ah": "Ah", "mah": "mAh", "va": "VA",
	"ohm": "ohm", "ohms": "ohm", "kohm": "kohm", "mohm": "mohm", "ω": "ohm", "kω": "kohm", "db": "dB", "dbm": "dBm", "dbv": "dBV",
	"%rh": "%RH", "% rh": "%RH", "rh": "%RH", "%rf": "%RH", "l/min": "l/min", "ml/min": "ml/min", "sml/min": "ml/min", "l/h": "l/h", "m3/h": "m3/h", "lx": "lx", "lux": "lx", "ppm": "ppm",
	"t": "T", "mt": "mT", "gauss": "G", "farad": "F", "uf": "uF", "nf": "nF", "v/s": "V/s", "a/s": "A/s", "w/m2": "W/m²",
}

var prefixes = []struct {
	text   string
	factor float64
}{
	{"m", 1e-3}, {"u", 1e-6}, {"µ", 1e-6}, {"μ", 1e-6}, {"n", 1e-9}, {"p", 1e-12}, {"k", 1e3}, {"K", 1e3}, {"M", 1e6}, {"G", 1e9},
	{"milli", 1e-3}, {"micro", 1e-6}, {"mikro", 1e-6}, {"nano", 1e-9}, {"pico", 1e-12}, {"kilo", 1e3}, {"mega", 1e6},
	{"Milli", 1e-3}, {"Micro", 1e-6}, {"Nano", 1e-9}, {"Kilo", 1e3}, {"Mega", 1e6},
}

// findUnit looks a unit up by any of its spellings, with SI prefix.
func findUnit(s string) (unit, bool) {
	s = strings.TrimSpace(strings.Trim(strings.TrimSpace(s), "()[]{}<>."))
	s = strings.ReplaceAll(strings.ReplaceAll(s, "\u00a0", " "), "Â", "") // UTF-8 read as Latin-1 on the way
	if s == "" || len(s) > 24 {
		return unit{}, false
	}
	if s == "S" { // siemens is no trace unit; the letter is a second in exports
		return unit{seconds, 1, "s"}, true
	}
	switch s {
	case "adc": // in capitals or as Adc it is amperes DC, so it is not in the table
		return unit{counts, 1, "counts"}, true
	case "ms", "mS", "MS":
		return unit{seconds, 1e-3, "s"}, true
	case "us", "uS", "µs", "μs", "µS", "US", "usec", "µsec", "μsec":
		return unit{seconds, 1e-6, "s"}, true
	case "msec", "msecs", "Msec", "millis", "milliseconds", "millisecond", "Milliseconds", "Millisecond", "MSEC":
		return unit{seconds, 1e-3, "s"}, true
	case "micros", "Micros":
		return unit{seconds, 1e-6, "s"}, true
	case "mV", "mv", "MV": // nobody logs megavolts on a 12 V motor
		return unit{volts, 1e-3, "V"}, true
	case "mA", "ma", "MA":
		return unit{amperes, 1e-3, "A"}, true
	}
	low := strings.ToLower(s)
	if u, ok := unitWords[low]; ok {
		return u, true
	}
	if isShare(low) {
		return unit{percent, 1, "%"}, true
	}
	if isCounts(low) {
		return unit{counts, 1, "counts"}, true
	}
	if name, ok := otherUnits[low]; ok {
		return unit{otherQuantity, 1, name}, true
	}
	for _, p := range prefixes {
		rest, ok := strings.CutPrefix(s, p.text)
		if !ok || rest == "" {
			continue
		}
		rest = strings.TrimSpace(rest)
		if u, ok := unitWords[strings.ToLower(rest)]; ok && (u.q == seconds || u.q == volts || u.q == amperes || u.q == hertz) && u.factor == 1 {
			return unit{u.q, p.factor, u.base}, true
		}
	}
	if isDegreeLike(low) {
		return unit{otherQuantity, 1, s}, true
	}
	return unit{}, false
}

// countWords may stand beside a word for a converter's counts to say of how many.
var countWords = wordSet("of|from|to|max|full|scale|range|a|d|ad|adc|converter|unsigned|bit|bits|von|bis|de|di|van|sur|sobre")

// isCounts accepts a converter's counts with their range: "counts of 1023", "12-bit
// counts", "ADC codes (0..4095)".
func isCounts(low string) bool {
	named := false
	for _, word := range strings.FieldsFunc(low, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		switch u, ok := unitWords[word]; {
		case ok && u.q == counts && word != "bit" && word != "bits", word == "codes", word == "code", word == "lsbs", word == "steps":
			named = true
		case countWords[word], strings.Trim(word, "0123456789") == "", strings.TrimLeft(word, "0123456789") == "bit", strings.TrimLeft(word, "0123456789") == "bits":
		default:
			return false
		}
	}
	return named
}

// shareWords may stand behind a percent sign to say of what.
var shareWords = wordSet("of|the|its|sensor|reference|ref|vref|v|supply|vcc|vdd|5|full|scale|fs|range|span|travel|stroke|" +
	"von|vom|der|referenz|versorgung|hub|de|la|du|référence|alimentation|course|del|referencia|di|riferimento|van|referentie")

// isShare accepts a percent sign with its whole: "% of reference".
func isShare(low string) bool {
	for _, sign := range []string{"%", "percent", "pct", "prozent"} {
		rest, ok := strings.CutPrefix(low, sign)
		if !ok || rest == "" {
			continue
		}
		for w := range strings.SplitSeq(normal(rest), " ") {
			if !shareWords[w] {
				return false
			}
		}
		return true
	}
	return false
}

// isDegreeLike accepts a degree sign mangled by a wrong encoding.
func isDegreeLike(s string) bool {
	r := []rune(s)
	return len(r) == 2 && !unicode.IsLetter(r[0]) && !unicode.IsDigit(r[0]) && r[0] > 0x7f && (r[1] == 'c' || r[1] == 'f')
}

// splitUnit takes a unit off a header text: "Time (ms)", "CH1 [V]",
// "pos / mV", "t_ms", "Drive in V", "Feedback Volts".
func splitUnit(s string) (name, unitText string, u unit, ok bool) {
	s = strings.TrimSpace(s)
	for _, br := range []string{"()", "[]", "{}", "<>"} {
		if i := strings.LastIndexByte(s, br[0]); i >= 0 {
			if j := strings.IndexByte(s[i:], br[1]); j > 1 {
				in := strings.TrimSpace(s[i+1 : i+j])
				in = strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(in, "in "), "/"))
				if u, ok := findUnit(in); ok {
					return strings.TrimSpace(s[:i] + " " + s[i+j+1:]), in, u, true
				}
			}
		}
	}
	low := strings.ToLower(s)
	for _, sign := range []string{"%", "percent", "pct", "prozent"} {
		if i := strings.LastIndex(low, sign); i > 0 && len(low) == len(s) && isShare(low[i:]) {
			return strings.TrimSpace(strings.TrimRight(s[:i], " /,:-_")), s[i:], unit{percent, 1, "%"}, true
		}
	}
	for k, sep := range []string{" / ", " in ", ", ", ": ", " - ", " ", " ", "/", "_", "-", "."} {
		i := strings.LastIndex(s, sep)
		if k == 6 && i > 0 { // the last two words: "Temp Deg C"
			i = strings.LastIndex(s[:i], sep)
		}
		if i <= 0 {
			continue
		}
		in := strings.TrimSpace(s[i+len(sep):])
		u, ok := findUnit(in)
		if !ok {
			continue
		}
		if strings.EqualFold(in, "adc") {
			continue // a converter, unless in brackets
		}
		if sep == " " && u.q == counts && len(in) > 2 && in[1] == '_' {
			continue // "Motor A_raw": the letter is the lead's, and the unit comes behind the joint
		}
		// A single letter after a mere space or joint is more likely the name
		// of a lead or channel than a unit, except for seconds and volts, and for
		// the amperes of a current.
		if r, _ := headerRole(s[:i]); r == Current && u.q == amperes {
			return strings.TrimSpace(s[:i]), in, u, true
		}
		if len(in) == 1 && sep != " / " && sep != "/" && sep != " in " && !strings.ContainsAny(in, "sSvV%") {
			continue
		}
		if u.q == seconds && sep == "/" && !isTimeName(s[:i]) {
			continue // "flow l/min" is no time
		}
		if u.q == otherQuantity && len(in) < 3 && (sep == "_" || sep == "-" || sep == " " || sep == ".") {
			continue
		}
		return strings.TrimSpace(s[:i]), in, u, true
	}
	return s, "", unit{}, false
}
