package analyze

import (
	"math"

	"threewire/signal"
)

// Rows that come more seldom than a drive's pulses catch now an on and now an off: the
// drive then seems to come and go from row to row, while the shaft runs evenly.
const (
	foldedStep  = 0.015 // s between rows: pulses below 30 ms are told by rows as close as this
	foldedGap   = 2     // rows off between two on, at most
	foldedPause = 0.25  // s off at the most: longer ones a shaft would rest in (chosen, not derived)
	foldedRun   = 5     // rows on in a row; more are a full drive
	foldedLeast = 20    // stretches on: so many hardly come of a hand or of a control that steps
	foldedFew   = 4     // stretches on that make one drive
)

// A pulseTrain is one drive, of one polarity, as rows that come too seldom show it.
type pulseTrain struct {
	first, last int      // rows
	on          [][2]int // stretches that are on
}

// foldPulses takes a drive of pulses that rows come too seldom for as what it is: one
// drive of a part of its volts. The shaft tells: it goes on in the rows that are off
// nearly as it does in those that are on, where the pulses are the rows' own it rests in
// them.
func (d *drive) foldPulses(t *signal.Trace) {
	if t.Step < foldedStep {
		return
	}
	trains := d.pulseTrains(t)
	n := 0
	for _, p := range trains {
		n += len(p.on)
	}
	if n < foldedLeast || !d.runsThrough(trains, filled(t.Feedback.Mean)) {
		return
	}
	for _, p := range trains {
		d.levelTrain(p)
	}
	d.pulsed, d.folded = true, true
}

// pulseTrains lists the drives that come and go from row to row.
func (d *drive) pulseTrains(t *signal.Trace) (out []pulseTrain) {
	var p pulseTrain
	end := func() {
		if len(p.on) >= foldedFew {
			out = append(out, p)
		}
		p = pulseTrain{}
	}
	for i := 0; i < len(d.pol); {
		j := i
		for j < len(d.pol) && d.pol[j] == d.pol[i] {
			j++
		}
		switch {
		case d.pol[i] == 0:
			if len(p.on) > 0 && (j-i > foldedGap || j == len(d.pol) || lapse(t.Time[j], t.Time[i]) > foldedPause) {
				end()
			}
		default:
			if len(p.on) > 0 && d.pol[p.first] != d.pol[i] {
				end()
			}
			if len(p.on) == 0 {
				p.first = i
			}
			p.last, p.on = j, append(p.on, [2]int{i, j})
		}
		i = j
	}
	end()
	return out
}

// runsThrough tells whether the reading goes on while the drive seems off by half as
// much as while it seems on, or more, and the same way in both.
func (d *drive) runsThrough(trains []pulseTrain, v []float64) bool {
	var on, off []float64
	for _, p := range trains {
		for i := p.first + 1; i < p.last-1; i++ {
			x := (v[i+1] - v[i-1]) * float64(d.pol[p.first])
			if d.pol[i] == 0 {
				off = append(off, x)
			} else {
				on = append(on, x)
			}
		}
	}
	if len(off) < foldedLeast || len(on) < foldedLeast {
		return false
	}
	// Both senses of the reading are good. A mean must stand clear of what it scatters by.
	a, b := mean(on), mean(off)
	if math.Abs(b) < 3*meanError(off) {
		return false
	}
	return a*b > 0 && math.Abs(b) > 0.5*math.Abs(a)
}

// meanError is the standard error of a mean.
func meanError(x []float64) float64 {
	m, sum := mean(x), 0.0
	for _, v := range x {
		sum += (v - m) * (v - m)
	}
	return math.Sqrt(sum/float64(max(1, len(x)-1))) / math.Sqrt(float64(len(x)))
}

// levelTrain makes one drive of a train: its stretches of short pulses at their mean
// volts, those of full drive as they are.
func (d *drive) levelTrain(p pulseTrain) {
	pol := d.pol[p.first]
	level := func(a, b int) {
		if b <= a {
			return
		}
		m := mean(d.mean[a:b])
		for i := a; i < b; i++ {
			d.mean[i] = m
		}
	}
	from := p.first
	for _, s := range p.on {
		if s[1]-s[0] > foldedRun {
			level(from, s[0])
			from = s[1]
		}
	}
	level(from, p.last)
	for i := p.first; i < p.last; i++ {
		d.pol[i] = pol
	}
}
