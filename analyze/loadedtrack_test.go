package analyze

import (
	"math"
	"testing"
)

// A loaded track reads what the loaded divider gives (the wiper in mid track, a leak of the
// track's own resistance: 1/2 over 5/4), rises all the way, and is read back.
func TestLoadedTrack(t *testing.T) {
	t.Parallel()
	if v := (loadedTrack{0, 1}).reading(0.5); math.Abs(v-0.4) > 1e-12 {
		t.Errorf("half way with a leak to ground: %g", v)
	}
	for _, l := range []loadedTrack{{0, 0}, {0, 0.3}, {0, 20}, {1, 0.3}, {1, 20}} {
		for x := 0.02; x < 1; x += 0.02 {
			const step = 1e-5
			if got := l.place(l.reading(x)); math.Abs(got-x) > 1e-6 {
				t.Errorf("%v: %g read back as %g", l, x, got)
			}
			if rise := (l.reading(x+step) - l.reading(x-step)) / (2 * step); rise <= 0 || math.Abs(rise-l.slope(x)) > 1e-4*rise {
				t.Errorf("%v at %g: rises by %g, slope %g", l, x, rise, l.slope(x))
			}
		}
	}
}

// insistsLow drives up to mid travel and down into the low stop again and again.
func insistsLow(seed uint64, lo float64, l loadedTrack) *draft {
	d := newDraft(seed)
	d.lo, d.x = lo, lo
	d.read = func(d *draft) float64 { return 5 * l.reading(d.x/5) }
	d.run(0, 0.5).run(12, 6).run(0, 1).run(-12, 7).run(0, 1)
	for range 8 {
		d.run(12, 2.5).run(0, 1).run(-12, 4.5).run(0, 1)
	}
	return d
}

// A leak to the supply lifts what the low stop reads, and the control drives on for a place
// that is never read: the speeds along the travel tell. Where they are even, an obstacle
// stands there.
func TestLeakMovesTheStop(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		lo   float64
		l    loadedTrack
		door bool
	}{
		{"a leak of half the track", 0.6, loadedTrack{1, 2}, false},
		{"an obstacle", 1.35, loadedTrack{}, true},
	} {
		for seed := range uint64(3) {
			tr := insistsLow(seed, c.lo, c.l).trace()
			refs := make([]float64, tr.Len())
			for i := range refs {
				refs[i] = 5
			}
			tr.Reference = beside("reference", "V", refs)
			got, v := lookAt(t, tr)
			bent := finding(got, BentLine)
			if (v.Conclusion == DoorMechanism) != c.door || (bent != nil && bent.Form == bentLoaded) == c.door {
				t.Errorf("%s, seed %d: %s", c.name, seed, say(got, v))
			}
			if bent != nil && math.Abs(bent.value(stopUnbent)-c.lo) > 0.1 {
				t.Errorf("%s, seed %d: stop at %.2f V told as %.2f V", c.name, seed, c.lo, bent.value(stopUnbent))
			}
		}
	}
}
