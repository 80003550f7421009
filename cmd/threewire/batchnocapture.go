package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"regexp"
	"strings"

	"threewire/analyze/cost"
	"threewire/analyze/nominal"
)

// noCapture says what a file is that this program or a shop wrote for it, and that is
// no capture though its name could be one's; "" for anything else.
func noCapture(path string) string {
	if st, err := os.Stat(path); err != nil || !st.Mode().IsRegular() {
		return "" // a pipe is read once
	}
	f, err := os.Open(path)
	if err != nil {
		return ""
	}
	defer f.Close()
	head := make([]byte, 4096)
	n, _ := io.ReadFull(f, head)
	head = head[:n]
	switch {
	case bytes.HasPrefix(head, []byte(tableHead())):
		return "a table of a batch"
	case bytes.HasPrefix(head, []byte(`{"schema":"threewire-`)), bytes.HasPrefix(head, []byte("{\n  \"schema\": \"threewire-")):
		return "written by threewire"
	case bytes.HasPrefix(head, []byte(sheetHead)) && bytes.Contains(head, []byte("\n\nFault ")):
		return answerSheet
	case !beginsWithSetting(head):
		return ""
	}
	rest, err := io.ReadAll(io.LimitReader(f, 1<<20))
	if err != nil {
		return ""
	}
	text := append(head, rest...)
	if _, err := cost.Parse(path, text); err == nil {
		return "prices"
	}
	if _, err := nominal.Parse(path, text); err == nil {
		return "a profile"
	}
	if _, err := parseSettings(bytes.NewReader(text), path); err == nil {
		return "settings for reports"
	}
	return ""
}

// answerSheet says what `simulate --sheet` wrote: beside a class's captures there are many,
// so that they are counted and not named.
const answerSheet = "an answer sheet of simulate"

// refuseOther is the error for a file, here called name, that is no capture, see
// [noCapture], with what it is given as instead; nil for anything else.
func refuseOther(path, name string) error {
	what := noCapture(path)
	if what == "" {
		return nil
	}
	instead := map[string]string{"prices": "; prices go with --prices", "a profile": "; a profile goes with --profile"}[what]
	return fmt.Errorf("%s is no capture (%s): expected the CSV file that a scope or a logger saved%s", name, what, instead)
}

// settingLine is a line as prices, profiles and settings have them.
var settingLine = regexp.MustCompile(`^[A-Za-z][A-Za-z ]*:`)

// beginsWithSetting tells whether the first line that is no comment is such a line.
func beginsWithSetting(head []byte) bool {
	for _, line := range strings.Split(strings.TrimPrefix(string(head), "\ufeff"), "\n") {
		if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "#") {
			return settingLine.MatchString(line)
		}
	}
	return false
}

// tableHead is what every table of a batch begins with.
func tableHead() string {
	var names []string
	for _, c := range csvColumns(nil)[:5] {
		names = append(names, c.name)
	}
	return strings.Join(names, ",") + ","
}

// leftOut names the files that were found and are no captures, in one line.
func leftOut(w io.Writer, list []string) {
	if len(list) == 0 {
		return
	}
	fmt.Fprintf(w, "threewire batch: left out, no capture: %s\n", some(list))
}
