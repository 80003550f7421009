package analyze

import "testing"

// built drafts an actuator that crosses its travel in so many seconds at its own volts.
func built(seed uint64, volts, seconds float64) *draft {
	d := newDraft(seed)
	d.rate = (d.hi - d.lo) / seconds / (volts / 12)
	full := seconds + 1
	d.run(0, 1)
	for range 2 {
		d.run(volts, full).run(0, 0.5).run(-volts, full).run(0, 0.5)
	}
	return d
}

// Few volts that turn the motor as quickly as others at 12 V are the ones that it was built
// for; at which it hardly goes they are too few. Twice 12 V are a 24 V system's.
func TestBuiltForOtherVolts(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name           string
		volts, seconds float64
		kind           Kind
		found          bool
	}{
		{"quick at 4.5 V", 4.5, 3, SupplySag, false},
		{"slow at 4.5 V", 4.5, 30, SupplySag, true},
		{"15 s at 24 V", 24, 15, WeakDrive, false},
		{"60 s at 24 V", 24, 60, WeakDrive, true},
	} {
		d := built(41, c.volts, c.seconds)
		d.speed = uneven
		got, v := look(t, d)
		if showsKind(got, c.kind) != c.found || !c.found && v.Conclusion != NoFault {
			t.Errorf("%s: %s", c.name, say(got, v))
		}
	}
}

// uneven is the speed of a motor near its stall, of which the door's weight takes and gives
// a good part.
func uneven(_ *draft, dir float64) float64 { return 1 - 0.15*dir }

// A motor so weak that it takes five times as long stands near its stall, where the two ways
// of a door differ by a lot; slow and alike both ways it is one that was built slow.
func TestSlowAndEven(t *testing.T) {
	t.Parallel()
	even, weak := takes(42, 38), newDraft(42)
	weak.rate, weak.speed = (weak.hi-weak.lo)/38, uneven
	weak.sweeps(2)
	if got, v := look(t, even); v.Conclusion == Motor {
		t.Errorf("even: %s", say(got, v))
	}
	if got, v := look(t, weak); v.Conclusion == NoFault {
		t.Errorf("uneven: %s", say(got, v))
	}
}
