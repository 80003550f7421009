package stats

import (
	"math"
	"slices"
	"testing"
)

func TestCUSUMMirror(t *testing.T) {
	x := normals(seeded(10), 200)
	for i := range x[100:] {
		x[100+i] += 1.5
	}
	up, down := CUSUM(x, 0, 0.5, 5), CUSUM(affine(x, -1, 0), 0, 0.5, 5)
	if !slices.Equal(up.Hi, down.Lo) || !slices.Equal(up.Lo, down.Hi) {
		t.Error("the mirrored series does not swap the sums")
	}
	if up.First != down.First || up.Side != 1 || down.Side != -1 {
		t.Errorf("signals %d/%d and %d/%d", up.First, up.Side, down.First, down.Side)
	}
	scaled := CUSUM(affine(x, 4, 7), 7, 2, 20)
	if scaled.First != up.First {
		t.Errorf("scaled signal at %d, plain at %d", scaled.First, up.First)
	}
	x[3] = math.NaN()
	gap := CUSUM(x, 0, 0.5, 5)
	if gap.Hi[3] != gap.Hi[2] || gap.Lo[3] != gap.Lo[2] {
		t.Error("a missing sample moves the sums")
	}
	if none := CUSUM(make([]float64, 9), 0, 0, 1); none.First != -1 || none.Side != 0 {
		t.Errorf("a series on target signals: %+v", none)
	}
}

// NIST/SEMATECH e-Handbook, sec. 6.3.2.3: input and table.
func TestCUSUMReference(t *testing.T) {
	x := []float64{
		324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225, 324.600,
		324.625, 325.150, 328.325, 327.250, 327.825, 328.500, 326.675, 327.775, 326.875, 328.350,
	}
	hi := []float64{0, 0, 0, 0, 0.0325, 0, 0, 0, 0, 0,
		0, 0, 3.0075, 4.9400, 7.4475, 10.6300, 11.9875, 14.4450, 16.0025, 19.0350}
	lo := []float64{0, 0.0075, 0, 0.3325, 0, 0, 0.5575, 0.7150, 0.1725, 0.2550,
		0.3125, 0, 0, 0, 0, 0, 0, 0, 0, 0}
	sums := []float64{-0.075, -0.400, -0.675, -1.325, -0.975, -0.750, -1.625, -2.100, -1.875, -2.275,
		-2.650, -2.500, 0.825, 3.075, 5.900, 9.400, 11.075, 13.850, 15.725, 19.075}
	c := CUSUM(x, 325, 0.3175, 4.1959)
	plain := CUSUM(x, 325, 0, math.Inf(1)) // without allowance Hi is the sum above its least value
	var sum, least float64
	for i := range x {
		near(t, "S_hi", c.Hi[i], hi[i], 1e-10)
		near(t, "S_lo", c.Lo[i], lo[i], 1e-10)
		sum += x[i] - 325
		least = math.Min(least, sum)
		near(t, "cumulative sum", sum, sums[i], 1e-10)
		near(t, "S_hi without allowance", plain.Hi[i], sums[i]-least, 1e-10)
	}
	if c.First != 13 || c.Side != 1 {
		t.Errorf("first signal at index %d side %d, want 13 side 1", c.First, c.Side)
	}
}

// NIST/SEMATECH e-Handbook, sec. 6.3.2.4: data and averages; start, sigma and
// limits from memory.
func TestEWMAReference(t *testing.T) {
	x := []float64{52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5,
		49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1}
	want := []float64{50.6000, 49.5200, 50.5640, 50.1848, 50.1594, 49.2116, 49.7481, 49.8537, 50.2576, 50.3303,
		50.1112, 49.3578, 49.5205, 50.0543, 49.3780, 49.9246, 50.7272, 51.2291, 51.9403, 51.9882}
	low, high := EWMALimits(50, 2.0539, 0.3, 3)
	near(t, "lower limit", low, 47.411568, 1e-8)
	near(t, "upper limit", high, 52.588432, 1e-8)
	for i, e := range EWMA(nil, x, 0.3, 50) {
		near(t, "E", e, want[i], 1.1e-6) // four printed decimals
		if e < low || e > high {
			t.Errorf("point %d outside the limits", i)
		}
	}
}

func TestEWMAProperties(t *testing.T) {
	x := normals(seeded(11), 50)
	if got := EWMA(make([]float64, 50), x, 1, 99); !slices.Equal(got, x) {
		t.Error("lambda 1 does not follow the data")
	}
	moved := EWMA(nil, affine(x, 2, 5), 0.2, 5)
	for i, e := range EWMA(nil, x, 0.2, 0) {
		near(t, "moved", moved[i], 2*e+5, 1e-12)
	}
	x[7] = math.NaN()
	if e := EWMA(nil, x, 0.2, 0); e[7] != e[6] || math.IsNaN(e[8]) {
		t.Error("a missing sample moves the average")
	}
	mustPanic(t, "lambda", func() { EWMA(nil, x, 0, 0) })
	mustPanic(t, "dst", func() { EWMA(make([]float64, 3), x, 0.5, 0) })
}

// Own worked example of the variant described at PageHinkley.
func TestPageHinkleyReference(t *testing.T) {
	x := make([]float64, 20)
	for i := range x[10:] {
		x[10+i] = 1
	}
	want := []float64{0.859091, 1.642424, 2.361655, 3.025941, 3.642607, 4.217607, 4.755843, 5.261398, 5.737714, 6.187714}
	ph, first := PageHinkley(nil, x, 0.05, 2)
	for i, v := range ph {
		if i < 10 {
			near(t, "before the step", v, 0, 0)
		} else {
			near(t, "after the step", v, want[i-10], 5e-7)
		}
	}
	if first != 12 {
		t.Errorf("first alarm at index %d, want 12", first)
	}
	if _, first := PageHinkley(nil, affine(x, -1, 0), 0.05, 2); first != -1 {
		t.Errorf("a fall alarms at %d", first)
	}
}

