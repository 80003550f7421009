package main

import (
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Field names stand for flags in what the page says; other words stay.
func TestPageWords(t *testing.T) {
	for in, want := range map[string]string{
		"give --rate HZ, or name a column with --time":                    "give “Readings per second”, or name a column with “Time”",
		"settle it with --drive 2 or --drive 3, or --lead-a 2 --lead-b 3": "settle it with “Motor drive” at column 2 or “Motor drive” at column 3, or “Motor lead A” at column 2 and “Motor lead B” at column 3",
		"try --drive 3 --feedback 2":                                      "try “Motor drive” at column 3 and “Feedback” at column 2",
		"if the numbers are mV, give --scale feedback=0.001":              "if the numbers are mV, give “Factor” 0.001 for feedback",
		"read as ms; else give --scale time=FACTOR (s per count)":         "read as ms; else give “Factor” for time (s per count)",
		"--scale time=1e-06 is not used: the times are clock stamps":      "“Factor” 1e-06 for time is not used: the times are clock stamps",
		"coupled, and free with --free.":                                  "coupled, and free with “Off its door”.",
		"name it with --drive, or both leads with --lead-a and --lead-b":  "name it with “Motor drive”, or both leads with “Motor lead A” and “Motor lead B”",
		"--what is this -- and a-b 2 % of 5 V":                            "--what is this -- and a-b 2\u00a0% of 5\u00a0V",
		"4 Volt, 3 in 2 Hz; 1 A":                                          "4 Volt, 3 in 2\u00a0Hz; 1\u00a0A",
	} {
		if got := pageWords(in); got != want {
			t.Errorf("%q became %q, wanted %q", in, got, want)
		}
	}
}

// Every flag that a text of ours tells a user to give has a field on the page.
func TestEveryFlagInTextsHasAField(t *testing.T) {
	flag := regexp.MustCompile(`"[^"\n]*[ (]--([a-z-]+)`)
	// Of these the command line speaks alone: --help, and those of plan, which
	// the page does not have.
	own := map[string]bool{"help": true, "probe": true, "coupled": true, "sweeps": true}
	for _, dir := range []string{"../../signal/*.go", "../../analyze/*.go"} {
		paths, _ := filepath.Glob(dir)
		for _, p := range paths {
			if strings.HasSuffix(p, "_test.go") {
				continue
			}
			for _, m := range flag.FindAllStringSubmatch(readText(t, p), -1) {
				if got := pageWords("--" + m[1]); strings.HasPrefix(got, "--") && !own[m[1]] {
					t.Errorf("%s tells of --%s, which the page has no word for: %s", p, m[1], m[0])
				}
			}
		}
	}
}

// No placeholder of a command line stays in what the page says.
func TestNoPlaceholderOnThePage(t *testing.T) {
	holder := regexp.MustCompile(`--[a-z-]+ (?:[a-z-]+=)?[A-Z]{2,}\b`)
	for _, dir := range []string{"../../signal/*.go", "../../analyze/*.go"} {
		paths, _ := filepath.Glob(dir)
		for _, p := range paths {
			if strings.HasSuffix(p, "_test.go") {
				continue
			}
			for _, m := range holder.FindAllString(readText(t, p), -1) {
				if got := pageWords("give " + m); strings.ContainsAny(got, "-=") || regexp.MustCompile(`[A-Z]{2}`).MatchString(got) {
					t.Errorf("%s: %q becomes %q", p, m, got)
				}
			}
		}
	}
}
