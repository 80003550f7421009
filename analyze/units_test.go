package analyze

import "testing"

// The same shaft in volts, counts or percent gets the same conclusion, or none where
// nobody knows of which supply the counts are.
func TestSameInAnyUnit(t *testing.T) {
	t.Parallel()
	for name, k := range cases() {
		_, want := look(t, k.make(1))
		for unit, in := range map[string]func(d *draft) *draft{
			"10 bit":  (*draft).counts,
			"12 bit":  func(d *draft) *draft { return d.countsOf(4095) },
			"percent": (*draft).percent,
		} {
			if got, v := look(t, in(k.make(1))); v.Conclusion != want.Conclusion {
				t.Errorf("%s, %s: in volts %s, else %s", name, unit, want.Conclusion, say(got, v))
			}
		}
	}
}

// No converter's full scale is as small as what its readings take of it.
func TestFullScaleOfCounts(t *testing.T) {
	t.Parallel()
	d := newDraft(1).sweeps(3)
	for i := range d.feed {
		d.feed[i] *= 20 // up to 90 counts
	}
	d.unit, d.quantum = "counts", 1
	if c, v := look(t, d); c.Reference != 255 || v.Conclusion != NoFault {
		t.Errorf("full scale %v: %s", c.Reference, say(c, v))
	}
}

// Two places are one event or two in whatever unit they are read.
func TestEventsInAnyUnit(t *testing.T) {
	t.Parallel()
	event := func(mid, scale float64) string {
		w := &work{span: Interval{0.5 * scale, 4.5 * scale}}
		return w.eventAt("slow", Interval{(mid - 0.1) * scale, (mid + 0.1) * scale}, coarsePlace)
	}
	for _, scale := range []float64{1, 0.2, 20, 204.6, 819} {
		for mid := 0.6; mid < 4.5; mid += 0.047 {
			if a, b := event(mid, 1), event(mid, scale); a != b {
				t.Errorf("at %.3f V: %q, times %v: %q", mid, a, scale, b)
			}
		}
		if a, b := event(2, scale), event(2.03, scale); a != b {
			t.Errorf("times %v: %q and %q, which are within a hundredth of the span", scale, a, b)
		}
	}
}
