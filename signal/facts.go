package signal

import (
	"bytes"
	"math"
	"strconv"
	"strings"
)

// A Fact is a line of the preamble that was understood.
type Fact struct {
	Line  int64  `json:"line"`
	Key   string `json:"key"`
	Value string `json:"value"`
	Use   string `json:"use"` // what it was taken for
}

// facts are what a preamble tells about the data.
type facts struct {
	step, rate, start float64 // s, Hz, s; 0 step or rate when not told
	hasStart          bool
	samples           int64
	xUnit, yUnit      string
	date, tod         stamp
	list              []Fact
	columnUnits       map[int]string // by column, from keyed rows
	columnNames       map[int]string
	channelNames      map[int]string  // by the number that the preamble gives the channel
	unset             []unsetProbe    // dividers that the instrument was not told of
	gains             []countGain     // volts of a count
	columnFactors     map[int]float64 // "x10", of a row over the columns
	columnGains       map[int]float64
	oneSeries         bool // the preamble speaks of a single stream of samples
}

// gather reads the preamble: pairs of neighbouring cells, "key: value" and
// "key = value" texts, header cells beyond the data with their value
// underneath, and numbers that carry the unit of a rate.
func (t *table) gather(h *header) *facts {
	f := &facts{columnUnits: map[int]string{}, columnNames: map[int]string{}, channelNames: map[int]string{}, columnGains: map[int]float64{}}
	for i := 0; i < t.end && i < len(t.lines); i++ {
		line := t.lines[i].text
		inData := i >= t.first
		if inData && i > t.first+200 {
			break
		}
		isHead := i == h.names || i == h.units
		if inData && (t.kinds[i] == nil || !t.sidecar(i)) {
			continue
		}
		cells := t.cells[i]
		if t.kinds[i] == nil || !inData && !isHead && len(trimTail(cells)) == 1 {
			body := stripComment(line)
			if t.kinds[i] != nil {
				body = cells[0].text
			}
			f.sentence(t, i, body)
			continue
		}
		if !inData && !isHead {
			f.keyedRow(t, i)
			f.gainRow(t, i)
			f.factorRow(t, i)
		}
		for j := range cells {
			if (inData || isHead) && j < len(t.core) && t.core[j] {
				continue
			}
			if inData && j < len(h.name) && namesRemarks(h.name[j]) {
				continue // words of people
			}
			key := cells[j].text
			k := t.kind(i, j)
			if j == 0 && !inData && !isHead && k == cellNumber && len(trimTail(cells)) == 2 && t.kind(i, 1) == cellWord {
				f.pair(t, i, key, cells[1].text) // "101,Wiper"
				continue
			}
			if len(key) == 0 || k != cellWord && k != cellBad && k != cellQuantity {
				continue
			}
			if key[0]-'0' <= 9 { // "50 sps" among other texts
				f.sentence(t, i, key)
				continue
			}
			if isHead && i+1 < t.first && valueLike(t.kind(i+1, j)) {
				f.pair(t, i+1, key, t.text(i+1, j))
				continue
			}
			if !inData && !isHead && j+2 < len(cells) && len(cells[j+1].text) == 0 && valueLike(t.kind(i, j+2)) {
				f.pair(t, i, key, cells[j+2].text)
				continue
			}
			if j+1 < len(cells) && len(cells[j+1].text) > 0 && !(inData && j+1 < len(t.core) && t.core[j+1]) {
				v := cells[j+1].text
				if t.kind(i, j+1) == cellClock && j+2 < len(cells) && t.kind(i, j+2) == cellClock {
					v = append(append(append([]byte{}, v...), ' '), cells[j+2].text...)
				}
				f.pair(t, i, key, v)
			} else {
				f.sentence(t, i, key)
			}
		}
		for j := range cells { // bare stamps: a date and a time in two cells
			if !inData && !isHead && t.kind(i, j) == cellClock && (j == 0 || t.kind(i, j-1) != cellWord) {
				f.stamp(i, "", cells[j].text)
			}
		}
	}
	f.nameChannels(h)
	return f
}

