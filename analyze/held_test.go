package analyze

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"
)

// What the report says of its percentages is what was counted: the same table stands in
// DEVELOPERS.md, and the README's share of those stated at 80 to 90 % comes from it.
func TestHeldIsWhatWasCounted(t *testing.T) {
	text, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	row := func(name string, numbers []float64) string {
		s := "| " + name + " |"
		for _, x := range numbers {
			s += fmt.Sprintf(" %.3f |", x)
		}
		return s
	}
	stated, held := heldTable()
	for _, want := range []string{row("on the average", stated), row("right", held)} {
		if !strings.Contains(string(text), want) {
			t.Errorf("DEVELOPERS.md has no row %q: bring heldTable() up to date with its table", want)
		}
	}
	readme, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	m := regexp.MustCompile(`of those stated at 80 to 90 %, (\d+)`).FindSubmatch(readme)
	if m == nil {
		t.Fatal("the README no longer says how many of those stated at 80 to 90 % held")
	}
	if mid, ok := Held(0.85); !ok || math.Abs(100*mid-num(t, string(m[1]))) > 1 {
		t.Errorf("stated at 85 %%: %.3f held, and the README says %s of 100", mid, m[1])
	}
}

// Two verdicts a percent apart hold about alike, and nothing is said of what was not counted.
func TestHeldHasNoStep(t *testing.T) {
	last := -1.0
	for p := 0.74; p <= 1; p += 0.001 {
		h, ok := Held(p)
		if !ok || last > 0 && (h < last || h-last > 0.003) {
			t.Fatalf("at %.3f: %.4f after %.4f, %t", p, h, last, ok)
		}
		last = h
	}
	if _, ok := Held(0.7); ok {
		t.Error("70 % was not counted")
	}
}

func num(t *testing.T, s string) float64 {
	t.Helper()
	var x float64
	if _, err := fmt.Sscan(s, &x); err != nil {
		t.Fatal(err)
	}
	return x
}
