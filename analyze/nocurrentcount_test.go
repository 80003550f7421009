package analyze

import "testing"

// Drives in vain that drew no current are counted all of them: those at places from which
// others moved on prove that it does not start, those pressed against a stop are told beside
// them. Where only the provable ones drew nothing, none is told beside. (Drawn.)
func TestDrivesWithoutCurrentAreCounted(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name    string
		stop    bool // at the high stop the circuit is open as well
		besides float64
	}{{"on the way only", false, 0}, {"at the stop too", true, 2}} {
		open := [][2]float64{{3.9, 1.4}, {5.9, 1.4}}
		if c.stop {
			open = append(open, [2]float64{13.9, 1.4}, [2]float64{15.9, 1.4})
		}
		k := newCircuit(3, duringAny(open...))
		k.run(0, 1).run(12, 2).run(0, 1)            // to 1.6 V of the way
		k.run(12, 1).run(0, 1).run(12, 1).run(0, 1) // in vain, 4 and 6 s
		k.run(12, 5).run(0, 1)                      // to the stop, 14 s
		k.run(12, 1).run(0, 1).run(12, 1).run(0, 1) // pressed against it, 14 and 16 s
		k.run(-12, 6).run(0, 1).run(12, 6).run(0, 1).run(-12, 6).run(0, 1)
		got, v := lookAt(t, k.trace())
		f := formed(got, Pauses, doesNotStart)
		if f == nil {
			t.Fatalf("%s: %s", c.name, say(got, v))
		}
		if n := f.value(idleAtStop); !f.has(drawsNothing) || f.Seen != 2 || n != c.besides {
			t.Errorf("%s: %g besides, %s", c.name, n, f.Title)
		}
	}
}
