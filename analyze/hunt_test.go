package analyze

import (
	"slices"
	"testing"
)

// A capture of nothing but hunting has no span to be measured by: it is one stretch,
// and lies where the supply of the sensor says.
func TestHuntingWithoutTravel(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.x = 4.4
		d.run(0, 1)
		for range 60 {
			d.run(12, 0.1).run(0, 0.2).run(-12, 0.1).run(0, 0.2)
		}
		c, v := look(t, d)
		f, n := finding(c, Hunting), 0
		for _, x := range c.Findings {
			if x.Kind == Hunting {
				n++
			}
		}
		if f == nil || n != 1 || f.Seen < 110 || f.Form != nearUsual+"high end" || contains(f.Because, "wide") {
			t.Fatalf("seed %d: %d huntings, %s", seed, n, say(c, v))
		}
		if share, _ := f.Measure("amplitude of span"); share > 5 {
			t.Errorf("seed %d: %.0f %% of the travel", seed, share)
		}
	}
}

// Whole drives that a blocked shaft does not answer are no hunting, though they reverse
// again and again.
func TestDrivesInVainAreNoHunting(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.run(0, 1).run(12, 6).run(0, 1).run(-12, 6).run(0, 1).run(12, 3)
		d.block = func(*draft, float64) bool { return true }
		for range 3 {
			d.run(0, 1).run(-12, 6).run(0, 1).run(12, 6)
		}
		c, v := look(t, d)
		if f := finding(c, Hunting); f != nil {
			t.Errorf("seed %d: %s", seed, say(c, v))
		}
	}
}

// Short drives up, down and off at random turn over again and again, at a stop as well:
// that is somebody at the switch, however long it lasts.
func TestJoggingIsNoHunting(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		d := newDraft(seed)
		d.dt, d.x = 0.01, 2.5
		d.run(0, 1)
		for range 3000 {
			d.run(12*float64(d.rng.IntN(3)-1), 0.2)
		}
		c, v := look(t, d)
		if f := finding(c, Hunting); f != nil || v.Conclusion != NoFault && v.Conclusion != CannotTell {
			t.Errorf("seed %d: %s", seed, say(c, v))
		}
	}
}

// Of many spells of hunting the strongest are listed, and the others counted.
func TestFewSpellsOfHunting(t *testing.T) {
	t.Parallel()
	spell := func(file, text string) Evidence { return Evidence{Capture: file, Finding: Hunting, Text: text} }
	got := fewSpells([]Evidence{spell("a", "1."), spell("a", "2."), {Finding: Jam, Text: "jam."}, spell("b", "other."), spell("a", "3."), spell("a", "4."), spell("a", "5.")})
	var texts []string
	for _, e := range got {
		texts = append(texts, e.Text)
	}
	want := []string{"1.", "2.", "jam.", "other.", "3. And 2 more spells of hunting."}
	if !slices.Equal(texts, want) {
		t.Errorf("got %q, want %q", texts, want)
	}
	// A control that hunts again after each of six drives from afar.
	d := newDraft(1).run(0, 1)
	for range 6 {
		d.run(12, 5)
		for range 5 {
			d.run(-12, 0.3).run(0, 0.2).run(12, 0.3).run(0, 0.2)
		}
		d.run(-12, 5).run(0, 5)
	}
	c, v := look(t, d)
	n, listed := 0, 0
	for _, f := range c.Findings {
		if f.Kind == Hunting {
			n++
		}
	}
	for _, e := range append(v.For, v.Against...) {
		if e.Finding == Hunting {
			listed++
		}
	}
	if n != 6 || listed != mostSpells {
		t.Errorf("%d spells, %d listed: %s", n, listed, say(c, v))
	}
}

// A control that comes near in short drives one way and then hunts is not at random:
// after a repeat it repeats.
func TestHuntingAfterPulses(t *testing.T) {
	t.Parallel()
	d := newDraft(1).run(0, 1)
	for range 6 {
		d.run(12, 4)
		for range 6 {
			d.run(12, 0.1).run(0, 0.3)
		}
		for range 4 {
			d.run(-12, 0.3).run(0, 0.2).run(12, 0.3).run(0, 0.2)
		}
		for range 6 {
			d.run(-12, 0.1).run(0, 0.3)
		}
		d.run(-12, 4).run(0, 5)
	}
	if c, v := look(t, d); finding(c, Hunting) == nil {
		t.Errorf("no hunting: %s", say(c, v))
	}
}
