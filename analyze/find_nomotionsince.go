package analyze

import (
	"fmt"
	"math"
	"strings"
)

// movedUntil is the name of a measure of no motion: the reading followed the drive up to
// that moment.
const movedUntil = "followed the drive until"

// coldStart is longer, in s, than a sound shaft stands before it sets out, whatever the
// grease: half a second it may take, and what the gears were wound up by (common practice,
// no source, as in slowStarts).
const coldStart = 0.8

// findNoMotionSince reports a shaft that answered its drives and from some moment on,
// until the capture ends, answers no more, either way. An obstacle stops it one way and
// lets it go the other, and so does a stop; a pause, or brushes, are over at some time.
// Counted are drives that would have shown it, see wouldMove, two each way at least: one
// may have met a moment.
func (w *work) findNoMotionSince() {
	const ways = 2 // drives each way
	if w.sense == 0 || w.contrary != "" || w.has(RefLoss) || w.has(NoMotion) {
		return
	}
	first, band := w.standsSince()
	if first == len(w.moves) {
		return
	}
	u := &deafDrives{w, w.moves[first:], w.moves[first].first}
	var n [2]int
	driven, since := 0.0, noInterval()
	for k := first; k < len(w.moves); k++ {
		if m := &w.moves[k]; w.wouldMove(m, band.Width()) && !w.goesOnAsleep(k) {
			n[side(m.Direction)]++
			driven += m.Duration()
			since = since.widen(m.Time.From).widen(m.Time.To)
		}
	}
	if n[0] < ways || n[1] < ways || !w.answeredBefore(first) {
		return
	}
	f := Finding{Kind: NoMotion, Time: since, Volts: band, Tie: TieUnknown, TieP: 1, Event: "no motion",
		Strength: 1 - math.Exp(-float64(min(n[0], n[1]))/1.5), Seen: n[0] + n[1], Passes: n[0] + n[1],
		Measures: []Measure{{MeasureDriven, driven, "s"}, {MeasureLargestChange, band.Width(), w.unit()}, {movedUntil, since.From, "s"}}}
	if w.tr.DriveIsPolarity {
		f.Measures = append(f.Measures, Measure{onlyPolarity, 1, ""})
	}
	u.tell(&f)
	if held := strings.HasPrefix(f.Form, stallCurrent); !held && !w.standsOnTheWay(first, band) {
		return // a stop, a rail or a break in the track, of which others tell
	}
	w.foundSince(f, w.t[w.stoodFrom(first, band)])
}

// foundSince adds a finding of no motion, and joins to it what the drives in vain made of
// themselves since the reading stood, from a time in s on: starts in vain, hunting that
// nothing answers, stalls there. Where the current tells what it is they have nothing to
// add; nor has a stall short of a stop, whose obstacle would let the shaft go the other way.
func (w *work) foundSince(f Finding, stood float64) {
	for i := range w.found {
		g := &w.found[i]
		switch g.Kind {
		case Pauses, Hunting, Jam, StickSlip, SlowZone, Play:
			if g.Time.From < stood-2*w.lim.StallSeconds {
				continue
			}
		case OneWay:
			if g.Form != "" || g.has(movesOtherWay) {
				continue
			}
		default:
			continue
		}
		g.Event = f.Event
		if f.Form != "" || g.Kind == Jam {
			g.Strength *= 0.3 // as overrule
		}
	}
	w.found = append(w.found, f)
}

// standsSince gives the first of the last drives over which, and after which, the reading
// stands at one level, and what it keeps within there; all moves where there is none.
func (w *work) standsSince() (first int, band Interval) {
	first = len(w.moves)
	level := math.NaN()
	for k := len(w.moves) - 1; k >= 0; k-- {
		m := &w.moves[k]
		end := len(w.v)
		if k+1 < len(w.moves) {
			end = w.moves[k+1].first
		}
		v := w.v[m.first:end]
		lo, hi := quantileOf(v, 0.02), quantileOf(v, 0.98)
		mid := medianOf(v)
		if level != level {
			level, band = mid, noInterval()
		}
		if math.Abs(mid-level) > 2*w.tol || hi-lo > 4*w.tol {
			break
		}
		first, band = k, band.widen(lo).widen(hi)
	}
	return first, band
}

// wouldMove tells whether a drive would have moved a sound shaft visibly: longer than any
// start takes, it would have run through the most play there is, and clear of what the
// reading did anyway.
func (w *work) wouldMove(m *Move, did float64) bool {
	rate := w.rate[side(m.Direction)]
	if !(rate > 0) {
		rate = w.rate[side(-m.Direction)]
	}
	share := math.Abs(m.DriveMean) / w.d.amp
	way := rate * share * (m.Duration() - coldStart - 3*w.tr.Step)
	return m.Direction != None && share > turnedDown && way > w.mostSlack()+math.Max(4*w.visible(), did)
}

