package plots

import (
	"math"
	"math/rand/v2"
	"testing"

	"threewire/signal"
)

// flat is a capture that stands still at 2.5 V but for the given readings.
func flat(n int, spikes map[int]float32) *signal.Trace {
	t := &signal.Trace{Step: 1e-3, RowStep: 1e-3, RowsPerBin: 1}
	x := make([]float32, n)
	for i := range x {
		t.Time = append(t.Time, float64(i)*1e-3)
		x[i] = 2.5
	}
	for i, v := range spikes {
		x[i] = v
	}
	t.Feedback = signal.Series{Unit: "V", Mean: x, Min: x, Max: x}
	return t
}

func extent(lines [][]pt) (lo, hi float64, points int) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, l := range lines {
		for _, p := range l {
			lo, hi = math.Min(lo, p.y), math.Max(hi, p.y)
		}
		points += len(l)
	}
	return lo, hi, points
}

func TestEnvelopeKeepsOneSample(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{300, 5000, 300_000} {
		for range 1 + 100_000/n {
			i, j := rng.IntN(n), rng.IntN(n)
			if i == j {
				continue
			}
			tr := flat(n, map[int]float32{i: 4.75, j: 0.25})
			lo, hi, points := extent(envelope(tr, &tr.Feedback, tr.Time[0], tr.Time[n-1], 800))
			if lo != 0.25 || hi != 4.75 {
				t.Fatalf("%d rows, glitches at %d and %d: drawn from %v to %v, want 0.25 to 4.75", n, i, j, lo, hi)
			}
			if points > 4*801 {
				t.Fatalf("%d rows: %d points drawn, want at most four for each of 800 cells", n, points)
			}
		}
	}
}

// A bin stands for many rows: its extremes are drawn, not only its mean.
func TestEnvelopeDrawsExtremesOfBins(t *testing.T) {
	for _, n := range []int{100, 100_000} {
		tr := flat(n, nil)
		tr.RowsPerBin = 50
		tr.Feedback.Max = append([]float32(nil), tr.Feedback.Max...)
		tr.Feedback.Max[n/3] = 4.9
		if _, hi, _ := extent(envelope(tr, &tr.Feedback, 0, tr.Time[n-1], 500)); float32(hi) != 4.9 {
			t.Errorf("%d bins: highest point %v, want 4.9", n, hi)
		}
	}
}

func TestEnvelopeBreaksAtGaps(t *testing.T) {
	nan := float32(math.NaN())
	missing := map[int]float32{450: nan}
	for i := 200; i < 300; i++ {
		missing[i] = nan
	}
	tr := flat(1000, missing)
	for i := 600; i < 1000; i++ {
		tr.Time[i] += 5
	}
	tr.Gaps = []signal.Span{{From: tr.Time[599], To: tr.Time[600]}}
	// A single missing reading shows only where every reading is drawn.
	for cells, want := range map[int]int{100: 3, 2000: 4} {
		lines := envelope(tr, &tr.Feedback, 0, tr.Time[999], cells)
		if len(lines) != want {
			t.Errorf("%d cells: %d lines, want %d: before the missing readings, up to the gap, and after", cells, len(lines), want)
		}
		for _, l := range lines {
			for _, p := range l {
				if p.y != p.y {
					t.Error("a missing reading was drawn")
				}
			}
		}
	}
}

func TestEnvelopeOfNothing(t *testing.T) {
	tr := flat(10, nil)
	for i := range tr.Feedback.Mean {
		tr.Feedback.Mean[i] = float32(math.NaN())
	}
	if l := envelope(tr, &tr.Feedback, 0, 1, 100); len(l) != 0 {
		t.Errorf("drew %v of no readings", l)
	}
	if l := envelope(&signal.Trace{}, &signal.Series{}, 0, 1, 100); len(l) != 0 {
		t.Errorf("drew %v of an empty capture", l)
	}
}

func TestClip(t *testing.T) {
	got := clip([]pt{{0, 0}, {10, 10}}, 2, 5)
	if len(got) != 2 || got[0] != (pt{2, 2}) || got[1] != (pt{5, 5}) {
		t.Errorf("clip of a line across the window: %v, want its part from 2 to 5", got)
	}
}

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		most   int
		first  float64
		last   float64
		dec    int
	}{
		{0, 5, 5, 0, 5, 0},
		{-0.2, 5.2, 8, 0, 5, 0},
		{0.3, 0.9, 6, 0.3, 0.9, 1},
		{3.79, 3.796, 3, 3.79, 3.796, 3},
		{-12, 12, 3, -10, 10, 0},
		{1e6, 1e6 + 1, 2, 1e6, 1e6 + 1, 1},
	} {
		at, dec := ticks(c.lo, c.hi, c.most)
		if len(at) < 2 || math.Abs(at[0]-c.first) > 1e-9 || math.Abs(at[len(at)-1]-c.last) > 1e-9 || dec != c.dec || len(at) > c.most+1 {
			t.Errorf("ticks(%v, %v, %d) = %v with %d decimals, want %v to %v with %d", c.lo, c.hi, c.most, at, dec, c.first, c.last, c.dec)
		}
	}
	for _, r := range [][2]float64{{0, 0}, {1, 0}, {0, math.Inf(1)}, {math.NaN(), 1}} {
		if at, _ := ticks(r[0], r[1], 5); at != nil {
			t.Errorf("ticks of %v: %v, want none", r, at)
		}
	}
}

func TestSpread(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		n := 1 + rng.IntN(6)
		wish := make([]float64, n)
		x := 0.0
		for i := range wish {
			x += rng.Float64() * 20
			wish[i] = x
		}
		got := spread(wish, 10, 0, 120)
		for i := range got {
			if got[i] < 0 || got[i] > 120 || i > 0 && got[i]-got[i-1] < 10-1e-9 {
				t.Fatalf("spread(%v) = %v: labels 10 high overlap or leave 0..120", wish, got)
			}
		}
	}
}

func BenchmarkEnvelope(b *testing.B) {
	tr := flat(2_000_000, nil)
	for b.Loop() {
		envelope(tr, &tr.Feedback, 0, 2000, 1000)
	}
}

func TestCrosses(t *testing.T) {
	b := box{10, 10, 20, 20}
	for _, c := range []struct {
		p, q pt
		want bool
	}{
		{pt{0, 15}, pt{30, 15}, true},
		{pt{0, 0}, pt{30, 30}, true},
		{pt{15, 15}, pt{15, 40}, true},
		{pt{0, 25}, pt{30, 25}, false},
		{pt{0, 0}, pt{9, 9}, false},
		{pt{20, 30}, pt{20, 20}, false},  // ends on the edge
		{pt{5, 15.2}, pt{14.2, 6}, true}, // cuts a corner
	} {
		if got := crosses(c.p, c.q, b); got != c.want {
			t.Errorf("line from %v to %v through %v: %v, want %v", c.p, c.q, b, got, c.want)
		}
	}
}