// sidecar tells data lines that carry preamble cells beside the data.
func (t *table) sidecar(i int) bool {
	for j := range t.cells[i] {
		if (j >= len(t.core) || !t.core[j]) && t.kind(i, j) == cellWord && t.kind(t.end-1, j) != cellWord {
			return true
		}
	}
	return false
}

// keyedRow takes a row that names or gives units to every channel.
func (f *facts) keyedRow(t *table, i int) {
	cells := trimTail(t.cells[i])
	if len(cells) < 2 || t.kind(i, 0) != cellWord {
		return
	}
	key := normal(utf8String(cells[0].text))
	isUnit := hasWords(key, "unit") || hasWords(key, "units") || hasWords(key, "einheit")
	isName := hasWords(key, "name") || hasWords(key, "names") || hasWords(key, "label") || hasWords(key, "channel name") || hasWords(key, "legend")
	if k := interest(key); (k == factXUnit || k == factYUnit) && len(cells) < 3 {
		return
	}
	if strings.Contains(key, "device") || strings.Contains(key, "model") || strings.Contains(key, "file") || !isUnit && !isName {
		return
	}
	for j := 1; j < len(cells) && j < len(t.core); j++ {
		s := utf8String(cells[j].text)
		if s == "" || !t.core[j] {
			continue
		}
		if isUnit {
			if _, ok := findUnit(s); ok {
				f.columnUnits[j] = s
			}
		} else if t.kind(i, j) == cellWord {
			f.columnNames[j] = s
		}
	}
}

// channelNumber reads "channel 2", "CH2 name" and the like, or gives 0.
func channelNumber(s string) int {
	for _, w := range []string{" name", " label", " signal"} {
		s = strings.TrimSuffix(s, w)
	}
	for _, w := range []string{"ch", "chan", "channel", "kanal", "voie", "canal", "canale", "kanaal", "input", "ain", "column", "col", "spalte", "colonne", "columna"} {
		if rest, ok := strings.CutPrefix(s, w+" "); ok {
			if n, err := strconv.Atoi(rest); err == nil && n > 0 {
				return n
			}
		}
	}
	return 0
}

// numberOfChannel reads the same, or a bare number that heads a column.
func numberOfChannel(s string) int {
	if n, err := strconv.Atoi(strings.TrimSpace(s)); err == nil && n > 0 {
		return n
	}
	return channelNumber(normal(s))
}

// nameChannels gives the columns headed by nothing but the number of a
// channel the names that the preamble tells, when one of these says a role:
// else they may be couplings or ranges.
func (f *facts) nameChannels(h *header) {
	said := false
	for _, n := range f.channelNames {
		name, _, _, _ := splitUnit(n)
		r, w := headerRole(name)
		said = said || w != "" && r != Unused
	}
	if !said || h.names < 0 {
		return
	}
	for j, s := range h.name {
		name, _, _, _ := splitUnit(s)
		if n := numberOfChannel(name); n > 0 && f.channelNames[n] != "" {
			f.columnNames[j] = f.channelNames[n]
		}
	}
}

// sentence splits "key: value", "key = value" and lists of them.
func (f *facts) sentence(t *table, i int, s []byte) {
	s = bytes.TrimSpace(bytes.Trim(s, "*#%;\"'"))
	if len(s) == 0 {
		return
	}
	if f.addUnset(i, utf8String(s)) || f.addGain(i, utf8String(s)) {
		return
	}
	k := bytes.IndexAny(s, "=:")
	if k > 0 && k < len(s)-1 && k < 60 {
		v := bytes.TrimSpace(bytes.Trim(s[k+1:], "\"',; \t"))
		if len(v) > 0 {
			f.pair(t, i, s[:k], v)
		}
		return
	}
	// Free text: a phrase such as "40 sps" or "12 samples" between commas.
	for part := range bytes.FieldsFuncSeq(s, func(r rune) bool { return r == ',' || r == ';' || r == '\t' }) {
		part = bytes.TrimSpace(part)
		if st, ok := readClock(part); ok {
			f.setStamp(i, "", st, part)
			continue
		}
		v, n := scanNumber(part, 0, '.')
		if n == 0 {
			// "interval 10 ms", "rate 1 kHz"
			if j := bytes.IndexAny(part, "0123456789"); j > 2 && (part[j-1] == ' ' || part[j-1] == '\t') {
				if k := interest(normal(utf8String(part[:j]))); k == factStep || k == factRate {
					f.pair(t, i, part[:j], part[j:])
				}
			}
			continue
		}
		word := strings.TrimSpace(utf8String(part[n:]))
		if u, ok := findUnit(word); ok && u.q == hertz && v > 0 && (strings.Contains(strings.ToLower(word), "s/s") || strings.Contains(strings.ToLower(word), "sps") || strings.Contains(strings.ToLower(word), "samples")) && f.rate == 0 {
			f.rate = v * u.factor
			f.add(i, "", part, "sample rate")
		}
		if w := normal(word); w == "samples" || w == "points" {
			f.samples = int64(v)
			f.oneSeries = true
			f.add(i, "", part, "number of samples")
		}
	}
}