// mostSlack is the most travel, in V, that play takes up when the drive turns over.
func (w *work) mostSlack() float64 {
	return mostPlay * math.Max(w.span.Width(), 0.5*w.usualTravel())
}

// answeredBefore tells whether drives were answered before move k: two of them, and over
// more than play, so that the reading is known to belong to the drive.
func (w *work) answeredBefore(k int) bool {
	n, went := 0, noInterval()
	for i := range w.moves[:k] {
		m := &w.moves[i]
		if way := float64(m.Direction) * (m.End - m.Start); m.Direction != None && way > w.visible() {
			n++
			went = went.widen(m.Start).widen(m.End)
		}
	}
	return n >= 2 && went.Width() > w.mostSlack()
}

// standsOnTheWay tells whether the shaft was on both sides of the place where it stands
// since move k, and came there by the way: what stands at a stop, at a rail, or where the
// reading leapt to, is not known to stand.
func (w *work) standsOnTheWay(k int, band Interval) bool {
	if rail := w.opt.RailBand * w.ref; band.From < rail || band.To > w.ref-rail || w.onTrackFault(band.Mid()) {
		return false
	}
	near := math.Max(w.mostSlack(), w.stallsApart())
	went := noInterval()
	for i := range w.moves[:k] {
		went = went.widen(w.moves[i].Start).widen(w.moves[i].End)
	}
	if went.From > band.From-near || went.To < band.To+near {
		return false
	}
	i := w.stoodFrom(k, band)
	if i == 0 {
		return true
	}
	may := w.tol + w.lim.Fast*math.Max(w.rate[0], w.rate[1])*(w.t[i]-w.t[i-1])
	return math.Abs(w.v[i]-w.v[i-1]) <= may
}

// stoodFrom is the first of the bins before move k from which on the reading stands where
// it stands since.
func (w *work) stoodFrom(k int, band Interval) int {
	i := w.moves[k].first
	for i > 0 && math.Abs(w.v[i-1]-band.Mid()) <= 2*w.tol {
		i--
	}
	return i
}

// heldAfterPlay tells whether the motor comes to be held in its drives, four in five of
// them both ways, by the current, before it could have turned the shaft by more than play:
// what it ran through until then it was given by turning over.
func (u *deafDrives) heldAfterPlay(inrush float64) bool {
	var all, held [2]int
	for k := range u.drives {
		m := &u.drives[k]
		if !u.wouldMove(m, 0) {
			continue
		}
		d := side(m.Direction)
		all[d]++
		if ran, ok := u.ranUntilHeld(m, inrush); ok && ran*math.Max(u.rate[0], u.rate[1]) <= mostPlay*math.Max(u.span.Width(), u.usualTravel()) {
			held[d]++
		}
	}
	return all[0] > 0 && all[1] > 0 && 5*held[0] >= 4*all[0] && 5*held[1] >= 4*all[1]
}

// ranUntilHeld is how long after its start, in s, a drive's current comes to that of a
// motor that is held, and stays so until the drive ends; false where it does not.
func (u *deafDrives) ranUntilHeld(m *Move, inrush float64) (ran float64, ok bool) {
	const isHeld = 0.85 // of the inrush, as in heldLater
	step := math.Max(0.05, 4*u.tr.Step)
	at := m.Time.To - step
	for at > m.Time.From && u.currentWithin(at, at+step) > isHeld*inrush {
		at -= step / 2
	}
	return at + step - m.Time.From, m.Time.To-at > 2*step
}

// currentAsBefore reads the current of a shaft that moves no more against what the motor
// drew while it moved: half as much again as when it ran, and what it drew when it was
// held, or no more than when it ran. Empty where that was not seen, or it lies between.
func (u *deafDrives) currentAsBefore(amps float64) string {
	const isHeld = 0.85 // of the current of a motor that is held, as of an inrush
	skip := map[int]bool{}
	for k := len(u.moves) - len(u.drives); k < len(u.moves); k++ {
		skip[k] = true
	}
	run, held := u.runningCurrent(), u.blockedCurrent(skip)
	switch {
	case amps > 1.5*run && amps > isHeld*held:
		return stallCurrent + ": as much as when the shaft was held before"
	case u.drawsAsRunning(amps, Up, skip) && u.drawsAsRunning(amps, Down, skip):
		return turningCurrent + ": the motor turns unseen"
	}
	return ""
}

// titleNoMotionSince says since when nothing answers.
func (f *Finding) titleNoMotionSince() string {
	s := fmt.Sprintf("No motion from %.1f s on: driven %s long enough, both ways, the reading stands where it was; before, it followed the drive", f.Time.From, timesText(f.Seen))
	if f.Form != "" {
		s += " (" + f.Form + ")"
	}
	return s + "."
}
