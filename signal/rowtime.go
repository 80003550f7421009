package signal

import "math"

// rowTimes brings the times of a block's rows to seconds, strictly rising,
// and notes where rows are missing. Rows without a time, and those written twice,
// are taken out.
func (r *reducer) rowTimes(b *block) error {
	t := &r.p.time
	n := b.rows
	if cap(r.times) < n {
		r.times = make([]float64, n)
	}
	r.times = r.times[:n]
	r.breaks = r.breaks[:0]
	if t.mode == timeCount || t.mode == timeNone {
		step := t.step
		if t.mode == timeNone {
			step = 1
		}
		if !r.started {
			r.started = true
			r.typical, r.firstOut = step, t.start
			r.chooseWidth(n, b.last)
		}
		for i := range r.times {
			r.times[i] = t.start + float64(r.rows+int64(i))*step
		}
		r.lastT = r.times[n-1]
		return nil
	}
	raw := b.cols[t.col][:n]
	if t.mode == timeDate {
		for i, x := range b.cols[t.col2][:n] {
			raw[i] += x
		}
	}
	if t.fraction > 0 {
		for i, x := range b.cols[t.fraction][:n] {
			raw[i] += x * t.fracScale
		}
	}
	if t.delta {
		r.addUp(raw)
	}
	r.timed = nil
	for _, x := range raw {
		if x != x {
			raw = r.dropUntimed(b, raw)
			break
		}
	}
	if len(raw) == 0 {
		r.times = r.times[:0]
		return nil
	}
	first := !r.started
	switch {
	case first && t.todOnly:
		unroll(raw, t.lap)
	case t.todOnly:
		r.rollOn(raw)
	}
	if first && shapeOf(raw).down {
		r.sign = -1
	}
	raw = r.dropTwice(b, raw)
	n = len(raw)
	r.times = r.times[:n]
	if n == 0 {
		return nil
	}
	if first {
		r.started = true
		r.firstBlock(raw, b.last)
		if t.epoch || t.mode == timeClock || t.mode == timeDate {
			r.base = raw[0]
		}
		r.prevRaw = math.Inf(-1)
		r.prevOut = math.Inf(-1)
	}
	return r.stampTimes(b, raw, first)
}

// stampTimes is the loop over the rows: convert, check the order, spread
// equal stamps, find gaps.
func (r *reducer) stampTimes(b *block, raw []float64, first bool) error {
	base, scale := r.base, r.p.time.scale*r.sign
	prevRaw, prevOut := r.prevRaw, r.prevOut
	typical := r.typical
	if typical <= 0 {
		typical = 1e-9
	}
	gap := math.Inf(1)
	if !r.irregular && r.typical > 0 {
		gap = gapFactor * r.typical
		if r.repeated {
			gap = max(gap, 2.5*r.quantum)
		}
	}
	lo, hi := typical-r.tol, typical+r.tol
	out := r.times
	for i, x := range raw {
		x = (x-base)*scale + r.shift
		d := x - prevRaw
		if d < 0 && r.restarts(x, prevRaw) {
			y := prevOut + 2*gapFactor*typical
			r.noteRestart(b, i, y-prevOut)
			r.shift += y - x
			r.pause(prevOut, y)
			if len(r.anew) < maxGaps {
				r.anew = append(r.anew, Restart{y, r.line + int64(b.lineOf(r.rowOf(i))) + 1})
			}
			r.breaks = append(r.breaks, i)
			r.run, prevRaw, prevOut, out[i] = 0, y, y, y
			continue
		}
		if d > 0 && x > prevOut {
			if d > gap && r.stood(out[:i], prevRaw, x) {
				prevOut = out[i-1]
				d = x - prevOut
			}
			r.run = 0
			prevRaw = x
			if r.bounded && !(first && i == 0) {
				r.tick(i, x)
			}
			if d > gap {
				if first && i == 0 {
					r.firstOut = x
				} else {
					r.gap(prevOut, x)
					r.breaks = append(r.breaks, i)
				}
			} else {
				r.steps++
				r.stepSum += x - prevOut
				if d < lo || d > hi {
					r.odd++
				}
			}
			if math.IsInf(prevOut, -1) {
				r.firstOut = x
				r.steps, r.stepSum, r.odd = 0, 0, 0
			}
			out[i] = x
			prevOut = x
			continue
		}
		behind := d < 0 && -d < r.typical // a stamp that jitters; the rows' order stands
		if d < 0 && !behind {
			err := r.backwards(b, i, prevRaw, x)
			if b.cut && b.last && r.rowOf(i) == b.rows-1 && i > 0 {
				// The line has no end: its time lacks digits.
				r.p.note("cut-line", "the last line (%d) breaks off in its time and is left out", err.Line)
				r.times = r.times[:i]
				break
			}
			return err
		}
		// An equal stamp, an earlier one, or one that the spreading has run past.
		if behind {
			r.behind++
		} else {
			r.nudged++
		}
		y := prevOut + typical*1e-3
		if d == 0 {
			r.run++
			if r.repeated && r.bounded {
				y = prevOut // the rows of a stamp are spread when the line through all is known
			} else if r.repeated {
				y = max(y, prevRaw+r.run*typical)
			} else { // a lone repetition stays before the next stamp
				y = max(y, prevRaw+typical*(1-math.Exp2(-r.run)))
			}
		} else {
			r.run = 0
		}
		prevRaw = max(prevRaw, x)
		if y <= prevOut {
			y = math.Nextafter(prevOut, math.Inf(1))
		}
		r.steps++
		r.stepSum += y - prevOut
		out[i] = y
		prevOut = y
	}
	r.prevRaw, r.prevOut = prevRaw, prevOut
	r.lastT = prevOut
	return nil
}

