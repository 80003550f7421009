package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"threewire/analyze"
	"threewire/analyze/cost"
	"threewire/fixtures"
)

const shopPrices = "../../fixtures/shop-prices.txt" // the README's example

// costBlock is what check says about money.
func costBlock(t *testing.T, args ...string) string {
	t.Helper()
	_, out, errs := call("", append([]string{"check"}, args...)...)
	if errs != "" {
		t.Fatalf("%q said %q", args, errs)
	}
	_, after, ok := strings.Cut(out, "\nWhat each choice costs")
	if !ok {
		t.Fatalf("%q says nothing about money", args)
	}
	block, _, _ := strings.Cut(after, "\n\n")
	return "What each choice costs" + block + "\n"
}

// The money in words, for a sure verdict, a door, wiring, one that cannot tell,
// and with figures missing.
func TestPricesText(t *testing.T) {
	const part = "testdata/part-prices.txt"
	var all strings.Builder
	for _, c := range []struct{ capture, prices string }{
		{"rig3-left-temperature-door-dead-spot.csv", shopPrices},
		{"rig8-left-temperature-door-binding.csv", shopPrices},
		{"rig9-intake-door-connector.csv", shopPrices},
		{"rig10-left-temperature-door-cannot-tell-no-motion.csv", shopPrices},
		{"rig8-left-temperature-door-binding.csv", part},
	} {
		block := costBlock(t, "--prices", c.prices, "../../fixtures/captures/"+c.capture)
		all.WriteString(c.capture + "\n" + block + "\n")
		if m := slipsOfGrammar.FindString(strings.ReplaceAll(strings.Join(strings.Fields(block), " "), "../../", "")); m != "" {
			t.Errorf("%s: the text says %q", c.capture, m)
		}
	}
	golden(t, "check-prices.txt", all.String())
}

// Prices change nothing else: neither the verdict, nor the exit code, nor the
// page for the customer.
func TestPricesStandApart(t *testing.T) {
	code, without, _ := call("", "check", demo)
	priced, with, errs := call("", "check", "--prices", shopPrices, demo)
	if code != priced || errs != "" {
		t.Fatalf("ended with %d and %d, said %q", code, priced, errs)
	}
	before, after, _ := strings.Cut(with, "\nWhat each choice costs")
	_, after, _ = strings.Cut(after, "\n\n")
	if before+"\n"+after != without {
		t.Errorf("with prices:\n%s\nwithout:\n%s", before+"\n"+after, without)
	}
	dir := t.TempDir()
	pages := [2]string{filepath.Join(dir, "a.html"), filepath.Join(dir, "b.html")}
	call("", "check", "--report", pages[0], demo)
	call("", "check", "--report", pages[1], "--prices", shopPrices, demo)
	a, err := os.ReadFile(pages[0])
	if err != nil {
		t.Fatal(err)
	}
	if b, err := os.ReadFile(pages[1]); err != nil || string(a) != string(b) {
		t.Errorf("the report differs with prices (%v)", err)
	}
}

// For programs: the field is there with prices and absent without.
func TestPricesJSON(t *testing.T) {
	var rep struct {
		Schema string
		Choice *analyze.RepairChoice `json:"repair_choice"`
	}
	_, out, _ := call("", "check", "--json", "--prices", shopPrices, demo)
	if err := json.Unmarshal([]byte(out), &rep); err != nil || rep.Choice == nil {
		t.Fatalf("%v: %v", err, rep.Choice)
	}
	if c := rep.Choice; rep.Schema != analyze.SchemaVersion || len(c.Choices) != 8 || c.Best == nil || c.Best.Do != "replace the actuator" || len(c.Tests) == 0 || c.Renewal == nil {
		t.Errorf("%+v", c)
	}
	if _, out, _ := call("", "check", "--json", demo); strings.Contains(out, "repair_choice") {
		t.Error("repair_choice without prices")
	}
}

