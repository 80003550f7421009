package analyze

import (
	"math"
	"strings"
	"testing"
)

// A clamp that was not set to zero reads as much at rest, the other way, as a motor takes to
// turn: it turns all the same, whether its current was logged with its sign or without; one
// whose circuit is open still draws nothing. What flows in one rest only is a current and no
// zero. (Drawn.)
func TestClampThatIsNotAtZero(t *testing.T) {
	t.Parallel()
	const off = -0.018 // A
	for _, c := range []struct {
		name                string
		running, held, zero float64 // A
		signed              bool
		lastRest            float64 // A, in the last rest only
		form                string
		told                bool
	}{
		{name: "turns", running: 0.038, held: 0.4, zero: off, form: turningCurrent, told: true},
		{name: "turns, signed", running: 0.038, held: 0.4, zero: off, signed: true, form: turningCurrent, told: true},
		{name: "turns, no offset", running: 0.038, held: 0.4, form: turningCurrent},
		{name: "held", running: 0.4, held: 0.4, zero: off, form: stallCurrent, told: true},
		{name: "open", zero: off, form: noCurrentFlows},
		{name: "a current in one rest", running: 0.038, held: 0.4, lastRest: off, form: turningCurrent},
	} {
		a := newAmmeter(6)
		a.block = func(d *draft, dir float64) bool { return true }
		a.amps = func(d *draft) float64 { return c.running }
		a.running, a.held, a.x = c.running, c.held, 2
		last := false
		a.offset = func(i float64) float64 {
			if c.signed {
				i = math.Copysign(i, a.volts)
			}
			if last && a.volts == 0 {
				i = c.lastRest
			}
			return i + c.zero
		}
		a.run(0, 1.5)
		for range 3 {
			a.run(-12, 2).run(0, 1.5).run(12, 9).run(0, 1.5)
		}
		last = true
		a.run(0, 2)
		got, err := Examine(a.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		if f := finding(got, NoMotion); f == nil || !strings.HasPrefix(f.Form, c.form) {
			t.Errorf("%s: %s", c.name, say(got, Judge(got).Verdict))
		}
		said := strings.Contains(strings.Join(got.Notes, " "), "the zero of the channel")
		if said != c.told {
			t.Errorf("%s: said %v", c.name, said)
		}
	}
}
