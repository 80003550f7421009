package signal

import (
	"math"
	"math/rand/v2"
	"testing"
)

// slowlyRead is a trace of a shaft that goes up and down, in rows of 10 ms with
// jitter; read gives what the file shows of the place at a time.
func slowlyRead(seed uint64, read func(t, x float64, rng *rand.Rand) float64) *Trace {
	const n = 6000
	rng := rand.New(rand.NewPCG(seed, 3))
	tr := &Trace{Time: make([]float64, n), Step: 0.01, RowStep: 0.01, RowsPerBin: 1, Rows: n}
	var drive, feed []float32
	for i := range tr.Time {
		t := 0.01*float64(i) + 0.003*rng.Float64()
		tr.Time[i] = t
		phase := math.Mod(t, 16)
		d, x := 0.0, 0.5
		switch {
		case phase < 6:
			d, x = 12, 0.5+0.65*phase
		case phase < 8:
			x = 4.4
		case phase < 14:
			d, x = -12, 4.4-0.65*(phase-8)
		}
		drive = append(drive, float32(d))
		feed = append(feed, float32(math.Round(read(t, x, rng)/0.005)*0.005))
	}
	tr.Drive = Series{Unit: "V", Mean: drive, Min: drive, Max: drive}
	tr.Feedback = Series{Unit: "V", Mean: feed, Min: feed, Max: feed}
	tr.Feedback.Stats.Quantum = 0.005
	return tr
}

// held gives a reading again until the clock's next tick.
func held(period float64) func(t, x float64, rng *rand.Rand) float64 {
	tick, value := math.Inf(-1), 0.0
	return func(t, x float64, rng *rand.Rand) float64 {
		if k := math.Floor(t / period); k > tick {
			tick, value = k, x+0.003*rng.NormFloat64()
		}
		return value
	}
}

func TestRenewed(t *testing.T) {
	for _, period := range []float64{0.033, 0.04, 0.0857, 0.2} {
		tr := slowlyRead(1, held(period))
		got := tr.Renewed()
		if got == tr {
			t.Errorf("read every %g s: no clock found", period)
			continue
		}
		if math.Abs(got.Step/period-1) > 0.002 {
			t.Errorf("read every %g s: found %g s", period, got.Step)
		}
		if n := tr.Time[tr.Len()-1] / period; math.Abs(float64(got.Len())/n-1) > 0.03 {
			t.Errorf("read every %g s: %d bins, expected about %.0f", period, got.Len(), n)
		}
		for _, s := range []*Series{&got.Drive, &got.Feedback} {
			if len(s.Mean) != got.Len() || len(s.Min) != got.Len() || len(s.Max) != got.Len() {
				t.Errorf("read every %g s: %d, %d and %d values in %d bins", period, len(s.Mean), len(s.Min), len(s.Max), got.Len())
			}
		}
		// Moving, no bin repeats the one before it.
		same := 0
		for i := 1; i < got.Len(); i++ {
			if math.Abs(float64(got.Drive.Mean[i])) > 11 && got.Feedback.Mean[i] == got.Feedback.Mean[i-1] {
				same++
			}
		}
		if same > got.Len()/20 {
			t.Errorf("read every %g s: %d of %d bins repeat the reading before them", period, same, got.Len())
		}
		if tr.Len() != 6000 || len(tr.Drive.Mean) != 6000 {
			t.Error("the trace itself was changed")
		}
	}
}

// What has no clock stays as it is: a reading in each row, a coarse converter that
// steps as the shaft goes, and a shaft that sticks for moments of any length.
func TestNotRenewed(t *testing.T) {
	var until, stuck float64
	for name, read := range map[string]func(t, x float64, rng *rand.Rand) float64{
		"a reading in each row": func(t, x float64, rng *rand.Rand) float64 { return x + 0.01*rng.NormFloat64() },
		"quiet":                 func(t, x float64, rng *rand.Rand) float64 { return x },
		"a coarse converter":    func(t, x float64, rng *rand.Rand) float64 { return 0.04 * math.Round(x/0.04) },
		"a shaft that sticks": func(t, x float64, rng *rand.Rand) float64 {
			if t >= until {
				until, stuck = t+0.05+0.1*rng.Float64(), x
			}
			return stuck
		},
	} {
		until = 0
		if tr := slowlyRead(2, read); tr.Renewed() != tr {
			t.Errorf("%s: taken for a reading that is renewed every %g s", name, tr.Renewed().Step)
		}
	}
}

// A pause of any length between two rows must not take time to think about.
func TestRenewedOverAPause(t *testing.T) {
	for _, pause := range []float64{10, 1e4, 1e9, 1e15} {
		for _, at := range []int{100, 3000} {
			tr := slowlyRead(1, held(0.04))
			for i := at; i < tr.Len(); i++ {
				tr.Time[i] += pause
			}
			if got := tr.Renewed(); got.Len() > tr.Len() { // or never comes back
				t.Errorf("pause of %g s at row %d: %d bins of %d rows", pause, at, got.Len(), tr.Len())
			}
		}
	}
}

func BenchmarkRenewed(b *testing.B) {
	for _, c := range []struct {
		name string
		read func(t, x float64, rng *rand.Rand) float64
	}{{"clock", held(0.04)}, {"none", func(t, x float64, rng *rand.Rand) float64 { return x + 0.01*rng.NormFloat64() }}} {
		tr := slowlyRead(1, c.read)
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				tr.Renewed()
			}
		})
	}
}
