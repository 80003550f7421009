package analyze

import (
	"fmt"
	"math"
	"testing"

	"threewire/signal"
)

// BenchmarkOddLogs measures logs with very many of what is odd: eight times as many take
// eight times as long, where a search that begins anew at each takes 64 times.
func BenchmarkOddLogs(b *testing.B) {
	for _, c := range []struct {
		name string
		n    int
		draw func(n int) (look func())
	}{
		{"unanswered", 10000, unansweredRows},
		{"in vain", 1000, drivesInVain},
		{"hardly back", 10000, hardlyBack},
	} {
		for _, n := range []int{c.n, 8 * c.n} {
			look := c.draw(n)
			b.Run(fmt.Sprintf("%s/n=%d", c.name, n), func(b *testing.B) {
				for b.Loop() {
					look()
				}
			})
		}
	}
}

// unansweredRows draws commands of a row each, with as many rows between.
func unansweredRows(n int) func() {
	want := make([]float64, 2*n)
	for i := range want {
		want[i] = float64(i % 2)
	}
	w := &work{tr: &signal.Trace{Step: 0.01, Command: beside("command", "", want)}, t: every(0.01, 2*n), v: make([]float64, 2*n)}
	return func() {
		o := orders{work: w, top: 1, heard: math.Inf(-1)}
		o.follow()
		o.takeShort()
	}
}

// drivesInVain draws drives up, twenty rows each with as many of rest, of a shaft that stands.
func drivesInVain(n int) func() {
	const rows = 20
	w := &work{t: every(0.01, 2*rows*n), v: make([]float64, 2*rows*n), tr: &signal.Trace{Step: 0.01}}
	w.smooth, w.window, w.rate, w.d.amp = w.v, 5, [2]float64{1, 1}, 12
	w.d.mean = make([]float64, len(w.v))
	for k := range n {
		w.moves = append(w.moves, Move{Direction: Up, Stalled: 0.2, first: 2 * rows * k, last: 2*rows*k + rows})
		for i := range rows {
			w.d.mean[2*rows*k+i] = 12
		}
	}
	return func() {
		p := playSearch{work: w, reach: 0.1, first: math.Inf(1), time: noInterval()}
		p.search()
	}
}

// hardlyBack draws a stand in which the reading goes far off, and nearly back, every two rows.
func hardlyBack(n int) func() {
	w := &work{t: every(0.001, 2*n), v: make([]float64, 2*n), tr: &signal.Trace{Step: 0.001}, tol: 0.01, rate: [2]float64{1, 1}}
	for i := range w.v {
		w.v[i] = 0.5 + 0.5*float64(i%2)
	}
	w.v[len(w.v)-1] = 0
	return func() { w.lossesIn(endStand{last: len(w.v)}, 0.8) }
}

// every lists n times, a step, in s, apart.
func every(step float64, n int) []float64 {
	t := make([]float64, n)
	for i := range t {
		t[i] = step * float64(i)
	}
	return t
}
