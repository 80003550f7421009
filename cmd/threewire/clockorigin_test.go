package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// All times later by the same give the same findings: rows of 5 ms lie at six of them
// from one another as far as a search reaches, to the last bit.
func TestCheckWhereverTheClockBegan(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	path := filepath.Join(dir, "a.csv")
	if code, _, e := call("", "simulate", "--fault", "dead-spot", "--severity", ".5", "--seed", "12", "--duration", "30", "--instrument", "two-channel-logger", "--out", path); code != 0 {
		t.Fatal(e)
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	found := func(path string) string {
		_, out, _ := call("", "check", path, "--json")
		var r struct {
			Verdict  struct{ Conclusion string }
			Captures []struct {
				Findings []struct {
					Kind, Form   string
					Seen, Passes int
				}
			}
		}
		if err := json.Unmarshal([]byte(out), &r); err != nil {
			t.Fatal(err)
		}
		s := r.Verdict.Conclusion
		for _, f := range r.Captures[0].Findings {
			s += fmt.Sprintf("; %s %s %d of %d", f.Kind, f.Form, f.Seen, f.Passes)
		}
		return s
	}
	want := found(path)
	for _, by := range []float64{100, 37.123} {
		var later strings.Builder
		for line := range strings.Lines(string(text)) {
			if at, rest, ok := strings.Cut(line, ","); ok {
				if x, err := strconv.ParseFloat(at, 64); err == nil {
					line = fmt.Sprintf("%.5f,%s", x+by, rest)
				}
			}
			later.WriteString(line)
		}
		if err := os.WriteFile(path, []byte(later.String()), 0o600); err != nil {
			t.Fatal(err)
		}
		if got := found(path); got != want {
			t.Errorf("%v s later: %s, else %s", by, got, want)
		}
	}
}
