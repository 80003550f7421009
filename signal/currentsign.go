package signal

import (
	"math"
	"slices"
)

// directionFromCurrent is set where the file has no drive, and the motor's current
// tells its direction: it flows both ways, and no other column switches.
func (a *assignment) directionFromCurrent() bool {
	j, ok := a.col[Current]
	if !ok || a.driven() || len(a.open) > 0 {
		return false
	}
	if f := a.feat[j]; f == nil || f.flat || f.min > -0.2*f.size() || f.max < 0.2*f.size() {
		return false
	}
	for _, c := range a.chans {
		if f := a.feat[c.col]; a.role[c.col] == Unused && f != nil && f.switching() {
			return false
		}
	}
	return true
}

// byCurrent is the code of the note that the drive is the sign of the current.
const byCurrent = "drive-by-current"

// DriveFromCurrent tells whether the file had no drive, so that Drive is the sign of
// the motor's current: a drive without current is not in it.
func (t *Trace) DriveFromCurrent() bool {
	return slices.ContainsFunc(t.Notes, func(n Note) bool { return n.Code == byCurrent })
}

// currentSign is the polarity of the drive, -1, 0 or +1, by the sign of the motor's
// current. It begins where the current stands clear of what flows at rest, by five
// standard deviations and a fiftieth of the largest, and ends at half of that. A
// motor that is braked by its own short drives a current back for a moment: that
// follows a drive at once, decays and is over within 0.3 s, and is none.
func currentSign(c Series, t []float64) Series {
	const (
		sigmas = 5
		share  = 0.02
		braked = 0.3 // s
	)
	var steps, size []float64
	last := math.NaN()
	for _, x := range c.Mean {
		v := float64(x)
		if v != v {
			continue
		}
		size = append(size, math.Abs(v))
		if last == last {
			steps = append(steps, math.Abs(v-last))
		}
		last = v
	}
	d := Series{Name: c.Name, Mean: make([]float32, len(c.Mean))}
	d.Min, d.Max = d.Mean, d.Mean
	d.Stats = Stats{Valid: c.Stats.Valid, Missing: c.Stats.Missing, Quantum: 1}
	if len(steps) == 0 {
		d.Stats.bound(d.Mean)
		return d
	}
	slices.Sort(steps)
	slices.Sort(size)
	// The median step of white noise is 0.954 sigma (0.6745 times the root of 2).
	noise := steps[len(steps)/2] / 0.954
	on := max(sigmas*noise+c.Stats.Quantum, share*size[len(size)*99/100])
	p := float32(0)
	for i, x := range c.Mean {
		switch v := float64(x); {
		case v != v:
		case v > on:
			p = 1
		case v < -on:
			p = -1
		case math.Abs(v) < on/2 || v > 0 != (p > 0):
			p = 0
		}
		d.Mean[i] = p
	}
	for i := 1; i < len(d.Mean); i++ {
		p := d.Mean[i]
		if p == 0 || d.Mean[i-1] == p {
			continue
		}
		// A run that turns over from a drive just before, with or without a row at nothing.
		was := d.Mean[i-1]
		if was == 0 && i >= 2 {
			was = d.Mean[i-2]
		}
		if was != -p {
			continue
		}
		j := i
		for j < len(d.Mean) && d.Mean[j] == p {
			j++
		}
		if j < len(d.Mean) && t[j]-t[i] < braked && math.Abs(float64(c.Mean[j-1])) <= math.Abs(float64(c.Mean[i])) {
			clear(d.Mean[i:j])
		}
	}
	d.Stats.bound(d.Mean)
	return d
}
