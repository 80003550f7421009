package main

import (
	"strings"
	"testing"
)

// The distance is a metric for single slips; the pairs are the textbook's
// (kitten and sitting, from memory) and the four single slips.
func TestSlips(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"", "abc", 3}, {"kitten", "sitting", 3}, {"free", "free", 0},
		{"fre", "free", 1}, {"freee", "free", 1}, {"frea", "free", 1}, {"fere", "free", 1}, {"ca", "abc", 3},
	} {
		if got := slips(c.a, c.b); got != c.want {
			t.Errorf("slips(%q, %q) = %d, expected %d", c.a, c.b, got, c.want)
		}
		if a, b := slips(c.a, c.b), slips(c.b, c.a); a != b {
			t.Errorf("slips(%q, %q) = %d, the other way round %d", c.a, c.b, a, b)
		}
	}
}

func TestMisspeltFlagsAndCommands(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string // "" expects no suggestion
	}{
		{[]string{"check", "--fre", "x.csv", "y.csv"}, "unknown flag --fre; did you mean --free?"},
		{[]string{"check", "--feedbck", "2", "y.csv"}, "did you mean --feedback?"},
		{[]string{"check", "--refrence=3", "y.csv"}, "unknown flag --refrence; did you mean --reference?"},
		{[]string{"check", "--leada", "2", "y.csv"}, "did you mean --lead-a?"},
		{[]string{"check", "-free", "x.csv"}, "unknown flag -free; did you mean --free?"},
		{[]string{"check", "--refer", "x.csv"}, "did you mean --reference or --reference-volts?"},
		{[]string{"draw", "--output", "x.png", "y.csv"}, "did you mean --out?"},
		{[]string{"simulate", "--sede", "5"}, "did you mean --seed?"},
		{[]string{"batch", "--csvv", "x", "y"}, "did you mean --csv?"},
		{[]string{"profile", "--ot", "x", "y"}, "did you mean --out?"},
		{[]string{"columns", "--feedbak", "x", "y"}, "did you mean --feedback?"},
		{[]string{"check", "--zzzzzz", "x.csv"}, ""},
		{[]string{"check", "-z", "x.csv"}, ""},
		{[]string{"chek", "x.csv"}, "did you mean check?"},
		{[]string{"simulat"}, "did you mean simulate?"},
		{[]string{"zzzzzz"}, ""},
	} {
		code, out, errs := call("", c.args...)
		if code != exitUsage || out != "" || strings.Count(errs, "\n") != 1 {
			t.Errorf("%v: ended with %d and said %q, %q", c.args, code, out, errs)
		}
		if !strings.Contains(errs, c.want) || !strings.Contains(errs, "--help") || c.want == "" && strings.Contains(errs, "did you mean") {
			t.Errorf("%v: said %q, expected %q and --help", c.args, errs, c.want)
		}
	}
}
