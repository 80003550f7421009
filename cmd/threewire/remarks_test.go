package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const captures = "../../fixtures/captures/"

// withRemarks writes a capture again with a column of remarks: by the number of the row.
func withRemarks(t *testing.T, path string, remarks map[int]string) string {
	t.Helper()
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	mark := ","
	if strings.Contains(string(raw), ";") {
		mark = ";"
	}
	for i, line := range strings.Split(strings.TrimSpace(string(raw)), "\n") {
		if i == 0 {
			b.WriteString(line + mark + "Comment\n")
			continue
		}
		b.WriteString(line + mark + remarks[i-1] + "\n")
	}
	out := filepath.Join(t.TempDir(), filepath.Base(path))
	if err := os.WriteFile(out, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	return out
}

// Remarks are told in the words of who wrote them; they change nothing else, and an empty
// column of them changes nothing at all.
func TestRemarksAreTold(t *testing.T) {
	many := map[int]string{}
	for i := range 10 {
		many[100+200*i] = fmt.Sprintf("door felt at place %d", i)
	}
	plain := captures + "rig3-left-temperature-door-dead-spot.csv"
	_, want, _ := call("", "check", plain)
	section := "\nRemarks in the recording\n"
	for _, c := range []struct {
		remarks map[int]string
		says    []string
	}{
		{nil, nil},
		{map[int]string{500: "wiggled plug"}, []string{section + "  - At 10.0 s: “wiggled plug”\n"}},
		{map[int]string{500: "connector pulled off here"}, []string{"“connector pulled off here”"}},
		{many, []string{"“door felt at place 0”", "“door felt at place 7”", "  - And 2 more\n"}},
	} {
		_, out, _ := call("", "check", withRemarks(t, plain, c.remarks))
		for _, s := range c.says {
			if !strings.Contains(out, s) {
				t.Errorf("%q is not said:\n%s", s, out)
			}
		}
		told := out
		if i := strings.Index(out, section); i >= 0 {
			j := strings.Index(out[i+1:], "\n\n")
			told = out[:i] + out[i+1+j+1:]
		}
		verdict := func(s string) string { return s[:strings.Index(s, "How it was read")] }
		if verdict(told) != verdict(want) || (len(c.says) == 0) != (told == out) {
			t.Errorf("%v change the verdict:\n%s", c.remarks, out)
		}
		_, js, _ := call("", "check", "--json", withRemarks(t, plain, c.remarks))
		if strings.Count(js, `"text": "door felt`) != len(c.remarks) && len(c.remarks) > 1 || strings.Contains(js, `"remarks"`) != (len(c.remarks) > 0) {
			t.Errorf("JSON with %d remarks: %t", len(c.remarks), strings.Contains(js, `"remarks"`))
		}
	}
}
