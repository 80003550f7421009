package analyze

import (
	"math"
	"slices"
	"testing"
)

// heldDraft draws three strokes there and back, its drive giving way by a twentieth
// whenever the shaft is held, as it does before a lead's and a driver's resistance. Off
// a stop the shaft is held for the seconds that wait gives for the n-th departure.
func heldDraft(seed uint64, wait func(dir float64, n int) float64, read func(d *draft) float64) *draft {
	d := newDraft(seed)
	var held []bool
	last := math.NaN()
	free, came := 0.0, 0.0 // when it comes away, and the way of the drive
	made := map[float64]int{}
	d.block = func(d *draft, dir float64) bool {
		if dir != came {
			came = dir
			if dir > 0 && d.x <= d.lo || dir < 0 && d.x >= d.hi {
				free = d.t + wait(dir, made[dir])
				made[dir]++
			}
		}
		return d.t < free
	}
	d.read = func(d *draft) float64 {
		held = append(held, d.volts != 0 && d.x == last)
		last = d.x
		if read != nil {
			return read(d)
		}
		return d.x
	}
	full := (d.hi-d.lo)/d.rate + 3
	d.run(0, 1)
	for range 3 {
		d.run(12, full).run(0, 1).run(-12, full).run(0, 1)
	}
	for i := range d.drive {
		if held[i] {
			d.drive[i] *= 0.95
		}
	}
	return d
}

func clingOf(t *testing.T, d *draft) (*Capture, *Finding) {
	t.Helper()
	c, err := Examine(d.trace(), Defaults())
	if err != nil {
		t.Fatal(err)
	}
	if i := slices.IndexFunc(c.Findings, func(f Finding) bool { return f.Form == clingsAtStop }); i >= 0 {
		return c, &c.Findings[i]
	}
	return c, nil
}

func TestClingsToOneStop(t *testing.T) {
	sticks := []float64{1.2, 0.9, 1.4}
	c, f := clingOf(t, heldDraft(3, func(dir float64, n int) float64 {
		if dir > 0 {
			return sticks[n]
		}
		return 0.05
	}, nil))
	if f == nil {
		t.Fatalf("not found: %v", c.Findings)
	}
	if f.Seen != 3 || f.Direction != Up {
		t.Errorf("seen %d, direction %v", f.Seen, f.Direction)
	}
	if r := Judge(c); r.Verdict.Conclusion != DoorMechanism {
		t.Errorf("verdict %v", r.Verdict.Conclusion)
	}
}

// What was frozen to its seat comes off once and for all.
func TestComesOffOnce(t *testing.T) {
	c, f := clingOf(t, heldDraft(4, func(dir float64, n int) float64 {
		if dir > 0 && n == 0 {
			return 2.5
		}
		return 0
	}, nil))
	if f == nil || f.Seen != 1 {
		t.Fatalf("not found once: %v", c.Findings)
	}
}

// A track that ends before the shaft does keeps the reading still as long, but nothing
// holds the motor; slack, and a motor that is slow to start off both stops, are no seal.
func TestNoClingOfOthers(t *testing.T) {
	none := func(float64, int) float64 { return 0 }
	for name, d := range map[string]*draft{
		"end of track": heldDraft(5, none, func(d *draft) float64 { return math.Max(d.x, 1.3) }),
		"both stops":   heldDraft(6, func(float64, int) float64 { return 1 }, nil),
		"a slow start": heldDraft(7, func(dir float64, _ int) float64 { return 0.2 + 0.1*dir }, nil),
		"late once, amid": heldDraft(8, func(dir float64, n int) float64 {
			if dir > 0 && n == 1 {
				return 0.8
			}
			return 0
		}, nil),
		"sound": heldDraft(9, none, nil),
	} {
		if c, f := clingOf(t, d); f != nil {
			t.Errorf("%s: %v", name, c.Findings)
		}
	}
}
