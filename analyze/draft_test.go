package analyze

import (
	"math"
	"math/rand/v2"

	"threewire/signal"
)

// draft draws a capture from straight lines, independent of the rig: a shaft
// that moves at a given rate between hard stops, and a reading made of it.
type draft struct {
	dt, noise, quantum float64
	rate               float64 // V/s at full drive
	lo, hi             float64 // V, stops
	x                  float64 // V, where the shaft is
	volts              float64 // V, of the drive
	t                  float64
	rng                *rand.Rand

	speed func(d *draft, dir float64) float64 // factor on the rate, nil = 1
	block func(d *draft, dir float64) bool    // shaft cannot move
	read  func(d *draft) float64              // reading of the shaft position, nil = x

	unit     string // of the feedback, empty = V
	signOnly bool   // the drive is logged as polarity

	time, drive, feed []float64
}

func newDraft(seed uint64) *draft {
	return &draft{dt: 0.005, noise: 0.004, rate: 0.8, lo: 0.5, hi: 4.5, x: 0.5, rng: rand.New(rand.NewPCG(seed, 7))}
}

// run drives with the given volts for s seconds.
func (d *draft) run(volts, s float64) *draft {
	for n := int(math.Round(s / d.dt)); n > 0; n-- {
		dir := 0.0
		if volts != 0 {
			dir = math.Copysign(1, volts)
		}
		d.volts = volts
		k := 1.0
		if d.speed != nil {
			k = d.speed(d, dir)
		}
		if d.block == nil || !d.block(d, dir) {
			d.x = math.Max(d.lo, math.Min(d.hi, d.x+volts/12*d.rate*k*d.dt))
		}
		v := d.x
		if d.read != nil {
			v = d.read(d)
		}
		v += d.noise * d.rng.NormFloat64()
		if d.quantum > 0 {
			v = math.Round(v/d.quantum) * d.quantum
		}
		d.time = append(d.time, d.t)
		d.drive = append(d.drive, volts+0.05*d.rng.NormFloat64())
		d.feed = append(d.feed, v)
		d.t += d.dt
	}
	return d
}

// sweeps drives n times up and down, stop to stop, with a second of stall and
// half a second of rest.
func (d *draft) sweeps(n int) *draft {
	full := (d.hi-d.lo)/d.rate + 1
	d.run(0, 1)
	for range n {
		d.run(12, full).run(0, 0.5).run(-12, full).run(0, 0.5)
	}
	return d
}

func (d *draft) trace() *signal.Trace {
	f32 := func(x []float64) []float32 {
		out := make([]float32, len(x))
		for i := range x {
			out[i] = float32(x[i])
		}
		return out
	}
	series := func(name string, x []float64, q float64) signal.Series {
		m := f32(x)
		s := signal.Series{Name: name, Unit: "V", Mean: m, Min: m, Max: m}
		s.Stats.Min, s.Stats.Max = extremes(x)
		s.Stats.Valid = int64(len(x))
		s.Stats.Quantum = q
		return s
	}
	feed := series("feedback", d.feed, d.quantum)
	if d.unit != "" {
		feed.Unit = d.unit
	}
	drive := series("drive", d.drive, 0)
	if d.signOnly {
		sign := make([]float64, len(d.drive))
		for i, v := range d.drive {
			if math.Abs(v) > 1 {
				sign[i] = math.Copysign(1, v)
			}
		}
		drive = series("drive", sign, 1)
		drive.Unit = ""
	}
	return &signal.Trace{
		Source: "draft", Time: d.time, Step: d.dt, RowStep: d.dt, RowsPerBin: 1, Rows: int64(len(d.time)), Uniform: true,
		Drive: drive, DriveIsPolarity: d.signOnly, Feedback: feed,
	}
}
