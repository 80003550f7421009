package main

import (
	"os"
	"regexp"
	"strings"

	"threewire/signal"
)

// preambleSize is how much of a capture is searched for its preamble, in
// bytes. Preambles of instruments have a few dozen short lines.
const preambleSize = 4 << 10

// withPreamble adds to a key what the preamble of the capture says. The
// pattern is matched against one line at a time, and each of its groups takes
// its first match that is not empty, so that alternatives find facts in
// whatever order they stand. Without an actuator nothing else is taken.
func withPreamble(key batchKey, pattern *regexp.Regexp, text string) batchKey {
	group := map[string]string{}
	for line := range strings.SplitSeq(text, "\n") {
		for _, m := range pattern.FindAllStringSubmatch(line, -1) {
			for i, name := range pattern.SubexpNames() {
				if s := strings.TrimSpace(m[i]); name != "" && s != "" && group[name] == "" {
					group[name] = s
				}
			}
		}
	}
	if group["actuator"] == "" {
		return key
	}
	key.actuator, key.byPreamble = plainText(group["actuator"]), true
	if group["free"] != "" || group["coupled"] != "" {
		key.free = group["free"] != ""
	}
	if when := group["when"]; when != "" {
		if _, at := cutDate(when); at != "" {
			when = at
		}
		key.when = plainText(when)
	}
	if phase := group["phase"]; phase != "" {
		key.phase = strings.ToLower(plainText(phase))
	}
	// What was recorded of one actuator on one day, and on one side of a
	// repair, belongs together whatever the files are called. Without a day
	// only the names can tell.
	if day, _, _ := strings.Cut(key.when, "T"); day != "" {
		key.occasion = strings.Join([]string{key.actuator, day, key.phase}, "\n")
	}
	return key
}

// preamble is the beginning of a capture, decoded as the reader does. It is
// empty when it cannot be read: the row will say why.
func preamble(f found) string {
	if f.err != nil {
		return ""
	}
	in, err := os.Open(f.path)
	if err != nil {
		return ""
	}
	defer in.Close()
	text, err := signal.Preamble(in, preambleSize)
	if err != nil {
		return ""
	}
	return text
}
