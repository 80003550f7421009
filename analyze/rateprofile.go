package analyze

import "math"

// turnedDown is the share of a move's own full drive below which its speed tells
// of the drive and not of the place: a motor with a quarter of its torque on the
// door loses half of its speed there.
const turnedDown = 0.75

// rotorGathers is how long, in s, a rotor gathers speed (common practice, no source).
const rotorGathers = 0.1

// allStart is the length, in s, of a drive that is start for a good part of it: play is
// taken up and the rotor gathers speed for a tenth of a second or so (common practice,
// no source).
const allStart = 0.4

// longMoves tells whether there are drives in a direction, three or more, beside which
// such short ones are no measure of the speed.
func (w *work) longMoves(dir Direction) bool {
	n := 0
	for k := range w.moves {
		if m := &w.moves[k]; m.Direction == dir && m.Moving > 2*allStart {
			n++
		}
	}
	return n >= 3
}

// choppedIn marks the bins of a move at which its drive is pulsed, where another part of
// it is not; nil where there is no such difference. Between pulses a motor is a
// generator, and leads that are left open show its volts: the mean of what was logged
// is then more than what drives it. The rotor takes rotorGathers to come up to speed again
// after each of them, and what comes between two as short as a start is all start.
func (w *work) choppedIn(m *Move) []bool {
	if w.tr.DriveIsPolarity || w.d.amp <= 0 || len(w.tr.Drive.Mean) != len(w.t) {
		return nil
	}
	n := m.last - m.first
	off := make([]float64, n)
	for i := range off {
		if math.Abs(float64(w.tr.Drive.Mean[m.first+i])) < 0.85*w.d.amp {
			off[i] = 1
		}
	}
	share := movingMean(off, w.window|1)
	out := make([]bool, n)
	last, seen := 0, false // the last row so far that is off; the rotor rests before the first
	for i, x := range share {
		if x > 0.1 {
			if w.t[m.first+i]-w.t[m.first+last] < allStart {
				for j := last; j < i; j++ {
					out[j] = true
				}
			}
			last, seen = i, true
		}
		out[i] = seen && w.t[m.first+i]-w.t[m.first+last] <= rotorGathers
	}
	k := 0
	var within, beside float64 // rows that are off
	for i, pulsed := range out {
		if pulsed {
			k++
			within += off[i]
		} else {
			beside += off[i]
		}
	}
	// Nearly all or nearly none of it is pulsed.
	if 10*k > 9*n || k == 0 {
		return nil
	}
	// Rows that catch few of the pulses catch now more and now fewer of them: where what is
	// left has its pulses too, they are the same all along.
	if 3*beside/float64(n-k) > within/float64(k) {
		return nil
	}
	return out
}

// brokenCells are the cells in which a move got under way, and those in which its reading
// left the track and came back: its speed there is not that of a pass.
func (w *work) brokenCells(m *Move, width float64, cells int) []bool {
	out := make([]bool, cells)
	at := func(v float64) {
		if c := int(math.Floor((v - w.span.From) / width)); c >= 0 && c < cells {
			out[c] = true
		}
	}
	at(m.Start)
	at(m.Start + float64(m.Direction)*width) // it may have begun at the edge of the two
	for _, s := range m.segs {
		if s.state != fast && s.state != back {
			continue
		}
		for _, b := range []int{max(s.first-1, m.first), s.first, s.last - 1, min(s.last, m.last-1)} {
			at(w.smooth[b])
		}
	}
	return out
}

// cellPass is the travel, V, of one pass over a cell and the time it took, s, as if at
// full drive.
type cellPass struct{ travel, time float64 }

// passOver adds one move to the cells of so many volts; slows is over how many volts a
// controller slows before its target. It returns the seconds counted, as they were and
// as if at full drive.
func (w *work) passOver(m *Move, slows, width float64, pass []cellPass) (lasted, applied float64) {
	chopped := w.choppedIn(m)
	dir := float64(m.Direction)
	// A controller that turns down its duty before the target slows the
	// shaft by itself: the last stretch before a move's own end says
	// nothing about the load.
	last := w.smooth[m.last-1] - slows*dir
	if m.Stalled > 0 && !w.slowsAtStops {
		last = w.smooth[m.last-1]
	}
	full := 0.0
	if len(m.gain) > 0 {
		full = quantileOf(m.gain, 0.9)
	}
	for i, s := range m.segs {
		if s.state == fast || s.state == back {
			continue
		}
		// A stand is judged as a stand: inside one cell it says nothing
		// of how fast the shaft goes there.
		if s.state == still && (i == 0 || i == len(m.segs)-1 || math.Abs(w.smooth[s.last-1]-w.smooth[s.first]) < width) {
			continue
		}
		for b := s.first; b+1 < s.last; b++ {
			c := int((w.smooth[b] - w.span.From) / width)
			if c < 0 || c >= len(pass) || dir*(w.smooth[b]-last) > 0 {
				continue
			}
			// Over missing rows nothing is known; and where the control
			// turns the drive down, load costs a share that it costs
			// nowhere else.
			if w.t[b+1]-w.t[b] > missingRows*w.tr.Step || w.gain(m, b) < turnedDown*full || chopped != nil && chopped[b-m.first] {
				continue
			}
			// Time counts by the drive that was applied in it.
			dt := w.t[b+1] - w.t[b]
			pass[c].time += dt * w.gain(m, b)
			lasted, applied = lasted+dt, applied+dt*w.gain(m, b)
			pass[c].travel += (w.smooth[b+1] - w.smooth[b]) * dir
		}
	}
	return lasted, applied
}

// findProfiles measures rate against position, by direction: travel over time
// in each cell, for every pass, leaving out stalls, start delays and readings
// that jumped.
func (w *work) findProfiles() {
	span := w.span.Width()
	if !(span > 0) {
		return
	}
	cells := profileCells(span, w.noise, w.quantum)
	if cells < 4 {
		return
	}
	width := span / float64(cells)
	w.slows = w.approach()
	slows := math.Max(approachUsual*span, w.slows)
	var lasted, applied float64 // s, as it was and as if at full drive
	for _, dir := range []Direction{Down, Up} {
		rates, through := make([][]float64, cells), make([][]float64, cells)
		long := w.longMoves(dir)
		for k := range w.moves {
			m := &w.moves[k]
			if m.Direction != dir || long && m.Duration() < allStart {
				continue
			}
			pass := make([]cellPass, cells)
			d, a := w.passOver(m, slows, width, pass)
			lasted, applied = lasted+d, applied+a
			broken := w.brokenCells(m, width, cells)
			for c, p := range pass {
				if p.travel > width/2 && p.time > 0 {
					rates[c] = append(rates[c], p.travel/p.time)
					if !broken[c] {
						through[c] = append(through[c], p.travel/p.time)
					}
				}
			}
		}
		p := &Profile{Direction: dir, Nominal: w.rate[side(dir)]}
		for c, r := range rates {
			if len(r) == 0 {
				continue
			}
			lo, _ := extremes(r)
			p.Points = append(p.Points, ProfilePoint{
				Position: w.span.From + (float64(c)+0.5)*width,
				Rate:     medianOf(r), Slowest: lo, Passes: len(r), rates: r, through: through[c],
			})
		}
		if len(p.Points) > 0 {
			w.prof[side(dir)] = p
		}
	}
	w.byDrive = applied < 0.95*lasted
}