// optimalPartition is the unpruned search.
func optimalPartition(x []float64, beta float64) (ends []int, cost float64) {
	n := len(x)
	best, from := make([]float64, n+1), make([]int, n+1)
	best[0] = -beta
	for to := 1; to <= n; to++ {
		best[to] = math.Inf(1)
		for s := range to {
			var mean, rss float64
			for _, v := range x[s:to] {
				mean += v / float64(to-s)
			}
			for _, v := range x[s:to] {
				rss += (v - mean) * (v - mean)
			}
			if c := best[s] + rss + beta; c < best[to] {
				best[to], from[to] = c, s
			}
		}
	}
	for to := n; to > 0; to = from[to] {
		ends = append(ends, to)
	}
	slices.Reverse(ends)
	return ends, best[n]
}

func TestPELTEqualsUnprunedSearch(t *testing.T) {
	r := seeded(12)
	for trial := range 60 {
		x := normals(r, 1+r.IntN(70))
		for i := range x {
			x[i] += 4 * float64((i/(5+trial%20))%3)
		}
		beta := []float64{0.1, 1, 5, 20, 1000}[trial%5]
		ends, cost := PELT(x, beta)
		wantEnds, wantCost := optimalPartition(x, beta)
		near(t, "cost", cost, wantCost, 1e-10)
		if !slices.Equal(ends, wantEnds) {
			t.Errorf("trial %d beta %v: ends %v, want %v", trial, beta, ends, wantEnds)
		}
		// Scaling the data by 3 and the penalty by 9 changes nothing.
		scaled, _ := PELT(affine(x, 3, -1e3), 9*beta)
		if !slices.Equal(scaled, ends) {
			t.Errorf("trial %d: scaled ends %v, want %v", trial, scaled, ends)
		}
		if big, _ := PELT(x, 10*beta); len(big) > len(ends) {
			t.Errorf("trial %d: more changes at ten times the penalty", trial)
		}
	}
}

func TestPELTReference(t *testing.T) {
	// Own worked example.
	ends, cost := PELT([]float64{0, 0.1, -0.1, 0, 5, 5.1, 4.9, 5, 2, 2.1, 1.9, 2}, 1)
	if !slices.Equal(ends, []int{4, 8, 12}) {
		t.Errorf("ends %v", ends)
	}
	near(t, "cost", cost, 2.06, 1e-12)

	// Nile: R strucchange gives the residual sums and the split after 28;
	// penalties of two and three variances times ln n all find it alone.
	x := nile()
	_, rss0 := PELT(x, 1e12)
	near(t, "RSS without change", rss0, 2835156.75, 1e-12)
	for _, variance := range []float64{28637.946970, 13298.561497} {
		for _, factor := range []float64{2, 3} {
			beta := factor * variance * math.Log(100)
			ends, cost := PELT(x, beta)
			if !slices.Equal(ends, []int{28, 100}) {
				t.Errorf("Nile ends %v at penalty %v", ends, beta)
			}
			near(t, "RSS with one change", cost-beta, 1597457.194444, 1e-12)
		}
	}
	// The two variances are the sample's and that of the MAD of differences.
	diff := make([]float64, len(x)-1)
	for i := range diff {
		diff[i] = x[i+1] - x[i]
	}
	near(t, "difference variance", MAD(diff)*MAD(diff)/2, 13298.561497, 1e-9)

	// Pettitt's formula, transcribed from memory, on the Nile.
	at, k, p := Pettitt(x)
	if at != 28 || k != 1617 {
		t.Errorf("Pettitt K = %v at %d, want 1617 at 28", k, at)
	}
	near(t, "Pettitt p", p, 3.59102e-07, 5e-13)
}

func TestPELTTrouble(t *testing.T) {
	for _, x := range [][]float64{nil, {1, math.NaN()}, {math.Inf(-1)}} {
		if ends, cost := PELT(x, 1); ends != nil || !math.IsNaN(cost) {
			t.Errorf("PELT(%v) = %v, %v", x, ends, cost)
		}
	}
	mustPanic(t, "penalty", func() { PELT([]float64{1}, -1) })
	// A far-off level must not hide a step of the size of the noise.
	x := []float64{1e9, 1e9 + 0.1, 1e9, 1e9 + 0.1, 1e9 + 3, 1e9 + 3.1, 1e9 + 3, 1e9 + 3.1}
	if ends, _ := PELT(x, 0.5); !slices.Equal(ends, []int{4, 8}) {
		t.Errorf("large offset: ends %v", ends)
	}
	if at, _, p := Pettitt([]float64{1}); at != 0 || !math.IsNaN(p) {
		t.Error("one value has a Pettitt p")
	}
}

func BenchmarkPELT(b *testing.B) {
	for _, c := range []struct {
		name  string
		every int // samples between changes, 0 for none
	}{{"steps", 100}, {"flat", 0}} {
		b.Run(c.name, func(b *testing.B) {
			x := normals(seeded(13), 10000)
			for i := range x {
				if c.every > 0 {
					x[i] += 5 * float64(i/c.every%2)
				}
			}
			for b.Loop() {
				PELT(x, 2*math.Log(10000))
			}
		})
	}
}
