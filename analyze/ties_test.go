package analyze

import (
	"math"
	"testing"
)

// tieCases are faults whose tie is known by how they were drawn.
func tieCases() []struct {
	name string
	make func(seed uint64) *draft
	kind Kind
	tie  Tie
	text string
	up   [2]float64 // seen, made
	down [2]float64
} {
	gap := func(d *draft, on func(d *draft, rising bool) bool) {
		last, rising := d.x, true
		d.read = func(d *draft) float64 {
			if d.x != last {
				rising = d.x > last
			}
			last = d.x
			if d.x > 2.4 && d.x < 2.6 && on(d, rising) {
				return 0.02
			}
			return d.x
		}
	}
	return []struct {
		name string
		make func(seed uint64) *draft
		kind Kind
		tie  Tie
		text string
		up   [2]float64
		down [2]float64
	}{
		{"dead spot both ways", func(s uint64) *draft {
			d := newDraft(s)
			gap(d, func(*draft, bool) bool { return true })
			return d.sweeps(4)
		}, DeadSpot, TiedToPosition, "belongs to the place", [2]float64{4, 4}, [2]float64{4, 4}},
		{"dead spot going up", func(s uint64) *draft {
			d := newDraft(s)
			gap(d, func(_ *draft, rising bool) bool { return rising })
			return d.sweeps(4)
		}, DeadSpot, TiedToPosition, "4 of 4 passes up and 0 of 4 down", [2]float64{4, 4}, [2]float64{0, 4}},
		{"stands late at other places", func(s uint64) *draft {
			d := newDraft(s)
			full := (d.hi-d.lo)/d.rate + 1
			d.sweeps(4)
			for i, x := range []float64{1.1, 3.6, 2.2, 3.1, 1.6, 2.7, 3.9, 1.3} {
				v := 12.0
				if i%2 == 1 {
					v = -12
				}
				held := 0
				d.block = func(d *draft, dir float64) bool {
					if (d.x-x)*dir >= 0 && held < 80 {
						held++
						return true
					}
					return false
				}
				d.run(v, full+0.5)
				d.block = nil
				d.run(0, 0.5)
			}
			return d
		}, Pauses, TiedToWarming, "only after 48 s of driving", [2]float64{4, 8}, [2]float64{4, 8}},
	}
}

func TestTies(t *testing.T) {
	t.Parallel()
	for _, c := range tieCases() {
		for seed := range uint64(3) {
			got, v := look(t, c.make(seed))
			var f *Finding
			for i := range got.Findings {
				if x := &got.Findings[i]; x.Kind == c.kind && f == nil {
					f = x
				}
			}
			if f == nil {
				t.Errorf("%s, seed %d: no %s in %s", c.name, seed, c.kind, say(got, v))
				continue
			}
			if f.Tie != c.tie || !(f.TieP > 0 && f.TieP < 0.01) || !contains(f.Told, c.text) {
				t.Errorf("%s, seed %d: tied to %s (p = %v), %q, tests %+v", c.name, seed, f.Tie, f.TieP, f.Told, f.Tests)
			}
			for i, name := range []MeasureName{"seen going up", "passes going up", "seen going down", "passes going down"} {
				want := append(c.up[:], c.down[:]...)[i]
				if n, _ := f.Measure(name); n != want {
					t.Errorf("%s, seed %d: %s %v, want %v", c.name, seed, name, n, want)
				}
			}
		}
	}
}

// Stands strewn over all passes and places belong to nothing, and are not said
// to.
func TestNoTie(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		full := (d.hi-d.lo)/d.rate + 1
		d.run(0, 1)
		for i, x := range []float64{1.1, 3.6, 2.2, 3.1, 1.6, 2.7, 3.9, 1.3} {
			v := 12.0
			if i%2 == 1 {
				v = -12
			}
			held := 0
			d.block = func(d *draft, dir float64) bool {
				if i%3 < 2 && (d.x-x)*dir >= 0 && held < 80 {
					held++
					return true
				}
				return false
			}
			d.run(v, full+0.5)
			d.block = nil
			d.run(0, 0.5)
		}
		got, v := look(t, d)
		found := false
		for _, f := range got.Findings {
			if f.Kind == Pauses {
				found = true
				if f.Tie != TieUnknown || f.TieP < 0.05 || !contains(f.Told, "nothing shows that it belongs to") {
					t.Errorf("seed %d: tied to %s (p = %v), %q", seed, f.Tie, f.TieP, f.Told)
				}
			}
		}
		if !found {
			t.Errorf("seed %d: no stands in %s", seed, say(got, v))
		}
	}
}

func TestOddsText(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		p    float64
		want string
	}{{1e-12, "pure chance looks like this less than 1 time in 10,000"}, {0.00012, "pure chance looks like this 1 time in 8,300"}, {0.016, "pure chance looks like this 1 time in 63"}, {0.19, "pure chance looks like this 1 time in 5"}} {
		if got := oddsText(c.p); got != c.want {
			t.Errorf("%v: %q, want %q", c.p, got, c.want)
		}
	}
}

// A single stand can belong to nothing that a test would show, and its text
// does not pretend that one was made.
func TestSingleSighting(t *testing.T) {
	t.Parallel()
	d := newDraft(1).sweeps(2)
	held := 0
	d.block = func(d *draft, dir float64) bool {
		if dir > 0 && d.x >= 2.2 && held < 80 {
			held++
			return true
		}
		return false
	}
	got, v := look(t, d.sweeps(3))
	found := false
	for _, f := range got.Findings {
		if f.Kind == Pauses {
			found = true
			if f.Tie != TieUnknown || contains(f.Told, "tie") || !contains(f.Told, "1 of 5 passes up") {
				t.Errorf("tied to %s, %q", f.Tie, f.Told)
			}
		}
	}
	if !found {
		t.Errorf("no stand in %s", say(got, v))
	}
}

// A tie is told in the words of what tested it, with that test's chance: losses of
// signal that come at rest too, early in one drawing, have none.
func TestTieKeepsItsOwnChance(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.read = func(d *draft) float64 {
			if d.t < 16 && math.Mod(d.t, 1.1) < 0.06 {
				return 0.02
			}
			return d.x
		}
		c, v := look(t, d.sweeps(4))
		f := finding(c, Dropouts)
		if f == nil || f.Form != "at rest too" || f.Tie != TiedToTime || f.TieP != 1 {
			t.Fatalf("seed %d: %s", seed, say(c, v))
		}
		if !contains(f.Told, "goes with time, not with a place") || contains(f.Told, "pure chance") || contains(f.Told, "comes early") {
			t.Errorf("seed %d: told %q, tests %+v", seed, f.Told, f.Tests)
		}
	}
	f := Finding{Tie: TiedToPosition, TieP: 1, Tests: []TieTest{
		{TiedToPosition, 0.002, "belongs to the place"}, {TiedToPosition, 0.4, "comes at this end and not at the other"}}}
	f.choose(0.01)
	if got := f.tieWords(); got != "it belongs to the place (pure chance looks like this 1 time in 500)" {
		t.Errorf("two tests of one tie: %q", got)
	}
}