func TestPricesRefused(t *testing.T) {
	bad := filepath.Join(t.TempDir(), "bad.txt")
	if err := os.WriteFile(bad, []byte("labour rate: 80\nactuator prize: 60\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--prices", "gone.txt", demo}, "--prices: open gone.txt"},
		{[]string{"--prices", bad, demo}, `bad.txt:2:1: found "actuator prize", expected one of currency, labour rate`},
		{[]string{"--prices", t.TempDir(), demo}, "--prices"},
		// Before any capture is read.
		{[]string{"--prices", bad, "gone.csv"}, "bad.txt:2:1"},
	} {
		code, out, errs := call("", append([]string{"check"}, c.args...)...)
		if code != exitUsage || out != "" || !strings.Contains(errs, c.want) {
			t.Errorf("%q: %d, %q, %q (expected %q)", c.args, code, out, errs, c.want)
		}
	}
	// A page for the customer must not replace the prices.
	page := filepath.Join(t.TempDir(), "prices.html")
	if err := os.WriteFile(page, []byte("labour rate: 80\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, _, errs := call("", "check", "--prices", page, "--report", page, demo); code != exitUsage || !strings.Contains(errs, "one of the inputs") {
		t.Errorf("%d, %q", code, errs)
	}
}

// The example that the help, the page and the README show is a prices file, with
// every line that there is.
func TestPricesExample(t *testing.T) {
	p, err := cost.Parse("example", []byte(fixtures.ShopPrices()))
	if err != nil {
		t.Fatal(err)
	}
	rep := analyze.Report{Verdict: analyze.Verdict{Chances: []analyze.Chance{{Fault: analyze.FeedbackSensor, Probability: 1}}}}
	rc := cost.Repairs(&rep, p)
	if len(rc.Missing) > 0 || rc.Best == nil || rc.Renewal == nil || strings.Contains(strings.Join(rc.Assumed, ""), "no line") {
		t.Errorf("something is missing: %+v", rc)
	}
	if _, out, _ := call("", "check", "--help"); !strings.Contains(out, "  labour rate: 80 ") {
		t.Errorf("the help lacks the example: %s", out)
	}
}

// What is best only where the likeliest part is all but ruled out is no advice for now:
// it is not named.
func TestFlipFarAway(t *testing.T) {
	for _, c := range []struct {
		at, now float64
		named   bool
	}{{0.05, 0.56, false}, {0.4, 0.56, true}, {0.05, 0.3, true}} {
		rc := &analyze.RepairChoice{Best: &analyze.BestChoice{Do: "x", Flips: []analyze.Flip{{Part: "actuator", Now: c.now, At: c.at, Then: "repair the wiring"}}}}
		if got := flipLine(rc); strings.Contains(got, "repair the wiring") != c.named {
			t.Errorf("at %g, now %g: %q", c.at, c.now, got)
		}
	}
}

// Whatever the prices, the test that the money names first is the first of the
// section before it, and of the customer's report; that prices put it there is said.
func TestPricesNameTheSameTest(t *testing.T) {
	dir := t.TempDir()
	slow := filepath.Join(dir, "slow.txt")
	text := strings.ReplaceAll(fixtures.ShopPrices(), "minutes of run it free: 20", "minutes of move the door by hand: 90")
	if err := os.WriteFile(slow, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, prices := range []string{shopPrices, slow} {
		for _, capture := range []string{"rig8-left-temperature-door-binding.csv", "rig10-mode-door-cannot-tell-no-stop.csv"} {
			page := filepath.Join(dir, "page.html")
			_, out, _ := call("", "check", "--force", "--report", page, "--prices", prices, "../../fixtures/captures/"+capture)
			_, next, _ := strings.Cut(out, "\nNext test\n  - ")
			first, _, _ := strings.Cut(next, " (about")
			_, test, ok := strings.Cut(out, "  - Test first: ")
			if test, _, _ = strings.Cut(test, " (about"); !ok || test != lower(first) {
				t.Errorf("%s by %s: next test %q, by money %q", capture, prices, first, test)
			}
			if moved := strings.Contains(out, "It comes first by your prices"); moved != (prices == slow && strings.HasPrefix(capture, "rig8")) {
				t.Errorf("%s by %s: moved is %v", capture, prices, moved)
			}
			if html, _ := os.ReadFile(page); !strings.Contains(string(html), first+" (about") {
				t.Errorf("%s by %s: the report does not name %q", capture, prices, first)
			}
		}
	}
}