func (f *facts) add(i int, key string, value []byte, use string) {
	f.list = append(f.list, Fact{int64(i + 1), key, utf8String(value), use})
}

type factKind uint8

const (
	noFact factKind = iota
	factStep
	factRate
	factStart
	factSamples
	factXUnit
	factYUnit
	factStamp
)

func anyOf(s string, words ...string) bool {
	for _, w := range words {
		if hasWords(s, w) {
			return true
		}
	}
	return false
}

// interest tells what a normalised key is about.
func interest(s string) factKind {
	switch {
	case anyOf(s, "div", "trigger", "vertical scale", "horizontal scale", "scale", "pixel", "display", "measurement", "cursor", "bandwidth", "hold off", "holdoff", "baud", "calibration", "attenuation", "probe"):
		return noFact
	case anyOf(s, "horizontal units", "horizontal unit", "x unit", "x units", "time unit", "time units", "unit of time", "xunit", "x axis unit"):
		return factXUnit
	case anyOf(s, "vertical units", "vertical unit", "y unit", "y units", "yunit", "value unit", "y axis unit"):
		return factYUnit
	case anyOf(s, "rate", "frequency", "freq", "sps", "samples per second", "abtastrate", "samplerate", "samplingrate", "abtastfrequenz", "sampling freq", "hz", "fs", "fréquence", "frecuencia", "frequenza", "scans per second") && !anyOf(s, "frame", "line", "refresh", "counter", "signal", "pwm", "carrier", "bit", "sweep", "log file", "mains"):
		return factRate
	case anyOf(s, "interval", "sample period", "sampling period", "time step", "timestep", "increment", "increments", "delta x", "delta t", "deltax", "deltat", "dx", "dt", "x step", "xincr", "xinc", "x incr", "xincrement", "abtastintervall", "abtastzeit", "abtastperiode", "sample time", "sampling time", "sampletime", "time per sample", "sample spacing", "period", "intervalo", "intervalle", "intervallo", "logging interval", "time resolution", "h resolution", "zeitschritt", "tinterval", "t sample", "tsample", "ts", "pas de temps", "x delta", "step", "sample interval", "time delta", "seconds per sample", "time base resolution") && !anyOf(s, "y", "vertical", "average", "averaging", "report"):
		return factStep
	case anyOf(s, "record length", "memory length", "number of data points", "number of points", "number of samples", "samples", "points", "sample count", "npts", "no of points", "no of samples", "data points", "num samples", "anzahl", "total samples", "length", "number of records", "rows", "datapoints", "wavesize", "size"):
		return factSamples
	case anyOf(s, "x 0", "x0", "start", "x zero", "xzero", "x origin", "xorigin", "time offset", "first sample", "t 0", "xoffset", "x offset", "start time", "startzeit", "begin", "first point", "time zero", "time of first sample", "horizontal offset", "x first", "initial time"):
		return factStart
	}
	return noFact
}

