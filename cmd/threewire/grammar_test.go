package main

import (
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// slipsOfGrammar are things no colleague would write.
var slipsOfGrammar = regexp.MustCompile(`(?i)(^|[^\d.])1 (\w+ )?(times|moves|sweeps|drives|stands|captures|reversals|leaps|passes|rows|stretches)\b` +
	`|\b0 (while|at rest)|[^\d.-]-\d+ %|\bNaN\b|\bInf\b|%!|\.\.`)

// Every text that check prints for the demonstration captures is plain
// grammar: singular for one, words for none, no time range without length.
func TestGrammarOfTheText(t *testing.T) {
	paths, err := filepath.Glob("../../fixtures/captures/*.csv*")
	if err != nil || len(paths) < 14 {
		t.Fatalf("found %d captures (%v)", len(paths), err)
	}
	range2 := regexp.MustCompile(`(\d+\.\d\d) to (\d+\.\d\d) s\.`)
	for _, p := range paths {
		_, out, errs := call("", "check", p)
		if errs != "" {
			t.Errorf("%s: %s", p, errs)
		}
		text := strings.ReplaceAll(strings.ReplaceAll(out, "../../", ""), "\n", " ")
		text = strings.Join(strings.Fields(text), " ")
		if m := slipsOfGrammar.FindString(text); m != "" {
			t.Errorf("%s: the text says %q", filepath.Base(p), m)
		}
		for _, m := range range2.FindAllStringSubmatch(text, -1) {
			if m[1] == m[2] {
				t.Errorf("%s: the text says %q", filepath.Base(p), m[0])
			}
		}
	}
}

// The note on tests that cannot turn the verdict stands with a sure verdict
// and not with an open one; an open verdict argues neither way.
func TestHonestNextTest(t *testing.T) {
	const stays = "No likely outcome turns the verdict"
	_, sure, _ := call("", "check", "../../fixtures/captures/rig3-left-temperature-door-dead-spot.csv")
	_, open, _ := call("", "check", "../../fixtures/captures/rig10-left-temperature-door-cannot-tell-no-motion.csv")
	if !strings.Contains(sure, stays) || !strings.Contains(sure, "Evidence for feedback sensor") {
		t.Errorf("a dead spot seen in every pass: %s", sure)
	}
	if strings.Contains(open, stays) || strings.Contains(open, "Evidence ") || !strings.Contains(open, "What was found") {
		t.Errorf("no motion: %s", open)
	}
	// What the feedback stands at is told even where nothing moved.
	if !strings.Contains(strings.Join(strings.Fields(open), " "), "feedback 3.02 to 3.03 V") {
		t.Errorf("no motion: %s", open)
	}
}