// tick keeps the first and the last row with which the clock moved on.
func (r *reducer) tick(i int, at float64) {
	r.ticks[1] = tick{r.rows + int64(i), at}
	if r.ticks[0].row == 0 {
		r.ticks[0] = r.ticks[1]
	}
}

// stood spreads rows of one stamp, when the next is as late as if the clock had
// stood while they were taken, and tells whether it did.
func (r *reducer) stood(out []float64, stamp, next float64) bool {
	n := int(r.run)
	if n < 3 || n >= len(out) || r.repeated || stamp+r.run*r.typical >= next {
		return false
	}
	for k := range n {
		out[len(out)-n+k] = stamp + float64(k+1)*r.typical
	}
	r.p.note("clock-stood", "the clock stood for %d rows at %.6g s: they are spread over the time up to the next stamp", n+1, stamp)
	return true
}

// fewestOfPart is how many rows a part of a file has at least whose clock starts
// anew: time that goes back more often is no time.
const fewestOfPart = 20

// restarts tells whether a stamp that lies before the one before it is where the
// clock began, at nought or at the first stamp of the file: the log was started
// anew, or its counter was reset.
func (r *reducer) restarts(x, prev float64) bool {
	if r.p.time.mode != timeNumber || r.p.time.epoch || r.sign < 0 || r.typical <= 0 {
		return false
	}
	x, prev = x-r.shift, prev-r.shift
	near := gapFactor * r.typical
	return x >= math.Min(0, r.firstOut)-near && x <= math.Max(0, r.firstOut)+near && prev-x > fewestOfPart*r.typical
}

// noteRestart tells of a clock that began anew.
func (r *reducer) noteRestart(b *block, i int, wait float64) {
	line := r.line + int64(b.lineOf(r.rowOf(i))) + 1
	r.p.doubt(ClockRestarted, "the clock starts anew in line %d: the rows before and after it are taken as one recording, with a pause between them of unknown length (drawn as %.3g s)", line, wait)
}

// gap is a pause in which rows are missing.
func (r *reducer) gap(from, to float64) {
	if r.gapCount == 0 {
		r.firstGap = Span{from, to}
	}
	r.gapCount++
	r.pause(from, to)
}

// pause keeps a stretch of time without rows.
func (r *reducer) pause(from, to float64) {
	if len(r.gaps) < maxGaps {
		r.gaps = append(r.gaps, Span{from, to})
	}
}

// dropUntimed takes out the rows without a time.
func (r *reducer) dropUntimed(b *block, raw []float64) []float64 {
	w := 0
	r.timed = make([]int, 0, len(raw))
	for i, x := range raw {
		if x != x {
			r.noTime++
			continue
		}
		r.timed = append(r.timed, i)
		raw[w] = x
		for _, c := range r.chans {
			b.cols[c.col][w] = b.cols[c.col][i]
		}
		w++
	}
	return raw[:w]
}

// rowOf gives the row of the block that is row i of those with a time.
func (r *reducer) rowOf(i int) int {
	if r.timed != nil {
		return r.timed[i]
	}
	return i
}

const day = 86400.0

// unroll carries times of day over midnight: a jump of more than half a day
// is a change of the day, or of the hour where lap is one.
func unroll(raw []float64, lap float64) {
	off, prev := 0.0, raw[0]
	for i, x := range raw {
		switch d := x - prev; {
		case d < -lap/2:
			off += lap
		case d > lap/2:
			off -= lap
		}
		prev = x
		raw[i] = x + off
	}
}

// rollOn does the same for a later block.
func (r *reducer) rollOn(raw []float64) {
	last := r.base + r.sign*r.prevRaw/r.p.time.scale
	lap := r.p.time.lap
	off := math.Round((last-raw[0])/lap) * lap
	if off != 0 {
		for i := range raw {
			raw[i] += off
		}
	}
	off = 0
	for i := 1; i < len(raw); i++ {
		x := raw[i] + off
		switch d := x - raw[i-1]; {
		case d < -lap/2:
			off += lap
			x += lap
		case d > lap/2:
			off -= lap
			x -= lap
		}
		raw[i] = x
	}
}
