package analyze

import "testing"

// A line that bends slows gradually and alike both ways, and the rest of the travel
// foretells how slow it is at its end. A place has an edge.
func TestBentLineIsNoPlace(t *testing.T) {
	t.Parallel()
	draw := func(rate func(x float64) float64) *work {
		w := &work{lim: Defaults().Limits, span: Interval{0, 1}}
		for d, dir := range []Direction{Down, Up} {
			p := &Profile{Direction: dir}
			for i := range 40 {
				x := (float64(i) + 0.5) / 40
				p.Points = append(p.Points, ProfilePoint{Position: x, Rate: rate(x) * (1 + 0.2*float64(d)), Passes: 2})
			}
			w.prof[d] = p
		}
		return w
	}
	band := Interval{0.83, 0.97}
	if !draw(func(x float64) float64 { return 1.1 - 0.6*x }).onOneCurve(band) {
		t.Error("a bent line is a place")
	}
	if draw(func(x float64) float64 {
		if band.Has(x) {
			return 0.55
		}
		return 1 + 0.02*x
	}).onOneCurve(band) {
		t.Error("a place with an edge is a bent line")
	}
}

// A spring that slows one way pushes the other, by less: a gear hardly turns when it is
// pushed. Friction one way gives nothing back.
func TestSpringGivesBackLess(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		for _, back := range []float64{1.12, 1} {
			d := newDraft(seed)
			d.speed = func(d *draft, dir float64) float64 {
				switch in := d.x > 3.1 && d.x < 3.8; {
				case in && dir > 0:
					return 0.66
				case in:
					return back
				}
				return 1
			}
			c, v := look(t, d.sweeps(3))
			if got := finding(c, SlowZone) != nil; got != (back == 1) {
				t.Errorf("seed %d, the other way at %.2f: %s", seed, back, say(c, v))
			}
		}
	}
}

// Slow to where the only pass ends, one way: the place, or a control that slows down. One
// that is left again at speed is a place.
func TestSlowPlaceIsLeftAgain(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		draw := func(end float64) (*Capture, Verdict) {
			d := newDraft(seed)
			d.signOnly = true
			d.x = 3.8
			d.speed = func(d *draft, dir float64) float64 {
				if dir > 0 && d.x > 2.2 && d.x < 2.8 {
					return 0.35
				}
				return 1
			}
			d.run(0, 1).run(-12, 5).run(0, 1)
			for d.x < end {
				d.run(12, 0.1)
			}
			d.run(0, 1).run(-12, 1)
			return look(t, d)
		}
		if c, v := draw(2.79); v.Conclusion == DoorMechanism && v.Probability > 0.8 {
			t.Errorf("seed %d, slow to the end: %s", seed, say(c, v))
		}
		if c, v := draw(4); v.Conclusion != DoorMechanism {
			t.Errorf("seed %d, left again: %s", seed, say(c, v))
		}
	}
}
