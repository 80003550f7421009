package analyze

import (
	"fmt"
	"math"
	"runtime"
	"testing"

	"threewire/signal"
)

// BenchmarkExamine measures the analysis alone, without reading, on sweeps at
// 1 kHz; the second size is near the reader's bound on bins.
func BenchmarkExamine(b *testing.B) {
	for _, n := range []int{1, 10, 100} {
		d := newDraft(1)
		d.dt = 0.001
		tr := d.sweeps(n).trace()
		b.Run(fmt.Sprintf("bins=%d", tr.Len()), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Examine(tr, Defaults()); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(tr.Len())*float64(b.N)/b.Elapsed().Seconds()/1e6, "Mbins/s")
		})
	}
}

// pulses draws a log over hours in which a control steps its door to and fro by short
// drives, with all channels: n drives of half a second, each with half a second of
// rest, at 200 rows a pulse. The fault, where one is given, changes the reading.
func pulses(n int, fault func(d *draft, v float64) float64) *signal.Trace {
	d := newDraft(1)
	k := &circuit{draft: d}
	var supply, reference []float64
	d.read = func(d *draft) float64 {
		amps := 0.0
		if d.volts != 0 {
			amps = math.Copysign(0.1, d.volts)
			if d.x == d.lo || d.x == d.hi {
				amps *= 4
			}
		}
		k.current = append(k.current, amps+0.003*d.rng.NormFloat64())
		supply = append(supply, 12.6-2*math.Abs(amps)+0.01*d.rng.NormFloat64())
		reference = append(reference, 5+0.002*d.rng.NormFloat64())
		if fault != nil {
			return fault(d, d.x)
		}
		return d.x
	}
	dir := 12.0
	for range n {
		d.run(dir, 0.5).run(0, 0.5)
		switch d.x {
		case d.hi:
			dir = -12
		case d.lo:
			dir = 12
		}
	}
	tr := k.trace()
	tr.Supply, tr.Reference = beside("supply", "V", supply), beside("reference", "V", reference)
	return tr
}

// BenchmarkExamineMoves measures how the analysis grows with the number of drives in
// a log with all channels, and with the number of events in it.
func BenchmarkExamineMoves(b *testing.B) {
	lost := 0.0
	for _, c := range []struct {
		name  string
		fault func(d *draft, v float64) float64
	}{
		{"healthy", nil},
		{"losses", func(d *draft, v float64) float64 {
			if d.rng.Float64() < 0.005 {
				lost = d.t + 0.03
			}
			if d.t < lost && d.t > lost-0.04 {
				return 0
			}
			return v
		}},
		{"sticks", func(d *draft, v float64) float64 {
			if d.volts != 0 && d.rng.Float64() < 0.4 {
				d.x -= d.volts / 12 * d.rate * d.dt
			}
			return d.x
		}},
	} {
		for _, n := range []int{1000, 10000} {
			tr := pulses(n, c.fault)
			b.Run(fmt.Sprintf("%s/moves=%d", c.name, n), func(b *testing.B) {
				for b.Loop() {
					if _, err := Examine(tr, Defaults()); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(tr.Len())*float64(b.N)/b.Elapsed().Seconds()/1e6, "Mbins/s")
			})
		}
	}
}

// What is measured over the whole capture is measured once, not at each move: with
// eight times the rows and the drives, a row takes no more memory than before. By itself:
// the memory counted is that of the whole process.
func TestWorkPerRowDoesNotGrowWithTheMoves(t *testing.T) {
	perRow := func(n int) float64 {
		tr := pulses(n, nil)
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		if _, err := Examine(tr, Defaults()); err != nil {
			t.Fatal(err)
		}
		runtime.ReadMemStats(&after)
		return float64(after.TotalAlloc-before.TotalAlloc) / float64(tr.Len())
	}
	few, many := perRow(50), perRow(400)
	if many > 1.5*few {
		t.Errorf("%.0f bytes a row with 50 drives, %.0f with 400", few, many)
	}
}
