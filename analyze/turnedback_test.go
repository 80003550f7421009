package analyze

import "testing"

// turning draws a shaft that turns back for some time under drive upward, and by how
// fast, each time it comes to one of the levels.
func turning(seed uint64, levels []float64, seconds, back float64) *draft {
	d := newDraft(seed)
	next, until := 0, 0.0
	d.speed = func(d *draft, dir float64) float64 {
		if dir < 0 {
			next = 0
			return 1
		}
		if d.t < until {
			return -back
		}
		if next < len(levels) && d.x >= levels[next] {
			next++
			until = d.t + seconds
			return -back
		}
		return 1
	}
	return d
}

func TestReadingThatTurnsBackUnderDrive(t *testing.T) {
	t.Parallel()
	three := []float64{1.4, 2.4, 3.4}
	for _, c := range []struct {
		name string
		d    *draft
		want int
	}{
		{"winds back again and again", turning(1, three, 0.5, 0.8), 1},
		{"gives by no more than play", turning(2, three, 0.2, 0.8), 0},
		{"once", turning(3, three[:1], 0.5, 0.8), 0},
	} {
		c.d.run(0, 1).run(12, 8).run(0, 1).run(-12, 6).run(0, 1)
		if got := examined(t, c.d, false); slips(got) != c.want {
			t.Errorf("%s: %v", c.name, got.Findings)
		}
	}
}

// A reading that sinks for a while, and is on its line again after, says nothing of the
// shaft.
func TestNoTurnIsAReadingThatSinksAndReturns(t *testing.T) {
	t.Parallel()
	d := newDraft(4)
	d.rate = 0.3
	d.read = func(d *draft) float64 {
		switch x := d.t - 3*float64(int(d.t/3)); {
		case x < 0.6:
			return d.x - 0.7*x
		case x < 1:
			return d.x - 0.42*(1-(x-0.6)/0.4)
		}
		return d.x
	}
	d.run(0, 1).run(12, 15).run(0, 1).run(-12, 15).run(0, 1)
	if got := examined(t, d, false); slips(got) != 0 {
		t.Errorf("called slipping gears: %v", got.Findings)
	}
}