// pair takes one key with its value.
func (f *facts) pair(t *table, i int, key, value []byte) {
	k := utf8String(bytes.TrimSpace(bytes.Trim(key, `"'=:# `)))
	name, _, ku, hasUnit := splitUnit(k)
	s := normal(name)
	kind := interest(s)
	if kind == noFact && hasUnit {
		kind = interest(normal(k))
	}
	v := bytes.TrimSpace(bytes.Trim(value, `"'`))
	if n := numberOfChannel(k); n > 0 && i < t.first && f.channelNames[n] == "" && (len(v) > 0 && v[0]-'0' > 9) {
		f.channelNames[n] = utf8String(v)
	}
	switch kind {
	case factXUnit:
		f.xUnit = utf8String(v)
		f.add(i, k, v, "unit of time")
		return
	case factYUnit:
		f.yUnit = utf8String(v)
		f.add(i, k, v, "unit of the values")
		return
	}
	if st, ok := readClock(v); ok && kind == factStep && st.hasTime && !st.hasDate && st.sec > 0 {
		f.setStep(i, k, v, st.sec)
		return
	}
	if st, ok := readClock(v); ok && kind != factStep && kind != factRate && kind != factSamples {
		f.setStamp(i, k, st, v)
		return
	}
	x, u, ok := valueWithUnit(v, t.dec)
	if !ok {
		return
	}
	if u.q == noQuantity && hasUnit {
		u = ku
	}
	factor := 1.0
	if u.factor != 0 {
		factor = u.factor
	}
	switch kind {
	case factRate:
		switch {
		case u.q == seconds && x > 0: // "sample rate: 10 ms"
			f.setStep(i, k, v, x*factor)
		case (u.q == hertz || u.q == noQuantity) && x > 0 && f.rate == 0:
			f.rate = x * factor
			f.add(i, k, v, "sample rate")
		}
	case factStep:
		switch {
		case u.q == hertz && x > 0 && f.rate == 0:
			f.rate = x * factor
			f.add(i, k, v, "sample rate")
		case (u.q == seconds || u.q == noQuantity) && x > 0:
			if u.q == noQuantity {
				if xu, ok := findUnit(f.xUnit); ok && xu.q == seconds {
					factor = xu.factor
				}
			}
			f.setStep(i, k, v, x*factor)
		}
	case factStart:
		if (u.q == seconds || u.q == noQuantity) && !f.hasStart {
			f.start, f.hasStart = x*factor, true
			f.add(i, k, v, "time of the first sample")
		}
	case factSamples:
		if x >= 1 && x == math.Trunc(x) && x < 1e15 && f.samples == 0 && u.q == noQuantity {
			f.samples = int64(x)
			f.add(i, k, v, "number of samples")
		}
	}
}

func (f *facts) setStep(i int, k string, v []byte, x float64) {
	if f.step == 0 {
		f.step = x
		f.add(i, k, v, "sample interval")
	}
}

func (f *facts) stamp(i int, key string, v []byte) {
	if st, ok := readClock(v); ok {
		f.setStamp(i, key, st, v)
	}
}

func (f *facts) setStamp(i int, key string, st stamp, v []byte) {
	if st.hasDate && !f.date.hasDate {
		f.date = st
		f.add(i, key, v, "date")
		if st.hasTime {
			f.tod = st
		}
		return
	}
	if st.hasTime && !f.tod.hasTime {
		f.tod = st
		f.add(i, key, v, "time of day")
	}
}

// valueWithUnit reads a value with an optional unit: "558659Hz", "2.0E-5", "10 ms".
func valueWithUnit(v []byte, dec byte) (x float64, u unit, ok bool) {
	for _, d := range []byte{dec, '.', ','} {
		x, n := scanNumber(v, 0, d)
		if n == 0 {
			continue
		}
		rest := strings.TrimSpace(utf8String(v[n:]))
		if rest == "" {
			return x, unit{}, true
		}
		if u, ok := findUnit(rest); ok {
			return x, u, true
		}
		if i := strings.IndexAny(rest, " ,;("); i > 0 {
			if u, ok := findUnit(rest[:i]); ok {
				return x, u, true
			}
		}
		if g, ok := grouped(v, d); ok {
			return g, unit{}, true
		}
	}
	return 0, unit{}, false
}

// interval is the sample interval the preamble tells, s, or 0.
func (f *facts) interval() float64 {
	if f.step == 0 && f.rate > 0 {
		return 1 / f.rate
	}
	return f.step
}
