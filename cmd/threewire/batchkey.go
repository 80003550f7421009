package main

import (
	"fmt"
	"path/filepath"
	"regexp"
	"strings"
	"time"
	"unicode/utf8"
)

// batchKey says to which actuator a capture belongs, and when it was made.
type batchKey struct {
	actuator string
	when     string // 2026-03-01 or 2026-03-01T10:30:00; empty if the name has no date
	phase    string // "before", "after" or empty
	free     bool   // uncoupled from the door
	// occasion is what the coupled and the free capture of one time share.
	occasion string

	byPath, byPreamble bool // a pattern found it there
}

// set is what captures that are judged in one go share: their occasion, or
// the actuator when they tell what a repair did to it.
func (k batchKey) set() string {
	if k.phase == "before" || k.phase == "after" {
		return k.actuator
	}
	return k.occasion
}

// keyer finds keys in paths and preambles. The zero value reads the names as
// [batchUsage] describes; with a pattern its groups decide.
type keyer struct{ path, preamble *regexp.Regexp }

// newKeyer compiles --key and --preamble-key; "" is none.
func newKeyer(path, preamble string) (k keyer, err error) {
	if k.path, err = keyPattern("key", path); err != nil {
		return k, err
	}
	k.preamble, err = keyPattern("preamble-key", preamble)
	return k, err
}

func keyPattern(flag, expr string) (*regexp.Regexp, error) {
	if expr == "" {
		return nil, nil
	}
	re, err := regexp.Compile(expr)
	if err != nil {
		return nil, fmt.Errorf("--%s: %w", flag, err)
	}
	if re.SubexpIndex("actuator") < 0 {
		return nil, fmt.Errorf("--%s has no group (?P<actuator>...): expected one, and perhaps (?P<free>...), (?P<coupled>...), (?P<when>...), (?P<phase>...)", flag)
	}
	return re, nil
}

// key reads a path, and the preamble of the capture when that is asked for. A
// pattern that does not match leaves the default rule.
func (k keyer) key(f found) batchKey {
	key := k.named(f.path)
	if k.preamble != nil {
		key = withPreamble(key, k.preamble, preamble(f))
	}
	return key
}

func (k keyer) named(path string) batchKey {
	if k.path != nil {
		if m := k.path.FindStringSubmatchIndex(path); m != nil {
			return k.matched(path, m)
		}
	}
	return nameKey(path)
}

func (k keyer) matched(path string, m []int) batchKey {
	set := path
	group := func(name string, cut bool) string {
		i := k.path.SubexpIndex(name)
		if i < 0 || m[2*i] < 0 {
			return ""
		}
		s := path[m[2*i]:m[2*i+1]]
		if cut && s != "" {
			// Only one of free and coupled matches, so the offsets hold.
			set = path[:m[2*i]] + path[m[2*i+1]:]
		}
		return s
	}
	key := batchKey{actuator: plainText(group("actuator", false)), byPath: true}
	key.free = group("free", true) != ""
	if !key.free {
		group("coupled", true)
	}
	when := group("when", false)
	if _, at := cutDate(when); at != "" {
		when = at
	}
	key.when = plainText(when)
	key.phase = strings.ToLower(plainText(group("phase", false)))
	key.occasion = plainText(trimCaptureExt(set))
	return key
}

