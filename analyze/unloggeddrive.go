package analyze

import (
	"fmt"
	"math"
)

// unloggedDrive says that the shaft went on its own power while the drive reads rest: what
// was logged as the drive is then not all of it. It weighs nothing, for no fault of the
// actuator makes it; but what is said of moves, stalls and delays hangs on the drive.
func (a *account) unloggedDrive() {
	found := a.runsAtRest()
	if len(found) == 0 {
		return
	}
	most, first := 0.0, found[0]
	for _, o := range found {
		most = math.Max(most, o.Volts.Width())
		if o.Time.From < first.Time.From {
			first = o
		}
	}
	check := "see that its channel is on the motor's own leads, that both leads are logged and that its range does not cut the volts"
	switch {
	case a.tr.DriveIsPolarity:
		check = "see that the column is the polarity at the motor and not a command, and log the volts of both leads"
	case a.tr.Both != nil:
		check = "see that both clips are on the motor's own leads and hold, and that the range does not cut the volts"
	}
	a.blindTo(SelfMotion, fmt.Sprintf("the shaft goes on at the motor's own pace while the drive reads rest, by up to %s, %s (first at %.1f s): more than coast, play or a door's weight gives. The drive on record is not all that the motor got, or the shaft was moved by hand: %s",
		amount(most, a.unit()), timesText(len(found)), first.Time.From, check))
}

// runsAtRest are the stretches in which the reading goes on at the pace of the motor, well
// after the last drive: further than noise, the play of gears and links ([mostPlay]) and
// the longest coast of this capture lead, as fast as under drive that way, [motorAlike]
// apart, and in steps no larger than half of the way, for a contact that comes back leaps.
func (w *work) runsAtRest() (out []Occurrence) {
	if w.d.none || w.rate[0] == 0 && w.rate[1] == 0 {
		return nil // nothing to go by: see travelsUndriven
	}
	least := math.Max(6*w.tol, mostPlay*math.Max(w.span.Width(), w.leastTravel()))
	for k := range w.moves {
		least = math.Max(least, math.Abs(w.moves[k].Coast)+3*w.tol)
	}
	for a := 0; a < len(w.t); a++ {
		if w.d.pol[a] != 0 {
			continue
		}
		b, since := a, w.t[a]
		for b < len(w.t) && w.d.pol[b] == 0 {
			b++
		}
		for a > 0 && a < b && lapse(w.t[a], since) < restForMotion {
			a++
		}
		for _, dir := range []Direction{Down, Up} {
			pace := w.rate[side(dir)]
			if pace == 0 {
				pace = w.rate[side(-dir)]
			}
			for _, m := range w.movesBack(a, b, float64(dir), pace) {
				if w.runsOn(m[0], m[1], pace, least) {
					out = append(out, Occurrence{Interval{w.t[m[0]], w.t[m[1]-1]}, Interval{math.Min(w.v[m[0]], w.v[m[1]-1]), math.Max(w.v[m[0]], w.v[m[1]-1])}, dir})
				}
			}
		}
		a = b
	}
	return out
}

// runsOn tells whether the bins [a, b) go further than least, V, about as fast as pace,
// V/s, and without a leap.
func (w *work) runsOn(a, b int, pace, least float64) bool {
	way, from, to := math.Abs(w.v[b-1]-w.v[a]), w.v[a], w.v[b-1]
	if way <= least {
		return false
	}
	for i := a + 1; i < b; i++ {
		if math.Abs(w.v[i]-w.v[i-1]) > 0.5*way {
			return false
		}
	}
	// The windows of movesBack reach into the rest on both sides: the middle eight tenths
	// of the way tell the pace.
	first, last := a, b-1
	for first < last && math.Abs(w.v[first]-from) < 0.1*way {
		first++
	}
	for last > first && math.Abs(w.v[last]-to) < 0.1*way {
		last--
	}
	took := math.Max(lapse(w.t[last], w.t[first]), w.tr.Step)
	return math.Abs(math.Log(0.8*way/took/pace)) < math.Log(motorAlike)
}
