package analyze

import "testing"

// A motor turns and the reading stays. Drives the same way add up, with those back taken
// off: where a shaft that turned would have run into a stop by now, gears let go. One that
// does run into it, by the current, is a shaft that gets there unread; and drives that
// take each other back say nothing of stops. (Drawn.)
func TestTurnsUnseenAndMeetsNoStop(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name    string
		seconds float64 // of each drive
		up      int     // drives up to each one down
		held    float64 // s from its start on that a motor is held, 0: never
		want    Fault
	}{
		{"mostly one way, never held", 1.6, 4, 0, Motor},
		{"to and fro, never held", 1.6, 1, 0, FeedbackSensor},
		{"mostly one way, held at last", 4, 4, 3, FeedbackSensor},
		{"to and fro, held each time", 12, 1, 8, FeedbackSensor},
	} {
		a := newAmmeter(6)
		a.block = func(d *draft, dir float64) bool { return true }
		a.amps = func(d *draft) float64 {
			if c.held > 0 && a.since > c.held {
				return a.held
			}
			return a.running
		}
		a.x = 2
		a.run(0, 1)
		for range 2 {
			a.run(-12, c.seconds).run(0, 1)
			for range c.up {
				a.run(12, c.seconds).run(0, 1)
			}
		}
		got, err := Examine(a.trace(), Defaults())
		if err != nil {
			t.Fatal(err)
		}
		if v := Judge(got).Verdict; v.Conclusion != c.want {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}