// nameKey takes the words off the end of a file name. The folder stays part
// of the actuator, dated folders aside: shelves keep one folder an actuator or
// one a day.
func nameKey(path string) batchKey {
	var key batchKey
	dir, name := filepath.Split(path)
	name = trimCaptureExt(name)
	set := name
	for {
		word := lastWord(name)
		rest := strings.TrimRight(strings.TrimSuffix(name, word), "-_. ")
		if rest == "" {
			break // a name of nothing but such words keeps the last one
		}
		if date, at := cutDate(name); at != "" && key.when == "" && date != "" {
			key.when, name = at, date
			continue
		}
		if at := offDoorPattern.FindStringIndex(name); at != nil && at[0] > 0 {
			key.free = true
			set = set[:at[0]] + set[len(name):]
			name = name[:at[0]]
			continue
		}
		w := strings.ToLower(word)
		switch w {
		case "free", "uncoupled", "coupled":
			key.free = w != "coupled"
			// The word may stand before others: cut it where it is.
			at := len(rest)
			set = set[:at] + set[len(name):]
		case "before", "after":
			key.phase = w
		default:
			w = ""
		}
		if w == "" {
			break
		}
		name = rest
	}
	parts := strings.Split(filepath.ToSlash(dir), "/")
	kept := parts[:0]
	for _, p := range parts {
		if rest, at := cutDate(p); at != "" && rest == "" {
			if key.when == "" {
				key.when = at
			}
			continue
		}
		kept = append(kept, p)
	}
	key.actuator = plainText(strings.Join(kept, "/") + name)
	key.occasion = plainText(dir + set)
	return key
}

// offDoorPattern is another way to say uncoupled at the end of a name.
var offDoorPattern = regexp.MustCompile(`(?i)[-_. ]+off[-_. ](?:(?:the|its)[-_. ])?door$`)

// lastWord is what follows the last separator of a name.
func lastWord(s string) string { return s[strings.LastIndexAny(s, "-_. ")+1:] }

var datePattern = regexp.MustCompile(`(?:^|[-_. ])(\d{4})([-_.]?)(\d\d)([-_.]?)(\d\d)(?:[T_ -](\d\d)[-_:.]?(\d\d)(?:[-_:.]?(\d\d))?)?$`)

// cutDate takes an ISO 8601 date, with or without separators and time of day,
// off the end of a name. at is empty when there is none. The separators of a
// time may be any that file systems allow.
func cutDate(s string) (rest, at string) {
	for from := 0; ; {
		m := datePattern.FindStringSubmatchIndex(s[from:])
		if m == nil {
			return s, ""
		}
		part := func(i int) string {
			if m[2*i] < 0 {
				return "00"
			}
			return s[from+m[2*i] : from+m[2*i+1]]
		}
		at = part(1) + "-" + part(3) + "-" + part(5) + "T" + part(6) + ":" + part(7) + ":" + part(8)
		_, err := time.Parse("2006-01-02T15:04:05", at)
		switch {
		case err == nil && part(2) == part(4) && m[12] < 0:
			return s[:from+m[0]], at[:10]
		case err == nil && part(2) == part(4):
			return s[:from+m[0]], at
		}
		// A number before the date, as in 0001-2026-03-01, was taken for a
		// year: look from the next separator on.
		next := strings.IndexAny(s[from+m[2]:], "-_. ")
		if next < 0 {
			return s, ""
		}
		from += m[2] + next
	}
}

// captureExts are the endings by which a folder's captures are known, packed
// with gzip or not.
func captureExts() []string { return []string{".csv", ".txt", ".tsv"} }

// isCaptureName tells whether a file in a folder is taken for a capture.
// Hidden files are not: they are other programs' and half-written ones.
func isCaptureName(name string) bool {
	return !strings.HasPrefix(name, ".") && trimCaptureExt(name) != name
}

// trimCaptureExt takes .gz and then .csv, .txt or .tsv off a name.
func trimCaptureExt(name string) string {
	cut := func(ext string) bool {
		if n := len(name) - len(ext); n > 0 && strings.EqualFold(name[n:], ext) {
			name = name[:n]
			return true
		}
		return false
	}
	cut(".gz")
	for _, ext := range captureExts() {
		if cut(ext) {
			break
		}
	}
	return name
}

// plainText is s with bytes that are no UTF-8 written as \xNN, for JSON and
// CSV carry text only.
func plainText(s string) string {
	if utf8.ValidString(s) {
		return s
	}
	var b strings.Builder
	for len(s) > 0 {
		r, n := utf8.DecodeRuneInString(s)
		if r == utf8.RuneError && n == 1 {
			fmt.Fprintf(&b, `\x%02x`, s[0])
		} else {
			b.WriteString(s[:n])
		}
		s = s[n:]
	}
	return b.String()
}
