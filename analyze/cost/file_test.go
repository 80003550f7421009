package cost

import (
	"errors"
	"math"
	"strings"
	"testing"

	"threewire/analyze/textfile"
)

// mustPrices reads prices for a test.
func mustPrices(t *testing.T, text string) *Prices {
	t.Helper()
	p, err := Parse("shop.txt", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestParse(t *testing.T) {
	t.Parallel()
	p := mustPrices(t, "\ufeff# ours\r\n\r\n Currency: EUR # ours\r\nLABOUR  rate: 80\r\nopening hours: 1.5h\r\nopened for: Air Case, actuator\r\nactuator price: 60.50\r\n"+
		"actuator hours: 0.4 hours\r\nhorizon: 24 months\r\nold actuator fails: 15%\r\nminutes of run it free: 20 min\r\ncomeback price: 0\r\n")
	if p.Currency != "EUR" || p.opens != 1<<actuator|1<<airCase || p.minutes["run it free"] != 20 || p.File != "shop.txt" {
		t.Errorf("read %+v", p)
	}
	for name, want := range map[string]float64{lineRate: 80, lineOpening: 1.5, "actuator price": 60.5, "actuator hours": 0.4, lineHorizon: 24, lineOldFails: 0.15, lineComeback: 0} {
		if got, ok := p.figures[name]; !ok || math.Abs(got-want) > 1e-12 {
			t.Errorf("%s: %v (%v), expected %v", name, got, ok, want)
		}
	}
	if got := strings.Join(p.missing(allRepairs), "; "); got != "air case price; air case hours; wiring price; wiring hours" {
		t.Errorf("missing %q", got)
	}
	// What need not be opened needs no opening hours; waiting needs nothing.
	p = mustPrices(t, "opened for: none\nlabour rate: 80\nwiring price: 5\nwiring hours: 1\n")
	if m := p.missing(1 << wiring); len(m) != 0 {
		t.Errorf("wiring misses %q", m)
	}
	if m := p.missing(0); len(m) != 0 {
		t.Errorf("waiting misses %q", m)
	}
	if m := mustPrices(t, "labour rate: 80").missing(1 << wiring); strings.Join(m, "; ") != "opening hours; wiring price; wiring hours" {
		t.Errorf("wiring misses %q", m)
	}
}

// What is refused names the line, the column, what was found and what to do.
func TestParseRefuses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, want string }{
		{"", `shop.txt: expected lines such as`},
		{"# nothing\n\n", `shop.txt: expected lines`},
		{"labour rate 80", `shop.txt:1:1: found "labour rate 80", expected name: value`},
		{"\n\n  labour: 80", `shop.txt:3:3: found "labour", expected one of currency, labour rate`},
		{"labour rate: 80\nLabour rate: 90", `shop.txt:2:1: found "labour rate", expected each line once; it stands in line 1`},
		{"labour rate:  # soon", `shop.txt:1:1: found "labour rate:", expected a value`},
		{"labour rate: 80,5", `shop.txt:1:14: found "80,5", expected a number, e.g. 120; write a decimal point`},
		{"labour rate: 1,250.00", `write a decimal point, and no sign between thousands`},
		{"labour rate: 80 EUR", `found "80 EUR", expected a number, e.g. 120; write the number alone`},
		{"labour rate: -3", `found "-3", expected 0 or more`},
		{"labour rate: 1e99", `found "1e99"`},
		{"labour rate: NaN", `found "NaN"`},
		{"labour rate: 99999999", `expected at most 10000000`},
		{"labour rate: 1.2.3", `found "1.2.3"`},
		{"opening hours: 90 min", `found "90 min", expected a number, e.g. 1.5 h`},
		{"old actuator fails: 0.15", `found "0.15", expected a number, e.g. 15 %`},
		{"old actuator fails: 115 %", `expected at most 100`},
		{"old actuator fails: 15 %", `shop.txt:1:1: found "old actuator fails", expected a line "horizon" beside it`},
		{"labour rate: 80\nhorizon: 24", `shop.txt:2:1: found "horizon", expected a line "old actuator fails"`},
		{"opened for: dash", `shop.txt:1:13: found "dash", expected actuator, air case or wiring`},
		{"minutes of free run: 10", `shop.txt:1:1: found "free run", expected minutes of one of the tests: Run it free`},
		{"currency: 12", `found "12", expected a word or sign`},
		{"currency: EUR\n\xff: 1", `shop.txt:2:1: expected text in UTF-8`},
	} {
		_, err := Parse("shop.txt", []byte(c.text))
		var pe *textfile.Error
		if !errors.As(err, &pe) || pe.Want == "" || pe.Hint == "" || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v (expected %q)", c.text, err, c.want)
		}
	}
}

// Whatever the bytes, the parser neither panics nor takes a figure that cannot
// be one.
func FuzzParse(f *testing.F) {
	f.Add([]byte(handPrices))
	f.Add([]byte("currency: €\nopened for: none\nminutes of wiggle the connector: 3\n"))
	f.Fuzz(func(t *testing.T, b []byte) {
		p, err := Parse("f", b)
		if err != nil {
			var pe *textfile.Error
			if !errors.As(err, &pe) {
				t.Fatalf("error of another kind: %v", err)
			}
			return
		}
		for name, v := range p.figures {
			if !(v >= 0 && v <= 1e7) {
				t.Fatalf("%s: %v", name, v)
			}
		}
	})
}
